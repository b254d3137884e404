//! From sheets to the pages of a pack: `kinds` has one file or folder a page kind, `layout` is how things are put on paper.
//!
//! A page kind is a function from the sheets to drawings of its content; `kinds::KINDS` lists them in the order of the pack. Frame,
//! title strip and page numbers are added to all of them alike.

#[cfg(test)]
mod fixture;
mod hands;
mod issue;
mod kinds;
mod layout;
mod manifest;
mod on_page;
mod print;
pub mod say;
#[cfg(test)]
mod tests;
mod titles_before_keys;

pub use hands::Hands;
pub use issue::{
    DoneBy, Issue, KitFact, MadeAlready, Notice, NoticeClass, NoticePages, PageBefore, Recall, Seal, Since, Status,
};
pub use kinds::SheetKind;
pub use kinds::changes::{KeptInPart, KeptPages};
pub use kinds::drawings::alone::ViewWanted;
pub use manifest::{Manifest, ManifestPage};
pub use on_page::{ListedPage, OnPage};
pub use print::{CheckBars, Paper, Print, PrintError, Units};

pub use crate::render::RenderError;

use crate::Stop;
use crate::render::{Document, Sealing, letters, write_pdf, write_svg};
use crate::seal::PageKind;
use crate::sheets::{Sheets, Wrap};
use crate::words::EN;
use kinds::drawings::Standing;
use kinds::{KINDS, Pages, changes, cover, drawings, stop_sheets, wraps};
use layout::content::Content;
use layout::contents;
use layout::furniture::Furniture;
use layout::numbering::{Numbered, PageFacts, numbered};
use rayon::prelude::*;

/// A pack and the account of what is in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Pack {
    /// The file.
    pub pdf: Vec<u8>,
    /// What stands on its pages, for a machine to check.
    pub manifest: Manifest,
}

/// Renders a whole pack as PDF: cover, list of pages by part, and all page kinds that the sheets have something for; of a pack
/// that holds only what changed, those of the parts that did.
///
/// The same sheets and issue give the same bytes.
///
/// # Errors
/// See [`RenderError`]: a coordinate or character that cannot be printed, or a wrap too large for the paper.
pub fn render(sheets: &Sheets, issue: &Issue) -> Result<Pack, RenderError> {
    render_until(sheets, issue, Stop::NEVER)
}

/// As [`render`], as long as it is wanted.
///
/// # Errors
/// As [`render`], and [`RenderError::Stopped`] when it is no longer wanted.
pub fn render_until(sheets: &Sheets, issue: &Issue, stop: Stop) -> Result<Pack, RenderError> {
    let changed;
    let sheets = match &issue.since {
        Some(since) if since.only => {
            changed = changes::changed_only(sheets, &since.changes);
            &changed
        }
        _ => sheets,
    };
    let furniture = Furniture { stop, ..furniture(issue)? };
    let (document, facts) = drawn(sheets, furniture)?;
    let written = write_pdf(&document, stop)?;
    let manifest = Manifest::of(furniture, &document, facts, &written);
    Ok(Pack { pdf: written.bytes, manifest })
}

/// Renders wraps of a design as a PDF: one has a page of its own, several share pages where they fit.
///
/// # Errors
/// As [`render`].
pub fn wraps_pdf(sheets: &Sheets, wraps: &[&Wrap], issue: &Issue) -> Result<Vec<u8>, RenderError> {
    wraps_pdf_until(sheets, wraps, issue, Stop::NEVER)
}

/// As [`wraps_pdf`], as long as it is wanted.
///
/// # Errors
/// As [`render_until`].
pub fn wraps_pdf_until(sheets: &Sheets, wraps: &[&Wrap], issue: &Issue, stop: Stop) -> Result<Vec<u8>, RenderError> {
    let furniture = Furniture { stop, ..furniture(issue)? };
    let set: Vec<Wrap> = wraps.iter().map(|wrap| set_by(furniture, wrap)).collect();
    let contents = wraps::laid_out(sheets, &set, furniture)?;
    let titles: Vec<String> = set.iter().map(|wrap| wraps::title(wrap, furniture)).collect();
    let Numbered { pages, outline, .. } = numbered(contents, furniture);
    let title = furniture.words.document.title_of_wraps(&issue.design, titles.join(", "));
    Ok(write_pdf(&Document { title, outline, pages, ..empty_document(furniture) }, stop)?.bytes)
}

/// Renders the stop sheet of one recall as a PDF.
///
/// # Errors
/// As [`render`].
pub fn stop_sheet_pdf(recall: &Recall, issue: &Issue) -> Result<Vec<u8>, RenderError> {
    let furniture = furniture(issue)?;
    let title = stop_sheets::title(recall, furniture);
    let Numbered { pages, outline, .. } = numbered(stop_sheets::sheet(recall, furniture), furniture);
    let title = furniture.words.document.title_of_stop_sheet(&issue.design, &issue.kit, title);
    let empty = empty_document(furniture);
    let sealing = empty.sealing.map(|sealing| Sealing { kind: PageKind::StopSheet, ..sealing });
    Ok(write_pdf(&Document { title, outline, pages, sealing, ..empty }, furniture.stop)?.bytes)
}

/// Renders the page of one wrap as SVG whose unit is 1 mm: on the paper of the issue, or on the least one that it fits, since a
/// drawing on a screen needs no tiles.
///
/// # Errors
/// As [`render`]; a wrap that fits no paper is refused.
pub fn wrap_svg(sheets: &Sheets, wrap: &Wrap, issue: &Issue) -> Result<String, RenderError> {
    let mut drawn = wrap_svg_on(issue.print.paper, sheets, wrap, issue);
    for larger in [Paper::A3, Paper::Roll] {
        if !matches!(drawn, Err(RenderError::WrapTooLarge { .. })) {
            break;
        }
        drawn = wrap_svg_on(larger, sheets, wrap, issue);
    }
    drawn
}

