//! The list of kits.

use crate::words::groups::kits::Kits;

pub const WORDS: Kits = Kits {
    heading: "Kits",
    new_link: "New kit",
    import_link: "Import many",
    narrow_serial: "Serial begins with",
    narrow_choices: "Choices",
    narrow_button: "Filter",
    none: "No kit matches.",
    all: "{count} kits",
    some: "{count} kits, and more on the next page",
    head_serial: "Serial",
    head_registered: "Registered",
}
.checked();
