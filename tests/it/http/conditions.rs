//! Conditional requests on the draft (RFC 9110, section 13; RFC 6585, section 3).

use crate::fixtures::{create_design, frame, publish, put_draft};
use crate::server::Server;
use std::sync::atomic::{AtomicUsize, Ordering};

const DRAFT: &str = "/v1/designs/frame/draft";

fn fresh() -> (Server, String) {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    (server, token)
}

#[test]
fn a_draft_is_never_written_without_a_condition() {
    let (server, token) = fresh();
    let put = |headers: &[(&str, &str)]| server.send("PUT", DRAFT, &token, headers, Some("{}"));
    put(&[]).problem(428, "condition-needed");
    put(&[("if-match", "*")]).problem(412, "condition-failed");
    put(&[("if-match", "\"00\"")]).problem(412, "condition-failed");
    let first = put(&[("if-none-match", "*")]).expect(201);
    put(&[]).problem(428, "condition-needed");
    put(&[("if-none-match", "*")]).problem(412, "condition-failed");
    put(&[("if-match", "bare")]).problem(400, "bad-request");
    let weak = format!("W/{}", first.header("etag"));
    put(&[("if-match", &weak)]).problem(412, "condition-failed");
    put(&[("if-match", first.header("etag"))]).expect(204);
}

#[test]
fn a_stale_tag_is_refused_and_nothing_is_lost() {
    let (server, token) = fresh();
    let first = put_draft(&server, &token, "frame", &frame(900));
    let second = put_draft(&server, &token, "frame", &frame(901));
    assert_ne!(first, second);
    let stale = [("if-match", first.as_str())];
    server.send("PUT", DRAFT, &token, &stale, Some(&frame(902))).problem(412, "condition-failed");
    let kept = server.get(DRAFT, &token).expect(200);
    assert_eq!(kept.header("etag"), second);
    assert_eq!(String::from_utf8(kept.body).unwrap(), frame(901));
}

#[test]
fn publishing_takes_the_tag_of_the_draft_that_is_meant() {
    let (server, token) = fresh();
    let first = put_draft(&server, &token, "frame", &frame(900));
    put_draft(&server, &token, "frame", &frame(901));
    publish(&server, &token, "frame", &first).problem(412, "condition-failed");
    let body = Some("{\"change_note\":\"x\"}");
    server.send("POST", "/v1/designs/frame/revisions", &token, &[], body).problem(428, "condition-needed");
}

#[test]
fn an_unchanged_draft_is_not_sent_again() {
    let (server, token) = fresh();
    let tag = put_draft(&server, &token, "frame", &frame(900));
    let known = [("if-none-match", tag.as_str())];
    let answer = server.send("GET", DRAFT, &token, &known, None).expect(304);
    assert!(answer.body.is_empty());
    assert_eq!(answer.header("etag"), tag);
}

#[test]
fn of_many_writers_with_one_tag_exactly_one_wins() {
    let (server, token) = fresh();
    let mut tag = put_draft(&server, &token, "frame", &frame(900));
    for round in 0..5 {
        let (won, refused) = (AtomicUsize::new(0), AtomicUsize::new(0));
        std::thread::scope(|scope| {
            for writer in 0..6 {
                let (server, token, tag) = (&server, &token, &tag);
                let (won, refused) = (&won, &refused);
                scope.spawn(move || {
                    let document = frame(1000 + round * 10 + writer);
                    let headers = [("if-match", tag.as_str())];
                    match server.send("PUT", DRAFT, token, &headers, Some(&document)).status {
                        204 => won.fetch_add(1, Ordering::Relaxed),
                        412 => refused.fetch_add(1, Ordering::Relaxed),
                        other => panic!("status {other}"),
                    };
                });
            }
        });
        assert_eq!((won.into_inner(), refused.into_inner()), (1, 5));
        tag = server.get(DRAFT, &token).header("etag").to_owned();
    }
}
