//! From sheets to the pages of a pack: one file a page kind.
//!
//! A page kind is a function from the sheets to drawings of its content; `KINDS` lists them in the order of the pack. Frame,
//! title strip and page numbers are added to all of them alike.

mod bend_sheet;
mod check_bar;
mod checks;
mod contents;
mod cover;
mod cut_sheet;
mod dimension;
mod figures;
mod fit_up;
#[cfg(test)]
mod fixture;
mod flow;
mod free_place;
mod furniture;
mod hole_marks;
mod hole_strips;
mod issue;
mod jig_sheets;
mod pairs;
mod parts_list;
mod plates;
mod printing;
mod stock_plan;
mod templates;
#[cfg(test)]
mod tests;
mod wraps;

pub use issue::{Issue, Paper, Status};

pub use crate::render::RenderError;

use crate::drawing::Drawing;
use crate::render::{Bookmark, Document, letters, write_pdf, write_svg};
use crate::sheets::{Sheets, Wrap};
use furniture::Furniture;

/// A page before it is furnished and numbered.
struct Content {
    /// Its entries in the outline; none when the page before it covers it.
    bookmarks: Vec<String>,
    drawing: Drawing,
}

/// A page kind: what it is called in the contents and how its pages are made.
struct Kind {
    name: &'static str,
    pages: fn(&Sheets, Furniture) -> Result<Vec<Content>, RenderError>,
}

/// The page kinds after the cover, in the order of the pack.
const KINDS: [Kind; 12] = [
    Kind { name: "How to print and check scale", pages: printing::pages },
    Kind { name: "Parts list", pages: parts_list::pages },
    Kind { name: "Left and right parts", pages: pairs::pages },
    Kind { name: "Cut sheet", pages: cut_sheet::pages },
    Kind { name: "Stock plan", pages: stock_plan::pages },
    Kind { name: "Bend sheets", pages: bend_sheet::pages },
    Kind { name: "Jig sheets", pages: jig_sheets::pages },
    Kind { name: "Fit-up order", pages: fit_up::pages },
    Kind { name: "Check dimensions", pages: checks::pages },
    Kind { name: "Wraps, true scale", pages: wraps::pages },
    Kind { name: "Plates, true scale", pages: plates::pages },
    Kind { name: "Hole strips, true scale", pages: hole_strips::pages },
];

/// Renders a whole pack as PDF: cover, list of pages by part, and all page kinds that the sheets have something for.
///
/// The same sheets and issue give the same bytes.
///
/// # Errors
/// See [`RenderError`]: a coordinate or character that cannot be printed, or a wrap too large for the paper.
pub fn render(sheets: &Sheets, issue: &Issue) -> Result<Vec<u8>, RenderError> {
    write_pdf(&document(sheets, issue)?)
}

/// Renders one wrap of a design as a PDF of one page.
///
/// # Errors
/// As [`render`].
pub fn wrap_pdf(sheets: &Sheets, wrap: &Wrap, issue: &Issue) -> Result<Vec<u8>, RenderError> {
    let furniture = furniture(issue)?;
    let row = wraps::row_of(sheets, wrap);
    let content = wraps::page(wrap, row, furniture)?;
    let title = wraps::title(wrap);
    write_pdf(&Document {
        title: format!("{}, {title}", issue.design),
        outline: Vec::new(),
        pages: vec![(title, furniture.furnish(content, 1, 1))],
        ..empty_document(issue)
    })
}

/// Renders the page of one wrap as SVG whose unit is 1 mm.
///
/// # Errors
/// As [`render`].
pub fn wrap_svg(wrap: &Wrap, issue: &Issue) -> Result<String, RenderError> {
    let furniture = furniture(issue)?;
    let title = wraps::title(wrap);
    let drawing = furniture.furnish(wraps::page(wrap, None, furniture)?, 1, 1);
    let size = issue.paper.size();
    crate::render::check_page(&title, size, &drawing, furniture.letters)?;
    Ok(write_svg(&title, size, &drawing, furniture.letters))
}

/// The pages of a whole pack with their outline.
fn document(sheets: &Sheets, issue: &Issue) -> Result<Document, RenderError> {
    let furniture = furniture(issue)?;
    let mut body = Vec::new();
    let mut sections = Vec::new();
    for kind in &KINDS {
        let contents = (kind.pages)(sheets, furniture)?;
        if !contents.is_empty() {
            sections.push((kind.name, body.len(), contents.len()));
        }
        body.extend(contents);
    }
    let mut contents = front(&sections, &body, furniture);
    contents.extend(body);

    let count = contents.len();
    let mut outline = Vec::new();
    let mut pages = Vec::with_capacity(count);
    let mut title = issue.design.clone();
    for (index, content) in contents.into_iter().enumerate() {
        if let Some(first) = content.bookmarks.first() {
            title.clone_from(first);
        }
        outline.extend(content.bookmarks.into_iter().map(|title| Bookmark { title, page: index }));
        let drawing = furniture.furnish(content.drawing, index + 1, count);
        pages.push((title.clone(), drawing));
    }
    Ok(Document { title: document_title(issue), pages, outline, ..empty_document(issue) })
}

/// Cover and list of wraps, which need to know the pages after them.
fn front(sections: &[(&'static str, usize, usize)], body: &[Content], furniture: Furniture) -> Vec<Content> {
    let listed: Vec<(&str, usize)> = body
        .iter()
        .enumerate()
        .flat_map(|(index, content)| content.bookmarks.iter().map(move |title| (title.as_str(), index)))
        .collect();
    // The page numbers shift by the number of front pages, which does not depend on them.
    let make = |shift: usize| {
        let spans: Vec<_> =
            sections.iter().map(|(name, first, count)| (*name, first + shift + 1, first + shift + count)).collect();
        let mut front = cover::pages(&spans, furniture);
        let entries: Vec<_> = listed.iter().map(|(title, index)| (*title, index + shift + 1)).collect();
        front.extend(contents::pages(&entries, furniture));
        front
    };
    make(make(0).len())
}

fn furniture(issue: &Issue) -> Result<Furniture<'_>, RenderError> {
    Ok(Furniture { letters: letters()?, issue })
}

fn empty_document(issue: &Issue) -> Document {
    Document {
        title: String::new(),
        author: issue.supplier.clone(),
        subject: format!(
            "kit {}, pack {}, design document SHA-256 {}",
            issue.kit, issue.pack_number, issue.design_sha256
        ),
        date: issue.date.clone(),
        size: issue.paper.size(),
        pages: Vec::new(),
        outline: Vec::new(),
    }
}

fn document_title(issue: &Issue) -> String {
    match issue.status {
        Status::Draft => format!("{}, draft, not for cutting", issue.design),
        Status::Issued => format!("{}, revision {}", issue.design, issue.revision),
    }
}
