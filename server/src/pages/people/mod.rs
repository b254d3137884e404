//! Who acts.

pub mod sign_in;
pub mod support;

use crate::http::App;
use axum::Router;
use axum::routing::{get, post};

/// Their routes.
pub fn router() -> Router<App> {
    Router::new()
        .route("/sign-in", get(sign_in::form).post(sign_in::with_card))
        .route("/sign-in/token", post(sign_in::with_token))
        .route("/sign-out", post(sign_in::out))
        .route("/support", get(support::look_up))
        .route("/support/{serial}/notes", post(support::note))
        .route("/support/{serial}/person", post(support::person))
}
