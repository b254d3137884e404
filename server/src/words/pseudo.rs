//! A language that nobody speaks, for tests: «ëvërÿ phräsë 40 % longer». What stands outside « » on a page bypassed the catalogue.

use super::{EN, Words};
use axum::http::{HeaderMap, header};
use matchmark_core::words::stretched;
use std::sync::LazyLock;

/// As a request asks for it.
pub const LANGUAGE: &str = "en-x-pseudo";

pub static PSEUDO: LazyLock<Words> = LazyLock::new(|| EN.map(LANGUAGE, &|template| stretched(template).leak()));

pub fn is_wanted(headers: &HeaderMap) -> bool {
    headers.get(header::ACCEPT_LANGUAGE).is_some_and(|value| value == LANGUAGE)
}
