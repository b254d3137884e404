//! Wraps at true scale: small ones share a page; others stand alone, upright or turned by a quarter; the largest are tiled.

mod diagram;
mod names;
mod side;
mod strip;
mod tiles;

use super::check_bar;
use super::figures::{clock, cut_and_fits, datum, end_name, other_end};
use super::flow::{Flow, break_lines};
use super::furniture::Furniture;
use super::templates::Templates;
use super::{Content, RenderError};
use crate::drawing::{Area, Drawing, Face, Lettering, Pen, Placement, Text, Turn};
use crate::sheets::{CutRow, End, Sheets, Wrap};
use rayon::prelude::*;
use strip::Strip;

/// Height of the row at the foot of the page that holds the bar across, mm.
const FOOT: f64 = 9.0;
/// Width of the column at the side that holds the upright bar, mm.
const SIDE: f64 = 9.0;
/// Least width of the column of figures beside a turned wrap, mm.
const LEAST_COLUMN: f64 = 40.0;
/// Between the parts of the page, mm.
const GAP: f64 = 4.0;

/// Between two wraps on one page, mm.
const APART: f64 = 6.0;
/// Least width of a column of wraps, mm.
const COLUMN: f64 = 170.0;

/// The wraps: small ones share a page, others have one of their own, and what is larger than the paper is cut into tiles.
pub(super) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let made: Vec<Made> = sheets
        .wraps
        .par_iter()
        .map(|wrap| Made::of(Subject::of(sheets, wrap), furniture))
        .collect::<Result<_, RenderError>>()?;
    let mut contents = Vec::new();
    let mut shared: Vec<(Made, Block)> = Vec::new();
    let mut grid = Grid::new(furniture);
    for mut made in made {
        match made.block.take() {
            Some(block) => {
                if !grid.take(block.height) {
                    contents.extend(shared_page(std::mem::take(&mut shared), furniture));
                    grid = Grid::new(furniture);
                    grid.take(block.height);
                }
                shared.push((made, block));
            }
            None => {
                contents.extend(shared_page(std::mem::take(&mut shared), furniture));
                grid = Grid::new(furniture);
                contents.extend(made.alone);
            }
        }
    }
    contents.extend(shared_page(shared, furniture));
    Ok(contents)
}

/// A wrap and what its page says of the rest of its part.
#[derive(Clone, Copy)]
pub(super) struct Subject<'a> {
    wrap: &'a Wrap,
    row: Option<&'a CutRow>,
    /// The wrap of the other end; `None` when that is square.
    other: Option<&'a Wrap>,
}

impl<'a> Subject<'a> {
    /// A wrap among the sheets that it belongs to; sheets that know nothing of it will do.
    pub(super) fn of(sheets: &'a Sheets, wrap: &'a Wrap) -> Self {
        let rows = &sheets.cut_sheet.rows;
        let wraps = &sheets.wraps;
        Self {
            wrap,
            row: rows.iter().find(|row| row.member == wrap.member),
            other: wraps.iter().find(|other| other.member == wrap.member && other.end != wrap.end),
        }
    }
}

/// A wrap as it may be printed.
struct Made {
    title: String,
    /// Its own pages.
    alone: Vec<Content>,
    /// For a page with others; `None` when it needs all of a page.
    block: Option<Block>,
}

/// A wrap with its figures, hanging down from its upper left corner.
struct Block {
    drawing: Drawing,
    height: f64,
}

impl Made {
    fn of(subject: Subject, furniture: Furniture) -> Result<Self, RenderError> {
        let wrap = subject.wrap;
        let alone = match page(subject, furniture) {
            Ok(drawing) => vec![Content { is_template: true, ..Content::new(vec![title(wrap)], drawing) }],
            Err(RenderError::WrapTooLarge { .. }) => tiled(subject, furniture)?,
            Err(other) => return Err(other),
        };
        Ok(Self { title: title(wrap), alone, block: block(subject, furniture) })
    }
}

/// Places for blocks on a page: columns, each filled from the top.
struct Grid {
    columns: usize,
    room: f64,
    column: usize,
    used: f64,
}

