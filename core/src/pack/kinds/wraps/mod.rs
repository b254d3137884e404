//! Wraps at true scale: small ones share a page; others stand alone, upright or turned by a quarter; the largest are tiled.

mod diagram;
mod names;
mod shared;
pub(in crate::pack) mod side;
mod strip;
mod words;

use super::changes::Scope;
use super::pairs::mirror_image;
use crate::Stopped;
use crate::drawing::{Area, Drawing, Lettering, Placement, Turn, Weight};
use crate::pack::layout::check_bar;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::break_lines;
use crate::pack::layout::templates::Templates;
use crate::pack::layout::tiles;
use crate::pack::layout::trimmed::Trimmed;
use crate::pack::{Content, OnPage, RenderError};
use crate::sheets::{CutRow, Sheets, Wrap};
use rayon::prelude::*;
use shared::{Block, Group};
use strip::Strip;
use words::{Wording, facts, legend, list, what};

/// Height of the row at the foot of the page that holds the bar across, mm.
const FOOT: f64 = 9.0;
/// Width of the column at the side that holds the upright bar, mm.
const SIDE: f64 = 9.0;
/// Least width of the column of figures beside a turned wrap, mm.
const LEAST_COLUMN: f64 = 40.0;
/// Between the parts of the page, mm.
const GAP: f64 = 4.0;

/// The wraps: small ones share a page, others have one of their own, and what is larger than the paper is cut into tiles.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let scope = Scope::of(furniture.issue);
    let shown: Vec<Wrap> = sheets.wraps.iter().filter(|wrap| scope.shows(&wrap.member)).cloned().collect();
    laid_out(sheets, &shown, furniture)
}

/// The pages of some wraps, without those of a hand that the pack leaves out.
pub(in crate::pack) fn laid_out(
    sheets: &Sheets,
    wraps: &[Wrap],
    furniture: Furniture,
) -> Result<Vec<Content>, RenderError> {
    let laid = wraps
        .par_iter()
        .filter(|wrap| furniture.issue.print.hands.shows(&wrap.member))
        .map(|wrap| furniture.stop.check().map(|()| Laid::of(Subject::of(sheets, wrap), furniture)))
        .collect::<Result<_, Stopped>>()?;
    let pages: Vec<Vec<Content>> = shared::groups(laid, furniture)
        .into_par_iter()
        .map(|group| {
            furniture.stop.check()?;
            match group {
                Group::Alone(one) => one.alone(furniture),
                Group::Rows(several) => Ok(vec![shared::page(several, furniture)]),
                Group::SideBySide(two) => Ok(vec![shared::side_by_side(*two, furniture)]),
            }
        })
        .collect::<Result<_, RenderError>>()?;
    Ok(pages.into_iter().flatten().collect())
}

/// A wrap and what its page says of the rest of its part.
#[derive(Clone, Copy)]
pub(in crate::pack) struct Subject<'a> {
    wrap: &'a Wrap,
    row: Option<&'a CutRow>,
    /// The wrap of the other end; `None` when that is square.
    other: Option<&'a Wrap>,
    /// The part's mirror image, and its number, where the two must not be swapped.
    opposite: Option<(&'a str, &'a str)>,
    /// When it is cut, where this end is left long.
    trimmed: Option<Trimmed>,
}

impl<'a> Subject<'a> {
    /// A wrap among the sheets that it belongs to; sheets that know nothing of it will do.
    pub(in crate::pack) fn of(sheets: &'a Sheets, wrap: &'a Wrap) -> Self {
        let rows = &sheets.cut_sheet.rows;
        let wraps = &sheets.wraps;
        Self {
            wrap,
            row: rows.iter().find(|row| row.member == wrap.member),
            other: wraps.iter().find(|other| other.member == wrap.member && other.end != wrap.end),
            opposite: mirror_image(sheets, &wrap.member),
            trimmed: Trimmed::of(sheets, &wrap.member, wrap.end),
        }
    }
}

