//! Why a file could not be written.

use matchmark_core::Stopped;
use matchmark_core::render::RenderError;
use matchmark_core::solid::SolidError;

/// Why a file could not be written.
#[derive(Debug, thiserror::Error)]
pub enum ExportError {
    /// There is no file of this name.
    #[error("There is no file `{0}` here. The list of files has all of them.")]
    UnknownFile(String),
    /// The design has errors.
    #[error("The design has errors. Mend what its findings name first.")]
    DesignHasErrors,
    /// A figure is not finite.
    #[error("{table}: the figure `{column}` is not finite. Report this as a fault.")]
    NotFinite {
        /// The table.
        table: String,
        /// The column.
        column: String,
    },
    /// The labels do not fit on the paper, or nothing fits on a label.
    #[error("{0}")]
    Labels(String),
    /// A part is no solid.
    #[error(transparent)]
    Solid(#[from] SolidError),
    /// Labels cannot be drawn.
    #[error(transparent)]
    Render(#[from] RenderError),
    /// The workbook or the bundle could not be put together.
    #[error("The file could not be put together: {0}. Report this as a fault.")]
    Failed(String),
    /// It is no longer wanted.
    #[error("The file was given up before its end.")]
    Stopped,
}

impl From<Stopped> for ExportError {
    fn from(_: Stopped) -> Self {
        Self::Stopped
    }
}

impl ExportError {
    /// Stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::UnknownFile(_) => "unknown-file",
            Self::DesignHasErrors => "design-has-errors",
            Self::NotFinite { .. } => "figure-not-finite",
            Self::Labels(_) => "labels-do-not-fit",
            Self::Solid(error) => error.code(),
            Self::Render(error) => error.code(),
            Self::Failed(_) => "export-failed",
            Self::Stopped => "stopped",
        }
    }

    /// Whether the part is as it is, so that other files are not concerned: it is left out of a bundle, which says so.
    #[must_use]
    pub fn is_of_the_part(&self) -> bool {
        matches!(self, Self::Solid(error) if *error != SolidError::Stopped && *error != SolidError::DesignHasErrors)
    }
}
