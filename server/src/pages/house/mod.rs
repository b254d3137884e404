//! The service itself.

pub mod contact;
pub mod failed;
pub mod handbook;
pub mod home;
pub mod style;

use crate::http::App;
use axum::Router;
use axum::routing::get;

/// Their routes.
pub fn router() -> Router<App> {
    Router::new()
        .route("/", get(home::home))
        .route("/style.css", get(style::sheet))
        .route("/icon.svg", get(style::icon))
        .route("/problems", get(home::problems))
        .route("/problems/{slug}", get(home::problem))
        .route("/handbook", get(handbook::first))
        .route("/handbook/{page}", get(handbook::page))
        .route("/handbook/pictures/{picture}", get(handbook::picture))
        .route("/contact", get(contact::form).post(contact::change))
}
