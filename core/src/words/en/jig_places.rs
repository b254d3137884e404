//! Places of a jig sheet.

use crate::words::groups::jig_places::JigPlaces;

pub(in crate::words) static WORDS: JigPlaces = JigPlaces {
    bend_starts: "bend {bend} starts",
    bend_ends: "bend {bend} ends",
    between_bends: "middle between bends {bend} and {next}",
}
.checked();
