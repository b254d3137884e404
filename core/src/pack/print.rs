//! How a pack is printed: paper, its thickness, and what the printer does to lengths.

use super::Hands;
pub use crate::words::findings::paper::PrintError;
use serde::{Deserialize, Serialize};

/// Least and most that a check bar may measure for its print to be corrected, as a part of its length.
pub const MEASURED: [f64; 2] = [0.9, 1.1];

/// Thickest paper, mm.
pub const THICKEST_PAPER: f64 = 0.5;

/// How a pack is printed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(deny_unknown_fields, default)]
pub struct Print {
    /// Sheet size; A4 when absent.
    pub paper: Paper,
    /// Thickness of the paper that wraps are printed on, mm; 0.1 when absent: 80 g/m2 (common practice).
    pub paper_thickness: f64,
    /// What the two check bars of an earlier print measured; true when absent.
    pub check_bars: Option<CheckBars>,
    /// In which unit lengths are written; millimetres when absent.
    pub units: Units,
    /// Whose templates are printed; those of both hands when absent.
    pub hands: Hands,
}

impl Default for Print {
    fn default() -> Self {
        Self {
            paper: Paper::default(),
            paper_thickness: 0.10,
            check_bars: None,
            units: Units::default(),
            hands: Hands::default(),
        }
    }
}

/// In which unit a pack writes lengths. The design is in millimetres; templates are the same in all of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "kebab-case")]
pub enum Units {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches as decimals.
    Inch,
    /// Inches and the nearest 64th.
    InchFraction,
}

impl Units {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Mm, Self::Inch, Self::InchFraction];

    /// Its name in requests.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::Inch => "inch",
            Self::InchFraction => "inch-fraction",
        }
    }

    /// Length of both check bars, mm: 100 mm, or 4 inches.
    #[must_use]
    pub fn check_bar(self) -> f64 {
        match self {
            Self::Mm => 100.0,
            Self::Inch | Self::InchFraction => 4.0 * 25.4,
        }
    }

    /// What a check bar measures when the print is true, in the unit itself.
    #[must_use]
    pub fn true_bar(self) -> f64 {
        match self {
            Self::Mm => 100.0,
            Self::Inch | Self::InchFraction => 4.0,
        }
    }

    /// Set-outs and edges of hole strips are whole multiples of this, mm, so that a tape can set them: 1 mm, a tenth or a 16th of an inch.
    #[must_use]
    pub fn tape(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Inch => 2.54,
            Self::InchFraction => 25.4 / 16.0,
        }
    }
}

/// What the check bars of a print measured, in the unit of its pack: each is printed as 100 mm, or as 4 in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(deny_unknown_fields)]
pub struct CheckBars {
    /// The bar across the page.
    pub across: f64,
    /// The bar up the page.
    pub up: f64,
}

impl PrintError {
    /// Stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::CheckBar { .. } => "check-bar-too-far-off",
            Self::PaperThickness { .. } => "paper-thickness",
        }
    }

    /// JSON Pointer within [`Print`].
    #[must_use]
    pub fn pointer(&self) -> &'static str {
        match self {
            Self::CheckBar { bar: "across", .. } => "/check_bars/across",
            Self::CheckBar { .. } => "/check_bars/up",
            Self::PaperThickness { .. } => "/paper_thickness",
        }
    }
}

impl Print {
    /// Whether it can be printed so.
    ///
    /// # Errors
    /// [`PrintError`] for a check bar off by more than a tenth, and for a thickness that no paper has.
    pub fn check(&self) -> Result<(), PrintError> {
        let wanted = self.units.true_bar();
        let bars = self.check_bars.map_or([wanted; 2], |bars| [bars.across, bars.up]);
        for (bar, measured) in [("across", bars[0]), ("up", bars[1])] {
            if !(MEASURED[0]..=MEASURED[1]).contains(&(measured / wanted)) {
                let unit = if self.units == Units::Mm { "mm" } else { "inches" };
                return Err(PrintError::CheckBar { bar, measured, wanted, unit });
            }
        }
        if !(0.0..=THICKEST_PAPER).contains(&self.paper_thickness) {
            return Err(PrintError::PaperThickness { thickness: self.paper_thickness });
        }
        Ok(())
    }

    /// What lengths across and up the page are multiplied by when drawn, so that they come out of this printer true.
    #[must_use]
    pub fn stretch(&self) -> [f64; 2] {
        let wanted = self.units.true_bar();
        self.check_bars.map_or([1.0; 2], |bars| [wanted / bars.across, wanted / bars.up])
    }

    /// Width and height that the printed page will really have room for, mm.
    #[must_use]
    pub fn room(&self) -> [f64; 2] {
        let ([width, height], [across, up]) = (self.paper.size(), self.stretch());
        [width / across, height / up]
    }
}

/// Sheet sizes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum Paper {
    /// ISO 216 A4, 210 x 297 mm.
    #[default]
    A4,
    /// ISO 216 A3, 297 x 420 mm.
    A3,
    /// North American Letter, 215.9 x 279.4 mm.
    Letter,
    /// North American Tabloid, 279.4 x 431.8 mm.
    Tabloid,
    /// Cut from a roll 610 mm (24 in) wide: 609.6 x 914.4 mm.
    Roll,
}

impl Paper {
    /// All sizes.
    pub const ALL: [Self; 5] = [Self::A4, Self::A3, Self::Letter, Self::Tabloid, Self::Roll];

    /// Width and height in mm, upright.
    #[must_use]
    pub fn size(self) -> [f64; 2] {
        match self {
            Self::A4 => [210.0, 297.0],
            Self::A3 => [297.0, 420.0],
            Self::Letter => [215.9, 279.4],
            Self::Tabloid => [279.4, 431.8],
            Self::Roll => [609.6, 914.4],
        }
    }

    /// Its name in requests.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::A3 => "a3",
            Self::Letter => "letter",
            Self::Tabloid => "tabloid",
            Self::Roll => "roll",
        }
    }
}
