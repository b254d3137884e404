//! Queries of addresses, refused as problems when they cannot be read.

use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use axum::extract::FromRequestParts;
use axum::http::request::Parts;
use matchmark_core::pack::{Hands, Paper, Print, Units};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use utoipa::IntoParams;

/// A query read into a type.
pub struct Query<T>(pub T);

impl<S: Send + Sync, T: DeserializeOwned> FromRequestParts<S> for Query<T> {
    type Rejection = Problem;

    async fn from_request_parts(parts: &mut Parts, state: &S) -> Result<Self, Problem> {
        match axum::extract::Query::from_request_parts(parts, state).await {
            Ok(axum::extract::Query(value)) => Ok(Self(value)),
            Err(error) => Err(Problem::new(&kinds::BAD_REQUEST, error.body_text())),
        }
    }
}

/// Which paper to draw for.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct PaperWanted {
    /// `a4`, `a3`, `letter`, `tabloid` or `roll`; A4 when absent.
    #[serde(default)]
    pub paper: Paper,
    /// `mm`, `inch` or `inch-fraction`: how lengths are written; millimetres when absent.
    #[serde(default)]
    pub units: Units,
}

impl PaperWanted {
    /// What it asks for, on common office paper by a true printer.
    pub fn print(&self) -> Print {
        Print { paper: self.paper, units: self.units, ..Print::default() }
    }
}

/// How to draw a wrap that may have an opposite hand.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct WrapWanted {
    /// `a4`, `a3`, `letter`, `tabloid` or `roll`; A4 when absent.
    #[serde(default)]
    pub paper: Paper,
    /// `mm`, `inch` or `inch-fraction`: how lengths are written; millimetres when absent.
    #[serde(default)]
    pub units: Units,
    /// `both`, `left` or `right`: which wraps of the pair to draw, on one page where they fit; only the one named when absent.
    pub hands: Option<Hands>,
}

impl WrapWanted {
    /// What it asks for, on common office paper by a true printer.
    pub fn print(&self) -> Print {
        Print { paper: self.paper, units: self.units, ..Print::default() }
    }
}

/// Which page of a list.
#[derive(Debug, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct PageWanted {
    /// How many at most: 50 when absent, never more than 200.
    #[param(minimum = 1)]
    pub page_size: Option<usize>,
    /// The `next` of the page before.
    pub cursor: Option<String>,
}

/// Percent-encoding of all but the unreserved characters (RFC 3986, section 2.3).
pub fn escaped(value: &str) -> String {
    let mut text = String::new();
    for byte in value.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~".contains(&byte) {
            text.push(char::from(byte));
        } else {
            text.push_str(&format!("%{byte:02X}"));
        }
    }
    text
}
