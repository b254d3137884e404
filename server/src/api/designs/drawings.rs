//! Views of the frame of a revision.

use crate::http::caller::Caller;
use crate::http::problem::Problem;
use crate::http::query::Query;
use crate::http::{App, problem_kinds as kinds};
use crate::words::of_request;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::IntoResponse;
use matchmark_core::pack::ViewWanted;
use matchmark_core::view::Look;
use serde::Deserialize;

/// Which view to draw.
#[derive(Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct DrawingWanted {
    /// `front`, `rear`, `left`, `right`, `top`, `pictorial`, or three figures `x,y,z` that point from the frame to the viewer;
    /// `pictorial` when absent.
    pub view: Option<String>,
    /// Ids of the members and plates to draw, separated by commas; all when absent.
    pub members: Option<String>,
    /// Whether parts are numbered; they are not when absent.
    pub labels: Option<bool>,
}

/// Draw the frame from one side as SVG
///
/// Finished parts with true cuts and bends, hidden lines left out. The unit is 1 mm on paper; the scale stands below the view.
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/drawing.svg", operation_id = "drawFrame",
    tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path), DrawingWanted),
    responses((status = 200, content_type = "image/svg+xml", body = String)))]
pub async fn svg(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter)): Path<(String, String)>,
    Query(wanted): Query<DrawingWanted>,
) -> Result<impl IntoResponse, Problem> {
    let sheets = app.sheets(&who, &design, &letter).await?;
    let name = wanted.view.as_deref().unwrap_or("pictorial");
    let look =
        Look::named(name).ok_or_else(|| Problem::new(&kinds::BAD_REQUEST, of_request().requests.view_unknown()))?;
    let ids = wanted.members.as_deref().unwrap_or_default().split(',').map(str::trim);
    let members = ids.filter(|id| !id.is_empty()).map(str::to_owned).collect();
    let drawn = app.view_svg(sheets, ViewWanted { look, members, labels: wanted.labels == Some(true) }).await?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], drawn))
}
