//! The OpenAPI description, made from the routes themselves, and the page that shows it without any network.

mod document;
mod examples;
mod problems;
mod strings;
mod webhooks;

use crate::http::problem::ProblemDetails;
use axum::Router;
use serde_json::{Map, Value, json};
use utoipa::openapi::path::Operation;
use utoipa::openapi::security::{Http, HttpAuthScheme, SecurityRequirement, SecurityScheme};
use utoipa::openapi::{
    ComponentsBuilder, ContentBuilder, InfoBuilder, LicenseBuilder, OpenApi, OpenApiBuilder, Ref, ResponseBuilder,
};
use utoipa::{PartialSchema, ToSchema};
use utoipa_swagger_ui::{Config, SwaggerUi};

const BEARER: &str = "bearer";

/// Media types of answers that are bytes and no text.
const BYTES: [&str; 4] = [
    "application/pdf",
    "application/zip",
    "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    "model/gltf-binary",
];
const ABOUT: &str = "Versioned designs of welded tube frames, and packs of drawings, cut lengths, bend data and 1:1 wraps that match the revision of each kit.\n\nLengths are millimetres, angles are degrees, masses are kilograms. Axes are those of ISO 8855: x forward, y left, z up. Every error is a problem detail (RFC 9457). A call that creates something may be sent again with the same Idempotency-Key and the same token within 72 hours and has its effect once; the key of another token, or of the one that a rotation gave, is another key; to publish, to recall, to register a kit and to issue a pack a key is needed.";

/// What comes before the routes.
pub fn heading() -> OpenApi {
    let info = InfoBuilder::new()
        .title("Matchmark")
        .version(env!("CARGO_PKG_VERSION"))
        .description(Some(ABOUT))
        .license(Some(LicenseBuilder::new().name("MIT OR Apache-2.0").identifier(Some("MIT OR Apache-2.0")).build()))
        .build();
    let bearer = SecurityScheme::Http(Http::new(HttpAuthScheme::Bearer));
    let mut schemas = vec![(ProblemDetails::name().into_owned(), ProblemDetails::schema())];
    ProblemDetails::schemas(&mut schemas);
    schemas.extend(webhooks::schemas());
    let components = ComponentsBuilder::new().security_scheme(BEARER, bearer).schemas_from_iter(schemas).build();
    OpenApiBuilder::new().info(info).components(Some(components)).build()
}

/// The description at `/openapi.json` and the page at `/docs/`.
pub fn docs(mut described: OpenApi) -> Router {
    for (path, item) in &mut described.paths.paths {
        let operations = [&mut item.get, &mut item.put, &mut item.post, &mut item.delete];
        for operation in operations.into_iter().flatten() {
            complete(path, operation);
        }
    }
    let config = Config::new(["/openapi.json"]).validator_url("none");
    let mut described = serde_json::to_value(described).unwrap_or_default();
    let operations = described["paths"].as_object_mut().into_iter().flat_map(|paths| paths.values_mut());
    let operations = operations.filter_map(Value::as_object_mut).flatten();
    for (method, operation) in operations {
        problems::describe(method, operation);
        operation["responses"].as_object_mut().into_iter().for_each(complete_answers);
        if let Some(file) = operation.pointer_mut("/requestBody/content/text~1csv") {
            file["schema"] = json!({"type": "string", "format": "binary"});
        }
    }
    let schemas = described["components"]["schemas"].as_object_mut();
    if let Some(schemas) = schemas {
        schemas.values_mut().for_each(let_flattened_be_absent);
        strings::describe(schemas);
    }
    document::describe(&mut described);
    webhooks::describe(&mut described);
    examples::attach(&mut described);
    let described = rename_like_a_property(described);
    SwaggerUi::new("/docs").external_url_unchecked("/openapi.json", described).config(config).into()
}

/// Adds what all operations share: the shape of errors, and the token for those that need one.
fn complete(path: &str, operation: &mut Operation) {
    let problem = ContentBuilder::new().schema(Some(Ref::from_schema_name(ProblemDetails::name()))).build();
    let response = ResponseBuilder::new()
        .description("Any error, as a problem detail")
        .content("application/problem+json", problem)
        .build();
    operation.responses.responses.insert("default".to_owned(), response.into());
    let open = operation.security.is_some() || path.starts_with("/v1/schemas/");
    if path.starts_with("/v1/") && !open {
        let needed = SecurityRequirement::new::<&str, [&str; 0], &str>(BEARER, []);
        operation.security = Some(vec![needed]);
    }
}

/// Gives a schema that has a property of its own name another: `KitList` holds `kits`. What generators of clients make of `Kits` with its
/// `kits` passes no type check.
fn rename_like_a_property(described: Value) -> Value {
    let mut text = described.to_string();
    for (name, schema) in described["components"]["schemas"].as_object().into_iter().flatten() {
        let is_its_name = |property: &String| property.replace('_', "").eq_ignore_ascii_case(name);
        if !schema["properties"].as_object().is_some_and(|held| held.keys().any(is_its_name)) {
            continue;
        }
        let other = match (name.strip_suffix("ies"), name.strip_suffix('s')) {
            (Some(stem), _) => format!("{stem}yList"),
            (None, Some(one)) => format!("{one}List"),
            (None, None) => format!("{name}Body"),
        };
        let reference = |name: &str| format!("#/components/schemas/{name}\"");
        text = text.replace(&reference(name), &reference(&other));
        text = text.replace(&format!("\"{name}\":{{"), &format!("\"{other}\":{{"));
    }
    serde_json::from_str(&text).unwrap_or(described)
}

/// Says of each answer what it is, which OpenAPI asks for, and describes a file as bytes.
fn complete_answers(answers: &mut Map<String, Value>) {
    for (status, answer) in answers {
        if answer["description"].as_str().is_none_or(str::is_empty) {
            answer["description"] = json!(match status.as_str() {
                "201" => "It is made; this is what was made",
                "202" => "It is begun and goes on after this answer",
                "204" => "It is done",
                _ => "What was asked for",
            });
        }
        for (kind, content) in answer.get_mut("content").and_then(Value::as_object_mut).into_iter().flatten() {
            if BYTES.contains(&kind.as_str()) {
                content["schema"] = json!({"type": "string", "format": "binary"});
            }
        }
    }
}

/// What is flattened into an object and may be absent is described as there or null, which an object never is: it is there or not.
fn let_flattened_be_absent(schema: &mut Value) {
    for part in schema.get_mut("allOf").and_then(Value::as_array_mut).into_iter().flatten() {
        if let Some([there, null]) = part["oneOf"].as_array().map(Vec::as_slice)
            && null["type"] == "null"
        {
            *part = json!({"anyOf": [there, {"type": "object"}]});
        }
    }
}
