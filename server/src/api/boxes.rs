//! `/v1/kits/{serial}/boxes`

use super::App;
use super::body::Json;
use super::caller::{Caller, Supporter};
use super::problem::Problem;
use crate::service::{BoxesView, NewBoxes};
use axum::extract::{Path, State};

/// Say in which boxes a kit is sent
///
/// All boxes at once, over those said before. What they weigh comes from the sheets of the kit.
#[utoipa::path(put, path = "/v1/kits/{serial}/boxes", tag = "kits", request_body = NewBoxes,
    params(("serial" = String, Path)),
    responses((status = 200, body = BoxesView)))]
pub async fn write(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(serial): Path<String>,
    body: Json<NewBoxes>,
) -> Result<axum::Json<BoxesView>, Problem> {
    Ok(axum::Json(app.put_boxes(&who, &serial, &body.value).await?))
}

/// Read in which boxes a kit is sent
#[utoipa::path(get, path = "/v1/kits/{serial}/boxes", tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 200, body = BoxesView)))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<BoxesView>, Problem> {
    Ok(axum::Json(app.boxes(&who, &serial).await?))
}
