//! Bodies that the core describes itself: the design document, and the tubes of a single joint, which are made of parts of it.

use serde_json::{Map, Value, json};

/// What of a section and of a member a tube of a joint has.
const OF_SECTION: [&str; 2] = ["round", "rect"];
const OF_MEMBER: [&str; 5] = ["from", "to", "path", "radius", "roll"];

/// Puts their schemas where the bodies are.
pub fn describe(described: &mut Value) {
    let mut document = matchmark_core::document::schema();
    if let Some(document) = document.as_object_mut() {
        document.remove("$schema");
        document.insert("title".to_owned(), json!("DesignDocument"));
    }
    let schemas = &mut described["components"]["schemas"];
    schemas["JointTube"] = tube(&document);
    schemas["DesignDocument"] = document;
    let reference = |name: &str| json!({"$ref": format!("#/components/schemas/{name}")});
    let joint = &mut schemas["JointRequest"]["properties"];
    joint["tube"] = reference("JointTube");
    joint["onto"]["items"] = reference("JointTube");
    let paths = &mut described["paths"];
    let json = "application/json";
    paths["/v1/designs/{design}/draft"]["put"]["requestBody"]["content"][json]["schema"] = reference("DesignDocument");
    paths["/v1/designs/{design}/revisions/{letter}/document"]["get"]["responses"]["200"]["content"][json]["schema"] =
        reference("DesignDocument");
}

fn tube(document: &Value) -> Value {
    let section = &document["properties"]["sections"]["additionalProperties"]["properties"];
    let member = &document["properties"]["members"]["items"]["properties"];
    let of = |from: &Value, names: &[&str]| -> Map<String, Value> {
        names.iter().map(|name| ((*name).to_owned(), from[*name].clone())).collect()
    };
    let mut properties = of(section, &OF_SECTION);
    properties.extend(of(member, &OF_MEMBER));
    // It has no points with names.
    let place = member["from"]["oneOf"][1].clone();
    properties["path"]["items"] = place.clone();
    for end in ["from", "to"] {
        properties[end] = place.clone();
    }
    json!({
        "type": "object",
        "description": "A tube: `round` or `rect`; `from` and `to`, or `path` and `radius`, in mm; `roll` where its index line is to be elsewhere.",
        "additionalProperties": false,
        "properties": properties,
    })
}
