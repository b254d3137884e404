//! Revisions compared, kits with choices, and values measured by builders, over the demo's own documents.

use crate::fixtures::{a_recall, builder_token, create_design, new_kit, put_draft};
use crate::server::Server;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

const A: &str = include_str!("../../../server/demo/rev_a.json");
const B: &str = include_str!("../../../server/demo/rev_b.json");

struct Published {
    server: Server,
    token: String,
}

/// The demo's two revisions under the id `frame`, every warning acknowledged.
fn published() -> Published {
    let server = Server::start();
    let token = server.publisher();
    create_design(&server, &token, "frame");
    for document in [A, B] {
        let etag = put_draft(&server, &token, "frame", document);
        let found = server.get("/v1/designs/frame/draft/findings?all_choices=true", &token).expect(200).json();
        assert_eq!(found["errors"], 0, "{found}");
        let codes: BTreeSet<&str> =
            found["findings"].as_array().unwrap().iter().map(|finding| finding["code"].as_str().unwrap()).collect();
        let body = json!({"change_note": "For a test.", "class": "recommended", "acknowledge": codes}).to_string();
        server.send("POST", "/v1/designs/frame/revisions", &token, &[("if-match", &etag)], Some(&body)).expect(201);
    }
    Published { server, token }
}

fn get(published: &Published, path: &str) -> Value {
    published.server.get(path, &published.token).expect(200).json()
}

#[test]
fn the_second_revision_has_a_part_of_each_change_kind() {
    let published = published();
    let changes = get(&published, "/v1/designs/frame/changes?from=A");
    assert_eq!((changes["from"].as_str(), changes["to"].as_str()), (Some("A"), Some("B")));
    let parts = changes["parts"].as_array().unwrap();
    let kind = |id: &str| {
        let row = parts.iter().find(|row| row["member"] == id).unwrap_or_else(|| panic!("no row of {id}"));
        row["kind"].as_str().unwrap().to_owned()
    };
    for (member, wanted) in [
        ("main_hoop", "unchanged"),
        ("seat_rail_in.L", "moved"),
        ("harness_bar", "rework"),
        ("gearbox_cross", "rework"),
        ("bay_front_diag.L", "replace"),
        ("harness_strut", "added"),
        ("strap_peg.R", "added"),
        ("strap_post", "removed"),
    ] {
        assert_eq!(kind(member), wanted, "{member}: {changes}");
    }
    let harness = parts.iter().find(|row| row["member"] == "harness_bar").unwrap();
    // The bar gets shorter by what its overall length says, taken off its ends.
    let trims = harness["trims"].as_array().unwrap();
    let taken: f64 = trims.iter().map(|trim| trim["most"].as_f64().unwrap()).sum();
    assert!(!trims.is_empty() && taken >= -harness["overall"].as_f64().unwrap() - 0.06, "{harness}");
    assert!(trims.iter().all(|trim| trim["wrap"] == true));
    assert!(changes["checks"].as_array().unwrap().iter().any(|check| check["name"] == "harness_height"));
    assert_eq!(changes["steps"].as_array().unwrap().len(), 2, "one step was said anew");
    let back = get(&published, "/v1/designs/frame/changes?from=B&to=A");
    assert!(
        back["parts"].as_array().unwrap().iter().any(|row| row["member"] == "harness_bar" && row["kind"] == "replace")
    );
    published.server.get("/v1/designs/frame/changes?from=Z", &published.token).problem(404, "unknown-revision");
}

#[test]
fn part_numbers_of_unchanged_parts_stay_from_revision_to_revision() {
    let published = published();
    let numbers = |letter: &str| -> BTreeMap<String, String> {
        let parts = get(&published, &format!("/v1/designs/frame/revisions/{letter}/parts"));
        let parts = parts["parts"].as_array().unwrap().clone();
        let members = |part: &Value| part["members"].as_array().unwrap().clone();
        parts
            .iter()
            .flat_map(|part| {
                members(part)
                    .into_iter()
                    .map(|member| (member.as_str().unwrap().to_owned(), part["number"].as_str().unwrap().to_owned()))
            })
            .collect()
    };
    let (a, b) = (numbers("A"), numbers("B"));
    let changes = get(&published, "/v1/designs/frame/changes?from=A&to=B");
    for row in changes["parts"].as_array().unwrap() {
        let member = row["member"].as_str().unwrap();
        match row["kind"].as_str().unwrap() {
            "unchanged" | "moved" => assert_eq!(a[member], b[member], "{member}"),
            "rework" | "replace" => assert_ne!(a[member], b[member], "{member}"),
            _ => {}
        }
    }
    assert_eq!(a["main_hoop"], "FT100");
    // Four seat rails, one part.
    assert_eq!(a["seat_rail_in.L"], a["seat_rail_out.R"]);
    let pairs = get(&published, "/v1/designs/frame/revisions/B/parts")["pairs"].clone();
    let pair = |left: &str| pairs.as_array().unwrap().iter().find(|pair| pair["left"] == left).unwrap().clone();
    assert_eq!(pair("back_stay.L")["handed"], true);
    assert_ne!(pair("back_stay.L")["tell_left"], pair("back_stay.L")["tell_right"]);
    assert_eq!(pair("seat_rail_in.L")["handed"], false);
    assert_eq!(pair("belt_pad.L")["handed"], true, "its countersink opens to one face");
}