impl Grid {
    fn new(furniture: Furniture) -> Self {
        let area = block_area(furniture);
        let columns = std::iter::successors(Some(1_usize), |count| Some(count + 1))
            .take_while(|count| *count == 1 || column_width(area, *count) >= COLUMN)
            .last()
            .unwrap_or(1);
        Self { columns, room: area.height, column: 0, used: 0.0 }
    }

    /// Whether a block of this height still finds a place; takes it.
    fn take(&mut self, height: f64) -> bool {
        if self.used > 0.0 && self.used + APART + height > self.room {
            if self.column + 1 == self.columns {
                return false;
            }
            self.column += 1;
            self.used = 0.0;
        }
        self.used += if self.used > 0.0 { APART + height } else { height };
        true
    }

    /// Corner of the block taken last, from the upper left of the page's room.
    fn corner(&self, height: f64, area: Area) -> [f64; 2] {
        #[allow(clippy::cast_precision_loss)]
        let x = area.x + self.column as f64 * (column_width(area, self.columns) + GAP);
        [x, area.top() - (self.used - height)]
    }
}

#[allow(clippy::cast_precision_loss)]
fn column_width(area: Area, columns: usize) -> f64 {
    (area.width - GAP * (columns - 1) as f64) / columns as f64
}

/// Where blocks stand: beside the upright bar and above the level one.
fn block_area(furniture: Furniture) -> Area {
    let area = furniture.content_area();
    Area { y: area.y + FOOT, width: area.width - SIDE - GAP, height: area.height - FOOT, ..area }
}

/// The page of the blocks gathered; one alone has a page laid out for itself.
fn shared_page(gathered: Vec<(Made, Block)>, furniture: Furniture) -> Vec<Content> {
    if gathered.len() < 2 {
        return gathered.into_iter().flat_map(|(made, _)| made.alone).collect();
    }
    let (page, area) = (furniture.content_area(), block_area(furniture));
    let mut grid = Grid::new(furniture);
    let mut drawing = Drawing::default();
    let mut bookmarks = Vec::new();
    for (made, block) in gathered {
        grid.take(block.height);
        let at = grid.corner(block.height, area);
        if grid.used > block.height {
            let y = at[1] + APART / 2.0;
            drawing.line([at[0], y], [at[0] + column_width(area, grid.columns), y], Pen::Edge);
        }
        drawing.place(&block.drawing, Placement { at, turn: Turn::None });
        bookmarks.push(made.title);
    }
    drawing.append(check_bar::upright([page.right() - 2.0, page.y + 2.0], furniture.issue.print.units));
    drawing.append(check_bar::across([page.x, page.y + 2.0], furniture.issue.print.units));
    vec![Content { is_template: true, ..Content::new(bookmarks, drawing) }]
}

/// Figures and diagrams above, strip below them, in one column; `None` when the strip is wider or the whole higher than a page.
fn block(subject: Subject, furniture: Furniture) -> Option<Block> {
    let wrap = subject.wrap;
    let grid = Grid::new(furniture);
    let area = block_area(furniture);
    let width = column_width(area, grid.columns);
    let strip = strip::draw(wrap, f64::INFINITY, furniture);
    if strip.width > width {
        return None;
    }
    // Drawn with its upper edge at nought.
    let column = Area { x: 0.0, y: -area.height, width, height: area.height };
    let (mut drawing, below) = small_heading(wrap, column, furniture);
    let diagram_width = diagram::WIDTH + diagram::CLOCK + GAP;
    let facts_area = Area { width: width - diagram_width - GAP, ..column };
    let facts_foot = list(&mut drawing, &facts(subject, furniture), facts_area, below, Lettering::Small, furniture);
    let beside = [width - diagram_width, below - diagram::HEIGHT];
    drawing.append(diagram::lengths(subject, furniture.figures(), beside));
    drawing.append(diagram::clock(wrap, [width - diagram::CLOCK, beside[1]]));
    let foot = facts_foot.min(beside[1]) - GAP - strip.height;
    drawing.place(&strip.drawing, Placement { at: [0.0, foot], turn: Turn::None });
    (-foot <= area.height).then_some(Block { drawing, height: -foot })
}

