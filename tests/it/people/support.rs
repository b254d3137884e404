//! The one look-up of support.

use crate::fixtures::{recall, two_kits};
use serde_json::{Value, json};

#[test]
fn one_call_answers_what_support_is_asked() {
    let kits = two_kits();
    let (server, support) = (&kits.server, &kits.support);
    let notice = json!({"from": "A", "to": "B", "class": "recommended", "text": "The posts grew."});
    server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
    server.get("/v1/kits/K-1/packs/1/file", &kits.first).expect(200);
    server.post("/v1/kits/K-1/notes", support, &json!({"text": "Called once."})).expect(201);
    let look = |q: &str| server.get(&format!("/v1/support/lookup?q={q}"), support).expect(200).json();

    let answer = look("K-1");
    assert_eq!((answer["kits"].as_array().unwrap().len(), &answer["more"]), (1, &json!(false)));
    let kit = &answer["kits"][0];
    assert_eq!((&kit["kit"]["serial"], &kit["kit"]["customer"]["name"]), (&json!("K-1"), &json!("A. Builder")));
    assert_eq!((&kit["revision"]["letter"], &kit["revision"]["state"]), (&json!("A"), &json!("superseded")));
    assert_eq!(kit["since"]["current"], "B");
    // Both posts grew by 4 mm: the old ones are too short.
    assert_eq!(
        kit["since"]["counts"],
        json!({"unchanged": 0, "moved": 0, "rework": 0, "replace": 2, "added": 0, "removed": 0})
    );
    assert_eq!(kit["since"]["mandatory"], json!([]));
    assert_eq!((&kit["notices"][0]["number"], &kit["notices"][0]["state"]), (&json!(1), &json!("open")));
    assert_eq!(kit["packs"][0]["downloads"], 1);
    let fetched = &kit["downloads"][0];
    assert_eq!((&fetched["pack"], &fetched["role"], &fetched["times"]), (&json!(1), &json!("builder"), &json!(1)));
    assert_eq!(kit["notes"][0]["text"], "Called once.");
    assert_eq!((&kit["stop_sheets"], &kit["moves"], &kit["measured"]), (&json!([]), &json!([]), &json!({})));

    // The kit on the newest revision has nothing since.
    let newest = look("k-2");
    assert_eq!(newest["kits"][0]["kit"]["serial"], "K-2");
    assert!(newest["kits"][0].get("since").is_none());
    // What a scanned code says, a name, an address, a beginning.
    let serials = |q: &str| -> Vec<Value> {
        look(q)["kits"].as_array().unwrap().iter().map(|kit| kit["kit"]["serial"].clone()).collect()
    };
    assert_eq!(serials("https%3A%2F%2Fframes.example%2FP%2FK-2%2F1"), ["K-2"]);
    for both in ["builder", "BUILDER%40example.com", "K-"] {
        assert_eq!(serials(both), ["K-1", "K-2"], "{both}");
    }
    assert_eq!(serials("nobody+at+all"), [] as [&str; 0]);
    server.get("/v1/support/lookup?q=%20", support).problem(422, "invalid-request");

    // What a scanner reads from a page, the code of its symbol or all of it, leads to its kit and says whether that page is right.
    let manifest = server.get("/v1/kits/K-1/packs/1/manifest", &kits.first).expect(200).json();
    let code = manifest["pages"][1]["code"].as_str().unwrap();
    for scanned in [code.to_owned(), code.to_lowercase(), format!("HTTPS%3A%2F%2FFRAMES.EXAMPLE%2FP%2F{code}")] {
        let found = look(&scanned);
        assert_eq!(found["kits"][0]["kit"]["serial"], "K-1", "{scanned}");
        assert_eq!(
            (&found["page"]["state"], &found["page"]["page"]["page"]),
            (&json!("current"), &json!(2)),
            "{found}"
        );
    }
    server.post("/v1/kits/K-1/packs", support, &json!({})).expect(201);
    assert_eq!(look(code)["page"]["state"], "superseded");
    let forged = format!("{}{}", &code[..30], if &code[30..31] == "A" { "B" } else { "A" }) + &code[31..];
    let told = look(&forged);
    assert_eq!((&told["page"]["state"], &told["kits"]), (&json!("unknown"), &json!([])), "{told}");
    assert!(look("K-1").get("page").is_none());

    recall(&kits, "A");
    assert_eq!(look(code)["page"]["state"], "recalled");
    assert_eq!(look("K-1")["kits"][0]["stop_sheets"][0]["revision"], "A");
    server.send("POST", "/v1/kits/K-1/stop-sheets/A/acknowledgement", &kits.first, &[], None).expect(200);
    assert_eq!(look("K-1")["kits"][0]["stop_sheets"], json!([]));
}

#[tokio::test]
async fn that_a_kit_was_looked_up_goes_on_record_and_what_was_asked_does_not() {
    let kits = two_kits();
    kits.server.get("/v1/support/lookup?q=builder%40example", &kits.support).expect(200);
    let data = kits.server.stop();
    let acts = data.open().await.lines("SELECT subject FROM audit WHERE action = 'look-up-kit' ORDER BY number").await;
    assert_eq!(acts, ["kits/K-1", "kits/K-2"]);
}
