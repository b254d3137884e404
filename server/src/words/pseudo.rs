//! A language that nobody speaks, for tests: «ëvërÿ phräsë 40 % longer». What stands outside « » on a page bypassed the catalogue.

use super::{EN, Words};
use axum::http::{HeaderMap, header};
use matchmark_core::words::{Piece, pieces};
use std::sync::LazyLock;

/// As a request asks for it.
pub const LANGUAGE: &str = "en-x-pseudo";

pub static PSEUDO: LazyLock<Words> = LazyLock::new(|| EN.map(LANGUAGE, &|template| said(template).leak()));

pub fn is_wanted(headers: &HeaderMap) -> bool {
    headers.get(header::ACCEPT_LANGUAGE).is_some_and(|value| value == LANGUAGE)
}

fn said(template: &str) -> String {
    let words: String = pieces(template)
        .map(|piece| match piece {
            Piece::Text(text) => text.chars().map(accented).collect(),
            Piece::Slot(name) => format!("{{{name}}}"),
        })
        .collect();
    let longer = template.chars().count() * 2 / 5;
    format!("\u{ab}{words}{}\u{bb}", "~".repeat(longer))
}

fn accented(letter: char) -> char {
    match letter {
        'a' => '\u{e4}',
        'e' => '\u{eb}',
        'i' => '\u{ef}',
        'o' => '\u{f6}',
        'u' => '\u{fc}',
        'y' => '\u{ff}',
        other => other,
    }
}
