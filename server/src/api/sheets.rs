//! The sheets of a revision: members, cut sheet, bend sheets, fit-up order.

use super::App;
use super::caller::Caller;
use super::problem::Problem;
use crate::service::{RevisionSheets, ServiceError};
use axum::Json;
use axum::extract::{Path, State};
use matchmark_core::sheets::{BendSheet, CutRow, CutSheet, End, FitUp};
use serde::Serialize;
use utoipa::ToSchema;

/// All members of a revision, in build order.
#[derive(Serialize, ToSchema)]
pub struct Members {
    members: Vec<CutRow>,
}

/// One member with all that is made for it.
#[derive(Serialize, ToSchema)]
pub struct Member {
    /// Its row of the cut sheet.
    cut: CutRow,
    /// Its bend sheet; absent for a straight member.
    #[serde(skip_serializing_if = "Option::is_none")]
    bend_sheet: Option<BendSheet>,
    /// Its ends that have a wrap.
    wraps: Vec<End>,
}

/// The bend sheets of a revision.
#[derive(Serialize, ToSchema)]
pub struct BendSheets {
    bend_sheets: Vec<BendSheet>,
}

/// List members
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/members", tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = Members)))]
pub async fn members(
    app: State<App>,
    caller: Caller,
    revision: Path<(String, String)>,
) -> Result<Json<Members>, Problem> {
    let found = sheets(app, caller, revision).await?;
    let members = found.sheets()?.cut_sheet.rows.clone();
    Ok(Json(Members { members }))
}

/// Read a member
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/members/{member}", tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path), ("member" = String, Path)),
    responses((status = 200, body = Member)))]
pub async fn member(
    app: State<App>,
    caller: Caller,
    Path((design, letter, member)): Path<(String, String, String)>,
) -> Result<Json<Member>, Problem> {
    let found = sheets(app, caller, Path((design, letter))).await?;
    let all = found.sheets()?;
    let row = all.cut_sheet.rows.iter().find(|row| row.member == member);
    let cut = row.cloned().ok_or_else(|| ServiceError::UnknownMember(member.clone()))?;
    let bend_sheet = all.bend_sheets.iter().find(|sheet| sheet.member == member);
    let wraps = all.wraps.iter().filter(|wrap| wrap.member == member);
    Ok(Json(Member { cut, bend_sheet: bend_sheet.cloned(), wraps: wraps.map(|wrap| wrap.end).collect() }))
}

/// Read the cut sheet
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/cut-sheet", tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = CutSheet)))]
pub async fn cut_sheet(
    app: State<App>,
    caller: Caller,
    revision: Path<(String, String)>,
) -> Result<Json<CutSheet>, Problem> {
    let found = sheets(app, caller, revision).await?;
    Ok(Json(found.sheets()?.cut_sheet.clone()))
}

/// Read the bend sheets
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/bend-sheets", tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = BendSheets)))]
pub async fn bend_sheets(
    app: State<App>,
    caller: Caller,
    revision: Path<(String, String)>,
) -> Result<Json<BendSheets>, Problem> {
    let found = sheets(app, caller, revision).await?;
    let bend_sheets = found.sheets()?.bend_sheets.clone();
    Ok(Json(BendSheets { bend_sheets }))
}

/// Read the fit-up order
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/fit-up", tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = FitUp)))]
pub async fn fit_up(app: State<App>, caller: Caller, revision: Path<(String, String)>) -> Result<Json<FitUp>, Problem> {
    let found = sheets(app, caller, revision).await?;
    Ok(Json(found.sheets()?.fit_up.clone()))
}

async fn sheets(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter)): Path<(String, String)>,
) -> Result<RevisionSheets, Problem> {
    Ok(app.sheets(&who, &design, &letter).await?)
}
