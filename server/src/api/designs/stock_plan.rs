//! `/v1/stock-plan`, and the stock plans of revisions and kits.

use crate::api::designs::{stock_csv, stock_progress};
use crate::http::App;
use crate::http::accept::prefers;
use crate::http::body::Json;
use crate::http::caller::Bearer;
use crate::http::problem::Problem;
use axum::extract::{Path, State};
use axum::http::HeaderMap;
use axum::response::{IntoResponse, Response};
use matchmark_core::stock::{Plan, Request};
use matchmark_export::tables::stock::Planned;
use matchmark_service::engine::StockNews;
use matchmark_service::{SectionPlans, ServiceError, StockForKits, StockWanted};

/// Plan which bars to cut, and how
///
/// Takes parts, bars and the saw of one section and keeps nothing. The trim is lost once, at the first end of each bar; the kerf between
/// neighbouring parts, and after the last one unless it ends flush with the bar. Neighbours with mitres of one angle share a sloped cut.
/// The plan has the least price, or the least length of bars where they have no price; `bound` is what no plan can go below. Of plans
/// that cost the same one is looked for whose fullest bar keeps most.
///
/// With `Accept: text/event-stream` the answer is a stream of server-sent events: `progress` with `seconds`, `best` and `bound`, then
/// `plan`, or `problem` where none was found. The work is given up when the caller goes away. With `Accept: text/csv` every cut is a line.
#[utoipa::path(post, path = "/v1/stock-plan", operation_id = "planStock", tag = "stock plan", request_body = Request,
    responses((status = 200, content(
        (Plan = "application/json"), (String = "text/event-stream"), (String = "text/csv")))))]
pub async fn solve(
    State(app): State<App>,
    _bearer: Bearer,
    headers: HeaderMap,
    request: Json<Request>,
) -> Result<Response, Problem> {
    let mut request = request.value;
    if prefers(&headers, "text/event-stream", "application/json") {
        let mut news = app.engine().stock_plan_with_news(request).await?;
        return match news.recv().await {
            Some(StockNews::Done(Err(error))) => Err(ServiceError::from(error).into()),
            Some(first) => Ok(stock_progress::events(first, news)),
            None => Err(ServiceError::CutOff.into()),
        };
    }
    if prefers(&headers, "text/csv", "application/json") {
        request.bundle = request.bundle.or(Some(1));
        let known = request.parts.clone();
        let plan = app.engine().stock_plan(request).await?;
        let lengths = known.iter().map(|part| (part.id.as_str(), part.length)).collect();
        return stock_csv::answer(&[Planned { section: "", size: "", lengths, plan: &plan }]);
    }
    Ok(axum::Json(app.engine().stock_plan(request).await?).into_response())
}

/// Plan the stock of a revision
///
/// One plan for each section, for so many kits. Blanks of the parts list with what the saw is to leave on; straight tubes with mitred ends
/// share sloped cuts. Stock is what the request says of a section, else the lengths of the design. `Accept: text/csv` gives a line a cut.
#[utoipa::path(post, path = "/v1/designs/{design}/revisions/{letter}/stock-plan", operation_id = "planRevisionStock",
    tag = "stock plan",
    params(("design" = String, Path), ("letter" = String, Path)), request_body = StockWanted,
    responses((status = 200, content((SectionPlans = "application/json"), (String = "text/csv")))))]
pub async fn of_revision(
    State(app): State<App>,
    Bearer(who): Bearer,
    Path((design, letter)): Path<(String, String)>,
    headers: HeaderMap,
    wanted: Json<StockWanted>,
) -> Result<Response, Problem> {
    answer(&headers, app.stock_of_revision(&who, &design, &letter, wanted.value).await?)
}

/// Plan the stock of a kit
///
/// As for its revision, with the kit's choices and measured values.
#[utoipa::path(post, path = "/v1/kits/{serial}/stock-plan", operation_id = "planKitStock", tag = "stock plan",
    params(("serial" = String, Path)), request_body = StockWanted,
    responses((status = 200, content((SectionPlans = "application/json"), (String = "text/csv")))))]
pub async fn of_kit(
    State(app): State<App>,
    Bearer(who): Bearer,
    Path(serial): Path<String>,
    headers: HeaderMap,
    wanted: Json<StockWanted>,
) -> Result<Response, Problem> {
    answer(&headers, app.stock_of_kit(&who, &serial, wanted.value).await?)
}

/// Plan the stock of several kits at once
///
/// Kits of any designs and revisions; their parts are cut together. A part's id is its number, with the design before it when there are
/// several designs, and the serial after it when the kit's part differs from that of a kit before it.
#[utoipa::path(post, path = "/v1/stock-plan/kits", operation_id = "planStockOfKits",
    tag = "stock plan", request_body = StockForKits,
    responses((status = 200, content((SectionPlans = "application/json"), (String = "text/csv")))))]
pub async fn of_kits(
    State(app): State<App>,
    Bearer(who): Bearer,
    headers: HeaderMap,
    wanted: Json<StockForKits>,
) -> Result<Response, Problem> {
    answer(&headers, app.stock_of_kits(&who, wanted.value).await?)
}

fn answer(headers: &HeaderMap, plans: SectionPlans) -> Result<Response, Problem> {
    if !prefers(headers, "text/csv", "application/json") {
        return Ok(axum::Json(plans).into_response());
    }
    let planned: Vec<Planned> = plans
        .sections
        .iter()
        .map(|section| Planned {
            section: &section.section,
            size: &section.size,
            lengths: section.parts.iter().map(|part| (part.id.as_str(), part.length)).collect(),
            plan: &section.plan,
        })
        .collect();
    stock_csv::answer(&planned)
}
