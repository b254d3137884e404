//! Pages for people: HTML made here, no script needed. They call the use cases that the API calls; who may do what is decided there.

mod designs;
mod form;
mod house;
mod kits;
mod layout;
mod notices;
mod packs;
mod people;
mod return_path;
#[cfg(test)]
mod tests;
mod visitor;
mod words;

pub use house::failed::{page as failed, words as failed_words};

use crate::http::App;
use axum::Router;

/// All pages.
pub fn router() -> Router<App> {
    Router::new()
        .merge(house::router())
        .merge(people::router())
        .merge(designs::router())
        .merge(kits::router())
        .merge(packs::router())
        .merge(notices::router())
}
