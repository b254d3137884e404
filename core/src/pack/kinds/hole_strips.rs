//! Strip templates for the holes of tubes, with both edges measured from one datum.

mod strip;
use super::drawings::plot::part_number;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::Column;
use crate::pack::layout::furniture::{CutOut, Furniture};
use crate::pack::layout::templates::Templates;
use crate::pack::layout::trimmed::Trimmed;
use crate::pack::layout::{barred, tiles};
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::sheets::{End, HoleStrip, Sheets, StripDatum};

fn columns(figures: Figures) -> [Column; 6] {
    let (say, unit) = (&figures.words.hole_strips, figures.unit());
    [
        Column::marks(say.head_hole(), 0.18),
        Column::words(say.head_for(), 0.25),
        Column::figures(say.head_drill(unit), 0.1),
        Column::figures(say.head_along(unit), 0.17),
        Column::figures(say.head_clock(), 0.14),
        Column::figures(say.head_round(unit), 0.16),
    ]
}

/// Height of the head and of a row of the table of holes, mm; a row may take more where its words are long.
const HEAD: f64 = 11.0;
const ROW: f64 = 6.6;

/// The pages of the strips; none when no tube has holes.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let hands = furniture.issue.print.hands;
    let shown: Vec<&HoleStrip> = sheets.strips.iter().filter(|strip| hands.shows(&strip.member)).collect();
    if shown.is_empty() {
        return Ok(Vec::new());
    }
    let mut templates = Templates::new(furniture, furniture.words.kinds.hole_strips());
    for sheet in shown {
        let row = sheets.cut_sheet.rows.iter().find(|row| row.member == sheet.member);
        let number = part_number(sheets, &sheet.member);
        let piece = CutOut::of_tube(number, row.map(|row| row.overall), furniture.figures());
        write(&mut templates, sheets, sheet, &piece, furniture);
    }
    Ok(templates.finish())
}

fn write(templates: &mut Templates, sheets: &Sheets, sheet: &HoleStrip, piece: &CutOut, furniture: Furniture) {
    let say = &furniture.words.hole_strips;
    let (title, datum) = match sheet.datum {
        StripDatum::FromEnd => (say.title(&sheet.member), say.datum_long_point().to_owned()),
        StripDatum::AfterBend { bend } => (say.title_after(&sheet.member, bend), say.datum_bend(bend)),
    };
    let paper = furniture.issue.print.paper_thickness;
    let figures = furniture.figures();
    let long = Trimmed::of(sheets, &sheet.member, End::From).filter(|_| sheet.datum == StripDatum::FromEnd);
    let mut about = vec![say.section(figures.size(sheet.size)), datum];
    about.extend(long.map(|long| long.until(furniture)));
    let mut facts = barred::of_part(&sheet.member, furniture);
    facts.extend([
        about.join("; "),
        say.circumference(
            figures.fine_length(sheet.circumference),
            figures.fine_length(sheet.on_paper(sheet.circumference, paper)),
            figures.fine_length(paper),
        ),
    ]);
    facts.extend(long_points(sheets, &sheet.member, figures));
    let rows: f64 = sheet.holes.iter().map(|_| ROW).sum();
    let table = HEAD + rows;
    let strip = strip::draw(sheet, piece, furniture);
    let on = || OnPage::of_parts(SheetKind::HoleStrip, vec![sheet.member.clone()], title.as_str());
    let [width, height] = templates.room(&title, &facts);
    let height = height - table;
    let upright = strip.width <= width && strip.height <= height;
    let turned = !upright && strip.height <= width && strip.width <= height;
    if upright || turned {
        let up = if upright { strip.height } else { strip.width };
        templates.begin(on(), &title, &facts, table + up);
        list(templates, sheet);
        if upright {
            templates.place(strip.drawing, strip.height);
        } else {
            templates.place_turned(strip.drawing, strip.height, strip.width);
        }
        return;
    }
    let size = [strip.width, strip.height];
    let whose = furniture.whose();
    let whole = tiles::Whole { drawing: &strip.drawing, size, name: &title, whose: &whose, keep_whole: &strip.holes };
    let tiles = whole.cut(templates.room(&title, &[]), furniture.letters, &furniture.words.tiles);
    let tiles = tiles.filter(|tiles| tiles.len() <= tiles::MOST).unwrap_or_default();
    if !tiles.is_empty() {
        facts.push(furniture.words.tiles.how().to_owned());
        facts.push(say.glued(figures.length(sheet.height)));
    }
    facts.push(say.by_measure().to_owned());
    templates.begin(on(), &title, &facts, table);
    list(templates, sheet);
    tiles::place(tiles, templates, &furniture.words.tiles);
}

/// Where the long points of both cuts lie on the strip: a tube that may go in several places may have the index lines of another.
fn long_points(sheets: &Sheets, member: &str, figures: Figures) -> Option<String> {
    let say = &figures.words.hole_strips;
    let clock = |end: End| {
        let wrap = sheets.wraps.iter().find(|wrap| wrap.member == member && wrap.end == end)?;
        Some(figures.clock(wrap.long_point?.clock_deg))
    };
    match [End::From, End::To].map(clock) {
        [Some(first), Some(second)] => Some(say.long_points(first, second)),
        [Some(first), None] => Some(say.long_point(figures.end(End::From), first)),
        [None, Some(second)] => Some(say.long_point(figures.end(End::To), second)),
        [None, None] => None,
    }
}

/// The table of holes.
fn list(templates: &mut Templates, sheet: &HoleStrip) {
    let flow = templates.flow();
    let figures = flow.figures();
    flow.start_table(&columns(figures));
    for hole in &sheet.holes {
        flow.row(
            &[
                hole.hole.clone(),
                hole.note.replace(['\n', '\r', '\t'], " "),
                figures.fine(hole.diameter),
                figures.bare(hole.from_datum),
                figures.clock(hole.clock_deg),
                figures.bare(hole.at[0]),
            ],
            "",
        );
    }
    flow.end_table();
}

/// Where the lower and the upper edge go, short enough for the strip itself.
fn edge_words(sheet: &HoleStrip, figures: Figures) -> [String; 2] {
    let say = &figures.words.hole_strips;
    let [lower, upper] = [sheet.lower, sheet.upper].map(|mm| figures.short_length(mm));
    match sheet.datum {
        StripDatum::FromEnd => [say.lower_edge(lower), say.upper_edge(upper)],
        StripDatum::AfterBend { bend } => [say.lower_edge_after(lower, bend), say.upper_edge_after(upper, bend)],
    }
}
