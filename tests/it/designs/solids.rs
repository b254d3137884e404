//! Finished parts as solids, over HTTP. What the files hold is checked by the tests beside these.

use crate::fixtures::{create_design, doubtful_frame, frame, publish_document, put_draft};
use crate::server::Server;
use serde_json::json;

#[test]
fn a_member_is_a_file_of_its_own_that_never_changes() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    publish_document(&server, &token, "frame", &frame(900));
    let path = "/v1/designs/frame/revisions/A/members/post.R/solid.step";
    let file = server.get(path, &token).expect(200);
    assert_eq!(file.header("content-type"), "model/step");
    assert_eq!(file.header("content-disposition"), "attachment; filename=\"frame-rev-A-post.R.step\"");
    let text = String::from_utf8(file.body).unwrap();
    assert!(text.starts_with("ISO-10303-21;") && text.ends_with("END-ISO-10303-21;\n"));
    assert!(text.contains("FILE_NAME('post.R'") && text.contains("'Test Frame, revision A'"));
    let again = server.get(path, &token).expect(200);
    assert_eq!(String::from_utf8(again.body).unwrap(), text);
    server.get("/v1/designs/frame/revisions/A/members/none/solid.step", &token).problem(404, "unknown-member");
}

#[test]
fn an_end_that_partly_misses_is_refused_with_its_reason() {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    let etag = put_draft(&server, &token, "frame", &doubtful_frame());
    let body = json!({"change_note": "As meant.", "acknowledge": ["cope-misses-part"]}).to_string();
    let headers = [("if-match", etag.as_str())];
    server.send("POST", "/v1/designs/frame/revisions", &token, &headers, Some(&body)).expect(201);
    let path = "/v1/designs/frame/revisions/A/members/post/solid.step";
    let problem = server.get(path, &token).problem(422, "not-drawn");
    assert_eq!(problem["code"], "solid-misses");
    server.get("/v1/designs/frame/revisions/A/members/rail/solid.step", &token).expect(200);
}