#[test]
fn a_kit_is_sold_with_choices_that_the_design_has() {
    let published = published();
    let kit = |serial: &str, choices: Value| {
        let mut kit = new_kit(serial, "frame", "B");
        kit["choices"] = choices;
        published.server.post("/v1/kits", &published.token, &kit)
    };
    let refused = kit("K-1", json!({"drive": "middle"})).problem(422, "invalid-request");
    assert_eq!(refused["errors"][0]["pointer"], "/choices");
    kit("K-1", json!({"drive": "right", "tow": "none"})).expect(201);
    assert_eq!(get(&published, "/v1/kits/K-1")["choices"], json!({"drive": "right", "tow": "none"}));
    published.server.post("/v1/kits/K-1/packs", &published.token, &json!({})).expect(201);
}

#[test]
fn measured_values_fit_the_pack_to_the_hoop_that_the_builder_has() {
    let published = published();
    published.server.post("/v1/kits", &published.token, &new_kit("K-1", "frame", "B")).expect(201);
    let builder = builder_token(&published.server, &published.token, "K-1");
    let path = "/v1/kits/K-1/measurements";
    let before = published.server.post("/v1/kits/K-1/packs", &published.token, &json!({})).expect(201).json();

    let refused = published.server.post(path, &builder, &json!({"hoop_spread": 1140.5})).problem(422, "not-measurable");
    let said = refused["findings"][0]["message"].as_str().unwrap();
    assert!(said.contains("1140.5") && said.contains("1112 to 1132"), "{said}");
    assert_eq!(get(&published, path)["measured"], json!({}), "nothing of it was kept");

    let measured = published.server.post(path, &builder, &json!({"hoop_spread": 1124})).expect(200).json();
    let affected: BTreeSet<&str> =
        measured["affected"].as_array().unwrap().iter().map(|part| part["member"].as_str().unwrap()).collect();
    assert!(affected.contains("main_hoop") && affected.contains("sill.L"), "{affected:?}");
    assert!(!affected.contains("front_hoop") && !affected.contains("seat_front"), "{affected:?}");
    assert_eq!(get(&published, path)["measured"], json!({"hoop_spread": 1124.0}));
    let after = published.server.post("/v1/kits/K-1/packs", &published.token, &json!({})).expect(201).json();
    assert_ne!(before["sha256"], after["sha256"]);
    // What is cut out of the two packs is told apart, and parts that are not the revision's have a number that says so.
    let [before, after] = [1, 2].map(|number| words(&published, number));
    assert!(before.contains("pack 1, kit K-1") && !before.contains("FT100/M"));
    assert!(after.contains("pack 2, kit K-1") && after.contains("FT100/M"));
    // Measured as nominal, the parts are those of the revision again.
    let again = published.server.post(path, &builder, &json!({"hoop_spread": 1120})).expect(200).json();
    assert_eq!(again["affected"], json!([]));
}

/// All that is printed in a pack of kit K-1.
fn words(published: &Published, number: i64) -> String {
    let account = get(published, &format!("/v1/kits/K-1/packs/{number}/manifest"));
    let texts = account["pages"].as_array().unwrap().iter().flat_map(|page| page["texts"].as_array().unwrap());
    texts.map(|text| text.as_str().unwrap()).collect::<Vec<_>>().join(" ")
}

/// The page numbers of a run such as `1 to 3, 7` that follows some words.
fn pages_after(said: &str, words: &str) -> BTreeSet<u64> {
    let from = said.find(words).unwrap_or_else(|| panic!("{words}: {said}")) + words.len();
    let figures = said[from..].split(|c: char| c.is_ascii_alphabetic() && c != 't' && c != 'o').next().unwrap();
    let runs = figures.split(',').map(|run| {
        let ends: Vec<u64> = run.split(" to ").filter_map(|page| page.trim().parse().ok()).collect();
        ends.first().copied().unwrap_or(1)..=ends.last().copied().unwrap_or(0)
    });
    runs.flatten().collect()
}

