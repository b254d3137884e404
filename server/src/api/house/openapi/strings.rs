//! What the strings of the description look like, by the name of their property: times, hashes, ids, closed sets and lengths. They are
//! those that the rules of the service refuse others by.

use matchmark_service::EventType;
use serde_json::{Map, Value, json};

const HASH: &str = "^[0-9a-f]{64}$";
const HASH_OR_NONE: &str = "^([0-9a-f]{64})?$";
const DESIGN: &str = "^[a-z0-9][a-z0-9-]{0,62}$";
const SERIAL: &str = "^[A-Z0-9][A-Z0-9-]{0,31}$";
const SERIAL_OR_NONE: &str = "^([A-Z0-9][A-Z0-9-]{0,31})?$";
/// The letters of ASME Y14.35 practice.
const LETTER: &str = "^[A-HJ-NPRTUVWY]+$";
const LETTER_OR_NONE: &str = "^[A-HJ-NPRTUVWY]*$";
const LETTER_OR_DRAFT: &str = "^([A-HJ-NPRTUVWY]+|draft)$";
const NAME_IN_DOCUMENT: &str = "^[A-Za-z0-9][A-Za-z0-9_.-]*$";
const CODE: &str = "^[a-z0-9]+(-[a-z0-9]+)*$";

/// Adds to every string of the schemas what is known of it.
pub fn describe(schemas: &mut Map<String, Value>) {
    for (name, schema) in schemas {
        of_schema(name, schema);
    }
}

fn of_schema(name: &str, schema: &mut Value) {
    for part in schema.get_mut("allOf").and_then(Value::as_array_mut).into_iter().flatten() {
        of_schema(name, part);
    }
    for (property, value) in schema.get_mut("properties").and_then(Value::as_object_mut).into_iter().flatten() {
        let of = &value["type"];
        let is_text = of == "string" || of.as_array().is_some_and(|of| of.contains(&json!("string")));
        let is_known = ["format", "pattern", "enum", "maxLength", "const"].iter().any(|word| value.get(word).is_some());
        if !is_text || is_known {
            continue;
        }
        let may_be_null = of.is_array();
        let Some(Value::Object(mut known)) = known(name, property) else { continue };
        if may_be_null && let Some(Value::Array(all)) = known.get_mut("enum") {
            all.push(Value::Null);
        }
        if let Value::Object(value) = value {
            value.append(&mut known);
        }
    }
}

