//! What is said of a drawing or a print that cannot be made.

use thiserror::Error;

/// Why a pack, a page or a wrap could not be rendered.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum RenderError {
    /// A coordinate is NaN or infinite.
    #[error("{page}: a coordinate is not a finite number; check the dimensions of the parts on this page")]
    NotFinite {
        /// Title of the page.
        page: String,
    },
    /// Something would be drawn off the page.
    #[error("{page}: {what} would be drawn off the page; choose a larger paper or shorten the text")]
    OffPage {
        /// Title of the page.
        page: String,
        /// What would be off it.
        what: DrawnThing,
    },
    /// The lettering has no glyph for a character.
    #[error(
        "{text:?} contains the character {character:?}, which the lettering of the pack cannot show; write it with other characters"
    )]
    MissingGlyph {
        /// The whole text.
        text: String,
        /// The character.
        character: char,
    },
    /// A wrap fits on the paper neither upright nor turned.
    #[error(
        "the wrap of {member}, end {end}, needs {width:.0} x {height:.0} mm and does not fit on the paper; choose a larger paper"
    )]
    WrapTooLarge {
        /// Member whose wrap it is.
        member: String,
        /// Number of its end: 1 for `from`, 2 for `to`.
        end: usize,
        /// Width round the tube with its overlap, mm.
        width: f64,
        /// Height along the tube, mm.
        height: f64,
    },
    /// The date of issue is not of the form `YYYY-MM-DD`.
    #[error("the date of issue {date:?} is not a calendar date; write it as YYYY-MM-DD")]
    Date {
        /// The date as given.
        date: String,
    },
    /// The lettering built into the program could not be read or cut down to the characters used.
    #[error("the lettering could not be prepared: {reason}; report this as a fault")]
    Lettering {
        /// What failed.
        reason: String,
    },
    /// The pages could not be signed.
    #[error("the pages could not be signed: {reason}")]
    Seal {
        /// What failed.
        reason: String,
    },
    /// The file could not be put together.
    #[error("the PDF could not be written: {reason}; report this as a fault")]
    Pdf {
        /// What failed.
        reason: String,
    },
    /// It is no longer wanted.
    #[error("the drawing was given up before its end")]
    Stopped,
}

/// What is drawn on a page.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum DrawnThing {
    /// A line.
    #[error("a line")]
    Line,
    /// A text.
    #[error("the text {0:?}")]
    Text(String),
}

/// Why nothing can be printed so.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum PrintError {
    /// A check bar is off by more than a correction can be trusted with.
    #[error(
        "a check bar of {measured} is too far from {wanted} to be corrected; from nine tenths to eleven tenths of it can be. Print at 100 %, without fitting to the page, and measure again between the outer ticks, in {unit}"
    )]
    CheckBar {
        /// `across` or `up`.
        bar: &'static str,
        /// What was measured, in the unit of the pack.
        measured: f64,
        /// What a true print would measure.
        wanted: f64,
        /// The unit.
        unit: &'static str,
    },
    /// The paper's thickness is none.
    #[error(
        "paper {thickness} mm thick is not what a wrap is printed on; give 0 to 0.5 mm, 0.1 for common office paper"
    )]
    PaperThickness {
        /// As given, mm.
        thickness: f64,
    },
}
