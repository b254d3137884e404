//! The form for measured values.

use crate::words::groups::measurements::Measurements;

pub const WORDS: Measurements = Measurements {
    heading: "Measured values of kit {serial}",
    about: "Measure at the step of the fit-up order that says so, before you trim anything. Measure twice, to the half millimetre. Leave empty what you have not measured. Values outside the limits are refused.",
    hint: "mm, {least} to {most}; nominal {nominal}",
    outside: "Give {least} to {most} mm. If you measured something else, measure again, and ask the supplier before you cut anything.",
    no_number: "Give a length in millimetres, such as 1119.5.",
    button: "Save these values",
    back: "Back to the kit",
}
.checked();
