//! Files for machines and other programs.

use crate::words::groups::files::Files;

pub const WORDS: Files = Files {
    heading: "Files for machines and programs",
    about: "Plates, unrolled ends, bends, solids and lists, as cutters, benders, spreadsheets and drawing programs read them.",
    all: "Everything for the shop (ZIP)",
    workbook: "All lists in one workbook (XLSX)",
    cut_sheet: "Cut sheet (CSV)",
    parts_list: "Parts list (CSV)",
    solids: "Whole frame as solids (STEP)",
    model: "Whole frame to look at (GLB)",
    labels: "Labels for the parts (PDF)",
    cautions: "These files have no code, and no scan tells whether they are still in force. Check each part with its printed sheet before you make it. No check in them is an approval.",
}
.checked();
