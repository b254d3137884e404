//! Problems in the pseudo-language: title, detail and each error are said by the catalogue, and what it has in its slots is data.

use super::browser::Browser;
use super::service;
use crate::config::{Callers, Sources};
use crate::router;
use serde_json::Value;
use std::sync::Arc;

const JSON: (&str, &str) = ("content-type", "application/json");
const CSV: (&str, &str) = ("content-type", "text/csv");

/// Method, address, headers beside the token and body of requests that will not do.
type Refused = (&'static str, &'static str, &'static [(&'static str, &'static str)], &'static str);

const REFUSED: [Refused; 25] = [
    ("GET", "/v1/nowhere", &[], ""),
    ("GET", "/v1/kits?token=x", &[], ""),
    ("GET", "/v1/kits?page_size=0", &[], ""),
    ("GET", "/v1/kits?cursor=x", &[], ""),
    ("GET", "/v1/kits/QF-9", &[], ""),
    ("GET", "/v1/kits/QF-0101/packs/99", &[], ""),
    ("GET", "/v1/designs/none", &[], ""),
    ("GET", "/v1/designs/fenrunner-two/revisions/Z", &[], ""),
    ("GET", "/v1/designs/fenrunner-two/revisions/A/drawing.svg?view=x", &[], ""),
    ("GET", "/v1/designs/fenrunner-two/revisions/A/members/sill/ends/side/wrap.svg", &[], ""),
    ("PATCH", "/v1/kits", &[], ""),
    ("GET", "/v1/kits", &[("accept", "image/png")], ""),
    ("POST", "/v1/kits", &[], ""),
    ("POST", "/v1/kits", &[JSON], "{"),
    ("POST", "/v1/kits", &[JSON], "[]"),
    ("POST", "/v1/kits", &[JSON], "{\"serial\": 1}"),
    ("POST", "/v1/kits", &[JSON], "{\"serial\": true, \"serial\": []}"),
    (
        "POST",
        "/v1/kits",
        &[JSON],
        "{\"serial\": \"\", \"design\": \"none\", \"revision\": \"A\", \"customer_name\": \"\", \"customer_email\": \"\"}",
    ),
    (
        "POST",
        "/v1/kits",
        &[JSON, ("idempotency-key", "")],
        "{\"serial\": \"K\", \"design\": \"none\", \"revision\": \"A\", \"customer_name\": \"x\", \"customer_email\": \"x@a.example\"}",
    ),
    ("POST", "/v1/kit-imports", &[JSON], ""),
    ("POST", "/v1/kit-imports", &[CSV], "serial,nothing\nK,x"),
    ("PUT", "/v1/designs/fenrunner-two/draft", &[JSON], "{}"),
    ("PUT", "/v1/designs/fenrunner-two/draft", &[JSON, ("if-none-match", "x")], "{}"),
    ("PUT", "/v1/designs/fenrunner-two/draft", &[JSON, ("if-match", "\"x\"")], "{}"),
    ("POST", "/v1/pack-jobs/99/cancel", &[], ""),
];

/// Words that are data: of the requests, and what programs write.
const DATA: [&str; 23] = [
    "none",
    "fenrunner",
    "two",
    "side",
    "nothing",
    "serial",
    "true",
    "cursor",
    "line",
    "column",
    "EOF",
    "while",
    "parsing",
    "object",
    "design",
    "revision",
    "customer",
    "name",
    "email",
    "choices",
    "number",
    "match",
    "order",
];

/// Whether a sentence is of the catalogue, and has nothing but data in its slots.
fn is_of_the_catalogue(said: &str) -> bool {
    let words = said.split(|letter: char| !letter.is_alphanumeric()).filter(|word| word.chars().count() > 2);
    let is_plain = |word: &str| word.contains(|letter| "aeiouyAEIOUY".contains(letter));
    said.starts_with('\u{ab}') && words.filter(|word| is_plain(word)).all(|word| DATA.contains(&word))
}

#[tokio::test(flavor = "multi_thread")]
async fn problems_say_nothing_outside_the_catalogue() {
    let place = tempfile::tempdir().unwrap();
    let service = service(&place.path().join("data")).await;
    let demo = service.load_demo().await.unwrap();
    let callers = Callers::from_sources(&Sources::defaults().unwrap()).unwrap();
    let browser = Browser::at(&router::router(Arc::clone(&service), &callers, &[]), "program");
    let token = format!("Bearer {}", demo.publisher);
    let mut wrong = Vec::new();
    let mut refused = Vec::new();
    for (method, place, headers, body) in REFUSED {
        let headers: Vec<(&str, &str)> = headers.iter().copied().chain([("authorization", token.as_str())]).collect();
        refused.push((place, browser.refused(method, place, &headers, body).await));
    }
    refused.push(("no token", browser.refused("GET", "/v1/kits", &[], "").await));
    refused.push(("an unknown token", browser.refused("GET", "/v1/kits", &[("authorization", "Bearer x")], "").await));
    for (place, problem) in refused {
        let errors = problem["errors"].as_array().into_iter().flatten().map(|error| &error["detail"]);
        let said: Vec<&str> =
            [&problem["title"], &problem["detail"]].into_iter().chain(errors).filter_map(Value::as_str).collect();
        assert!(said.len() > 1, "{problem}");
        wrong.extend(said.iter().filter(|said| !is_of_the_catalogue(said)).map(|said| format!("{place}: {said}")));
    }
    assert!(wrong.is_empty(), "say it in the catalogue: {wrong:#?}");
}
