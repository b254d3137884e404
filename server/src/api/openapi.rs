//! The OpenAPI description, made from the routes themselves, and the page that shows it without any network.

use super::examples;
use super::problem::ProblemDetails;
use axum::Router;
use serde_json::{Value, json};
use utoipa::openapi::path::Operation;
use utoipa::openapi::security::{Http, HttpAuthScheme, SecurityRequirement, SecurityScheme};
use utoipa::openapi::{
    ComponentsBuilder, ContentBuilder, InfoBuilder, LicenseBuilder, OpenApi, OpenApiBuilder, Ref, ResponseBuilder,
};
use utoipa::{PartialSchema, ToSchema};
use utoipa_swagger_ui::{Config, SwaggerUi};

const BEARER: &str = "bearer";
const ABOUT: &str = "Versioned designs of welded tube frames, and packs of drawings, cut lengths, bend data and 1:1 wraps that match the revision of each kit.\n\nLengths are millimetres, angles are degrees, masses are kilograms. Axes are those of ISO 8855: x forward, y left, z up. Every error is a problem detail (RFC 9457). A call that creates something may be sent again with the same Idempotency-Key within 72 hours and has its effect once; to publish, to recall, to register a kit and to issue a pack a key is needed.";

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
    let components = ComponentsBuilder::new().security_scheme(BEARER, bearer).schemas_from_iter(schemas).build();
    OpenApiBuilder::new().info(info).components(Some(components)).build()
}

/// The description at `/openapi.json` and the page at `/docs/`.
pub fn docs(mut described: OpenApi) -> Router {
    for (path, item) in &mut described.paths.paths {
        let operations =
            [("get", &mut item.get), ("put", &mut item.put), ("post", &mut item.post), ("delete", &mut item.delete)];
        for (method, operation) in operations {
            if let Some(operation) = operation {
                complete(method, path, operation);
            }
        }
    }
    let config = Config::new(["/openapi.json"]).validator_url("none");
    let mut described = serde_json::to_value(described).unwrap_or_default();
    let schemas = described["components"]["schemas"].as_object_mut();
    schemas.into_iter().flat_map(|schemas| schemas.values_mut()).for_each(let_flattened_be_absent);
    examples::attach(&mut described);
    SwaggerUi::new("/docs").external_url_unchecked("/openapi.json", described).config(config).into()
}

/// Adds what all operations share: an id of their own, the shape of errors, and the token for those that need one.
fn complete(method: &str, path: &str, operation: &mut Operation) {
    operation.operation_id = Some(id(method, path));
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

/// An id that is one operation's alone: `get_kits_by_serial_packs` for `GET /v1/kits/{serial}/packs`.
fn id(method: &str, path: &str) -> String {
    let mut id = method.to_owned();
    for step in path.trim_start_matches("/v1").split('/').filter(|step| !step.is_empty()) {
        match step.strip_prefix('{').and_then(|step| step.strip_suffix('}')) {
            Some(name) => id.push_str(&format!("_by_{name}")),
            None => id.push_str(&format!("_{}", step.replace(['-', '.'], "_"))),
        }
    }
    id
}
