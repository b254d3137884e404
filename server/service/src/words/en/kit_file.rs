//! What is wrong with a file of kits.

use crate::words::groups::kit_file::KitFiles;

pub const WORDS: KitFiles = KitFiles {
    at: "Line {line}, {column}: {fault}",
    serial_twice: "Line {line} already has the serial {serial}.",
    serial_taken: "There is already a kit {serial}.",
    no_design: "There is no design {design}.",
    no_revision: "Design {design} has no revision {letter}.",
    withdrawn: "Revision {letter} is withdrawn: it takes no more kits.",
    recalled: "Revision {letter} is recalled: it takes no more kits.",
    column_missing: "This column is missing.",
    no_column: "There is no such column. The columns are {columns}.",
    column_twice: "This column appears twice.",
    values: "It has {count} values instead of {columns}.",
    most: "A file may have {most} kits at most.",
    choices: "Give them as option=choice, separated by ;.",
    no_kits: "The file has no kits.",
}
.checked();
