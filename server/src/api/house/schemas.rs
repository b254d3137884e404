//! `/v1/schemas`

use axum::Json;

/// Read the JSON Schema of the design document
#[utoipa::path(get, path = "/v1/schemas/design", operation_id = "readDesignSchema", tag = "schemas",
    responses((status = 200, body = serde_json::Value, description = "JSON Schema of matchmark-design/1")))]
pub async fn design() -> Json<serde_json::Value> {
    Json(matchmark_core::document::schema())
}
