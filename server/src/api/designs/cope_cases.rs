//! `/v1/joint`

use crate::http::App;
use crate::http::body::JsonText;
use crate::http::caller::Bearer;
use crate::http::problem::Problem;
use axum::extract::State;
use axum::http::header;
use axum::response::IntoResponse;

/// Compute one end, or several
///
/// Takes one case or `{"cases": [...]}` and keeps nothing. A case has a `member` (its `section`, a point `datum` of its axis, the unit
/// direction `dir` towards the end, the index direction `ref`, and from `s_start` to `s_limit`, mm along the axis from the datum, where
/// its lines are followed) and its `targets` (`round` with `point`, `dir` and `od`; also `rect`, `plane` and `bent`); names beyond these
/// are left alone. Answers with 72 samples round the tube for each: outer line, inner
/// line, relief line and dihedral angle, null where the wall misses, and the volume of the wall.
#[utoipa::path(post, path = "/v1/joint", operation_id = "computeJointCases",
    tag = "joint", request_body(content = serde_json::Value),
    responses((status = 200, body = matchmark_core::joint::JointResults)))]
pub async fn solve(
    State(app): State<App>,
    _bearer: Bearer,
    JsonText(text): JsonText,
) -> Result<impl IntoResponse, Problem> {
    let answer = app.engine().joint(text).await?;
    Ok(([(header::CONTENT_TYPE, "application/json")], answer))
}
