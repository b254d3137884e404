//! `/v1/deliveries`: what holders of kits were told, and what did not reach them.

use crate::http::caller::Supporter;
use crate::http::problem::Problem;
use crate::http::query::Query;
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use matchmark_service::{DeliveriesWanted, DeliveryState, DeliveryView};
use serde::Serialize;
use utoipa::ToSchema;

/// A page of deliveries.
#[derive(Serialize, ToSchema)]
pub struct Deliveries {
    deliveries: Vec<DeliveryView>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// List deliveries
///
/// Of notices and recalls, to the webhook and by mail, where these are configured. `state=dead` lists those that were given up.
#[utoipa::path(get, path = "/v1/deliveries", operation_id = "listDeliveries", tag = "notices", params(DeliveriesWanted),
    responses((status = 200, body = Deliveries)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Query(wanted): Query<DeliveriesWanted>,
) -> Result<(HeaderMap, axum::Json<Deliveries>), Problem> {
    let filters = wanted.state.map(|state| format!("state={}", DeliveryState::name(state))).unwrap_or_default();
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), &filters)?;
    let listed = app.deliveries(&who, &wanted, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, &filters));
    let size = wanted.page_size.map(|size| format!("page_size={size}"));
    let query: Vec<String> = Some(filters).filter(|text| !text.is_empty()).into_iter().chain(size).collect();
    let link = paging::link("/v1/deliveries", &query.join("&"), next.as_ref());
    Ok((link, axum::Json(Deliveries { deliveries: listed.items, next })))
}

/// Try a delivery again
///
/// At once, and from then on as often as a new one. One that was sent is not sent again (409).
#[utoipa::path(post, path = "/v1/deliveries/{delivery}/retry", operation_id = "retryDelivery", tag = "notices",
    params(("delivery" = String, Path)), responses((status = 200, body = DeliveryView)))]
pub async fn retry(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(delivery): Path<String>,
) -> Result<axum::Json<DeliveryView>, Problem> {
    Ok(axum::Json(app.retry_delivery(&who, &delivery).await?))
}
