//! Notices: whom a change concerns by computation, what they are told, how far they are.

use crate::fixtures::{a_recall, builder_token, create_design, create_kit, new_kit, publish_document, two_kits};
use crate::server::Server;
use serde_json::{Value, json};

/// Two posts of their own heights, of which the second is there for a choice only.
fn posts(first: u32, second: u32) -> String {
    json!({
        "format": "matchmark-design/1",
        "name": "Two Posts",
        "materials": {"cds": {"name": "cold drawn seamless", "density": 7850}},
        "sections": {"tube": {"round": {"od": 45, "wall": 2.5}, "material": "cds"}},
        "points": {"a": [0, 0, 0], "b": [0, 0, first], "c": [500, 0, 0], "d": [500, 0, second]},
        "options": {"second": {"what": "A second post", "choices": ["yes", "no"]}},
        "members": [
            {"id": "one", "section": "tube", "from": "a", "to": "b", "ends": {"from": "square", "to": "square"}},
            {"id": "two", "section": "tube", "from": "c", "to": "d", "ends": {"from": "square", "to": "square"},
             "when": {"second": "yes"}}
        ]
    })
    .to_string()
}

struct Fleet {
    server: Server,
    token: String,
}

/// A: 900, 700. B: the first post longer. C: the second shorter. Kits on each, one without the second post.
fn fleet() -> Fleet {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    for (letter, document) in [("A", posts(900, 700)), ("B", posts(910, 700)), ("C", posts(910, 690))] {
        assert_eq!(publish_document(&server, &token, "frame", &document), letter);
        create_kit(&server, &token, &format!("K-{letter}"), "frame", letter);
    }
    let mut without = new_kit("K-A-NO", "frame", "A");
    without["choices"] = json!({"second": "no"});
    server.post("/v1/kits", &token, &without).expect(201);
    Fleet { server, token }
}

fn raise(fleet: &Fleet, from: &str, to: &str, class: &str) -> Value {
    let body = json!({"from": from, "to": to, "class": class, "text": "Read this."});
    fleet.server.post("/v1/designs/frame/notices", &fleet.token, &body).expect(201).json()
}

fn concerned(fleet: &Fleet, number: &Value) -> Vec<String> {
    let path = format!("/v1/notices?notice={number}");
    let rows = fleet.server.get(&path, &fleet.token).expect(200).json();
    rows["notices"].as_array().unwrap().iter().map(|row| row["kit"].as_str().unwrap().to_owned()).collect()
}

#[test]
fn a_notice_concerns_the_kits_that_the_change_touches_and_no_others() {
    let fleet = fleet();
    // The first post grew: every kit before B has a short one.
    let first = raise(&fleet, "A", "B", "mandatory");
    assert_eq!(concerned(&fleet, &first["number"]), ["K-A", "K-A-NO"]);
    assert_eq!((&first["kits"], &first["open"], &first["done"]), (&json!(2), &json!(2), &json!(0)));
    // The second post shrank: those before C that have one. That the first differs as well is no matter of this notice.
    let second = raise(&fleet, "B", "C", "recommended");
    assert_eq!(concerned(&fleet, &second["number"]), ["K-A", "K-B"]);

    let details = fleet.server.get("/v1/designs/frame/notices/2", &fleet.token).expect(200).json();
    for group in details["groups"].as_array().unwrap() {
        let parts = group["work"]["parts"].as_array().unwrap();
        assert_eq!(parts.len(), 1, "{group}");
        // Ten millimetres off a square end: an old part is long enough.
        assert_eq!((&parts[0]["member"], &parts[0]["kind"]), (&json!("two"), &json!("rework")));
        assert_eq!(parts[0]["overall"], -10.0);
    }
    let details = fleet.server.get("/v1/designs/frame/notices/1", &fleet.token).expect(200).json();
    assert_eq!(details["groups"].as_array().unwrap().len(), 2);
    assert_eq!(details["groups"][0]["work"]["parts"][0]["kind"], "replace");

    let wrong = json!({"from": "B", "to": "A", "class": "optional", "text": "Backwards."});
    let problem = fleet.server.post("/v1/designs/frame/notices", &fleet.token, &wrong).problem(422, "invalid-request");
    assert_eq!(problem["errors"][0]["pointer"], "/to");
}

