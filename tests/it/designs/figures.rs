//! What a version of the engine computes for a published revision, against what was recorded when it was published.

use crate::browser::Browser;
use crate::fixtures::{TwoKits, two_kits};
use crate::server::{Answer, Server, run_on};
use data_encoding::HEXLOWER;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

const FIGURES: &str = "/v1/designs/frame/revisions/A/figures";

/// Records figures of revision A in which the sloping end of the first post lies this much further out, thousandths of a
/// millimetre, as if another version of the engine had computed them.
async fn recorded_by_another_version(kits: TwoKits, further: i64) -> (Server, [String; 3]) {
    let TwoKits { server, publisher, support, first, .. } = kits;
    let place = server.stop();
    let mut records = place.open().await;
    let text = records.lines("SELECT figures FROM revision_figures WHERE letter = 'A'").await;
    let [text] = text.as_slice() else { panic!("{} records of one revision without choices", text.len()) };
    let mut figures: Value = serde_json::from_str(text).unwrap();
    assert_eq!(figures["tubes"][0]["member"], "post.L");
    for station in figures["tubes"][0]["ends"][1]["outer"].as_array_mut().unwrap() {
        *station = json!(station.as_i64().unwrap() + further);
    }
    let sha256 = HEXLOWER.encode(&Sha256::digest(figures.to_string()));
    let row =
        format!("('frame', 'A', '{{}}', 2, '{figures}', '{sha256}', '0.0.9', '2026-03-01T09:30:00.000Z', 'system')");
    records.run(format!("INSERT INTO revision_figures VALUES {row}")).await.unwrap();
    drop(records);
    (Server::start_in(place), [publisher, support, first])
}

/// All that is handed out of revision A to build from.
fn handed_out(server: &Server, publisher: &str) -> Vec<Answer> {
    let revision = "/v1/designs/frame/revisions/A";
    vec![
        server.post("/v1/kits/K-1/packs", publisher, &json!({})),
        server.get(&format!("{revision}/cut-sheet"), publisher),
        server.get(&format!("{revision}/wraps/post.L/to"), publisher),
        server.get(&format!("{revision}/wraps/post.L/to/pdf"), publisher),
        server.get(&format!("{revision}/members/post.L/solid.step"), publisher),
        server.get(&format!("{revision}/drawing.svg?view=1,1,0.5"), publisher),
        server.post("/v1/kits/K-1/stock-plan", publisher, &json!({})),
    ]
}

#[tokio::test]
async fn nothing_of_a_revision_goes_out_that_another_version_computed_otherwise_until_a_publisher_took_it() {
    let (server, [publisher, support, builder]) = recorded_by_another_version(two_kits(), 20).await;
    for answer in handed_out(&server, &publisher) {
        let problem = answer.problem(409, "figures-differ");
        let detail = problem["detail"].as_str().unwrap();
        assert!(detail.contains("1 of its parts") && detail.contains("version 0.0.9"), "{detail}");
    }
    // Revision B is as recorded, and what was issued before is handed out as it is.
    server.post("/v1/kits/K-2/packs", &publisher, &json!({})).expect(201);
    server.get("/v1/kits/K-1/packs/1/file", &builder).expect(200);

    let listed = run_on(&server.data, &["figures"]);
    let said = String::from_utf8_lossy(&listed.stdout);
    assert_eq!(listed.status.code(), Some(1), "{said}");
    assert!(said.contains("post.L, end 2: outer line by 0.020 mm"), "{said}");
    assert!(said.contains("2 revisions checked, 1 differ from the record"), "{said}");

    let found = server.get(FIGURES, &support).expect(200).json();
    assert_eq!(found["agrees"], false);
    let changes = &found["combinations"][0]["changes"];
    assert_eq!(*changes, json!([{"part": "post.L", "what": "outer-line", "end": "to", "by": 0.02}]));
    server.post(FIGURES, &publisher, &json!({"sha256": "0".repeat(64)})).problem(422, "invalid-request");
    server.post(FIGURES, &support, &json!({"sha256": found["sha256"]})).expect(403);
    let taken = server.post(FIGURES, &publisher, &json!({"sha256": found["sha256"]})).expect(200).json();
    assert_eq!(taken["agrees"], true, "{taken}");
    for answer in handed_out(&server, &publisher) {
        assert!([200, 201].contains(&answer.status), "{answer:?}");
    }
    assert!(run_on(&server.data, &["figures"]).status.success());
}

