//! The files of a revision for machines and other programs.

use crate::http::App;
use crate::http::exported;
use crate::http::problem::Problem;
use crate::http::query::Query;
use crate::pages::visitor::Visitor;
use crate::words::Words;
use axum::extract::{Path, State};
use axum::http::{HeaderMap, Method};
use axum::response::Response;
use matchmark_service::LabelsWanted;
use maud::{Markup, html};

/// Hands out a file.
pub async fn download(
    State(app): State<App>,
    visitor: Visitor,
    Path((design, letter, file)): Path<(String, String, String)>,
    Query(labels): Query<LabelsWanted>,
    method: Method,
    headers: HeaderMap,
) -> Result<Response, Problem> {
    visitor.who.may_support()?;
    let of = app.files_of_revision(&visitor.who, &design, &letter).await?;
    exported::answer(&app, of, &file, &labels, &method, &headers).await
}

/// The section of a page about the files below a place.
pub fn section(words: &Words, place: &str) -> Markup {
    let says = &words.files;
    let files = [
        ("all.zip", says.all()),
        ("tables.xlsx", says.workbook()),
        ("cut-sheet.csv", says.cut_sheet()),
        ("parts-list.csv", says.parts_list()),
        ("frame.step", says.solids()),
        ("frame.glb", says.model()),
        ("labels.pdf", says.labels()),
    ];
    html! {
        h2 { (says.heading()) }
        p { (says.about()) }
        ul { @for (file, what) in files { li { a href={(place) "/files/" (file)} { (what) } } } }
        p.small { (says.cautions()) }
    }
}