/// A page for each tile of a strip that is larger than the paper.
fn tiled(subject: Subject, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let wrap = subject.wrap;
    let all = facts(subject, furniture);
    let mut sheets = Templates::new(furniture, &title(wrap));
    let words = "This wrap is larger than the paper and comes in tiles, named by column and row from the lower left. Cut each tile out along its upper and right-hand edge, lay the join lines on each other, cross on cross, and glue. Check the distance between the outer edges of the whole wrap before you use it.";
    let mut facts = vec![words.to_owned()];
    facts.extend(all);
    let room = sheets.room(&title(wrap), &facts[..1]);
    // All words within the first tile, so that none runs over a join.
    let strip = strip::draw(wrap, room[0] - tiles::UNDER, furniture);
    let tiles = tiles::tiles(&strip, room, furniture.letters).ok_or_else(|| RenderError::WrapTooLarge {
        member: wrap.member.clone(),
        end: end_name(wrap.end).to_owned(),
        width: strip.width,
        height: strip.height,
    })?;
    sheets.begin(
        &title(wrap),
        &format!("{}, section {}", cut_and_fits(&wrap.cut, &wrap.fits), furniture.figures().size(&wrap.size)),
        &facts,
        0.0,
    );
    let count = tiles.len();
    for (index, tile) in tiles.into_iter().enumerate() {
        let heading = format!("Tile {}, {} of {count}", tile.name, index + 1);
        sheets.continue_with(&heading, tile.height);
        sheets.place(&tile.drawing, tile.height);
    }
    Ok(sheets.finish())
}

/// What a wrap's page is called.
pub(super) fn title(wrap: &Wrap) -> String {
    format!("Wrap {}, {} end", wrap.member, end_name(wrap.end))
}

/// The content of a wrap's page.
pub(super) fn page(subject: Subject, furniture: Furniture) -> Result<Drawing, RenderError> {
    let wrap = subject.wrap;
    let area = furniture.content_area();
    let strip = strip::draw(wrap, f64::INFINITY, furniture);
    let facts = facts(subject, furniture);
    if let Some(drawing) = upright(subject, &strip, &facts, furniture, area) {
        return Ok(drawing);
    }
    turned(subject, &strip, &facts, furniture, area).ok_or_else(|| RenderError::WrapTooLarge {
        member: wrap.member.clone(),
        end: end_name(wrap.end).to_owned(),
        width: strip.width,
        height: strip.height,
    })
}

/// Figures above, strip below them across the page.
fn upright(subject: Subject, strip: &Strip, facts: &[String], furniture: Furniture, area: Area) -> Option<Drawing> {
    let wrap = subject.wrap;
    if strip.width + SIDE + GAP > area.width {
        return None;
    }
    let diagram_width = diagram::WIDTH + diagram::CLOCK + GAP;
    let column = Area { width: area.width - diagram_width - GAP, ..area };
    let (mut drawing, below) = heading(wrap, area, furniture);
    let facts_foot = list(&mut drawing, facts, column, below, Lettering::Body, furniture);
    let beside = [area.right() - diagram_width, below - diagram::HEIGHT];
    drawing.append(diagram::lengths(subject, furniture.figures(), beside));
    drawing.append(diagram::clock(wrap, [area.right() - diagram::CLOCK, beside[1]]));
    let room_top = facts_foot.min(beside[1]) - GAP;
    let legend_area = Area { width: area.width - SIDE - GAP, ..area };
    let (legend, legend_height) = legend(wrap, legend_area, furniture);
    let room = room_top - (area.y + FOOT);
    // A tall strip takes the legend's place: what the lines mean also stands on the page on reading a wrap.
    let with_legend = strip.height + GAP + legend_height <= room;
    let height = strip.height + if with_legend { GAP + legend_height } else { 0.0 };
    if height > room {
        return None;
    }
    let top = room_top - (room - height) / 2.0;
    drawing.place(&strip.drawing, Placement { at: [area.x, top - strip.height], turn: Turn::None });
    if with_legend {
        drawing.place(&legend, Placement { at: [area.x, top - strip.height - GAP], turn: Turn::None });
    }
    // The bar up the side must stay clear of the diagrams above it.
    let bar_top = area.y + 2.0 + check_bar::LENGTH;
    if bar_top + 2.0 > beside[1] {
        return None;
    }
    drawing.append(check_bar::upright([area.right() - 2.0, area.y + 2.0], furniture.issue.print.units));
    drawing.append(check_bar::across([area.x, area.y + 2.0], furniture.issue.print.units));
    Some(drawing)
}

