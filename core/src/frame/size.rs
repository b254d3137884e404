//! How large a tube or plate is, as a fitter calls it.

use super::Section;
use crate::geometry::Profile;
use core::fmt::{Display, Formatter, Result};
use serde::{Serialize, Serializer};

/// Outside and wall of a tube, mm. Written `45 x 2.5`, or `40 x 20 x 2` (width, height, wall).
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum SectionSize {
    /// A round tube.
    Round {
        /// Outer diameter.
        od: f64,
        /// Wall.
        wall: f64,
    },
    /// A square or rectangular tube.
    Rect {
        /// Width.
        width: f64,
        /// Height.
        height: f64,
        /// Wall.
        wall: f64,
    },
}

/// How large a part is, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PartSize {
    /// A tube of a section.
    Tube(SectionSize),
    /// A plate of a thickness. Written `plate 4`.
    Plate(f64),
}

impl SectionSize {
    /// Its figures in the order in which they are written, mm.
    #[must_use]
    pub fn figures(self) -> Vec<f64> {
        match self {
            Self::Round { od, wall } => vec![od, wall],
            Self::Rect { width, height, wall } => vec![width, height, wall],
        }
    }
}

impl Section {
    /// The section as a fitter calls it.
    #[must_use]
    pub fn size(&self) -> SectionSize {
        match self.profile {
            Profile::Round { outer, wall } => SectionSize::Round { od: outer * 2.0, wall },
            Profile::Rect { half_width, half_height, wall, .. } => {
                SectionSize::Rect { width: half_height * 2.0, height: half_width * 2.0, wall }
            }
        }
    }
}

impl Display for SectionSize {
    fn fmt(&self, f: &mut Formatter) -> Result {
        let figures: Vec<String> = self.figures().iter().map(f64::to_string).collect();
        f.write_str(&figures.join(" x "))
    }
}

impl Serialize for SectionSize {
    fn serialize<S: Serializer>(&self, serializer: S) -> core::result::Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl Display for PartSize {
    fn fmt(&self, f: &mut Formatter) -> Result {
        match self {
            Self::Tube(size) => size.fmt(f),
            Self::Plate(thickness) => write!(f, "plate {thickness}"),
        }
    }
}

impl Serialize for PartSize {
    fn serialize<S: Serializer>(&self, serializer: S) -> core::result::Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}
