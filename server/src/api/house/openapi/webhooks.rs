//! What is posted to the webhook, as OpenAPI 3.1 describes it: bodies, headers, and how to check the signature.

use matchmark_service::{EventView, HolderMessage};
use serde_json::{Value, json};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

const SIGNED: &str = "The signature is HMAC-SHA256 with the secret of the webhook, over the values of webhook-id and webhook-timestamp and the body as it came, with full stops between them. Compare it in constant time, and refuse a timestamp that is more than a few minutes off.";

/// The schemas of what is posted.
pub fn schemas() -> Vec<(String, RefOr<Schema>)> {
    let mut schemas = vec![
        (HolderMessage::name().into_owned(), HolderMessage::schema()),
        (EventView::name().into_owned(), EventView::schema()),
    ];
    HolderMessage::schemas(&mut schemas);
    EventView::schemas(&mut schemas);
    schemas
}

/// Adds them to the description.
pub fn describe(described: &mut Value) {
    let message = posted(
        "receiveHolderMessage",
        "Take what the holder of a kit is to be told",
        "Posted for each kit that a notice or recall concerns, once it is raised.",
        &HolderMessage::name(),
        &json!({
            "id": "notice.trestle.1.TR-0001.webhook", "type": "notice", "kit": "TR-0001", "design": "trestle",
            "revision": "A", "class": "mandatory", "text": "Change the stays before you weld them.",
            "link": "https://packs.example/kits/TR-0001",
        }),
        "notice.trestle.1.TR-0001.webhook",
    );
    let event = posted(
        "receiveEvent",
        "Take an event",
        "Posted for each event of the types that the setting `webhook-events` names. It is what `GET /v1/events` lists.",
        &EventView::name(),
        &json!({
            "id": 1_795_656_600_123_i64, "at": "2026-11-26T01:30:00.123Z", "type": "pack-issued",
            "subject": "/v1/kits/TR-0001/packs/1",
            "facts": {
                "design": "trestle", "revision": "B", "kit": "TR-0001", "pack": 1,
                "sha256": "8ea3db58e8f239f0c98dfedab02cb25035b8eae9b93790c546c6562100edc6f6",
            },
        }),
        "event.1795656600123.webhook",
    );
    described["webhooks"] = json!({"holder-message": {"post": message}, "event": {"post": event}});
}

fn posted(id: &str, summary: &str, about: &str, schema: &str, example: &Value, example_id: &str) -> Value {
    let header = |name: &str, about: &str, schema: Value, example: &str| json!({"name": name, "in": "header", "required": true, "description": about, "schema": schema, "example": example});
    json!({
        "operationId": id,
        "tags": ["webhooks"],
        "summary": summary,
        "description": format!("{about}\n\n{SIGNED}"),
        "security": [],
        "parameters": [
            header("webhook-id", "The same each time this message is sent.", json!({"type": "string", "maxLength": 200}), example_id),
            header(
                "webhook-timestamp",
                "When it is sent, in seconds since 1970.",
                json!({"type": "string", "pattern": "^[0-9]+$"}),
                "1795656602",
            ),
            header(
                "webhook-signature",
                "`v1,` and the signature in base 64.",
                json!({"type": "string", "pattern": "^v1,[A-Za-z0-9+/]{43}=$"}),
                "v1,Sz/rrGyYdfA/Nnp/qxuFzxrR0mMJVTYw0WQuU1K2PcU=",
            ),
        ],
        "requestBody": {
            "required": true,
            "content": {"application/json": {
                "schema": {"$ref": format!("#/components/schemas/{schema}")},
                "example": example,
            }},
        },
        "responses": {
            "2XX": {"description": "It is taken"},
            "default": {"description": "It is not taken: it is sent again, nine times at most"},
        },
    })
}