#[test]
fn a_pack_of_changes_keeps_no_page_from_before_the_hoop_was_measured() {
    let published = published();
    published.server.post("/v1/kits", &published.token, &new_kit("K-1", "frame", "A")).expect(201);
    published.server.post("/v1/kits/K-1/packs", &published.token, &json!({})).expect(201);
    published.server.post("/v1/kits/K-1/measurements", &published.token, &json!({"hoop_spread": 1124})).expect(200);
    let moved = json!({"revision": "B", "reason": "A test."});
    published.server.post("/v1/kits/K-1/moves", &published.token, &moved).expect(201);
    let one_hand = json!({"only_changes": true, "hands": "left"});
    let refused =
        published.server.post("/v1/kits/K-1/packs", &published.token, &one_hand).problem(422, "invalid-request");
    assert_eq!(refused["errors"][0]["pointer"], "/hands");
    published.server.post("/v1/kits/K-1/packs", &published.token, &json!({"only_changes": true})).expect(201);

    let said = words(&published, 2);
    assert!(!said.contains("must not be mixed") && said.contains("What stays valid of pack 1"), "{said}");
    let kept = pages_after(&said, "keep, whole pages ");
    let gone = pages_after(&said, "cross out, whole pages ");
    let first = get(&published, "/v1/kits/K-1/packs/1/manifest");
    let page = |title: &str| {
        let pages = first["pages"].as_array().unwrap().iter();
        let found = pages.clone().find(|page| page["title"].as_str().unwrap().split("; ").any(|part| part == title));
        found.unwrap_or_else(|| panic!("{title}"))["page"].as_u64().unwrap()
    };
    // The hoop's spread moves the rear end of the sills, not the front hoop; revision B leaves both as they are.
    assert!(gone.contains(&page("Jig sheet main_hoop")) && kept.contains(&page("Jig sheet front_hoop")), "{kept:?}");
    assert!(!kept.contains(&page("Wrap sill.L, end 1")), "{kept:?}");
    assert!(gone.contains(&page("Cover")) && kept.is_disjoint(&gone));
}

#[test]
fn a_pack_of_changes_whose_kept_pages_are_recalled_wants_a_whole_one() {
    let published = published();
    published.server.post("/v1/kits", &published.token, &new_kit("K-1", "frame", "A")).expect(201);
    let [left, right] = ["left", "right"].map(|hands| json!({"hands": hands}));
    published.server.post("/v1/kits/K-1/packs", &published.token, &left).expect(201);
    published.server.post("/v1/kits/K-1/packs", &published.token, &right).expect(201);
    let moved = json!({"revision": "B", "reason": "A test."});
    published.server.post("/v1/kits/K-1/moves", &published.token, &moved).expect(201);
    published.server.post("/v1/kits/K-1/packs", &published.token, &json!({"only_changes": true})).expect(201);
    // Both hands go on beside it, and all say so.
    for number in [1, 2] {
        let said = get(&published, &format!("/v1/kits/K-1/packs/{number}"))["words"].as_str().unwrap().to_owned();
        assert!(said.contains("Pack 3 holds the changes"), "{number}: {said}");
    }
    assert!(words(&published, 3).contains("packs 1 and 2 of revision A"));

    published.server.post("/v1/designs/frame/revisions/A/recall", &published.token, &a_recall()).expect(200);
    let path = "/v1/kits/K-1/stop-sheets/A/acknowledgement";
    published.server.post(path, &published.token, &json!({})).expect(200);
    let kit = get(&published, "/v1/kits/K-1/packs/3");
    let said = kit["words"].as_str().unwrap();
    assert!(kit["state"] == "notice-first" && said.contains("Have a whole pack issued first"), "{kit}");
}

/// What is said of a page of pack 1 by whoever scans it.
fn scanned(published: &Published, page: u64) -> (String, String) {
    let account = get(published, "/v1/kits/K-1/packs/1/manifest");
    let code = account["pages"][page as usize - 1]["code"].as_str().expect("a signed page").to_owned();
    let said = published.server.get(&format!("/v1/pages/{code}"), "").expect(200).json();
    (said["state"].as_str().unwrap().to_owned(), said["words"].as_str().unwrap().to_owned())
}