/// A wrap as it is laid out before its page is known.
struct Laid<'a> {
    subject: Subject<'a>,
    strip: Strip,
    /// For a page with others; `None` when it needs all of a page.
    block: Option<Block>,
    /// For half the width of a page that holds but one column of blocks; `None` when it is too wide for that.
    half: Option<Block>,
}

impl<'a> Laid<'a> {
    fn of(subject: Subject<'a>, furniture: Furniture) -> Self {
        let strip = strip::draw(subject, f64::INFINITY, furniture);
        let half = shared::half(subject, &strip, furniture);
        Self { block: shared::block(subject, &strip, furniture), half, subject, strip }
    }

    /// Pages of its own.
    fn alone(self, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
        match around(self.subject, self.strip, furniture) {
            Ok(drawing) => Ok(vec![Content {
                is_template: true,
                ..Content::new(vec![on_page(self.subject.wrap, furniture)], drawing)
            }]),
            Err(RenderError::WrapTooLarge { .. }) => tiled(self.subject, furniture),
            Err(other) => Err(other),
        }
    }
}

/// A page for each tile of a strip that is larger than the paper.
fn tiled(subject: Subject, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let wrap = subject.wrap;
    let mut templates = Templates::new(furniture, &title(wrap, furniture));
    let facts = [vec![furniture.words.tiles.how().to_owned()], facts(subject, Wording::Full, furniture)].concat();
    let room = templates.room(&title(wrap, furniture), &facts[..1]);
    // All words within the first tile, so that none runs over a join.
    let strip = strip::draw(subject, room[0] - tiles::UNDER, furniture);
    let size = furniture.figures().size(wrap.size);
    let what = furniture.words.wrap.what(furniture.figures().cut_and_fits(wrap.cut, &wrap.fits), size);
    templates.begin(on_page(wrap, furniture), &what, &facts, 0.0);
    let name = title(wrap, furniture);
    let size = [strip.width, strip.height];
    let whose = furniture.whose();
    let whole = tiles::Whole { drawing: &strip.drawing, size, name: &name, whose: &whose, keep_whole: &strip.holes };
    tiles::place(
        whole.cut(room, furniture.letters, &furniture.words.tiles).ok_or_else(|| too_large(wrap, size))?,
        &mut templates,
        &furniture.words.tiles,
    );
    Ok(templates.finish())
}

fn too_large(wrap: &Wrap, [width, height]: [f64; 2]) -> RenderError {
    RenderError::WrapTooLarge { member: wrap.member.clone(), end: wrap.end.position() + 1, width, height }
}

/// What a wrap's page is called.
pub(in crate::pack) fn title(wrap: &Wrap, furniture: Furniture) -> String {
    furniture.wrap_name(&wrap.member, wrap.end)
}

/// What it is on its page.
fn on_page(wrap: &Wrap, furniture: Furniture) -> OnPage {
    furniture.wrap_on_page(&wrap.member, wrap.end)
}

/// The content of a wrap's page.
pub(in crate::pack) fn page(subject: Subject, furniture: Furniture) -> Result<Drawing, RenderError> {
    around(subject, strip::draw(subject, f64::INFINITY, furniture), furniture)
}

/// The content of a page round a wrap's strip.
fn around(subject: Subject, strip: Strip, furniture: Furniture) -> Result<Drawing, RenderError> {
    let area = furniture.content_area();
    let facts = facts(subject, Wording::Full, furniture);
    let size = [strip.width, strip.height];
    let (mut page, placement) = upright(subject, size, &facts, furniture, area)
        .or_else(|| turned(subject, size, &facts, furniture, area))
        .ok_or_else(|| too_large(subject.wrap, size))?;
    page.place(strip.drawing, placement);
    Ok(page)
}

/// A page round a wrap's strip, and where that goes on it.
type Round = (Drawing, Placement);

