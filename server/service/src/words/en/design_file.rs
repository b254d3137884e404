//! What is wrong with a file of a design.

use crate::words::groups::design_file::DesignFiles;

pub const WORDS: DesignFiles = DesignFiles {
    format: "This version reads only {format}.",
    no_revisions: "The file has no revisions.",
    hash: "It does not match the rest of the file.",
    letter: "It should be {letter}, or a later letter where some were skipped.",
    document_hash: "It does not match the document.",
    previous_chain: "It does not match the chain value of the revision before.",
    chain: "It does not match the revision's data.",
    states: "These states cannot follow one another, or a recall lacks one of its texts.",
    numbers: "These are not part numbers.",
    document: "This version of the service finds errors in the document.",
}
.checked();
