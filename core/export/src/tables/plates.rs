//! The plates, one row each.

use super::Listed;
use crate::facts::Subject;
use crate::table::{Table, Value};
use crate::words::Words;
use matchmark_core::sheets::Facing;

const COLUMNS: [&str; 17] = [
    "plate",
    "part_number",
    "hand",
    "material",
    "thickness:mm",
    "width:mm",
    "height:mm",
    "holes",
    "on_member",
    "along_member:mm",
    "clock:deg",
    "face_shown_faces",
    "x:mm",
    "y:mm",
    "z:mm",
    "mass:kg",
    "note",
];

pub(super) const LISTED: Listed =
    Listed { name: "plates", about: Words::about_plates, is_there: |sheets| !sheets.plates.is_empty(), table };

fn table(subject: &Subject) -> Table {
    let mut table = Table::new(&LISTED, &COLUMNS);
    for plate in &subject.sheets.plates {
        let [x, y, z] = plate.at.map(Value::from);
        table.push([
            plate.plate.as_str().into(),
            plate.part_number.as_str().into(),
            subject.hand(&plate.plate).into(),
            plate.material.as_str().into(),
            plate.thickness.into(),
            plate.size[0].into(),
            plate.size[1].into(),
            plate.holes.len().into(),
            plate.on.as_deref().into(),
            plate.along_member.into(),
            plate.clock_deg.into(),
            facing(plate.faces[0]).into(),
            x,
            y,
            z,
            plate.mass_kg.into(),
            plate.note.as_str().into(),
        ]);
    }
    table
}

fn facing(facing: Facing) -> &'static str {
    match facing {
        Facing::Up => "up",
        Facing::Down => "down",
        Facing::Forward => "forward",
        Facing::Back => "back",
        Facing::Left => "left",
        Facing::Right => "right",
    }
}
