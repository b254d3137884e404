//! Strip templates for the holes of tubes, with both edges measured from one datum.

mod strip;
use super::drawings::plot::part_number;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::Column;
use crate::pack::layout::furniture::{Furniture, Piece};
use crate::pack::layout::templates::Templates;
use crate::pack::layout::trimmed::Trimmed;
use crate::pack::layout::{barred, tiles};
use crate::pack::{Content, RenderError};
use crate::sheets::{End, HoleStrip, Sheets, StripDatum};

fn columns() -> [Column; 6] {
    [
        Column::marks("hole", 0.18),
        Column::words("for", 0.25),
        Column::figures("drill, mm", 0.1),
        Column::figures("along the tube from the datum, mm", 0.17),
        Column::figures("clock", 0.14),
        Column::figures("round the tube from 0 deg, mm", 0.16),
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
    let mut templates = Templates::new(furniture, "Hole strips, true scale");
    for sheet in shown {
        let row = sheets.cut_sheet.rows.iter().find(|row| row.member == sheet.member);
        let number = part_number(sheets, &sheet.member);
        let piece = Piece::of_tube(number, row.map(|row| row.overall), furniture.figures());
        write(&mut templates, sheets, sheet, &piece, furniture);
    }
    Ok(templates.finish())
}

/// From where a strip's edges are measured.
fn datum(sheet: &HoleStrip) -> String {
    match sheet.datum {
        StripDatum::FromEnd => "the long point of the from end's cut".to_owned(),
        StripDatum::AfterBend { bend } => format!("the tangent mark where bend {bend} ends"),
    }
}

fn write(templates: &mut Templates, sheets: &Sheets, sheet: &HoleStrip, piece: &Piece, furniture: Furniture) {
    let title = match sheet.datum {
        StripDatum::FromEnd => format!("Holes {}", sheet.member),
        StripDatum::AfterBend { bend } => format!("Holes {} after bend {bend}", sheet.member),
    };
    let paper = furniture.issue.print.paper_thickness;
    let figures = furniture.figures();
    let long = Trimmed::of(sheets, &sheet.member, End::From).filter(|_| sheet.datum == StripDatum::FromEnd);
    let long = long.map(|long| format!("; {}", long.until(furniture)));
    let mut facts = barred::of_part(&sheet.member, furniture);
    facts.extend([
        format!("section {}; datum: {}{}", figures.size(sheet.size), datum(sheet), long.unwrap_or_default()),
        format!(
            "circumference {}, printed width {} to the closure line (paper {} allowed for)",
            figures.fine_length(sheet.circumference),
            figures.fine_length(sheet.on_paper(sheet.circumference, paper)),
            figures.fine_length(paper)
        ),
    ]);
    let rows: f64 = sheet.holes.iter().map(|_| ROW).sum();
    let table = HEAD + rows;
    let strip = strip::draw(sheet, piece, furniture);
    let [width, height] = templates.room(&title, &facts);
    let height = height - table;
    let upright = strip.width <= width && strip.height <= height;
    let turned = !upright && strip.height <= width && strip.width <= height;
    if upright || turned {
        let up = if upright { strip.height } else { strip.width };
        templates.begin(&title, &title, &facts, table + up);
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
        facts.push(format!("Glued together it is {} high from edge to edge.", figures.length(sheet.height)));
    }
    facts.push(
        "To mark by measure: scribe the index lines, measure along the tube from the datum, and round it from the line at 0 deg towards the one at 90 deg; check each against its clock angle."
            .to_owned(),
    );
    templates.begin(&title, &title, &facts, table);
    list(templates, sheet);
    tiles::place(tiles, templates, &furniture.words.tiles);
}

/// The table of holes.
fn list(templates: &mut Templates, sheet: &HoleStrip) {
    let flow = templates.flow();
    let figures = flow.figures();
    flow.start_table(&columns());
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

/// Where an edge goes, short enough for the strip itself.
fn edge_words(name: &str, distance: f64, sheet: &HoleStrip, figures: Figures) -> String {
    let from = match sheet.datum {
        StripDatum::FromEnd => "from the from end's long point".to_owned(),
        StripDatum::AfterBend { bend } => format!("from the end of bend {bend}"),
    };
    format!("{name} edge: {} {from}", figures.short_length(distance))
}
