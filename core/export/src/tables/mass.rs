//! Mass, centre of gravity, surface and welds.

use super::Listed;
use crate::facts::Subject;
use crate::table::Table;
use crate::words::{EN, Words};

const COLUMNS: [&str; 3] = ["figure", "value", "unit"];

const WELDS: [&str; 5] = ["member", "part_number", "end", "welded_to", "length:mm"];

pub(super) const LISTED: Listed =
    Listed { name: "mass", about: Words::about_mass, is_there: |sheets| !sheets.cut_sheet.rows.is_empty(), table };

pub(super) const WELDS_LISTED: Listed = Listed {
    name: "welds",
    about: Words::about_welds,
    is_there: |sheets| !sheets.mass.joints.is_empty(),
    table: welds,
};

/// One row a figure of the whole frame.
fn table(subject: &Subject) -> Table {
    let mass = &subject.sheets.mass;
    let [x, y, z] = mass.centre_of_gravity;
    let mut table = Table::new(&LISTED, &COLUMNS);
    for (figure, value, unit) in [
        (EN.mass_without_weld(), mass.mass_kg, "kg"),
        (EN.centre_forward(), x, "mm"),
        (EN.centre_left(), y, "mm"),
        (EN.centre_up(), z, "mm"),
        (EN.surface_to_paint(), mass.painted_m2, "m2"),
        (EN.length_of_welds(), mass.weld_length, "mm"),
    ] {
        table.push([figure.into(), value.into(), unit.into()]);
    }
    table
}

/// One row a weld.
fn welds(subject: &Subject) -> Table {
    let mut table = Table::new(&WELDS_LISTED, &WELDS);
    for joint in &subject.sheets.mass.joints {
        table.push([
            joint.member.as_str().into(),
            subject.number(&joint.member).into(),
            (joint.end.position() + 1).into(),
            joint.to.join(" ").into(),
            joint.weld_length.into(),
        ]);
    }
    table
}