#[test]
fn builders_acknowledge_and_finish_their_notices() {
    let fleet = fleet();
    raise(&fleet, "A", "B", "mandatory");
    raise(&fleet, "B", "C", "recommended");
    let builder = builder_token(&fleet.server, &fleet.token, "K-A");
    let path = "/v1/kits/K-A/notices";
    let states = || -> Vec<String> {
        let list = fleet.server.get(path, &builder).expect(200).json();
        list["notices"].as_array().unwrap().iter().map(|row| row["state"].as_str().unwrap().to_owned()).collect()
    };
    assert_eq!(states(), ["open", "open"]);
    let say =
        |number: u32, what: &str| fleet.server.send("POST", &format!("{path}/{number}/{what}"), &builder, &[], None);
    let first = say(1, "acknowledgement").expect(200).json();
    assert_eq!(states(), ["acknowledged", "open"]);
    assert_eq!(first["work"]["parts"][0]["member"], "one");
    assert_eq!(say(1, "acknowledgement").expect(200).json(), first, "the first time counts");
    let done = say(2, "completion").expect(200).json();
    assert_eq!(states(), ["acknowledged", "done"]);
    assert_eq!(done["acknowledged_at"], done["done_at"], "what is done was read");
    assert_eq!(say(2, "acknowledgement").expect(200).json(), done);
    say(3, "completion").problem(404, "unknown-notice");

    let told = fleet.server.get("/v1/designs/frame/notices", &fleet.token).expect(200).json();
    let counts =
        |row: &Value| [&row["kits"], &row["open"], &row["acknowledged"], &row["done"]].map(|n| n.as_i64().unwrap());
    assert_eq!(counts(&told["notices"][0]), [2, 1, 1, 0]);
    assert_eq!(counts(&told["notices"][1]), [2, 1, 0, 1]);
}

/// All that a pack of a kit says, and the titles of its pages.
fn pack(fleet: &Fleet, serial: &str) -> (String, Vec<String>) {
    let number =
        fleet.server.post(&format!("/v1/kits/{serial}/packs"), &fleet.token, &json!({})).expect(201).json()["number"]
            .clone();
    let path = format!("/v1/kits/{serial}/packs/{number}/manifest");
    let manifest = fleet.server.get(&path, &fleet.token).expect(200).json();
    let pages = manifest["pages"].as_array().unwrap();
    let texts = pages.iter().flat_map(|page| page["texts"].as_array().unwrap()).map(|text| text.as_str().unwrap());
    let titles = pages.iter().map(|page| page["title"].as_str().unwrap().to_owned());
    (texts.collect::<Vec<_>>().join(" "), titles.collect())
}

