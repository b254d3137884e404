//! The served OpenAPI description against the service: a program that knows nothing else calls every operation with values that fit
//! it and values that do not. No answer may be a failure of the service or other than the description says.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "the steps that tests share fail the test, as the tests themselves do"
)]

#[path = "../it/bucket.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod bucket;
#[path = "../it/cable.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod cable;
#[path = "../it/place.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod place;
#[path = "../it/server.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod server;

mod clients;

use server::Server;
use std::path::PathBuf;
use std::process::Command;

/// What must hold of every answer. Whether values are refused that the description does not rule out is for other tests.
const CHECKS: &str = "not_a_server_error,status_code_conformance,content_type_conformance,response_headers_conformance,\
                      response_schema_conformance,unsupported_method,allow_header_conformance,ignored_auth";

#[test]
fn no_answer_is_other_than_the_description_says() {
    let Some(python) = std::env::var_os("MATCHMARK_PYTHON").map(PathBuf::from) else {
        panic!("set MATCHMARK_PYTHON to a Python with what tests/requirements.txt lists");
    };
    let server = Server::demo();
    let line = server.printed.lines().find_map(|line| line.trim().strip_prefix("publisher "));
    let token = format!("Authorization: Bearer {}", line.unwrap().trim());
    let described = format!("http://{}/openapi.json", server.address());
    let here = tempfile::tempdir().unwrap();
    let run = Command::new(python.with_file_name("schemathesis"))
        .current_dir(here.path())
        .args(["run", &described, "--header", &token, "--checks", CHECKS])
        .args(["--phases", "examples,coverage,fuzzing", "--max-examples", "5", "--max-time", "60"])
        .args(["--seed", "20261125", "--generation-database", "none", "--suppress-health-check", "all"])
        .args(["--no-color", "--no-shrink", "--continue-on-failure", "--warnings", "off"])
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&run.stdout);
    assert!(run.status.success(), "{told}\n{}", String::from_utf8_lossy(&run.stderr));
    assert!(told.contains("No issues found"), "{told}");
}
