//! The wraps of a revision, as figures and drawn.

use crate::http::App;
use crate::http::caller::Caller;
use crate::http::problem::Problem;
use crate::http::query::{Query, WrapWanted};
use axum::Json;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::IntoResponse;
use matchmark_core::sheets::{End, Wrap};
use serde::Serialize;
use utoipa::ToSchema;

/// The wraps of a revision, in build order.
#[derive(Serialize, ToSchema)]
pub struct Wraps {
    wraps: Vec<WrapEntry>,
}

/// One wrap in the list.
#[derive(Serialize, ToSchema)]
pub struct WrapEntry {
    /// Id of the member.
    member: String,
    /// Which end.
    end: End,
    /// Section as a fitter calls it.
    size: String,
    /// `mitre`, `cope`, or `square` for the trimming wrap of a leg left long.
    cut: String,
    /// Members this end is fitted to.
    fits: Vec<String>,
}

/// List wraps
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/wraps", operation_id = "listWraps", tag = "wraps",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = Wraps)))]
pub async fn list(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter)): Path<(String, String)>,
) -> Result<Json<Wraps>, Problem> {
    let sheets = app.sheets(&who, &design, &letter).await?;
    let entry = |wrap: &Wrap| WrapEntry {
        member: wrap.member.clone(),
        end: wrap.end,
        size: wrap.size.to_string(),
        cut: wrap.cut.word().to_owned(),
        fits: wrap.fits.clone(),
    };
    let wraps = sheets.sheets()?.wraps.iter().map(entry).collect();
    Ok(Json(Wraps { wraps }))
}

/// Read a wrap as figures
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/wraps/{member}/{end}", operation_id = "readWrap",
    tag = "wraps",
    params(("design" = String, Path), ("letter" = String, Path), ("member" = String, Path), ("end" = End, Path)),
    responses((status = 200, body = Wrap)))]
pub async fn read(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter, member, end)): Path<(String, String, String, String)>,
) -> Result<Json<Wrap>, Problem> {
    let sheets = app.sheets(&who, &design, &letter).await?;
    Ok(Json(sheets.wrap(&member, &end)?.clone()))
}

/// Draw a wrap as SVG
///
/// The drawing's units are millimetres at 1:1; print from the PDF, which asks the printer not to scale.
///
/// It carries no code, so that no scan tells whether it is still current: cut from the page of a pack where there is one.
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/wraps/{member}/{end}/svg", operation_id = "drawWrapSvg",
    tag = "wraps",
    params(("design" = String, Path), ("letter" = String, Path), ("member" = String, Path), ("end" = End, Path)),
    responses((status = 200, content_type = "image/svg+xml", body = String)))]
pub async fn svg(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter, member, end)): Path<(String, String, String, String)>,
) -> Result<impl IntoResponse, Problem> {
    let sheets = app.sheets(&who, &design, &letter).await?;
    let drawn = app.wrap_svg(sheets, &member, &end).await?;
    Ok(([(header::CONTENT_TYPE, "image/svg+xml")], drawn))
}

/// Draw a wrap as PDF
///
/// With `hands` those of its pair, on one page where they fit; one larger than the paper comes in tiles.
///
/// It carries no code, so that no scan tells whether it is still current: cut from the page of a pack where there is one.
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/wraps/{member}/{end}/pdf", operation_id = "drawWrapPdf",
    tag = "wraps",
    params(("design" = String, Path), ("letter" = String, Path), ("member" = String, Path), ("end" = End, Path), WrapWanted),
    responses((status = 200, content_type = "application/pdf", body = Vec<u8>)))]
pub async fn pdf(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter, member, end)): Path<(String, String, String, String)>,
    Query(wanted): Query<WrapWanted>,
) -> Result<impl IntoResponse, Problem> {
    let sheets = app.sheets(&who, &design, &letter).await?;
    let drawn = app.wrap_pdf(sheets, &member, &end, wanted.print(), wanted.hands).await?;
    Ok(([(header::CONTENT_TYPE, "application/pdf")], drawn))
}
