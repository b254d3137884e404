//! The sheets of a revision: members, cut sheet, bend sheets, fit-up order.

use crate::http::App;
use crate::http::caller::Caller;
use crate::http::problem::Problem;
use axum::Json;
use axum::extract::{Path, State};
use matchmark_core::sheets::{
    BendSheet, CheckRow, CutRow, CutSheet, End, FitUp, HoleStrip, JigSheet, MassSheet, Pair, PartRow, PlateSheet,
};
use matchmark_service::{RevisionSheets, ServiceError};
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
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/members", operation_id = "listMembers",
    tag = "sheets",
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
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/members/{member}", operation_id = "readMember",
    tag = "sheets",
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
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/cut-sheet", operation_id = "readCutSheet",
    tag = "sheets",
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
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/bend-sheets", operation_id = "readBendSheets",
    tag = "sheets",
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
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/fit-up", operation_id = "readFitUp", tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = FitUp)))]
pub async fn fit_up(app: State<App>, caller: Caller, revision: Path<(String, String)>) -> Result<Json<FitUp>, Problem> {
    let found = sheets(app, caller, revision).await?;
    Ok(Json(found.sheets()?.fit_up.clone()))
}

/// The parts list of a revision, and which mirrored pairs are handed.
#[derive(Serialize, ToSchema)]
pub struct Parts {
    parts: Vec<PartRow>,
    pairs: Vec<Pair>,
}

/// The plates of a revision.
#[derive(Serialize, ToSchema)]
pub struct Plates {
    plates: Vec<PlateSheet>,
}

/// The strip templates for holes of a revision.
#[derive(Serialize, ToSchema)]
pub struct HoleStrips {
    hole_strips: Vec<HoleStrip>,
}

/// The jig sheets of a revision.
#[derive(Serialize, ToSchema)]
pub struct JigSheets {
    jig_sheets: Vec<JigSheet>,
}

/// The check dimensions of a revision.
#[derive(Serialize, ToSchema)]
pub struct Checks {
    checks: Vec<CheckRow>,
}

/// Read the parts list
///
/// One row a part number with its quantity, and every mirrored pair: interchangeable, or handed with what tells both apart.
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/parts", operation_id = "readParts", tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = Parts)))]
pub async fn parts(app: State<App>, caller: Caller, revision: Path<(String, String)>) -> Result<Json<Parts>, Problem> {
    let found = sheets(app, caller, revision).await?;
    let all = found.sheets()?;
    Ok(Json(Parts { parts: all.parts.clone(), pairs: all.pairs.clone() }))
}

/// Read the plates
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/plates", operation_id = "readPlates",
    tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = Plates)))]
pub async fn plates(
    app: State<App>,
    caller: Caller,
    revision: Path<(String, String)>,
) -> Result<Json<Plates>, Problem> {
    let found = sheets(app, caller, revision).await?;
    Ok(Json(Plates { plates: found.sheets()?.plates.clone() }))
}

/// Read the strip templates for holes
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/hole-strips", operation_id = "readHoleStrips",
    tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = HoleStrips)))]
pub async fn hole_strips(
    app: State<App>,
    caller: Caller,
    revision: Path<(String, String)>,
) -> Result<Json<HoleStrips>, Problem> {
    let found = sheets(app, caller, revision).await?;
    Ok(Json(HoleStrips { hole_strips: found.sheets()?.strips.clone() }))
}

/// Read the jig sheets
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/jig-sheets", operation_id = "readJigSheets",
    tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = JigSheets)))]
pub async fn jig_sheets(
    app: State<App>,
    caller: Caller,
    revision: Path<(String, String)>,
) -> Result<Json<JigSheets>, Problem> {
    let found = sheets(app, caller, revision).await?;
    Ok(Json(JigSheets { jig_sheets: found.sheets()?.jigs.clone() }))
}

/// Read the check dimensions
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/checks", operation_id = "readChecks",
    tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = Checks)))]
pub async fn checks(
    app: State<App>,
    caller: Caller,
    revision: Path<(String, String)>,
) -> Result<Json<Checks>, Problem> {
    let found = sheets(app, caller, revision).await?;
    Ok(Json(Checks { checks: found.sheets()?.checks.clone() }))
}

/// Read mass, centre of gravity, surface to paint and weld length
#[utoipa::path(get, path = "/v1/designs/{design}/revisions/{letter}/mass", operation_id = "readMass", tag = "sheets",
    params(("design" = String, Path), ("letter" = String, Path)),
    responses((status = 200, body = MassSheet)))]
pub async fn mass(
    app: State<App>,
    caller: Caller,
    revision: Path<(String, String)>,
) -> Result<Json<MassSheet>, Problem> {
    let found = sheets(app, caller, revision).await?;
    Ok(Json(found.sheets()?.mass.clone()))
}

async fn sheets(
    State(app): State<App>,
    Caller(who): Caller,
    Path((design, letter)): Path<(String, String)>,
) -> Result<RevisionSheets, Problem> {
    Ok(app.sheets(&who, &design, &letter).await?)
}
