//! Customers: exported whole, erased without a trace of them, while packs stay.

use crate::fixtures::two_kits;
use crate::place::{Place, on_postgres};
use serde_json::{Value, json};
use std::fmt::Write;

#[tokio::test]
async fn an_erased_customer_leaves_no_trace_and_packs_stay() {
    let kits = two_kits();
    let (server, publisher) = (&kits.server, &kits.publisher);
    let kit = json!({
        "serial": "K-3", "design": "frame", "revision": "A",
        "customer": {"name": "Perpetua Quenneville", "email": "perpetua@example.net"}
    });
    let key = [("idempotency-key", "kit-3")];
    let create = || server.send("POST", "/v1/kits", publisher, &key, Some(&kit.to_string()));
    create().expect(201);
    server.post("/v1/kits/K-3/packs", publisher, &json!({})).expect(201);
    server.post("/v1/kits/K-3/notes", publisher, &json!({"text": "Perpetua will call again."})).expect(201);
    let before = server.get("/v1/kits/K-3/packs/1/file", publisher).expect(200).body;

    let listed = server.get("/v1/customers?q=quenne", &kits.support).expect(200).json();
    assert_eq!(listed["customers"].as_array().unwrap().len(), 1);
    let id = listed["customers"][0]["id"].as_str().unwrap().to_owned();
    let export = server.get(&format!("/v1/customers/{id}/export"), &kits.support).expect(200);
    assert_eq!(export.header("cache-control"), "no-store");
    let export = export.json();
    assert_eq!(export["customer"]["email"], "perpetua@example.net");
    assert_eq!(export["kits"][0]["packs"][0]["downloads"], 1);
    assert_eq!(export["kits"][0]["downloads"][0]["role"], "publisher");
    assert_eq!(export["kits"][0]["notes"][0]["text"], "Perpetua will call again.");

    let path = format!("/v1/customers/{id}/erasure");
    server.post(&path, &kits.support, &json!({})).problem(403, "role-needed");
    let erased = server.post(&path, publisher, &json!({})).expect(200).json();
    assert_eq!((&erased["name"], &erased["email"]), (&json!(""), &json!("")));
    assert_eq!(erased["kits"], json!(["K-3"]));
    assert_eq!(server.post(&path, publisher, &json!({})).expect(200).json(), erased, "the first time counts");
    assert_eq!(server.get("/v1/kits/K-3", &kits.support).expect(200).json()["customer"]["name"], "");
    assert_eq!(server.get("/v1/customers?q=quenne", &kits.support).expect(200).json()["customers"], json!([]));
    assert_eq!(server.get("/v1/kits/K-3/packs/1/file", publisher).expect(200).body, before);
    assert_eq!(create().expect(201).json()["customer"]["name"], "", "a repeat tells what is there now");
    // A new order under the same name is a new customer.
    let again = json!({
        "serial": "K-4", "design": "frame", "revision": "A",
        "customer": {"name": "Perpetua Quenneville", "email": "perpetua@example.net"}
    });
    assert_ne!(server.post("/v1/kits", publisher, &again).expect(201).json()["customer_id"], id);
    let other = server.get("/v1/kits/K-4", publisher).json()["customer_id"].as_str().unwrap().to_owned();
    server.post(&format!("/v1/customers/{other}/erasure"), publisher, &json!({})).expect(200);

    let data = kits.server.stop();
    let mut records = data.open().await;
    let rows = if on_postgres() {
        records.lines("SELECT database_to_xml(true, true, '')::text").await
    } else {
        let mut rows = Vec::new();
        for query in [
            "SELECT name || email || folded FROM customers",
            "SELECT response FROM idempotency",
            "SELECT text FROM kit_notes",
            "SELECT subject FROM audit",
        ] {
            rows.extend(records.lines(query).await);
        }
        rows
    };
    assert!(!rows.is_empty());
    for row in &rows {
        assert!(!row.to_lowercase().contains("perpetua"), "{row}");
    }
}

/// Every byte of the database files.
fn database_bytes(data: &Place) -> Vec<u8> {
    let files = std::fs::read_dir(data.path()).unwrap().map(|entry| entry.unwrap().path());
    let files = files.filter(|path| path.file_name().unwrap().to_str().unwrap().starts_with("matchmark.db"));
    files.flat_map(|path| std::fs::read(path).unwrap()).collect()
}

fn holds(bytes: &[u8], text: &str) -> bool {
    let folded: Vec<u8> = bytes.iter().map(u8::to_ascii_lowercase).collect();
    folded.windows(text.len()).any(|window| window == text.as_bytes())
}

#[test]
fn an_erased_name_is_in_no_byte_of_the_database_files() {
    if on_postgres() {
        return;
    }
    let kits = two_kits();
    let (server, publisher) = (&kits.server, &kits.publisher);
    let mut file = "serial,design,revision,customer_name,customer_email\n".to_owned();
    for number in 100..220 {
        // Rows of many lengths, so that pages are split and filled again.
        let long = "x".repeat(number % 37 * 3);
        writeln!(file, "N-{number},frame,B,Name{number}Here {long},mail{number}here@example.net").unwrap();
    }
    server.send("POST", "/v1/kit-imports", publisher, &[("content-type", "text/csv")], Some(&file)).expect(201);
    let erased: Vec<usize> = (100..220).step_by(5).collect();
    for number in &erased {
        let note = json!({"text": format!("note{number}here about them")});
        server.post(&format!("/v1/kits/N-{number}/notes"), publisher, &note).expect(201);
    }
    let traces = |number: usize| ["name", "mail", "note"].map(|what| format!("{what}{number}here"));
    let before = database_bytes(&server.data);
    for trace in erased.iter().flat_map(|number| traces(*number)) {
        assert!(holds(&before, &trace), "{trace} was never there");
    }
    for number in &erased {
        let kit: Value = server.get(&format!("/v1/kits/N-{number}"), publisher).expect(200).json();
        let path = format!("/v1/customers/{}/erasure", kit["customer_id"].as_str().unwrap());
        server.post(&path, publisher, &json!({})).expect(200);
    }
    // While the service works, not only once it has stopped.
    let after = database_bytes(&server.data);
    for trace in erased.iter().flat_map(|number| traces(*number)) {
        assert!(!holds(&after, &trace), "{trace} is still there");
    }
    assert!(holds(&after, "name101here"), "the others stay");
}
