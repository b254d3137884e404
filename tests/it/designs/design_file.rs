//! A design as one file: out of one service and into another, and refused when anything in it differs.

use crate::fixtures::{recall, two_kits};
use crate::server::Server;
use data_encoding::HEXLOWER;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

#[test]
fn a_design_goes_from_one_service_to_another_with_all_its_revisions() {
    let kits = two_kits();
    recall(&kits, "A");
    let file = kits.server.get("/v1/designs/frame/file", &kits.support).expect(200);
    assert_eq!(file.header("content-disposition"), "attachment; filename=\"frame.matchmark.json\"");
    let text = String::from_utf8(file.body).unwrap();

    let other = Server::start();
    let token = other.publisher();
    let key = [("idempotency-key", "bring-frame")];
    let import = || other.send("POST", "/v1/design-files", &token, &key, Some(&text));
    let taken = import().expect(201);
    assert_eq!(taken.header("location"), "/v1/designs/frame");
    assert_eq!(taken.json()["latest_revision"], "B");
    assert_eq!(import().expect(201).json(), taken.json());
    other.send("POST", "/v1/design-files", &token, &[], Some(&text)).problem(409, "design-exists");

    let of = |server: &Server, token: &str, path: &str| server.get(path, token).expect(200).json();
    let list = "/v1/designs/frame/revisions";
    assert_eq!(of(&other, &token, list), of(&kits.server, &kits.support, list));
    assert_eq!(of(&other, &token, list)["revisions"][0]["state"], "recalled");
    let parts = "/v1/designs/frame/revisions/B/parts";
    assert_eq!(of(&other, &token, parts), of(&kits.server, &kits.support, parts));
    let again = other.get("/v1/designs/frame/file", &token).expect(200);
    assert_eq!(String::from_utf8(again.body).unwrap(), text, "exported again it is the same file");
    // Its next draft starts from a revision of it.
    let restore = json!({"revision": "B"}).to_string();
    let absent = [("if-none-match", "*")];
    other.send("POST", "/v1/designs/frame/draft/restoration", &token, &absent, Some(&restore)).expect(204);
}

/// The hash over all but the hash. The file holds no numbers, and its names are ASCII: sorted and without spaces it is in the
/// form of RFC 8785.
fn seal(file: &mut Value) {
    file.as_object_mut().unwrap().remove("sha256");
    let hash = HEXLOWER.encode(&Sha256::digest(sorted(file).to_string()));
    file["sha256"] = json!(hash);
}

fn sorted(value: &Value) -> Value {
    match value {
        Value::Object(members) => {
            let mut pairs: Vec<(&String, &Value)> = members.iter().collect();
            pairs.sort_by_key(|(name, _)| *name);
            Value::Object(pairs.into_iter().map(|(name, value)| (name.clone(), sorted(value))).collect())
        }
        Value::Array(items) => Value::Array(items.iter().map(sorted).collect()),
        other => other.clone(),
    }
}

#[test]
fn a_file_that_was_changed_is_refused_with_the_place() {
    let kits = two_kits();
    recall(&kits, "A");
    let file = kits.server.get("/v1/designs/frame/file", &kits.support).expect(200).json();
    let mut resealed = file.clone();
    seal(&mut resealed);
    assert_eq!(resealed["sha256"], file["sha256"], "the hash is what the API says it is");

    let other = Server::start();
    let token = other.publisher();
    let refused = |file: &Value| -> Vec<String> {
        let problem = other.post("/v1/design-files", &token, file).problem(422, "design-file-refused");
        let errors = problem["errors"].as_array().unwrap().clone();
        errors.iter().map(|error| error["pointer"].as_str().unwrap().to_owned()).collect()
    };
    type Change = fn(&mut Value);
    let changes: &[(Change, &str)] = &[
        (|file| file["name"] = json!("Another"), "/sha256"),
        (|file| file["revisions"][0]["change_note"] = json!("Nothing."), "/sha256"),
        (|file| file["revisions"][1]["class"] = json!("optional"), "/sha256"),
        (|file| file["revisions"][0]["states"] = json!([]), "/sha256"),
    ];
    for (change, place) in changes {
        let mut changed = file.clone();
        change(&mut changed);
        assert_eq!(refused(&changed), [*place]);
    }
    // The same with a hash that fits: what is chained is found all the same.
    let changes: &[(Change, &[&str])] = &[
        (
            |file| {
                let document = file["revisions"][0]["document"].as_str().unwrap().replace("900", "950");
                file["revisions"][0]["document"] = json!(document);
            },
            &["/revisions/0/document_sha256", "/revisions/0/chain"],
        ),
        // Letters may have gaps, as a restored backup leaves them; the chain has none.
        (|file| drop(file["revisions"].as_array_mut().unwrap().remove(0)), &["/revisions/0/previous_chain"]),
        (
            |file| file["revisions"].as_array_mut().unwrap().swap(0, 1),
            &["/revisions/0/previous_chain", "/revisions/1/letter"],
        ),
        (|file| file["revisions"][0]["published_at"] = json!("2001-01-01T00:00:00.000Z"), &["/revisions/0/chain"]),
        (|file| file["revisions"][1]["previous_chain"] = json!(""), &["/revisions/1/previous_chain"]),
        (|file| file["revisions"][0]["states"][0]["hazard"] = json!(""), &["/revisions/0/states"]),
        (|file| file["revisions"][1]["states"] = json!([{"state": "reinstated", "at": "x"}]), &["/revisions/1/states"]),
        (|file| file["format"] = json!("matchmark-design-file/2"), &["/format"]),
    ];
    for (change, places) in changes {
        let mut changed = file.clone();
        change(&mut changed);
        seal(&mut changed);
        let told = refused(&changed);
        for place in *places {
            assert!(told.iter().any(|pointer| pointer == place), "{told:?} does not name {place}");
        }
    }
    other.get("/v1/designs/frame", &token).problem(404, "unknown-design");
    other.post("/v1/design-files", &token, &file).expect(201);
}
