//! `/v1/customers`

use crate::http::caller::{Publisher, Supporter};
use crate::http::problem::Problem;
use crate::http::query::{Query, escaped};
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, header};
use axum::response::IntoResponse;
use matchmark_service::{CustomerExport, CustomerView};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Which customers to list.
#[derive(Deserialize, utoipa::IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct CustomersWanted {
    /// Part of their name or address.
    #[serde(default)]
    q: String,
    /// How many at most: 50 when absent, never more than 200.
    #[param(minimum = 1)]
    page_size: Option<usize>,
    /// The `next` of the page before.
    cursor: Option<String>,
}

/// A page of customers.
#[derive(Serialize, ToSchema)]
pub struct Customers {
    customers: Vec<CustomerView>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// Find customers
#[utoipa::path(get, path = "/v1/customers", operation_id = "findCustomers", tag = "customers", params(CustomersWanted),
    responses((status = 200, body = Customers)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Query(wanted): Query<CustomersWanted>,
) -> Result<(HeaderMap, axum::Json<Customers>), Problem> {
    let filters = format!("q={}", escaped(&wanted.q));
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), &filters)?;
    let listed = app.customers(&who, &wanted.q, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, &filters));
    let size = wanted.page_size.map(|size| format!("&page_size={size}")).unwrap_or_default();
    let link = paging::link("/v1/customers", &format!("{filters}{size}"), next.as_ref());
    let customers = listed.items;
    Ok((link, axum::Json(Customers { customers, next })))
}

/// Read a customer
#[utoipa::path(get, path = "/v1/customers/{customer}", operation_id = "readCustomer", tag = "customers",
    params(("customer" = String, Path)),
    responses((status = 200, body = CustomerView)))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(customer): Path<String>,
) -> Result<axum::Json<CustomerView>, Problem> {
    Ok(axum::Json(app.customer(&who, &customer).await?))
}

/// Export a customer
///
/// All that is kept about them and their kits, as they may ask for it. That it was asked for goes on record.
#[utoipa::path(get, path = "/v1/customers/{customer}/export", operation_id = "exportCustomer", tag = "customers",
    params(("customer" = String, Path)),
    responses((status = 200, body = CustomerExport)))]
pub async fn export(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(customer): Path<String>,
) -> Result<impl IntoResponse, Problem> {
    let export = app.export_customer(&who, &customer).await?;
    let headers =
        [(header::CONTENT_DISPOSITION, "attachment; filename=\"customer.json\""), (header::CACHE_CONTROL, "no-store")];
    Ok((headers, axum::Json(export)))
}

/// Erase a customer
///
/// Takes their name and address out, and the texts of notes about their kits. Kits, packs and records stay: they name nobody.
#[utoipa::path(post, path = "/v1/customers/{customer}/erasure", operation_id = "eraseCustomer", tag = "customers",
    params(("customer" = String, Path)),
    responses((status = 200, body = CustomerView)))]
pub async fn erase(
    State(app): State<App>,
    Publisher(who): Publisher,
    Path(customer): Path<String>,
) -> Result<axum::Json<CustomerView>, Problem> {
    Ok(axum::Json(app.erase_customer(&who, &customer).await?))
}
