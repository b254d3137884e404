//! `/v1/kits/{serial}/holds`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::{Caller, Publisher};
use crate::http::conditions::once;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode};
use matchmark_service::{HoldView, NewHold, Reason};
use serde::Serialize;
use utoipa::ToSchema;

/// The holds of a kit, oldest first.
#[derive(Serialize, ToSchema)]
pub struct Holds {
    holds: Vec<HoldView>,
}

/// Put a hold on a kit
///
/// For a dispute or after a theft. While it stands no pack of the kit is issued or handed out, and its builder's token opens no
/// sheets (409). Stop sheets and notices still reach its holder. The reason is for the supplier's own people; whom to ask is shown
/// to the holder.
#[utoipa::path(post, path = "/v1/kits/{serial}/holds", operation_id = "holdKit", tag = "kits", request_body = NewHold,
    params(("serial" = String, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = HoldView)))]
pub async fn put(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(serial): Path<String>,
    headers: HeaderMap,
    body: Json<NewHold>,
) -> Result<(StatusCode, axum::Json<HoldView>), Problem> {
    let once = once(&headers, &who, format!("kits/{serial}/holds"), &body.bytes)?;
    Ok((StatusCode::CREATED, axum::Json(app.hold(&who, &serial, &body.value, &once).await?)))
}

/// List the holds of a kit
///
/// A builder sees since when and whom to ask, not why.
#[utoipa::path(get, path = "/v1/kits/{serial}/holds", operation_id = "listHolds", tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 200, body = Holds)))]
pub async fn list(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<Holds>, Problem> {
    Ok(axum::Json(Holds { holds: app.holds(&who, &serial).await? }))
}

/// Lift a hold
///
/// Lifting one that was lifted changes nothing.
#[utoipa::path(post, path = "/v1/kits/{serial}/holds/{hold}/lifting", operation_id = "liftHold",
    tag = "kits", request_body = Reason,
    params(("serial" = String, Path), ("hold" = i64, Path), ("Idempotency-Key" = Option<String>, Header)),
    responses((status = 200, body = HoldView)))]
pub async fn lift(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path((serial, hold)): Path<(String, String)>,
    headers: HeaderMap,
    body: Json<Reason>,
) -> Result<axum::Json<HoldView>, Problem> {
    let once = once(&headers, &who, format!("kits/{serial}/holds/{hold}/lifting"), &body.bytes)?;
    Ok(axum::Json(app.lift_hold(&who, &serial, &hold, &body.value, &once).await?))
}
