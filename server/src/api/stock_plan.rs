//! `/v1/stock-plan`

use super::App;
use super::body::Json;
use super::caller::Caller;
use super::problem::Problem;
use crate::service::ServiceError;
use axum::extract::State;
use matchmark_core::stock::{Plan, Request};

/// Plan which bars to cut, and how
///
/// Takes parts, bars and the saw of one section and keeps nothing. The trim is lost once, at the first end of each bar; the kerf between
/// neighbouring parts, and after the last one unless it ends flush with the bar. The plan has the least price, or the least length of
/// bars where they have no price; `bound` is what no plan can go below.
#[utoipa::path(post, path = "/v1/stock-plan", tag = "stock plan", request_body = Request,
    responses((status = 200, body = Plan)))]
pub async fn solve(
    State(app): State<App>,
    _caller: Caller,
    request: Json<Request>,
) -> Result<axum::Json<Plan>, Problem> {
    Ok(axum::Json(app.engine().stock_plan(request.value).await.map_err(ServiceError::from)?))
}
