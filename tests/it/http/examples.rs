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
        let schema = jsonschema::options().should_validate_formats(true).build(&schema).unwrap();
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
            let id = operation["operationId"].as_str().unwrap();
            assert!(ids.insert(id.to_owned()), "{place}: its id is another's too");
            // Of words, as generators make functions of it.
            let is_words = id.starts_with(|first: char| first.is_ascii_lowercase())
                && id.chars().any(|letter| letter.is_ascii_uppercase())
                && id.chars().all(|letter| letter.is_ascii_alphabetic());
            assert!(is_words, "{place}: {id}, the name of its handler, is no id: say operation_id");
            wrong.extend(faults(&described, &format!("{place}, request"), &operation["requestBody"]));
            let responses = operation["responses"].as_object().unwrap();
            assert!(
                responses.contains_key("429") && responses.contains_key("503"),
                "{place}: not every problem is told"
            );
            // One example of a problem is enough for all of them.
            for (status, response) in responses.iter().filter(|(status, _)| !status.starts_with(['4', '5'])) {
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

/// Values of these forms stand in closed sets, patterns, lengths and formats, of which generated clients make types and checks.
#[test]
fn most_strings_say_what_they_look_like() {
    let described = Server::start().get("/openapi.json", "").expect(200).json();
    let (mut told, mut free) = (0, BTreeSet::new());
    for (name, schema) in described["components"]["schemas"].as_object().unwrap() {
        for (property, value) in schema["properties"].as_object().into_iter().flatten() {
            let is_text = value["type"] == "string" || value["type"] == json!(["string", "null"]);
            match ["format", "pattern", "enum", "const", "maxLength"].iter().any(|word| value.get(word).is_some()) {
                true if is_text => told += 1,
                false if is_text => drop(free.insert(format!("{name}.{property}"))),
                _ => {}
            }
            let is_time = is_text && (property == "at" || property.ends_with("_at"));
            assert!(!is_time || value["format"] == "date-time", "{name}.{property} is a time");
            assert!(!property.ends_with("sha256") || value["pattern"].is_string(), "{name}.{property} is a hash");
        }
    }
    assert!(told > 2 * free.len(), "{told} are told, these are not: {free:#?}");
}