#[tokio::test]
async fn what_another_version_computed_within_a_hundredth_is_the_same() {
    let (server, [publisher, ..]) = recorded_by_another_version(two_kits(), 9).await;
    for answer in handed_out(&server, &publisher) {
        assert!([200, 201].contains(&answer.status), "{answer:?}");
    }
    assert_eq!(server.get(FIGURES, &publisher).expect(200).json()["agrees"], true);
    assert!(run_on(&server.data, &["figures"]).status.success());
}

/// The same on the pages, where it is asked once more.
#[tokio::test]
async fn a_publisher_reads_what_differs_and_takes_it_on_a_page() {
    let (server, [publisher, support, _]) = recorded_by_another_version(two_kits(), 20).await;
    let page = "/designs/frame/revisions/A/figures";
    let read = Browser::with_token(&server, &support).get(page).expect(200);
    read.says("Held:").says("post.L, end 2: outer line by 0.020 mm").says_nothing_of("Accept the new figures");
    let mut browser = Browser::with_token(&server, &publisher);
    let asked = browser.begin(page, page, &[]).expect(200).says("Accept the new figures of revision A?");
    server.get("/v1/designs/frame/revisions/A/cut-sheet", &publisher).problem(409, "figures-differ");
    assert_eq!(browser.answer(&asked, page, "yes").expect(303).leads_to(), page);
    browser.get(page).expect(200).says("computes the recorded figures").says("nothing differs");
    server.get("/v1/designs/frame/revisions/A/cut-sheet", &publisher).expect(200);
}

#[tokio::test]
async fn a_kit_with_measured_values_is_held_by_the_figures_of_its_revision_too() {
    let server = Server::demo();
    let publisher = server.printed.split_whitespace().find(|word| word.starts_with("mmp_")).unwrap().to_owned();
    let measured = json!({"hoop_spread": 1124});
    server.post("/v1/kits/QF-0101/measurements", &publisher, &measured).expect(200);
    server.post("/v1/kits/QF-0101/packs", &publisher, &json!({})).expect(201);
    let place = server.stop();
    let mut records = place.open().await;
    // Publishing recorded every combination of the choices of both revisions.
    let rows = "SELECT choices || '\t' || figures FROM revision_figures WHERE letter = 'A' ORDER BY choices";
    let rows = records.lines(rows).await;
    assert!(rows.len() > 1 && rows[0].starts_with("{\""), "{}", rows.len());
    for row in rows {
        let (choices, figures) = row.split_once('\t').unwrap();
        let mut figures: Value = serde_json::from_str(figures).unwrap();
        let overall = &mut figures["tubes"][0]["overall"];
        *overall = json!(overall.as_i64().unwrap() + 20);
        let sha256 = HEXLOWER.encode(&Sha256::digest(figures.to_string()));
        let row = format!(
            "('fenrunner-two', 'A', '{choices}', 2, '{figures}', '{sha256}', '0.0.9', '2026-03-01T09:30:00.000Z', 'system')"
        );
        records.run(format!("INSERT INTO revision_figures VALUES {row}")).await.unwrap();
    }
    drop(records);
    let server = Server::start_in(place);
    let problem = server.post("/v1/kits/QF-0101/packs", &publisher, &json!({})).problem(409, "figures-differ");
    assert!(problem["detail"].as_str().unwrap().contains("1 of its parts"), "{problem}");
}
