//! The list of kits.

use crate::words::groups::kits::Kits;
use matchmark_core::words::Plural;

pub const WORDS: Kits = Kits {
    heading: "Kits",
    new_link: "New kit",
    import_link: "Import many",
    narrow_serial: "Serial begins with",
    narrow_choices: "Choices",
    narrow_button: "Filter",
    none: "No kit matches.",
    all: Plural { one: "{count} kit", other: "{count} kits" },
    some: Plural { one: "{count} kit, and more on the next page", other: "{count} kits, and more on the next page" },
    head_serial: "Serial",
    head_registered: "Registered",
}
.checked();
