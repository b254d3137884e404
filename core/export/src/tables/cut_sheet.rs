//! The cut sheet: one row a member.

use super::Listed;
use crate::facts::Subject;
use crate::table::{Table, Value};
use crate::words::Words;
use matchmark_core::sheets::{CutRow, EndSummary};

const COLUMNS: [&str; 25] = [
    "member",
    "part_number",
    "hand",
    "section",
    "size",
    "material",
    "overall:mm",
    "centreline:mm",
    "short:mm",
    "blank:mm",
    "left_long_end_1:mm",
    "left_long_end_2:mm",
    "end_1_cut",
    "end_1_fits",
    "end_1_mitre:deg",
    "end_1_long_point:deg",
    "end_2_cut",
    "end_2_fits",
    "end_2_mitre:deg",
    "end_2_long_point:deg",
    "clock_between_ends:deg",
    "bends",
    "mass:kg",
    "is_there_already",
    "wraps",
];

pub(super) const LISTED: Listed = Listed {
    name: "cut-sheet",
    about: Words::about_cut_sheet,
    is_there: |sheets| !sheets.cut_sheet.rows.is_empty(),
    table,
};

fn table(subject: &Subject) -> Table {
    let mut table = Table::new(&LISTED, &COLUMNS);
    for row in &subject.sheets.cut_sheet.rows {
        table.push(cells(subject, row));
    }
    table
}

fn cells(subject: &Subject, row: &CutRow) -> Vec<Value> {
    let wraps = subject.sheets.wraps.iter().filter(|wrap| wrap.member == row.member).count();
    let mut cells: Vec<Value> = vec![
        row.member.as_str().into(),
        row.part_number.as_str().into(),
        subject.hand(&row.member).into(),
        row.section.as_str().into(),
        row.size.to_string().into(),
        row.material.as_str().into(),
        row.overall.into(),
        row.centreline.into(),
        row.short.into(),
        row.blank.into(),
        row.leave_long[0].into(),
        row.leave_long[1].into(),
    ];
    cells.extend([&row.from, &row.to].into_iter().flat_map(end));
    cells.extend([
        row.clock_between_ends_deg.map(|angle| angle.rem_euclid(360.0)).into(),
        row.bends.into(),
        row.mass_kg.into(),
        subject.sheets.stands(&row.member).into(),
        wraps.into(),
    ]);
    cells
}

fn end(end: &EndSummary) -> [Value; 4] {
    [end.cut.word().into(), end.fits.join(" ").into(), end.mitre_deg.into(), end.long_point_deg.into()]
}
