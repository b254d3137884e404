//! `/v1/designs`

use crate::http::body::Json;
use crate::http::caller::{Publisher, Supporter};
use crate::http::conditions::once;
use crate::http::problem::Problem;
use crate::http::query::{PageWanted, Query};
use crate::http::{App, paging};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, StatusCode, header};
use axum::response::IntoResponse;
use matchmark_service::{DesignView, NewDesign};
use serde::Serialize;
use utoipa::ToSchema;

/// A page of designs.
#[derive(Serialize, ToSchema)]
pub struct Designs {
    designs: Vec<DesignView>,
    /// Cursor of the next page; absent on the last.
    #[serde(skip_serializing_if = "Option::is_none")]
    next: Option<String>,
}

/// Create a design
#[utoipa::path(post, path = "/v1/designs", operation_id = "createDesign", tag = "designs", request_body = NewDesign,
    params(("Idempotency-Key" = Option<String>, Header)),
    responses((status = 201, body = DesignView, headers(("location" = String)))))]
pub async fn create(
    State(app): State<App>,
    Publisher(who): Publisher,
    headers: HeaderMap,
    body: Json<NewDesign>,
) -> Result<impl IntoResponse, Problem> {
    let once = once(&headers, &who, "designs".to_owned(), &body.bytes)?;
    let view = app.create_design(&who, body.value, &once).await?;
    let place = [(header::LOCATION, format!("/v1/designs/{}", view.id))];
    Ok((StatusCode::CREATED, place, axum::Json(view)))
}

/// List designs
#[utoipa::path(get, path = "/v1/designs", operation_id = "listDesigns", tag = "designs", params(PageWanted),
    responses((status = 200, body = Designs)))]
pub async fn list(
    State(app): State<App>,
    Supporter(who): Supporter,
    Query(wanted): Query<PageWanted>,
) -> Result<(HeaderMap, axum::Json<Designs>), Problem> {
    let page = paging::page(wanted.page_size, wanted.cursor.as_deref(), "designs")?;
    let listed = app.designs(&who, &page).await?;
    let next = listed.next_after.map(|after| paging::cursor(&after, "designs"));
    let size = wanted.page_size.map(|size| format!("page_size={size}")).unwrap_or_default();
    let link = paging::link("/v1/designs", &size, next.as_ref());
    let designs = listed.items;
    Ok((link, axum::Json(Designs { designs, next })))
}

/// Read a design
#[utoipa::path(get, path = "/v1/designs/{design}", operation_id = "readDesign", tag = "designs",
    params(("design" = String, Path)),
    responses((status = 200, body = DesignView)))]
pub async fn read(
    State(app): State<App>,
    Supporter(who): Supporter,
    Path(design): Path<String>,
) -> Result<axum::Json<DesignView>, Problem> {
    Ok(axum::Json(app.design(&who, &design).await?))
}
