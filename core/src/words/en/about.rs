//! What is said of the whole frame: notes, zero, choices, values to measure and materials.

use crate::words::groups::about::About;

pub(in crate::words) static WORDS: About = About {
    head_section: "section",
    head_size: "size, {unit}",
    head_material: "material",
    head_strength: "tensile strength, {unit}",
    head_clamp: "least straight between bends, {unit}",
    head_gauge: "to measure",
    head_between: "between which places",
    head_nominal: "nominal, {unit}",
    head_allowed: "allowed for",
    head_this_kit: "this kit, {unit}",
    heading_notes: "Notes of the supplier",
    heading_choices: "Choices of this kit",
    choice: "{what}: {choice}",
    heading_gauges: "What you measure and tell the supplier",
    why_measure: "A bent part is never true to the millimetre. Tell what you measured, on the page of your kit, before you cut what goes to it: a new pack is then fitted to the part that you have.",
    made_already: "Measured and made already: {parts}. These pages are fitted to what was told, so measure again only what is not told below.",
    limits: "{least} to {most}",
    not_told: "not told",
    heading_made_of: "Sections and materials",
    not_stated: "not stated",
    heading_roll_structure: "Roll structure, as the design names it",
    who_rules: "For information: what counts as one is for the rules of your governing body to say.",
}
.checked();
