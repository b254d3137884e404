//! Designs and what is computed of them.

pub mod figures;
pub mod files;
pub mod list;
pub mod publish;
pub mod review;
pub mod revision;

use crate::http::App;
use axum::Router;
use axum::routing::{get, post};

/// Their routes.
pub fn router() -> Router<App> {
    Router::new()
        .route("/designs", get(list::list))
        .route("/designs/{design}", get(list::read))
        .route("/designs/{design}/draft", get(list::draft))
        .route("/designs/{design}/draft/freeze", post(review::freeze))
        .route("/designs/{design}/draft/thaw", post(review::thaw))
        .route("/designs/{design}/publish", get(publish::form).post(publish::publish))
        .route("/designs/{design}/revisions/{letter}", get(revision::read))
        .route("/designs/{design}/revisions/{letter}/figures", get(figures::read).post(figures::take))
        .route("/designs/{design}/revisions/{letter}/files/{file}", get(files::download))
        .route("/designs/{design}/revisions/{letter}/withdrawal", post(revision::withdraw))
        .route("/designs/{design}/revisions/{letter}/recall", post(revision::recall))
        .route("/designs/{design}/revisions/{letter}/reinstatement", post(revision::reinstate))
}
