//! Who reaches what: every operation of the OpenAPI document against every role.

use crate::fixtures::{TwoKits, a_recall, bars_and_parts, frame, new_kit, put_draft, saddle, two_kits};
use crate::server::{Answer, Server};
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Statuses for: nobody, publisher, support, the builder of the kit named, the builder of another kit.
type Row = (&'static str, &'static str, [u16; 5]);

const EVERYONE: [u16; 5] = [200, 200, 200, 200, 200];
const TOKEN: [u16; 5] = [401, 200, 200, 200, 200];
const SUPPLIER: [u16; 5] = [401, 200, 200, 404, 404];
const HOLDER: [u16; 5] = [401, 200, 200, 200, 404];

/// The paths name design `frame`, revision A and kit K-1, which belong to the first builder.
const TABLE: &[Row] = &[
    ("GET", "/healthz", EVERYONE),
    ("GET", "/readyz", EVERYONE),
    ("GET", "/v1/schemas/design", EVERYONE),
    ("POST", "/v1/joint", TOKEN),
    ("POST", "/v1/resolutions", TOKEN),
    ("POST", "/v1/stock-plan", TOKEN),
    ("POST", "/v1/stock-plan/kits", SUPPLIER),
    ("POST", "/v1/imports", TOKEN),
    ("POST", "/v1/joints/wrap", TOKEN),
    ("POST", "/v1/joints/wrap/svg", TOKEN),
    ("POST", "/v1/joints/wrap/pdf", TOKEN),
    ("GET", "/v1/contact", EVERYONE),
    ("PUT", "/v1/contact", [401, 200, 403, 404, 404]),
    ("GET", "/v1/designs", SUPPLIER),
    ("POST", "/v1/designs", [401, 201, 403, 404, 404]),
    ("GET", "/v1/designs/{design}", SUPPLIER),
    ("GET", "/v1/designs/{design}/draft", SUPPLIER),
    ("PUT", "/v1/designs/{design}/draft", [401, 204, 403, 404, 404]),
    ("GET", "/v1/designs/{design}/draft/findings", SUPPLIER),
    ("GET", "/v1/designs/{design}/draft/pack", SUPPLIER),
    ("GET", "/v1/designs/{design}/draft/changes", SUPPLIER),
    ("GET", "/v1/designs/{design}/draft/touched", SUPPLIER),
    ("GET", "/v1/designs/{design}/draft/review", SUPPLIER),
    // In this order, so that the draft can be written again.
    ("POST", "/v1/designs/{design}/draft/freeze", [401, 200, 403, 404, 404]),
    ("POST", "/v1/designs/{design}/draft/thaw", [401, 200, 403, 404, 404]),
    ("GET", "/v1/designs/{design}/draft/saves", SUPPLIER),
    ("GET", "/v1/designs/{design}/draft/saves/{save}", SUPPLIER),
    ("POST", "/v1/designs/{design}/draft/restoration", [401, 204, 403, 404, 404]),
    ("GET", "/v1/designs/{design}/file", SUPPLIER),
    // The file is refused, whoever may bring one.
    ("POST", "/v1/design-files", [401, 422, 403, 404, 404]),
    ("GET", "/v1/designs/{design}/revisions", SUPPLIER),
    ("POST", "/v1/designs/{design}/revisions", [401, 201, 403, 404, 404]),
    ("GET", "/v1/designs/{design}/revisions/{letter}", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/document", SUPPLIER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/figures", SUPPLIER),
    // The hash is of no figures, whoever may take them.
    ("POST", "/v1/designs/{design}/revisions/{letter}/figures", [401, 422, 403, 404, 404]),
    ("GET", "/v1/designs/{design}/revisions/{letter}/members", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/members/{member}", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/members/{member}/solid.step", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/files", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/files/{file}", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/drawing.svg", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/cut-sheet", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/bend-sheets", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/fit-up", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/parts", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/plates", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/hole-strips", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/jig-sheets", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/checks", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/mass", HOLDER),
    ("POST", "/v1/designs/{design}/revisions/{letter}/stock-plan", HOLDER),
    ("GET", "/v1/designs/{design}/changes", SUPPLIER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/wraps", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/wraps/{member}/{end}", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/wraps/{member}/{end}/svg", HOLDER),
    ("GET", "/v1/designs/{design}/revisions/{letter}/wraps/{member}/{end}/pdf", HOLDER),
    ("GET", "/v1/kits", SUPPLIER),
    ("POST", "/v1/kits", [401, 201, 403, 404, 404]),
    ("GET", "/v1/kits/{serial}", HOLDER),
    ("GET", "/v1/kits/{serial}/files", HOLDER),
    ("GET", "/v1/kits/{serial}/files/{file}", HOLDER),
    ("GET", "/v1/kits/{serial}/measurements", HOLDER),
    ("POST", "/v1/kits/{serial}/measurements", HOLDER),
    ("POST", "/v1/kits/{serial}/stock-plan", HOLDER),
    ("GET", "/v1/kits/{serial}/packs", HOLDER),
    ("POST", "/v1/kits/{serial}/packs", [401, 201, 201, 201, 404]),
    ("GET", "/v1/kits/{serial}/packs/{number}", HOLDER),
    ("GET", "/v1/kits/{serial}/packs/{number}/file", HOLDER),
    ("GET", "/v1/kits/{serial}/packs/{number}/manifest", HOLDER),
    ("GET", "/v1/kits/{serial}/downloads", SUPPLIER),
    ("POST", "/v1/designs/{design}/revisions/{letter}/pack-jobs", [401, 202, 202, 404, 404]),
    ("GET", "/v1/pack-jobs", SUPPLIER),
    ("GET", "/v1/pack-jobs/{job}", SUPPLIER),
    ("GET", "/v1/pack-jobs/{job}/kits", SUPPLIER),
    ("POST", "/v1/pack-jobs/{job}/cancellation", SUPPLIER),
    ("GET", "/v1/pack-jobs/{job}/events", SUPPLIER),
    ("GET", "/v1/pages/{code}", EVERYONE),
    ("GET", "/v1/files/{sha256}", EVERYONE),
    ("GET", "/v1/public-key", EVERYONE),
    ("GET", "/v1/designs/{design}/status", EVERYONE),
    ("POST", "/v1/kits/{serial}/tokens", [401, 201, 201, 404, 404]),
    ("POST", "/v1/tokens", [401, 201, 403, 404, 404]),
    ("GET", "/v1/tokens", [401, 200, 403, 404, 404]),
    // The ids are of no token: each may end their own, and nobody here has one of these.
    ("DELETE", "/v1/tokens/{token}", [401, 404, 404, 404, 404]),
    ("POST", "/v1/tokens/{token}/rotation", [401, 404, 404, 404, 404]),
    // A wrong code is refused, whoever brings it.
    ("POST", "/v1/sign-in", [401, 401, 401, 401, 401]),
    ("POST", "/v1/kit-imports", [401, 201, 403, 404, 404]),
    ("POST", "/v1/kits/{serial}/access-code", [401, 201, 201, 404, 404]),
    ("PUT", "/v1/kits/{serial}/boxes", SUPPLIER),
    ("GET", "/v1/kits/{serial}/boxes", HOLDER),
    // Put and lifted, so that packs can be had again.
    ("POST", "/v1/kits/{serial}/holds", [401, 201, 403, 404, 404]),
    ("GET", "/v1/kits/{serial}/holds", HOLDER),
    ("POST", "/v1/kits/{serial}/holds/{hold}/lifting", [401, 200, 403, 404, 404]),
    ("POST", "/v1/kits/{serial}/notes", [401, 201, 201, 404, 404]),
    ("GET", "/v1/kits/{serial}/notes", SUPPLIER),
    ("GET", "/v1/kits/{serial}/moves", HOLDER),
    ("GET", "/v1/kits/{serial}/measurements/history", HOLDER),
    ("POST", "/v1/designs/{design}/notices", [401, 201, 403, 404, 404]),
    ("GET", "/v1/designs/{design}/notices", SUPPLIER),
    ("GET", "/v1/designs/{design}/notices/{notice}", SUPPLIER),
    ("GET", "/v1/notices", SUPPLIER),
    ("GET", "/v1/kits/{serial}/notices", HOLDER),
    ("GET", "/v1/kits/{serial}/notices/{notice}/pages", HOLDER),
    ("POST", "/v1/kits/{serial}/notices/{notice}/acknowledgement", HOLDER),
    ("POST", "/v1/kits/{serial}/notices/{notice}/completion", HOLDER),
    ("GET", "/v1/events", SUPPLIER),
    ("GET", "/v1/deliveries", SUPPLIER),
    // No delivery has this id: nothing is sent unless it is configured.
    ("POST", "/v1/deliveries/{delivery}/retry", [401, 404, 404, 404, 404]),
    ("GET", "/v1/support/lookup", SUPPLIER),
    ("GET", "/v1/customers", SUPPLIER),
    ("GET", "/v1/customers/{customer}", [401, 404, 404, 404, 404]),
    ("GET", "/v1/customers/{customer}/export", [401, 404, 404, 404, 404]),
    ("POST", "/v1/customers/{customer}/erasure", [401, 404, 403, 404, 404]),
    // In this order: each makes the next possible.
    ("POST", "/v1/designs/{design}/revisions/{letter}/withdrawal", [401, 200, 403, 404, 404]),
    ("POST", "/v1/designs/{design}/revisions/{letter}/reinstatement", [401, 200, 403, 404, 404]),
    ("POST", "/v1/designs/{design}/revisions/{letter}/recall", [401, 200, 403, 404, 404]),
    ("GET", "/v1/designs/{design}/revisions/{letter}/recall", SUPPLIER),
    ("GET", "/v1/kits/{serial}/stop-sheets", HOLDER),
    ("GET", "/v1/kits/{serial}/stop-sheets/{letter}", HOLDER),
    ("GET", "/v1/kits/{serial}/stop-sheets/{letter}/pdf", HOLDER),
    ("POST", "/v1/kits/{serial}/stop-sheets/{letter}/acknowledgement", HOLDER),
    // Last of all, because the kit leaves revision A.
    ("POST", "/v1/kits/{serial}/moves", [401, 201, 403, 404, 404]),
];

fn filled(path: &str) -> String {
    path.replace("{design}", "frame")
        .replace("{letter}", "A")
        .replace("{member}", "post.L")
        .replace("{end}", "to")
        .replace("{serial}", "K-1")
        .replace("{file}", "cut-sheet.csv")
        .replace("{number}", "1")
        .replace("{job}", "1")
        .replace("{code}", "AE")
        .replace("{sha256}", "0")
        .replace("{save}", "1")
        .replace("{notice}", "1")
        .replace("{hold}", "1")
        .replace("{token}", "none")
        .replace("{customer}", "none")
        .replace("{delivery}", "none")
}

/// A body with which the operation succeeds for those who may call it.
fn body(method: &str, path: &str) -> Option<String> {
    let body = match (method, path) {
        ("POST", "/v1/designs") => json!({"id": "another", "name": "Another"}),
        ("PUT", "/v1/contact") => json!({"text": "kits@mail.example"}),
        ("PUT", "/v1/designs/{design}/draft") | ("POST", "/v1/resolutions") => return Some(frame(910)),
        ("POST", "/v1/designs/{design}/revisions") => json!({"change_note": "For a test.", "class": "optional"}),
        ("POST", path) if path.ends_with("/figures") => json!({"sha256": "0".repeat(64)}),
        ("POST", path) if path.ends_with("/withdrawal") || path.ends_with("/reinstatement") => {
            json!({"reason": "A test."})
        }
        ("POST", path) if path.ends_with("/recall") => a_recall(),
        ("POST", path) if path.ends_with("/holds") => json!({"reason": "A test.", "ask": "The supplier."}),
        ("POST", path) if path.ends_with("/lifting") => json!({"reason": "A test."}),
        ("POST", "/v1/designs/{design}/draft/restoration") => json!({"save": 1}),
        ("POST", "/v1/design-files") => json!({"format": "x", "id": "x", "name": "x", "revisions": [], "sha256": ""}),
        ("POST", "/v1/kits") => new_kit("K-9", "frame", "A"),
        ("POST", path) if path.ends_with("/pack-jobs") => json!({}),
        ("POST", "/v1/kits/{serial}/packs") => json!({}),
        ("POST", "/v1/tokens") => json!({"role": "support"}),
        ("POST", "/v1/imports") => json!({"files": [{"name": "tube.csv", "base64": "eA=="}]}),
        ("POST", path) if path.starts_with("/v1/joints/wrap") => saddle(),
        ("POST", "/v1/kits/{serial}/measurements") => json!({}),
        ("POST", "/v1/stock-plan") => bars_and_parts(),
        ("POST", "/v1/stock-plan/kits") => json!({"serials": ["K-1", "K-2"]}),
        ("POST", path) if path.ends_with("/stock-plan") => json!({"sections": {"hoop": {"stock": [{"length": 6000}]}}}),
        ("POST", "/v1/sign-in") => json!({"serial": "K-1", "access_code": "wrong"}),
        ("PUT", "/v1/kits/{serial}/boxes") => json!({"boxes": []}),
        ("POST", "/v1/kits/{serial}/notes") => json!({"text": "A note."}),
        ("POST", "/v1/kits/{serial}/moves") => json!({"revision": "B", "reason": "A test."}),
        ("POST", "/v1/designs/{design}/notices") => {
            json!({"from": "A", "to": "B", "class": "optional", "text": "A test."})
        }
        ("POST", "/v1/kit-imports") => {
            return Some(
                "serial,design,revision,customer_name,customer_email\nK-8,frame,A,A,a@example.com\n".to_owned(),
            );
        }
        ("POST", "/v1/joint") => json!({"cases": []}),
        _ => return None,
    };
    Some(body.to_string())
}

fn call(server: &Server, method: &str, path: &str, token: &str) -> Answer {
    let query = match path {
        "/v1/designs/{design}/changes" => "?from=A&to=A",
        "/v1/support/lookup" => "?q=K-1",
        _ => "",
    };
    let kind = if path == "/v1/kit-imports" { "text/csv" } else { "application/json" };
    let headers = [("if-match", "*"), ("content-type", kind)];
    server.send(method, &(filled(path) + query), token, &headers, body(method, path).as_deref())
}

fn operations(described: &Value) -> BTreeSet<(String, String)> {
    let mut found = BTreeSet::new();
    for (path, item) in described["paths"].as_object().unwrap() {
        for method in item.as_object().unwrap().keys() {
            if method != "parameters" {
                found.insert((method.to_uppercase(), path.clone()));
            }
        }
    }
    found
}

#[test]
fn every_operation_answers_every_role_as_the_table_says() {
    let kits = two_kits();
    put_draft(&kits.server, &kits.publisher, "frame", &frame(909));
    let described = kits.server.get("/openapi.json", "").expect(200).json();
    assert!(described["openapi"].as_str().unwrap().starts_with("3.1"));
    let named: BTreeSet<(String, String)> =
        TABLE.iter().map(|(method, path, _)| ((*method).to_owned(), (*path).to_owned())).collect();
    let served = operations(&described);
    let without_row: Vec<_> = served.difference(&named).collect();
    assert!(without_row.is_empty(), "give a row to {without_row:?}");
    let without_route: Vec<_> = named.difference(&served).collect();
    assert!(without_route.is_empty(), "no route for {without_route:?}");

    // Those who are refused come first, so that the one success of a creating call comes last.
    let callers = [
        (0, "", "nobody"),
        (4, &kits.second, "another builder"),
        (3, &kits.first, "the builder"),
        (2, &kits.support, "support"),
        (1, &kits.publisher, "publisher"),
    ];
    let mut wrong = Vec::new();
    for (method, path, statuses) in TABLE {
        for (column, token, name) in &callers {
            let answer = call(&kits.server, method, path, token);
            if answer.status != statuses[*column] {
                wrong.push(format!(
                    "{method} {path} as {name}: {} instead of {}: {}",
                    answer.status,
                    statuses[*column],
                    String::from_utf8_lossy(&answer.body)
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// A publisher's token that was revoked and one whose time is over, beside one that nobody was given.
#[tokio::test(flavor = "multi_thread")]
async fn a_token_that_has_ended_opens_no_more_than_none() {
    let kits = two_kits();
    let token = |days: i64| {
        let new = json!({"role": "publisher", "expires_in_days": days});
        kits.server.post("/v1/tokens", &kits.publisher, &new).expect(201).json()
    };
    let (revoked, expired) = (token(30), token(7));
    let end = format!("/v1/tokens/{}", revoked["id"].as_str().unwrap());
    kits.server.send("DELETE", &end, &kits.publisher, &[], None).expect(204);
    let mut records = kits.server.data.open().await;
    let sooner =
        "UPDATE tokens SET expires_at = '2026-01-01T00:00:00.000Z' WHERE expires_at IS NOT NULL AND revoked_at IS NULL";
    records.execute(sooner).await.unwrap();
    let mut wrong = Vec::new();
    for (method, path, [nobody, ..]) in TABLE {
        for (ended, name) in [(&revoked, "revoked"), (&expired, "expired")] {
            let answer = call(&kits.server, method, path, ended["token"].as_str().unwrap());
            if answer.status != *nobody {
                wrong.push(format!("{method} {path}, {name}: {} instead of {nobody}", answer.status));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    kits.server.get("/v1/kits", &kits.publisher).expect(200);
}

#[test]
fn a_foreign_kit_looks_like_no_kit_at_all() {
    let kits = two_kits();
    for (foreign, nonexistent) in [
        ("/v1/kits/K-2", "/v1/kits/K-404"),
        ("/v1/kits/K-2/packs", "/v1/kits/K-404/packs"),
        ("/v1/kits/K-2/stop-sheets", "/v1/kits/K-404/stop-sheets"),
        ("/v1/kits/K-2/boxes", "/v1/kits/K-404/boxes"),
        ("/v1/kits/K-2/moves", "/v1/kits/K-404/moves"),
        ("/v1/kits/K-2/notes", "/v1/kits/K-404/notes"),
        ("/v1/kits/K-2/holds", "/v1/kits/K-404/holds"),
        ("/v1/kits/K-2/notices", "/v1/kits/K-404/notices"),
        ("/v1/kits/K-2/measurements/history", "/v1/kits/K-404/measurements/history"),
        ("/v1/kits/K-2/packs/1", "/v1/kits/K-404/packs/1"),
        ("/v1/kits/K-2/packs/1/file", "/v1/kits/K-404/packs/1/file"),
        ("/v1/designs/frame/revisions/B/cut-sheet", "/v1/designs/none/revisions/B/cut-sheet"),
        ("/v1/designs/frame/revisions/B/wraps/post.L/to/pdf", "/v1/designs/frame/revisions/Y/wraps/post.L/to/pdf"),
        ("/v1/designs/frame", "/v1/nothing/like/this"),
    ] {
        let there = look(&kits, foreign);
        let not_there = look(&kits, nonexistent);
        assert_eq!(there, not_there, "{foreign} and {nonexistent}");
        assert_eq!(there.0, 404);
    }
}

/// What the first builder sees, without what differs from request to request.
fn look(kits: &TwoKits, path: &str) -> (u16, Value, Vec<(String, String)>) {
    let answer = kits.server.get(path, &kits.first);
    let mut body = answer.json();
    body.as_object_mut().unwrap().remove("request_id");
    (answer.status, body, fixed_headers(&answer))
}

fn fixed_headers(answer: &Answer) -> Vec<(String, String)> {
    let mut headers: Vec<_> = answer
        .headers
        .iter()
        .filter(|(name, _)| !["x-request-id", "date", "ratelimit", "ratelimit-policy"].contains(&name.as_str()))
        .map(|(name, value)| (name.to_string(), value.to_str().unwrap().to_owned()))
        .collect();
    headers.sort();
    headers
}

#[test]
fn builders_get_packs_of_their_own_revision() {
    let kits = two_kits();
    for (token, serial, letter) in [(&kits.first, "K-1", "A"), (&kits.second, "K-2", "B")] {
        let pack = kits.server.get(&format!("/v1/kits/{serial}/packs/1"), token).expect(200);
        assert_eq!(pack.json()["revision"], letter);
    }
}

#[test]
fn a_wrong_token_is_no_token() {
    let kits = two_kits();
    let mut wrong = kits.publisher.clone();
    let last = if wrong.pop() == Some('A') { 'B' } else { 'A' };
    wrong.push(last);
    // RFC 6750, section 3.1: who sends none is told no error, who sends a wrong one is.
    for (token, told) in [(wrong.as_str(), "invalid_token"), ("mmp_short", "invalid_token"), ("", "")] {
        let answer = kits.server.get("/v1/kits", token);
        let challenge = answer.header("www-authenticate").to_owned();
        assert!(challenge.starts_with("Bearer realm="), "{challenge}");
        assert_eq!(challenge.split("error=").nth(1).unwrap_or_default().trim_matches('"'), told);
        answer.problem(401, "token-needed");
    }
    let answer = kits.server.post("/v1/designs", &kits.support, &json!({"id": "x", "name": "X"}));
    assert!(answer.header("www-authenticate").ends_with("error=\"insufficient_scope\""));
    answer.problem(403, "role-needed");
}

/// Operations that change nothing, though they are not called by GET.
const COMPUTED: &[&str] = &[
    "/v1/imports",
    "/v1/joint",
    "/v1/resolutions",
    "/v1/joints/wrap",
    "/v1/joints/wrap/svg",
    "/v1/joints/wrap/pdf",
    "/v1/stock-plan",
    "/v1/stock-plan/kits",
    "/v1/kits/{serial}/stock-plan",
    "/v1/designs/{design}/revisions/{letter}/stock-plan",
];

#[tokio::test(flavor = "multi_thread")]
async fn a_read_only_token_reads_what_its_role_reads_and_changes_nothing() {
    let kits = two_kits();
    put_draft(&kits.server, &kits.publisher, "frame", &frame(909));
    let server = &kits.server;
    let token = |role: &str| {
        let new = json!({"role": role, "name": "Reader", "read_only": true});
        server.post("/v1/tokens", &kits.publisher, &new).expect(201).json()
    };
    let [publisher, support] = ["publisher", "support"].map(token);
    let mut records = server.data.open().await;
    let acts = "SELECT action FROM audit ORDER BY number";
    let before = records.lines(acts).await;
    let mut wrong = Vec::new();
    for (method, path, statuses) in TABLE {
        for (read_only, column) in [(&publisher, 1), (&support, 2)] {
            let answer = call(server, method, path, read_only["token"].as_str().unwrap());
            let own_end = path.starts_with("/v1/tokens/{token}");
            let expected = match *method {
                // Those that are there only after something was changed.
                "GET" if answer.status == 404 => continue,
                "GET" => statuses[column],
                _ if *path == "/v1/sign-in" => 401,
                _ if own_end => 404,
                _ if COMPUTED.contains(path) => 200,
                _ => 403,
            };
            if answer.status != expected {
                wrong.push(format!("{method} {path}: {} instead of {expected}", answer.status));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let refused = server.post("/v1/designs", publisher["token"].as_str().unwrap(), &json!({"id": "x", "name": "X"}));
    assert!(refused.header("www-authenticate").ends_with("error=\"insufficient_scope\""));
    refused.problem(403, "role-needed");
    // Looking whose kit it is, and a wrong code, go on record whoever does it.
    let after: BTreeSet<String> = records.lines(acts).await.split_off(before.len()).into_iter().collect();
    assert_eq!(after, ["look-up-kit", "refuse-sign-in"].map(str::to_owned).into());
}

#[test]
fn a_read_only_token_stays_one() {
    let kits = two_kits();
    let server = &kits.server;
    let new = json!({"role": "publisher", "read_only": true});
    let reader = server.post("/v1/tokens", &kits.publisher, &new).expect(201).json();
    let listed = server.get("/v1/tokens", &kits.publisher).expect(200).json();
    let tokens = listed["tokens"].as_array().unwrap();
    let facts = |id: &Value| tokens.iter().find(|facts| facts["id"] == *id).unwrap();
    assert_eq!(facts(&reader["id"])["read_only"], true);
    let full = tokens.iter().find(|facts| facts["role"] == "publisher" && facts["read_only"] == false).unwrap();
    let full = full["id"].as_str().unwrap();

    // It gets at no other token, and its own successor reads only as well.
    let shown = reader["token"].as_str().unwrap();
    server.post(&format!("/v1/tokens/{full}/rotation"), shown, &json!({})).problem(404, "not-found");
    let own = format!("/v1/tokens/{}/rotation", reader["id"].as_str().unwrap());
    let next = server.post(&own, shown, &json!({})).expect(201).json();
    let shown = next["token"].as_str().unwrap();
    server.post("/v1/tokens", shown, &json!({"role": "publisher"})).problem(403, "role-needed");

    // It does not count as the publisher that there must be.
    server.send("DELETE", &format!("/v1/tokens/{full}"), &kits.publisher, &[], None).problem(409, "last-publisher");
    let end = format!("/v1/tokens/{}", next["id"].as_str().unwrap());
    server.send("DELETE", &end, shown, &[], None).expect(204);
    server.get("/v1/kits", shown).problem(401, "token-needed");
}
