//! `/v1/support/lookup`

use crate::http::App;
use crate::http::caller::Supporter;
use crate::http::problem::Problem;
use crate::http::query::Query;
use axum::Json;
use axum::extract::State;
use matchmark_service::LookUp;
use serde::Deserialize;

/// What is known of the caller at the telephone.
#[derive(Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct Asked {
    /// A serial, part of a name or address, an order number, or the text of a scanned code.
    #[param(example = "QF-0101")]
    q: String,
}

/// Look up a kit
///
/// One answer for the telephone: which revision, what changed since, stop sheets and notices outstanding, packs and downloads, measured
/// values, notes. That a kit was looked up goes on record.
#[utoipa::path(get, path = "/v1/support/lookup", operation_id = "lookUpKit", tag = "support", params(Asked),
    responses((status = 200, body = LookUp)))]
pub async fn look_up(
    State(app): State<App>,
    Supporter(who): Supporter,
    Query(asked): Query<Asked>,
) -> Result<Json<LookUp>, Problem> {
    Ok(Json(app.look_up(&who, &asked.q).await?))
}
