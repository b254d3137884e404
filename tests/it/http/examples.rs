//! The OpenAPI description: an id and an example for every operation, and every example as its schema says.

use crate::server::Server;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// What is wrong with the examples of a body, if it has content.
fn faults(described: &Value, place: &str, body: &Value) -> Vec<String> {
    let mut faults = Vec::new();
    for (kind, content) in body["content"].as_object().into_iter().flatten() {
        let Some(example) = content.get("example") else {
            faults.push(format!("{place} has no example of {kind}"));
            continue;
        };
        if !kind.ends_with("json") {
            continue;
        }
        // References of a schema are into the whole description.
        let schema = json!({"allOf": [content["schema"]], "components": described["components"]});
        let schema = jsonschema::validator_for(&schema).unwrap();
        faults
            .extend(schema.iter_errors(example).map(|error| format!("{place}: {error} at {}", error.instance_path())));
    }
    faults
}

#[test]
fn every_operation_has_an_id_and_examples_that_its_schemas_allow() {
    let server = Server::start();
    let described = server.get("/openapi.json", "").expect(200).json();
    let (mut ids, mut wrong) = (BTreeSet::new(), Vec::new());
    for (path, item) in described["paths"].as_object().unwrap() {
        for (method, operation) in item.as_object().unwrap() {
            let place = format!("{method} {path}");
            assert!(
                ids.insert(operation["operationId"].as_str().unwrap().to_owned()),
                "{place}: its id is another's too"
            );
            wrong.extend(faults(&described, &format!("{place}, request"), &operation["requestBody"]));
            for (status, response) in operation["responses"].as_object().unwrap() {
                wrong.extend(faults(&described, &format!("{place}, {status}"), response));
            }
            for parameter in operation["parameters"].as_array().into_iter().flatten() {
                if parameter["in"] == "path" && parameter["name"] != "code" {
                    assert!(!parameter["example"].is_null(), "{place}: {parameter} has no example");
                }
            }
        }
    }
    assert!(ids.len() > 80);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
