//! `/v1/kits/{serial}/measurements`

use crate::http::App;
use crate::http::body::Json;
use crate::http::caller::Caller;
use crate::http::conditions::once;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use matchmark_service::{Measured, MeasurementView};
use serde::Serialize;
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// Add measured values to a kit, or take them back
///
/// Each name is a gauge of the design, each value what the builder measured in mm. Values within limits move the points that the
/// gauge says: packs issued from then on fit the frame that the builder has. Values outside are refused, all of them. `null` takes a value
/// back that was a mistake: packs issued from then on are made to the nominal value of the design again, and those that were drawn with the
/// value are out of date. The history keeps both.
#[utoipa::path(post, path = "/v1/kits/{serial}/measurements", operation_id = "measureKit", tag = "kits",
    params(("serial" = String, Path), ("Idempotency-Key" = Option<String>, Header)), request_body = BTreeMap<String, Option<f64>>,
    responses((status = 200, body = Measured)))]
pub async fn add(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
    headers: HeaderMap,
    body: Json<BTreeMap<String, Option<f64>>>,
) -> Result<axum::Json<Measured>, Problem> {
    let once = once(&headers, &who, format!("kits/{serial}/measurements"), &body.bytes)?;
    Ok(axum::Json(app.measure(&who, &serial, &body.value, &once).await?))
}

/// Read the measured values of a kit, and which parts they change
#[utoipa::path(get, path = "/v1/kits/{serial}/measurements", operation_id = "readMeasurements", tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 200, body = Measured)))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<Measured>, Problem> {
    Ok(axum::Json(app.measured(&who, &serial).await?))
}

/// All that was measured of a kit, oldest first.
#[derive(Serialize, ToSchema)]
pub struct MeasurementHistory {
    measurements: Vec<MeasurementView>,
}

/// Read the history of the measured values of a kit
#[utoipa::path(get, path = "/v1/kits/{serial}/measurements/history", operation_id = "readMeasurementHistory",
    tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 200, body = MeasurementHistory)))]
pub async fn history(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<MeasurementHistory>, Problem> {
    let measurements = app.measurement_history(&who, &serial).await?;
    Ok(axum::Json(MeasurementHistory { measurements }))
}
