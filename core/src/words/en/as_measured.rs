//! Parts that are fitted to what was measured on a kit, in lists.

use crate::words::groups::as_measured::AsMeasured;

pub(in crate::words) static WORDS: AsMeasured = AsMeasured {
    number_with_m: "A part number with /M is that of a part made to what was measured on this kit: it is not the revision's part of that number, and goes into no other frame.",
    made_already: "Made already: {parts}. It was measured, and these pages are fitted to it as it is. Nothing of it is sawn or bent again; its ends are trimmed by its wraps in these pages. Its lengths here are those of a tube bent to the measured figures: never check them along the one that you have. Write its number from this list on it in place of the one that it has.",
    stands: "made already, stands as measured: saw nothing",
    to_values: "as measured",
}
.checked();