#[test]
fn a_page_that_a_pack_of_changes_keeps_scans_as_kept() {
    let published = published();
    published.server.post("/v1/kits", &published.token, &new_kit("K-1", "frame", "A")).expect(201);
    published.server.post("/v1/kits/K-1/packs", &published.token, &json!({})).expect(201);
    let moved = json!({"revision": "B", "reason": "A test."});
    published.server.post("/v1/kits/K-1/moves", &published.token, &moved).expect(201);
    published.server.post("/v1/kits/K-1/packs", &published.token, &json!({"only_changes": true})).expect(201);

    let account = get(&published, "/v1/kits/K-1/packs/2/manifest");
    let before = &account["before"][0];
    assert_eq!(before["pack"], "1");
    let of = |name: &str| before[name].as_array().unwrap().clone();
    let (whole, in_part, void) = (of("whole"), of("in_part"), of("void"));
    assert_eq!(
        whole.iter().map(|page| page.as_u64().unwrap()).collect::<BTreeSet<_>>(),
        pages_after(&words(&published, 2), "keep, whole pages ")
    );
    let (state, said) = scanned(&published, whole[0].as_u64().unwrap());
    assert!(
        state == "kept"
            && said.starts_with("Kept: page ")
            && said.contains("beside pack 2 of revision B")
            && said.contains("stays valid"),
        "{state}: {said}"
    );
    let (state, said) = scanned(&published, in_part[0]["pages"][0].as_u64().unwrap());
    assert!(state == "kept" && said.contains(in_part[0]["cross_out"].as_str().unwrap()), "{state}: {said}");
    let (state, said) = scanned(&published, void[0].as_u64().unwrap());
    assert!(state == "superseded" && said.contains("Cross the page out"), "{state}: {said}");

    // What makes the pack of changes wrong makes what it keeps wrong.
    published.server.post("/v1/kits/K-1/measurements", &published.token, &json!({"hoop_spread": 1124})).expect(200);
    let (state, said) = scanned(&published, whole[0].as_u64().unwrap());
    assert!(state == "outdated" && said.contains("Out of date"), "{state}: {said}");
    // A pack of what changed goes with a whole one alone.
    let back = json!({"revision": "A", "reason": "A test."});
    published.server.post("/v1/kits/K-1/moves", &published.token, &back).expect(201);
    let once_more = json!({"only_changes": true});
    let refused =
        published.server.post("/v1/kits/K-1/packs", &published.token, &once_more).problem(422, "invalid-request");
    assert!(refused["errors"][0]["detail"].as_str().unwrap().contains("is itself a pack of changes"), "{refused}");
    let again = json!({"revision": "B", "reason": "A test."});
    published.server.post("/v1/kits/K-1/moves", &published.token, &again).expect(201);
    // A whole pack keeps no page from before it.
    published.server.post("/v1/kits/K-1/packs", &published.token, &json!({})).expect(201);
    assert_eq!(scanned(&published, whole[0].as_u64().unwrap()).0, "superseded");
}

#[test]
fn sheets_of_every_kind_are_served() {
    let published = published();
    let revision = "/v1/designs/frame/revisions/B";
    let plates = get(&published, &format!("{revision}/plates"));
    assert!(plates["plates"].as_array().unwrap().iter().any(|plate| plate["plate"] == "hoop_plate.R"));
    let strips = get(&published, &format!("{revision}/hole-strips"));
    let harness = strips["hole_strips"]
        .as_array()
        .unwrap()
        .iter()
        .find(|strip| strip["member"] == "harness_bar")
        .unwrap()
        .clone();
    assert_eq!(harness["holes"].as_array().unwrap().len(), 8, "four holes through both walls");
    let jigs = get(&published, &format!("{revision}/jig-sheets"));
    assert_eq!(jigs["jig_sheets"][0]["member"], "main_hoop");
    assert!((jigs["jig_sheets"][0]["spread"].as_f64().unwrap() - 1120.0).abs() < 1.0);
    let checks = get(&published, &format!("{revision}/checks"));
    assert!(checks["checks"].as_array().unwrap().iter().any(|check| check["declared"] == true));
    assert!(checks["checks"].as_array().unwrap().iter().any(|check| check["declared"] == false));
    let mass = get(&published, &format!("{revision}/mass"));
    assert!(mass["mass_kg"].as_f64().unwrap() > 50.0);
    // The frame is nearly the same on both hands, so its centre of gravity lies near the middle plane.
    assert!(mass["centre_of_gravity"][1].as_f64().unwrap().abs() < 15.0, "{mass}");
}
