//! Why a drawing could not be made into a file.

use crate::Stopped;
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

impl From<Stopped> for RenderError {
    fn from(_: Stopped) -> Self {
        Self::Stopped
    }
}

impl RenderError {
    /// A stable code: lower-case words joined by hyphens.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotFinite { .. } => "coordinate-not-finite",
            Self::OffPage { .. } => "off-page",
            Self::MissingGlyph { .. } => "missing-glyph",
            Self::WrapTooLarge { .. } => "wrap-too-large",
            Self::Date { .. } => "date-not-readable",
            Self::Lettering { .. } => "lettering-failed",
            Self::Seal { .. } => "seal-failed",
            Self::Pdf { .. } => "pdf-failed",
            Self::Stopped => "stopped",
        }
    }
}