/// What is known of a property; `None` when it is free text.
fn known(schema: &str, property: &str) -> Option<Value> {
    Some(match (schema, property) {
        ("Manifest", "design" | "pack_number" | "format") | ("FitUpStep" | "StepPlace", "member") => return None,
        ("Manifest" | "PageStatement", "kit") => json!({"pattern": SERIAL_OR_NONE}),
        ("Manifest" | "PageStatement", "revision") => json!({"pattern": LETTER_OR_NONE}),
        ("Manifest" | "PageStatement", "date") | ("MadeAlready", "day") => json!({"format": "date"}),
        ("PageStatement", "content") => json!({"pattern": "^[0-9a-f]{32}$"}),
        ("PageStatement", "pack" | "notice") => json!({"pattern": "^[0-9]*$"}),
        ("DesignStatus", "issued" | "expires") => json!({"format": "date-time"}),
        ("DesignStatus", "format") => json!({"const": "matchmark-status/1"}),
        ("DesignFile", "format") => json!({"const": "matchmark-design-file/1"}),
        ("DesignView" | "NewDesign" | "DesignFile", "id") => json!({"pattern": DESIGN}),
        ("KitView" | "NewKit", "serial") => json!({"pattern": SERIAL}),
        ("NewDesign", "name") => json!({"minLength": 1, "maxLength": 200}),
        ("ChangesView", "to") => json!({"pattern": LETTER_OR_DRAFT}),
        ("ChangesView" | "KitNotice" | "MoveView" | "NewNotice" | "NoticeView" | "EventFacts", "from" | "to")
        | ("SinceThen", "current") => json!({"pattern": LETTER}),
        ("FiledState", "state") => json!({"enum": ["withdrawn", "recalled", "reinstated"]}),
        ("TokenFacts", "via") => json!({"enum": ["token", "access-code"]}),
        ("DeliveryView", "channel") => json!({"enum": ["webhook", "mail"]}),
        ("DeliveryView", "event") => {
            let types = EventType::ALL.map(EventType::name);
            let all: Vec<&str> = ["notice", "recall"].into_iter().chain(types).collect();
            json!({"enum": all})
        }
        ("PackJobView" | "PackView", "paper") => json!({"enum": ["a4", "a3", "letter", "tabloid", "roll"]}),
        ("CheckRow", "class") => json!({"enum": ["A", "B", "C", "D"]}),
        ("EndSummary" | "FitUpEnd" | "Wrap" | "WrapEntry", "cut") => {
            json!({"enum": ["square", "mitre", "cope", "cope and mitre", "plug", "sleeve"]})
        }
        ("FileView", "format") => json!({"enum": ["csv", "xlsx", "dxf", "svg", "step", "glb", "labels", "zip"]}),
        ("ContactView" | "NewContact", "text") | ("StopSheet", "contact") => json!({"minLength": 1, "maxLength": 300}),
        ("Publish", "change_note") | ("NewMove" | "NewHold" | "ReasonBody" | "Reason", "reason") => {
            json!({"minLength": 1, "maxLength": 2000})
        }
        ("NewNote" | "NewNotice", "text") | ("Recall", "hazard" | "what_to_do" | "remedies") => {
            json!({"minLength": 1, "maxLength": 2000})
        }
        ("NoteView" | "NoticeView" | "KitNotice", "text") => json!({"maxLength": 2000}),
        ("EventView", "subject") | ("ProblemDetails", "type") => json!({"format": "uri-reference"}),
        ("HolderMessage", "link") => json!({"format": "uri"}),
        ("Finding" | "ProblemDetails" | "PackJobProblem", "code") => json!({"pattern": CODE}),
        (
            "Answered" | "BoxView" | "NewBox" | "Customer" | "CustomerView" | "Download" | "DesignView" | "DesignFile",
            "name",
        )
        | ("TokenFacts" | "NewToken", "name") => json!({"maxLength": 200}),
        ("ReportedEnd", "role") => {
            json!({"enum": ["passes", "run-on", "mitre", "butt", "cope", "square", "plug", "sleeve"]})
        }
        (_, "role") => json!({"enum": ["publisher", "support", "builder"]}),
        (_, "sha256" | "chain" | "public_key" | "status_public_key") => json!({"pattern": HASH}),
        (_, "previous_chain") => json!({"pattern": HASH_OR_NONE}),
        (_, "design") => json!({"pattern": DESIGN}),
        (_, "kit") => json!({"pattern": SERIAL}),
        (_, "revision" | "letter" | "latest_revision" | "since_revision" | "supersedes") => json!({"pattern": LETTER}),
        (_, "member" | "plate" | "section" | "gauge") => json!({"pattern": NAME_IN_DOCUMENT}),
        (_, "by" | "saved_by" | "lifted_by" | "customer_id") => json!({"maxLength": 64}),
        (_, "email") => json!({"maxLength": 254}),
        (_, "by_name" | "saved_by_name" | "order_number") => json!({"maxLength": 200}),
        (_, "reason" | "change_note" | "hazard" | "what_to_do" | "remedies" | "lift_reason" | "ask") => {
            json!({"maxLength": 2000})
        }
        (_, "next") => json!({"pattern": "^[A-Za-z0-9_-]+$"}),
        (_, "pointer") => json!({"format": "json-pointer"}),
        (_, "engine") => json!({"pattern": "^[0-9]+[.][0-9]+[.][0-9]+"}),
        (_, name) if name == "at" || name.ends_with("_at") => json!({"format": "date-time"}),
        (_, name) if name.ends_with("_sha256") => json!({"pattern": HASH}),
        _ => return None,
    })
}
