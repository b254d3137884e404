//! What is to be done about one value of a request for stock plans.

use crate::words::groups::stock::StockFields;

pub const WORDS: StockFields = StockFields {
    serials: "Name 1 to {most} serials, each once.",
    kits: "Plan for 1 to {most} kits.",
    allowance: "Give an allowance of 0 to {most} mm.",
    seconds: "Give a time limit of more than 0 and at most {most} seconds.",
    no_section: "No part has the section {section}. The sections are {known}.",
    two_sizes: "Section {section} is {size} in one kit and {other} in another. Plan these kits separately.",
    of_section: "Section {section}: {cause}",
}
.checked();
