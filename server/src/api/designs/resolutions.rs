//! `/v1/resolutions`

use crate::http::App;
use crate::http::body::JsonText;
use crate::http::caller::Bearer;
use crate::http::problem::Problem;
use axum::extract::State;
use matchmark_core::document::Finding;
use matchmark_core::nodes::Report;
use matchmark_service::ServiceError;
use serde::Serialize;
use utoipa::ToSchema;

/// A design document with its open ends decided.
#[derive(Serialize, ToSchema)]
pub struct ResolvedDocument {
    /// The document with explicit ends.
    document: serde_json::Value,
    /// What was decided of each end and node.
    report: Report,
    /// What is to be known, errors first: the ends that an error names are left as they were.
    findings: Vec<Finding>,
}

/// Decide the open ends of a design document
///
/// Takes a document and keeps nothing. Where members meet, each end for which the document gives no cut is decided by rule: what goes
/// through or runs on, what is mitred, what is fitted to what. The answer has the document with these ends written into it; members
/// are moved in the build order only where one is fitted to another that was listed later. Ends that the document cuts stay as they are.
#[utoipa::path(post, path = "/v1/resolutions", operation_id = "resolveNodes", tag = "joint", request_body(content = serde_json::Value),
    responses((status = 200, body = ResolvedDocument)))]
pub async fn resolve(
    State(app): State<App>,
    _bearer: Bearer,
    JsonText(text): JsonText,
) -> Result<axum::Json<ResolvedDocument>, Problem> {
    let resolution = app.engine().resolution(text).await?;
    let document = resolution.document.and_then(|document| serde_json::from_str(&document).ok());
    match document {
        Some(document) => {
            Ok(axum::Json(ResolvedDocument { document, report: resolution.report, findings: resolution.findings }))
        }
        None => Err(ServiceError::DesignHasErrors(resolution.findings).into()),
    }
}
