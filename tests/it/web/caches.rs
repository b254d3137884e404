//! What browsers keep: nothing is shown from there without asking, and signing out clears it.

use super::builder;
use crate::browser::Browser;
use crate::fixtures::{recall, two_kits};
use crate::server::Server;
use serde_json::json;

const PACK: &str = "/kits/K-1/packs/1";

/// A browser that has the pack asks whether it may still show it.
fn ask_again(server: &Server, browser: &Browser, tag: &str) -> u16 {
    let headers = [("cookie", browser.cookie()), ("accept", "*/*"), ("if-none-match", tag)];
    server.send("GET", PACK, "", &headers, None).status
}

#[test]
fn a_pack_is_shown_again_only_to_whom_it_would_be_handed_out() {
    let kits = two_kits();
    let server = &kits.server;
    let mut browser = builder(&kits, "K-1");
    let file = browser.get(PACK).expect(200);
    assert_eq!(file.answer.header("cache-control"), "private, no-cache");
    let tag = file.answer.header("etag").to_owned();
    assert_eq!(ask_again(server, &browser, &tag), 304);
    let hold = json!({"reason": "Stolen.", "ask": "The supplier."});
    server.post("/v1/kits/K-1/holds", &kits.publisher, &hold).expect(201);
    assert_eq!(ask_again(server, &browser, &tag), 409);
    server.post("/v1/kits/K-1/holds/1/lifting", &kits.publisher, &json!({"reason": "Found."})).expect(200);
    recall(&kits, "A");
    assert_eq!(ask_again(server, &browser, &tag), 409);
    let out = browser.fill_in("/kits/K-1", "/sign-out", &[]).expect(303);
    assert_eq!(out.answer.header("clear-site-data"), "\"cache\", \"storage\"");
    assert_eq!(ask_again(server, &browser, &tag), 303);
    let other = builder(&kits, "K-2");
    assert_eq!(ask_again(server, &other, &tag), 404);
}

/// RFC 9111, section 4.2.2: what says nothing of itself a cache may keep for as long as it thinks fit.
#[test]
fn every_answer_says_whether_it_may_be_kept() {
    let kits = two_kits();
    recall(&kits, "A");
    let browser = builder(&kits, "K-1");
    for (path, wanted) in [
        ("/kits/K-1", "no-store"),
        ("/kits/K-1/stop-sheets/A", "no-store"),
        ("/kits/K-1/stop-sheets/A/print", "private, no-cache"),
        ("/kits/K-1/packs/1", "no-store"),
        ("/kits/K-404", "no-store"),
        ("/P/AAAA", "private, no-cache"),
        ("/", "private, no-cache"),
        ("/problems", "private, no-cache"),
        ("/sign-in", "no-store"),
        ("/v1/kits/K-1", "private, no-cache"),
        ("/v1/nothing", "private, no-cache"),
        ("/openapi.json", "private, no-cache"),
        ("/style.css", "public, max-age=300"),
        ("/v1/designs/frame/status", "public, max-age=60, must-revalidate"),
    ] {
        assert_eq!(browser.get(path).answer.header("cache-control"), wanted, "{path}");
    }
}
