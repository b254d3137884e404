//! What the shop reads: cut sheet, wraps, bend sheets and fit-up order, as plain figures ready to be drawn or served.

mod bend;
mod cut;
mod fit_up;
mod wrap;

pub use bend::{BendMark, BendRow, BendSheet};
pub use cut::{CutRow, CutSheet, EndSummary};
pub use fit_up::{FitUp, FitUpEnd, FitUpStep};
pub use wrap::{BevelFigure, Datum, IndexLine, Miss, SetOut, Wrap};

use serde::Serialize;

/// One of the two ends of a member.
#[derive(
    Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, serde::Deserialize,
)]
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
