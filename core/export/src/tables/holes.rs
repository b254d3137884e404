//! Where the holes of all tubes and plates are, one row a hole in a wall.

use super::Listed;
use crate::facts::Subject;
use crate::table::{Table, Value};
use crate::words::{EN, Words};
use matchmark_core::sheets::StripDatum;

const COLUMNS: [&str; 12] = [
    "part",
    "part_number",
    "kind",
    "hole",
    "datum",
    "along:mm",
    "clock:deg",
    "x:mm",
    "y:mm",
    "diameter:mm",
    "countersink:mm",
    "note",
];

pub(super) const LISTED: Listed = Listed {
    name: "holes",
    about: Words::about_holes,
    is_there: |sheets| !sheets.strips.is_empty() || sheets.plates.iter().any(|plate| !plate.holes.is_empty()),
    table,
};

fn table(subject: &Subject) -> Table {
    let mut table = Table { conventions: EN.holes(), ..Table::new(&LISTED, &COLUMNS) };
    for strip in &subject.sheets.strips {
        let datum = match strip.datum {
            StripDatum::FromEnd => EN.furthest_of_end_1().to_owned(),
            StripDatum::AfterBend { bend } => EN.mark_of_bend_end(bend),
        };
        for hole in &strip.holes {
            table.push([
                strip.member.as_str().into(),
                subject.number(&strip.member).into(),
                "tube".into(),
                hole.hole.as_str().into(),
                datum.as_str().into(),
                hole.from_datum.into(),
                hole.clock_deg.into(),
                Value::Empty,
                Value::Empty,
                hole.diameter.into(),
                Value::Empty,
                hole.note.as_str().into(),
            ]);
        }
    }
    for plate in &subject.sheets.plates {
        for (number, hole) in plate.holes.iter().enumerate() {
            table.push([
                plate.plate.as_str().into(),
                plate.part_number.as_str().into(),
                "plate".into(),
                (number + 1).into(),
                Value::Empty,
                Value::Empty,
                Value::Empty,
                hole.at[0].into(),
                hole.at[1].into(),
                hole.diameter.into(),
                hole.countersink.into(),
                Value::Empty,
            ]);
        }
    }
    table
}
