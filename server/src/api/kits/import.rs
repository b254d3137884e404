//! `/v1/kit-imports`

use crate::http::caller::Publisher;
use crate::http::conditions::once;
use crate::http::problem::Problem;
use crate::http::{App, problem_kinds as kinds};
use crate::words::of_request;
use axum::body::Bytes;
use axum::extract::State;
use axum::http::{HeaderMap, StatusCode, header};
use matchmark_service::Imported;

/// Register many kits
///
/// The body is a file of comma-separated values (RFC 4180) in UTF-8. Its first line names the columns: `serial`, `design`,
/// `revision`, `customer_name`, `customer_email`, and if wanted `order_number` and `choices` (`option=choice;option=choice`).
/// Either all kits are registered or none: then `errors` names every fault, its pointer being `/LINE/COLUMN`.
#[utoipa::path(post, path = "/v1/kit-imports", operation_id = "importKits", tag = "kits",
    request_body(content = String, content_type = "text/csv",
        example = "serial,design,revision,customer_name,customer_email,order_number\nQF-0109,fenrunner-two,B,Ines Halvard,ines@example.com,2026-1187\n"),
    params(("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = Imported)))]
pub async fn create(
    State(app): State<App>,
    Publisher(who): Publisher,
    headers: HeaderMap,
    body: Result<Bytes, axum::extract::rejection::BytesRejection>,
) -> Result<(StatusCode, axum::Json<Imported>), Problem> {
    let kind = headers.get(header::CONTENT_TYPE).and_then(|value| value.to_str().ok()).unwrap_or_default();
    if !kind.split(';').next().is_some_and(|essence| essence.trim().eq_ignore_ascii_case("text/csv")) {
        return Err(Problem::new(&kinds::MEDIA_TYPE, of_request().bodies.csv_wanted()));
    }
    let bytes = body.map_err(|error| match error.status() {
        StatusCode::PAYLOAD_TOO_LARGE => Problem::of(&kinds::TOO_LARGE),
        _ => Problem::new(&kinds::BAD_REQUEST, of_request().bodies.ended_early()),
    })?;
    let Ok(text) = std::str::from_utf8(&bytes) else {
        return Err(Problem::new(&kinds::BAD_REQUEST, of_request().bodies.not_utf8()));
    };
    let once = once(&headers, &who, "kit-imports".to_owned(), &bytes)?;
    Ok((StatusCode::CREATED, axum::Json(app.import_kits(&who, text, &once).await?)))
}
