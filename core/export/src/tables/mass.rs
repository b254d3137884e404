//! Mass, centre of gravity, surface and welds.

use super::Listed;
use crate::facts::Subject;
use crate::table::Table;

const COLUMNS: [&str; 3] = ["figure", "value", "unit"];

const WELDS: [&str; 5] = ["member", "part_number", "end", "welded_to", "length:mm"];

pub(super) const LISTED: Listed = Listed {
    name: "mass",
    about: "mass, centre of gravity, surface and welds of the whole frame",
    is_there: |sheets| !sheets.cut_sheet.rows.is_empty(),
    table: table,
};

pub(super) const WELDS_LISTED: Listed = Listed {
    name: "welds",
    about: "welds, one row an end",
    is_there: |sheets| !sheets.mass.joints.is_empty(),
    table: welds,
};

/// One row a figure of the whole frame.
fn table(subject: &Subject) -> Table {
    let mass = &subject.sheets.mass;
    let [x, y, z] = mass.centre_of_gravity;
    let mut table = Table::new(&LISTED, &COLUMNS);
    for (figure, value, unit) in [
        ("mass without weld", mass.mass_kg, "kg"),
        ("centre of gravity, forward", x, "mm"),
        ("centre of gravity, left", y, "mm"),
        ("centre of gravity, up", z, "mm"),
        ("surface to paint", mass.painted_m2, "m2"),
        ("length of all welds", mass.weld_length, "mm"),
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
