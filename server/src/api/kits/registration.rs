//! `/v1/kits`

use crate::http::body::Json;
use crate::http::caller::{Caller, Publisher, Supporter};
use crate::http::conditions::keyed_once;
use crate::http::problem::Problem;
use crate::http::query::{Query, escaped};
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::IntoResponse;
use matchmark_service::{KitView, KitsWanted, NewKit};
use serde::Serialize;
use utoipa::ToSchema;

/// A page of kits.
#[derive(Serialize, ToSchema)]
pub struct Kits {
    kits: Vec<KitView>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// Register a kit
#[utoipa::path(post, path = "/v1/kits", operation_id = "registerKit", tag = "kits", request_body = NewKit,
    params(("Idempotency-Key" = String, Header)),
    responses((status = 201, body = KitView, headers(("location" = String)))))]
pub async fn create(
    State(app): State<App>,
    Publisher(who): Publisher,
    headers: HeaderMap,
    body: Json<NewKit>,
) -> Result<impl IntoResponse, Problem> {
    let once = keyed_once(&headers, &who, "kits".to_owned(), &body.bytes)?;
    let view = app.create_kit(&who, body.value, &once).await?;
    let place = [(header::LOCATION, format!("/v1/kits/{}", view.serial))];
    Ok((StatusCode::CREATED, place, axum::Json(view)))
}

/// Find kits
#[utoipa::path(get, path = "/v1/kits", operation_id = "findKits", tag = "kits", params(KitsWanted),
    responses((status = 200, body = Kits)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Query(wanted): Query<KitsWanted>,
) -> Result<(HeaderMap, axum::Json<Kits>), Problem> {
    let filters = filters(&wanted);
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), &filters)?;
    let listed = app.kits(&who, &wanted, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, &filters));
    let link = match wanted.page_size {
        Some(size) => {
            let and = if filters.is_empty() { "" } else { "&" };
            let query = format!("{filters}{and}page_size={size}");
            paging::link("/v1/kits", &query, next.as_ref())
        }
        None => paging::link("/v1/kits", &filters, next.as_ref()),
    };
    let kits = listed.items;
    Ok((link, axum::Json(Kits { kits, next })))
}

/// Read a kit
#[utoipa::path(get, path = "/v1/kits/{serial}", operation_id = "readKit", tag = "kits",
    params(("serial" = String, Path)),
    responses((status = 200, body = KitView)))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path(serial): Path<String>,
) -> Result<axum::Json<KitView>, Problem> {
    Ok(axum::Json(app.kit(&who, &serial).await?))
}

/// The filters as a query, in one order.
fn filters(wanted: &KitsWanted) -> String {
    let named = [
        ("serial", &wanted.serial),
        ("design", &wanted.design),
        ("revision", &wanted.revision),
        ("customer", &wanted.customer),
        ("order_number", &wanted.order_number),
        ("choices", &wanted.choices),
    ];
    let given: Vec<String> = named
        .into_iter()
        .filter_map(|(name, value)| value.as_ref().map(|value| (name, value)))
        .map(|(name, value)| format!("{name}={}", escaped(value)))
        .collect();
    given.join("&")
}
