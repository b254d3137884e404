//! The form for measured values.

use crate::words::groups::measure::Measure;

pub const WORDS: Measure = Measure {
    heading: "Measured values of kit {serial}",
    about: "Measure at the step of the fit-up order that says so, before anything is trimmed; twice, to the half millimetre. Leave empty what you have not measured. Values outside the limits are not taken.",
    hint: "mm, {least} to {most}; nominal {nominal}",
    outside: "Between {least} and {most} mm. Measure again, and ask the supplier before anything is cut.",
    no_number: "Give a number of millimetres, such as 1119.5.",
    button: "Keep these values",
    back: "Back to the kit",
}
.checked();