#[test]
fn a_pack_says_what_its_kit_was_told_until_it_is_done() {
    let fleet = fleet();
    raise(&fleet, "B", "C", "recommended");
    let (words, titles) = pack(&fleet, "K-B");
    assert!(titles.iter().any(|title| title == "Notices"), "{titles:?}");
    for said in [
        "Notice 1, recommended,",
        "Read this.",
        "Make none of the parts listed below from its pages.",
        "10.0 mm all round",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
    assert!(!pack(&fleet, "K-C").1.contains(&"Notices".to_owned()));
    fleet.server.send("POST", "/v1/kits/K-B/notices/1/completion", &fleet.token, &[], None).expect(200);
    // The kit keeps the revision of before the change, and with it the templates of the old parts.
    let (words, titles) = pack(&fleet, "K-B");
    assert!(titles.iter().any(|title| title == "Notices"), "{titles:?}");
    assert!(words.contains("This was reported as done.") && !words.contains("Make none of the parts listed below"));
    let to = json!({"revision": "C", "reason": "It has all of its parts now."});
    fleet.server.post("/v1/kits/K-B/moves", &fleet.token, &to).expect(201);
    // What changed since the pack before would else ask for the same work again.
    let (words, _) = pack(&fleet, "K-B");
    assert!(words.contains("the parts listed below are made already"), "{words}");
    assert!(!pack(&fleet, "K-B").1.contains(&"Notices".to_owned()));
}

#[test]
fn a_stop_sheet_is_printed_alone_and_in_the_next_pack() {
    let fleet = fleet();
    pack(&fleet, "K-A");
    fleet.server.post("/v1/designs/frame/revisions/A/recall", &fleet.token, &a_recall()).expect(200);
    let sheet = fleet.server.get("/v1/kits/K-A/stop-sheets/A/pdf?paper=letter", &fleet.token).expect(200);
    assert_eq!(sheet.header("content-type"), "application/pdf");
    assert!(sheet.body.starts_with(b"%PDF-"));
    fleet.server.get("/v1/kits/K-B/stop-sheets/A/pdf", &fleet.token).problem(404, "not-recalled");
    let to = json!({"revision": "C", "reason": "New posts."});
    fleet.server.post("/v1/kits/K-A/moves", &fleet.token, &to).expect(201);
    let (words, titles) = pack(&fleet, "K-A");
    assert!(titles.iter().any(|title| title == "Stop sheet of revision A"), "{titles:?}");
    for said in ["PRODUCT SAFETY RECALL", "The posts can break.", "since pack 1 of revision A"] {
        assert!(words.contains(said), "{said}: {words}");
    }
}

#[test]
fn a_notice_has_the_pages_that_its_work_takes() {
    let fleet = fleet();
    let (server, token) = (&fleet.server, &fleet.token);
    // On the builder's own paper, with bars measured once.
    let bars = json!({"paper": "letter", "check_bars": {"across": 99.0, "up": 101.5}});
    let whole = server.post("/v1/kits/K-A/packs", token, &bars).expect(201).json();
    raise(&fleet, "B", "C", "mandatory");
    let builder = builder_token(server, token, "K-A");
    let path = "/v1/kits/K-A/notices/1/pages";
    let pages = server.get(path, &builder).expect(200);
    assert_eq!(pages.header("content-type"), "application/pdf");
    assert_eq!(pages.header("content-disposition"), "attachment; filename=\"K-A-notice-1.pdf\"");
    // Both posts of this frame change, so that its pages are no fewer than those of the whole pack; they are others.
    let pack = server.get("/v1/kits/K-A/packs/1/file", &builder).expect(200);
    assert!(pages.body.starts_with(b"%PDF-") && pages.body != pack.body && whole["size"] == pack.body.len());
    assert_eq!(server.get(path, &builder).expect(200).body, pages.body, "the same on the same day");
    let other = server.get("/v1/kits/K-B/notices/1/pages", token).expect(200);
    assert_ne!(other.body, pages.body);
    server.get("/v1/kits/K-B/notices/1/pages", &builder).problem(404, "not-found");
    server.get("/v1/kits/K-A-NO/notices/1/pages", token).problem(404, "unknown-notice");
    server.get("/v1/kits/K-A/notices/2/pages", &builder).problem(404, "unknown-notice");
    // Nothing was issued and nothing moved.
    let packs = server.get("/v1/kits/K-A/packs", &builder).expect(200).json();
    assert_eq!(packs["packs"].as_array().unwrap().len(), 1);
    assert_eq!((&packs["packs"][0]["state"], &packs["packs"][0]["revision"]), (&json!("notice-first"), &json!("A")));

    let hold = json!({"reason": "Not paid.", "ask": "The supplier."});
    server.post("/v1/kits/K-A/holds", token, &hold).expect(201);
    server.get(path, &builder).problem(409, "kit-on-hold");
    server.post("/v1/kits/K-A/holds/1/lifting", token, &json!({"reason": "Paid."})).expect(200);
    server.post("/v1/designs/frame/revisions/C/recall", token, &a_recall()).expect(200);
    server.get(path, &builder).problem(409, "not-in-force");
}

#[test]
fn the_outstanding_list_goes_by_pages_and_filters() {
    let fleet = fleet();
    raise(&fleet, "A", "B", "mandatory");
    raise(&fleet, "B", "C", "recommended");
    let rows = |query: &str| -> (Vec<(String, i64)>, Value) {
        let body = fleet.server.get(&format!("/v1/notices?{query}"), &fleet.token).expect(200).json();
        let rows = body["notices"].as_array().unwrap().iter();
        (rows.map(|row| (row["kit"].as_str().unwrap().to_owned(), row["number"].as_i64().unwrap())).collect(), body)
    };
    let row = |kit: &str, number: i64| (kit.to_owned(), number);
    let all = [row("K-A", 1), row("K-A", 2), row("K-A-NO", 1), row("K-B", 2)];
    assert_eq!(rows("").0, all);
    assert_eq!(rows("class=mandatory").0, [row("K-A", 1), row("K-A-NO", 1)]);
    let (page, body) = rows("page_size=3");
    assert_eq!(page, all[..3]);
    let next = format!("page_size=3&cursor={}", body["next"].as_str().unwrap());
    assert_eq!(rows(&next).0, all[3..]);
    fleet.server.send("POST", "/v1/kits/K-A/notices/1/completion", &fleet.token, &[], None).expect(200);
    assert_eq!(rows("").0, all[1..]);
    assert_eq!(rows("done=true").0, all);
}

#[test]
fn a_notice_sent_twice_with_one_key_is_one_notice() {
    let kits = two_kits();
    let body = json!({"from": "A", "to": "B", "class": "optional", "text": "Taller."}).to_string();
    let key = [("idempotency-key", "notice-1")];
    let send = || kits.server.send("POST", "/v1/designs/frame/notices", &kits.publisher, &key, Some(&body));
    let first = send().expect(201);
    assert_eq!(first.header("location"), "/v1/designs/frame/notices/1");
    assert_eq!(send().expect(201).json(), first.json());
    assert_eq!(
        kits.server.get("/v1/designs/frame/notices", &kits.support).json()["notices"].as_array().unwrap().len(),
        1
    );
}
