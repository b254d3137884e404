//! What the parts list says.

use crate::words::Plural;
use crate::words::groups::parts_list::PartsList;

pub(in crate::words) static WORDS: PartsList = PartsList {
    head_number: "part number",
    head_section: "section, {unit}",
    head_material: "material",
    head_quantity: "quantity",
    head_blank: "blank each, {unit}",
    head_bends: "bends",
    head_mass: "mass each, kg",
    equal_parts: "Parts of one number are equal: any of them goes in any of the places listed. Count them against this list before you start. Blank: length to saw from the bar.",
    made: "made",
    both_hands: "one part for left and right",
    total: "{count} parts of {numbers} numbers",
    of_one_number: Plural { one: "{count} part of 1 number", other: "{count} parts of 1 number" },
}
.checked();
