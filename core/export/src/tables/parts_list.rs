//! The parts list: one row a part number.

use super::Listed;
use crate::facts::Subject;
use crate::table::Table;
use crate::words::Words;
use matchmark_core::part::PartKind;

const COLUMNS: [&str; 10] =
    ["part_number", "kind", "quantity", "marks", "hand", "size", "material", "blank:mm", "bends", "mass_each:kg"];

pub(super) const LISTED: Listed =
    Listed { name: "parts-list", about: Words::about_parts_list, is_there: |sheets| !sheets.parts.is_empty(), table };

fn table(subject: &Subject) -> Table {
    let mut table = Table::new(&LISTED, &COLUMNS);
    for row in &subject.sheets.parts {
        let kind = match row.kind {
            PartKind::Tube => "tube",
            PartKind::Plate => "plate",
        };
        let hand = row.members.first().map(|member| subject.hand(member));
        table.push([
            row.number.as_str().into(),
            kind.into(),
            row.quantity.into(),
            row.members.join(" ").into(),
            hand.into(),
            row.size.to_string().into(),
            row.material.as_str().into(),
            row.blank.into(),
            row.bends.into(),
            row.mass_kg.into(),
        ]);
    }
    table
}
