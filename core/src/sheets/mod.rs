//! What the shop reads: cut sheet, wraps, bend sheets and fit-up order, as plain figures ready to be drawn or served.

mod bend;
mod cut;
mod fit_up;
mod wrap;

pub use bend::{BendMark, BendRow, BendSheet};
pub use cut::{CutRow, CutSheet, EndSummary};
pub use fit_up::{FitUp, FitUpEnd, FitUpStep};
pub use wrap::{BevelFigure, Datum, IndexLine, Miss, SetOut, Wrap};

use crate::frame::Frame;
use crate::part::Part;
use serde::Serialize;

/// One of the two ends of a member.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, serde::Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum End {
    /// The end at the member's `from` point, where stations start.
    From,
    /// The end at the member's `to` point.
    To,
}

/// All sheets of one design.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Sheets {
    /// Every member with its lengths and cuts, in build order.
    pub cut_sheet: CutSheet,
    /// One wrap for each end that is not square, in build order, `from` before `to`.
    pub wraps: Vec<Wrap>,
    /// One for each bent member, in build order.
    pub bend_sheets: Vec<BendSheet>,
    /// The order in which the parts go together.
    pub fit_up: FitUp,
}

impl Sheets {
    /// The sheets of a frame's parts, given in build order.
    #[must_use]
    pub fn of(frame: &Frame, parts: &[Part]) -> Self {
        let wraps = parts.iter().flat_map(|part| [End::From, End::To].map(|end| Wrap::of(frame, part, end))).flatten();
        Self {
            cut_sheet: CutSheet::of(frame, parts),
            wraps: wraps.collect(),
            bend_sheets: parts.iter().filter_map(|part| BendSheet::of(frame, part)).collect(),
            fit_up: FitUp::of(frame, parts),
        }
    }
}

impl End {
    /// Its position where both ends are listed, first end first.
    #[must_use]
    pub fn position(self) -> usize {
        match self {
            Self::From => 0,
            Self::To => 1,
        }
    }

    /// The other end.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::From => Self::To,
            Self::To => Self::From,
        }
    }
}

/// A figure to six decimals: sheets carry no noise of the last bits, so that equal parts have equal figures.
fn rounded(value: f64) -> f64 {
    let rounded = (value * 1e6).round() / 1e6;
    if rounded == 0.0 { 0.0 } else { rounded }
}

/// Clock angle of a place round a round tube, degrees in [0, 360).
fn clock_deg(u: f64, od: f64) -> f64 {
    let degrees = rounded((u / (od / 2.0)).to_degrees());
    if degrees >= 360.0 { degrees - 360.0 } else { degrees }
}