/// Figures above, strip below them across the page.
fn upright(subject: Subject, strip: [f64; 2], facts: &[String], furniture: Furniture, area: Area) -> Option<Round> {
    let wrap = subject.wrap;
    let [width, tall] = strip;
    if width + SIDE + GAP > area.width {
        return None;
    }
    let diagram_width = diagram::WIDTH + diagram::CLOCK + GAP;
    let column = Area { width: area.width - diagram_width - GAP, ..area };
    let (mut drawing, below) = heading(wrap, area, furniture);
    let facts_foot = list(&mut drawing, facts, column, below, Lettering::Body, furniture);
    let beside = [area.right() - diagram_width, below - diagram::HEIGHT];
    drawing.append(diagram::lengths(subject, furniture.figures(), beside));
    drawing.append(diagram::clock(wrap, &furniture.words.wrap_diagram, [area.right() - diagram::CLOCK, beside[1]]));
    let room_top = facts_foot.min(beside[1]) - GAP;
    let legend_area = Area { width: area.width - SIDE - GAP, ..area };
    let (legend, legend_height) = legend(wrap, legend_area, furniture);
    let room = room_top - (area.y + FOOT);
    // A tall strip takes the legend's place: what the lines mean also stands on the page on reading a wrap.
    let with_legend = tall + GAP + legend_height <= room;
    let height = tall + if with_legend { GAP + legend_height } else { 0.0 };
    if height > room {
        return None;
    }
    let top = room_top - (room - height) / 2.0;
    if with_legend {
        drawing.place(legend, Placement { at: [area.x, top - tall - GAP], turn: Turn::None });
    }
    // The bar up the side must stay clear of the diagrams above it.
    let bar_top = area.y + 2.0 + check_bar::LENGTH;
    if bar_top + 2.0 > beside[1] {
        return None;
    }
    drawing.append(check_bar::both(area, furniture));
    Some((drawing, Placement { at: [area.x, top - tall], turn: Turn::None }))
}

/// Strip turned to stand along the right side, figures to its left.
fn turned(subject: Subject, strip: [f64; 2], facts: &[String], furniture: Furniture, area: Area) -> Option<Round> {
    let wrap = subject.wrap;
    let [width, tall] = strip;
    let column = Area { width: area.width - tall - GAP - SIDE, ..area };
    if column.width < LEAST_COLUMN || width + FOOT + 1.0 > area.height {
        return None;
    }
    let (mut drawing, below) = heading(wrap, column, furniture);
    let mut foot = list(&mut drawing, facts, column, below, Lettering::Body, furniture) - GAP;
    let lowest = area.y + FOOT;
    if foot < lowest {
        return None;
    }
    // Diagrams and legend only repeat what the figures and the page on reading a wrap say: they give way.
    if column.width >= diagram::WIDTH + GAP && foot - 2.0 * diagram::HEIGHT >= lowest {
        foot -= diagram::HEIGHT;
        drawing.append(diagram::lengths(subject, furniture.figures(), [column.x, foot]));
        foot -= diagram::HEIGHT;
        drawing.append(diagram::clock(wrap, &furniture.words.wrap_diagram, [column.x + GAP, foot]));
        foot -= GAP;
    }
    let (legend, legend_height) = legend(wrap, column, furniture);
    if foot - legend_height >= lowest {
        drawing.place(legend, Placement { at: [column.x, foot], turn: Turn::None });
    }
    drawing.append(check_bar::upright([column.right() + SIDE - 2.0, area.y + FOOT + 2.0], furniture));
    drawing.append(check_bar::foot(area, furniture));
    Some((drawing, Placement { at: [area.right(), area.y + FOOT], turn: Turn::Quarter }))
}

/// Mark and end in large letters; returns where the free space below begins.
fn heading(wrap: &Wrap, area: Area, furniture: Furniture) -> (Drawing, f64) {
    let mut flow = Flow::new(furniture, area, &title(wrap, furniture));
    for line in break_lines(furniture.letters, &what(wrap, furniture), Lettering::Heading, Weight::Regular, area.width)
    {
        flow.line(&line, area.x, Lettering::Heading, Weight::Regular);
    }
    let below = flow.top() - 2.0;
    (flow.finish().pop().unwrap_or_default(), below)
}