/// Strip turned to stand along the right side, figures to its left.
fn turned(subject: Subject, strip: &Strip, facts: &[String], furniture: Furniture, area: Area) -> Option<Drawing> {
    let wrap = subject.wrap;
    let column = Area { width: area.width - strip.height - GAP - SIDE, ..area };
    if column.width < LEAST_COLUMN || strip.width + FOOT + 1.0 > area.height {
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
        drawing.append(diagram::clock(wrap, [column.x + GAP, foot]));
        foot -= GAP;
    }
    let (legend, legend_height) = legend(wrap, column, furniture);
    if foot - legend_height >= lowest {
        drawing.place(&legend, Placement { at: [column.x, foot], turn: Turn::None });
    }
    drawing.place(&strip.drawing, Placement { at: [area.right(), area.y + FOOT], turn: Turn::Quarter });
    drawing.append(check_bar::upright([column.right() + SIDE - 2.0, area.y + FOOT + 2.0], furniture.issue.print.units));
    drawing.append(check_bar::across([area.x, area.y + 2.0], furniture.issue.print.units));
    Some(drawing)
}

/// Mark and end in large letters; returns where the free space below begins.
fn heading(wrap: &Wrap, area: Area, furniture: Furniture) -> (Drawing, f64) {
    let mut flow = Flow::new(furniture, area, &title(wrap));
    for line in break_lines(furniture.letters, &what(wrap, furniture), Lettering::Heading, Face::Regular, area.width) {
        flow.line(&line, area.x, Lettering::Heading, Face::Regular);
    }
    let below = flow.top() - 2.0;
    (flow.finish().pop().unwrap_or_default(), below)
}

/// The same in smaller letters.
fn small_heading(wrap: &Wrap, area: Area, furniture: Furniture) -> (Drawing, f64) {
    let mut flow = Flow::new(furniture, area, "");
    for line in break_lines(furniture.letters, &title(wrap), Lettering::Heading, Face::Bold, area.width) {
        flow.line(&line, area.x, Lettering::Heading, Face::Bold);
    }
    for line in break_lines(furniture.letters, &what(wrap, furniture), Lettering::Body, Face::Regular, area.width) {
        flow.line(&line, area.x, Lettering::Body, Face::Regular);
    }
    let below = flow.top() - 1.5;
    (flow.finish().pop().unwrap_or_default(), below)
}

/// What a wrap fits to, its section and its part number.
fn what(wrap: &Wrap, furniture: Furniture) -> String {
    let mut line = format!("{}, section {}", cut_and_fits(&wrap.cut, &wrap.fits), furniture.figures().size(&wrap.size));
    if !wrap.part_number.is_empty() {
        line.push_str(&format!(", part number {}", wrap.part_number));
    }
    line
}

/// Writes the figures one below the other; returns where the free space below begins.
fn list(
    drawing: &mut Drawing,
    facts: &[String],
    column: Area,
    top: f64,
    lettering: Lettering,
    furniture: Furniture,
) -> f64 {
    let mut y = top;
    for fact in facts {
        for (index, line) in
            break_lines(furniture.letters, fact, lettering, Face::Regular, column.width - 3.0).iter().enumerate()
        {
            let indent = if index == 0 { 0.0 } else { 3.0 };
            let at = [column.x + indent, super::flow::baseline(y, lettering)];
            drawing.text(Text::new(line, at).lettered(lettering));
            y -= lettering.leading();
        }
        y -= 0.6;
    }
    y
}

