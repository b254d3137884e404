//! `/v1/joints`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::Bearer;
use crate::http::problem::Problem;
use crate::http::query::{PaperWanted, Query};
use axum::extract::State;
use axum::http::header;
use axum::response::IntoResponse;
use matchmark_core::JointRequest;
use matchmark_core::document::Finding;
use matchmark_core::sheets::Wrap;
use serde::Serialize;
use utoipa::ToSchema;

/// The wrap of a described joint.
#[derive(Serialize, ToSchema)]
pub struct JointWrap {
    /// The wrap; the tube that is cut is called `tube` and those that it is fitted to `onto-1`, `onto-2` and so on.
    wrap: Wrap,
    /// What is to be known about the joint; pointers are places in the request.
    findings: Vec<Finding>,
}

/// Compute the wrap of a joint
///
/// Takes two or more tubes and keeps nothing. What stands in the way comes as findings with places in the request.
#[utoipa::path(post, path = "/v1/joints/wrap", operation_id = "computeJointWrap",
    tag = "joint", request_body = JointRequest,
    responses((status = 200, body = JointWrap)))]
pub async fn wrap(
    State(app): State<App>,
    _bearer: Bearer,
    request: Json<JointRequest>,
) -> Result<axum::Json<JointWrap>, Problem> {
    let joint = app.joint_wrap(request.value).await?;
    Ok(axum::Json(JointWrap { wrap: joint.wrap, findings: joint.findings }))
}

/// Draw the wrap of a joint as SVG
///
/// The drawing's units are millimetres at 1:1; print from the PDF, which asks the printer not to scale.
///
/// It carries no code: nothing tells later whether it was changed.
#[utoipa::path(post, path = "/v1/joints/wrap/svg", operation_id = "drawJointWrapSvg",
    tag = "joint", request_body = JointRequest,
    responses((status = 200, content_type = "image/svg+xml", body = String)))]
pub async fn svg(
    State(app): State<App>,
    _bearer: Bearer,
    request: Json<JointRequest>,
) -> Result<impl IntoResponse, Problem> {
    let drawn = app.joint_svg(request.value).await?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], drawn))
}

/// Draw the wrap of a joint as a page of PDF
///
/// It carries no code: nothing tells later whether it was changed.
#[utoipa::path(post, path = "/v1/joints/wrap/pdf", operation_id = "drawJointWrapPdf",
    tag = "joint", request_body = JointRequest, params(PaperWanted),
    responses((status = 200, content_type = "application/pdf", body = Vec<u8>)))]
pub async fn pdf(
    State(app): State<App>,
    _bearer: Bearer,
    Query(wanted): Query<PaperWanted>,
    request: Json<JointRequest>,
) -> Result<impl IntoResponse, Problem> {
    let drawn = app.joint_pdf(request.value, wanted.print()).await?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], drawn))
}
