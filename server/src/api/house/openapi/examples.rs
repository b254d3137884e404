//! Examples in the OpenAPI description: of every body that is sent and answered, taken from the demo, and of the values in addresses.

use serde_json::{Map, Value};

/// By method and path: `request` and `response`, each what one call of the demo sent and got, lists cut to their first item.
const KEPT: &str = include_str!("examples.json");

/// Values of the demo by the name of their parameter.
const PARAMETERS: [(&str, &str); 15] = [
    ("design", "fenrunner-two"),
    ("letter", "B"),
    ("member", "harness_bar"),
    ("end", "from"),
    ("serial", "QF-0101"),
    ("file", "cut-sheet.csv"),
    ("number", "1"),
    ("save", "1"),
    ("notice", "1"),
    ("hold", "1"),
    ("job", "1"),
    ("sha256", "8ea3db58e8f239f0c98dfedab02cb25035b8eae9b93790c546c6562100edc6f6"),
    ("customer", "6f1f0c7b2d9d4ce28f7b9d6d1a2f3b4c"),
    ("token", "0b9a1d2c3e4f5061728394a5b6c7d8e9"),
    ("delivery", "notice.fenrunner-two.1.QF-0101.webhook"),
];

/// Puts them where they belong.
pub fn attach(described: &mut Value) {
    // A test holds every example against its operation; without any the description is still right.
    let kept: Map<String, Value> = serde_json::from_str(KEPT).unwrap_or_default();
    let Some(paths) = described["paths"].as_object_mut() else { return };
    for (path, item) in paths {
        let Some(item) = item.as_object_mut() else { continue };
        for (method, operation) in item {
            if operation["parameters"].is_array() {
                operation["parameters"].as_array_mut().into_iter().flatten().for_each(parameter);
            }
            let example = kept.get(&format!("{} {path}", method.to_uppercase())).unwrap_or(&Value::Null);
            body(operation.get_mut("requestBody"), &example["request"]);
            let responses = operation["responses"].as_object_mut().into_iter().flatten();
            for (status, response) in responses {
                if status.starts_with('2') {
                    body(Some(response), &example["response"]);
                } else if status == "default" {
                    body(Some(response), &kept["problem"]);
                }
            }
        }
    }
}

fn parameter(parameter: &mut Value) {
    let named = PARAMETERS.iter().find(|(name, _)| parameter["name"] == *name && parameter["in"] == "path");
    if let Some((_, value)) = named {
        let number = parameter["schema"]["type"] == "integer";
        parameter["example"] =
            if number { value.parse::<i64>().map_or(Value::Null, Value::from) } else { (*value).into() };
    }
}

/// Gives every media type of a body its example, unless it has one of its own.
fn body(body: Option<&mut Value>, example: &Value) {
    let Some(content) = body.and_then(|body| body.get_mut("content")?.as_object_mut()) else { return };
    for (kind, content) in content {
        let Some(content) = content.as_object_mut() else { continue };
        if content.contains_key("example") {
            continue;
        }
        let example = if kind.ends_with("json") { example.clone() } else { of_text(kind).into() };
        if !example.is_null() {
            content.insert("example".to_owned(), example);
        }
    }
}

/// How what is not JSON begins.
fn of_text(kind: &str) -> &'static str {
    match kind {
        "application/pdf" => "%PDF-1.7 ...",
        "image/svg+xml" => "<svg xmlns=\"http://www.w3.org/2000/svg\" ...",
        "text/csv" => "section,bar,length,cut,part,angle\n...",
        "text/event-stream" => {
            "id: 1\nevent: kit\ndata: {\"place\":1,\"kit\":\"QF-0101\",\"state\":\"issued\",\"pack\":2}\n\n"
        }
        "model/step" => "ISO-10303-21;\nHEADER;\n...",
        _ => "PRODUCT SAFETY RECALL\n...",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_examples_can_be_read() {
        let kept: Map<String, Value> = serde_json::from_str(KEPT).unwrap();
        assert!(kept.contains_key("problem"));
    }
}