fn wrap_svg_on(paper: Paper, sheets: &Sheets, wrap: &Wrap, issue: &Issue) -> Result<String, RenderError> {
    let print = Print { paper, ..issue.print };
    let issue = &Issue { print, ..issue.clone() };
    let furniture = furniture(issue)?;
    let set = set_by(furniture, wrap);
    let title = wraps::title(wrap, furniture);
    let content = wraps::page(wraps::Subject::of(sheets, &set), furniture)?;
    let drawing = furniture.furnish(&[&title], content, 1, 1);
    let size = issue.print.room();
    crate::render::check_page(&title, size, &drawing, furniture.letters)?;
    Ok(write_svg(&title, size, &drawing, furniture.letters))
}

/// Draws a frame, or some of its parts, from one side as SVG whose unit is 1 mm, with hidden lines left out.
///
/// # Errors
/// As [`render_until`].
pub fn view_svg(sheets: &Sheets, wanted: &ViewWanted, issue: &Issue, stop: Stop) -> Result<String, RenderError> {
    let furniture = Furniture { stop, ..furniture(issue)? };
    let (size, drawing, title) = drawings::alone::draw(sheets, wanted, furniture)?;
    crate::render::check_page(&title, size, &drawing, furniture.letters)?;
    Ok(write_svg(&title, size, &drawing, furniture.letters))
}

/// The pages of a whole pack with their outline and links, and what stands on each.
fn drawn(sheets: &Sheets, furniture: Furniture) -> Result<(Document, Vec<PageFacts>), RenderError> {
    let issue = furniture.issue;
    let in_inches;
    let sheets = match issue.print.units {
        Units::Mm => sheets,
        units => {
            let wraps = sheets.wraps.iter().map(|wrap| wrap.set_to(units.tape())).collect();
            let strips = sheets.strips.iter().map(|strip| strip.set_to(units.tape())).collect();
            in_inches = Sheets { wraps, strips, ..sheets.clone() };
            &in_inches
        }
    };
    let standing = Standing::of(sheets, furniture.stop)?;
    let made: Vec<(&str, Vec<Content>)> = KINDS
        .par_iter()
        .map(|kind| {
            furniture.stop.check()?;
            let pages = match kind.pages {
                Pages::OfSheets(pages) => pages(sheets, furniture)?,
                Pages::OfFrame(pages) => pages(sheets, standing.as_ref(), furniture)?,
            };
            Ok(((kind.name)(&furniture.words.kinds), pages))
        })
        .collect::<Result<_, RenderError>>()?;
    let mut body = Vec::new();
    let mut sections = Vec::new();
    for (name, contents) in made {
        if !contents.is_empty() {
            sections.push((name, body.len(), contents.len()));
        }
        body.extend(contents);
    }
    let mut contents = front(&sections, &body, furniture);
    contents.extend(body);

    let Numbered { pages, outline, facts } = numbered(contents, furniture);
    Ok((Document { title: document_title(furniture), pages, outline, ..empty_document(furniture) }, facts))
}

/// Cover and list of wraps, which need to know the pages after them.
fn front(sections: &[(&'static str, usize, usize)], body: &[Content], furniture: Furniture) -> Vec<Content> {
    let listed: Vec<(&OnPage, usize)> =
        body.iter().enumerate().flat_map(|(index, content)| content.begins.iter().map(move |on| (on, index))).collect();
    // The page numbers shift by the number of front pages, which does not depend on them.
    let make = |shift: usize| {
        let spans: Vec<_> =
            sections.iter().map(|(name, first, count)| (*name, first + shift + 1, first + shift + count)).collect();
        let mut front = cover::pages(&spans, furniture);
        let entries: Vec<_> = listed.iter().map(|(on, index)| (*on, index + shift + 1)).collect();
        front.extend(contents::pages(&entries, furniture));
        front
    };
    make(make(0).len())
}

/// A wrap whose set-out a tape in the pack's unit can set.
fn set_by(furniture: Furniture, wrap: &Wrap) -> Wrap {
    wrap.set_to(furniture.issue.print.units.tape())
}

fn furniture(issue: &Issue) -> Result<Furniture<'_>, RenderError> {
    Ok(Furniture { letters: letters()?, issue, words: &EN, stop: Stop::NEVER })
}

fn empty_document(furniture: Furniture) -> Document {
    let issue = furniture.issue;
    let sealing = issue.seal.as_ref().map(|seal| Sealing {
        key: seal.key.clone(),
        address: seal.address.clone(),
        kind: if issue.notice_pages.is_some() { PageKind::Notice } else { PageKind::Pack },
        number: issue.notice_pages.map_or_else(
            || issue.pack_number.clone(),
            |pages| crate::seal::notice_number(pages.notice, pages.beside, pages.told),
        ),
        design: seal.design_id.clone(),
        revision: issue.revision.clone(),
        kit: issue.kit.clone(),
        area: furniture.code_area(),
    });
    Document {
        title: String::new(),
        author: issue.supplier.clone(),
        subject: furniture.words.document.subject(&issue.kit, &issue.pack_number, &issue.design_sha256),
        date: issue.date.clone(),
        room: issue.print.room(),
        stretch: issue.print.stretch(),
        pages: Vec::new(),
        outline: Vec::new(),
        sealing,
    }
}

fn document_title(furniture: Furniture) -> String {
    let (issue, say) = (furniture.issue, &furniture.words.document);
    match issue.status {
        Status::Draft => say.title_of_draft(&issue.design),
        Status::Issued => say.title(&issue.design, &issue.revision),
    }
}