fn facts(subject: Subject, furniture: Furniture) -> Vec<String> {
    let (wrap, row) = (subject.wrap, subject.row);
    let figures = furniture.figures();
    let paper = furniture.issue.print.paper_thickness;
    let square = wrap.other_long_point.is_none();
    let mut facts = vec![
        format!("set-out {} {}", figures.short_length(wrap.set_out.distance), datum(wrap.set_out, square)),
        format!("overall {}, long point to long point", figures.length(wrap.overall)),
    ];
    if let Some(degrees) = row.and_then(|row| row.clock_between_ends_deg) {
        facts.push(format!("clock {} from the from end's long point to the to end's", clock(degrees)));
    }
    if let Some(point) = wrap.long_point {
        facts.push(format!("long point of this cut at {}", clock(point.clock_deg)));
    }
    if let Some(point) = wrap.other_long_point {
        facts.push(format!("furthest point of the other end's cut at {}", clock(point.clock_deg)));
    }
    facts.push(format!("index line 0 deg: the side that faces {} in the frame", wrap.zero_faces));
    facts.push(match wrap.od {
        Some(od) => {
            format!("tube: outer diameter {}, wall {}", figures.fine_length(od), figures.fine_length(wrap.wall))
        }
        None => {
            let corner = diagram::corner_radius(&wrap.flats, wrap.circumference);
            format!("tube: {}, outer corner radius {}", figures.size(&wrap.size), figures.fine_length(corner))
        }
    });
    facts.push(format!(
        "circumference {}, printed width {} to the closure line (paper {} allowed for)",
        figures.fine_length(wrap.circumference),
        figures.fine_length(wrap.on_paper(wrap.circumference, paper)),
        figures.fine_length(paper)
    ));
    if wrap.largest_relief >= 0.05 {
        facts.push(format!("largest throat {}", figures.length(wrap.largest_relief)));
    }
    for hole in &wrap.holes {
        facts.push(format!(
            "hole {}: drill {} {}, centre {} above the base line",
            hole.hole,
            figures.fine(hole.diameter),
            figures.unit(),
            figures.length(hole.at[1])
        ));
    }
    for miss in &wrap.misses {
        facts.push(format!(
            "misses its target from {} to {}, by up to {}: no line is printed there, ask before cutting",
            clock(miss.from_deg),
            clock(miss.to_deg),
            figures.length(miss.by)
        ));
    }
    facts
}

/// What the kinds of lines mean: a drawing that hangs down from its origin, and its height.
fn legend(wrap: &Wrap, area: Area, furniture: Furniture) -> (Drawing, f64) {
    const SAMPLE: f64 = 12.0;
    let small = Lettering::Small;
    let mut entries = vec![(
        Some(Pen::Cut),
        if wrap.cut == "square" {
            "trim line: mark it and cut on it; it is the end of the finished part"
        } else {
            "outer line: mark it and cut on it; it is where the outside meets"
        },
    )];
    if strip::shows_relief(wrap) {
        entries.push((
            Some(Pen::Relief),
            "relief line: how far back a square cut must stand; between the lines grind from the inside only",
        ));
    }
    if wrap.long_point.is_some() || wrap.other_long_point.is_some() {
        entries
            .push((Some(Pen::Axis), "long point of this cut, and furthest point of the other end's cut, as lettered"));
    }
    entries.push((Some(Pen::Thin), "index lines: set each on the line of the tube with its number"));
    if !wrap.flats.is_empty() {
        entries.push((
            Some(Pen::Hidden),
            "fold lines: edges of the flat sides; between two of them the paper goes round a corner",
        ));
    }
    if !wrap.bevels.is_empty() {
        entries.push((None, "figures along the outer line: angle between the two surfaces, degrees"));
    }
    let mut drawing = Drawing::default();
    let mut y = 0.0;
    for (pen, words) in entries {
        if let Some(pen) = pen {
            drawing.line([0.0, y - 1.5], [SAMPLE - 2.0, y - 1.5], pen);
        } else {
            let at = [1.0, super::flow::baseline(y, small)];
            drawing.text(Text::new("90°", at).lettered(small));
        }
        for line in break_lines(furniture.letters, words, small, Face::Regular, area.width - SAMPLE) {
            let at = [SAMPLE, super::flow::baseline(y, small)];
            drawing.text(Text::new(line, at).lettered(small));
            y -= small.leading();
        }
        y -= 0.5;
    }
    (drawing, -y)
}

/// The end that the strip's arrow points to.
fn arrow_words(end: End) -> String {
    format!("to the other end ({} end)", end_name(other_end(end)))
}
