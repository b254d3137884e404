//! Why a drawing could not be made into a file.

use crate::Stopped;
pub use crate::words::findings::paper::{DrawnThing, RenderError};

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
