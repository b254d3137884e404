//! What the shop reads: cut sheet, wraps, bend sheets and fit-up order, as plain figures ready to be drawn or served.

mod about;
mod bend;
mod changes;
mod check;
mod cut;
mod facing;
mod figures;
mod fit_up;
mod height;
mod jig;
mod mass;
mod measured;
mod parts;
mod plate;
mod stock;
mod strip;
mod trim_room;
mod wrap;

pub use about::{About, ChoiceRow, GaugeRow, RollRow, SectionRow, Zero};
pub use bend::{BendMark, BendRow, BendSheet, BendSide};
pub use changes::{
    ChangeKind, Changes, CheckChange, Compared, Measured, PartChange, Reason, StepChange, StepPlace, TrimRow,
    TrimSetOut, TrimStep,
};
pub use check::{CheckRow, Dimension, EndFace, Place, PlaceRound, linear_tolerance};
pub use cut::{CutRow, CutSheet, EndSummary};
pub use facing::Facing;
pub use figures::{EndFigures, FigureChange, FigureKind, Figures, PlateFigures, TubeFigures};
pub use fit_up::{FitUp, FitUpEnd, FitUpGauge, FitUpStep, StepKind};
pub use height::Height;
pub use jig::{JigPlace, JigPoint, JigSheet};
pub use mass::{JointRow, MassSheet};
pub use measured::{MeasuredPart, MeasuredValue};
pub use parts::{HandTell, Pair, PartRow};
pub use plate::{PlateHoleRow, PlateSheet};
pub use stock::{StockPart, StockSection};
pub use strip::{HoleStrip, StripDatum, StripHole};
pub use wrap::{BevelFigure, Datum, FlatSide, IndexLine, Miss, SetOut, Wrap, WrapHole};

use crate::document::{Design, Findings, OneKit};
use crate::geometry::Profile;
use crate::part::{Made, Numbers, Part};
use crate::{Stop, Stopped};
use rayon::prelude::*;
use serde::Serialize;
use std::sync::Arc;

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
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Sheets {
    /// What holds for the whole frame.
    pub about: About,
    /// The parts that are there already, because something was measured on them.
    pub measured: Vec<MeasuredPart>,
    /// One row a part number; empty until the parts are numbered.
    pub parts: Vec<PartRow>,
    /// Which mirrored pairs are handed, and how to tell them apart; empty until the parts are numbered.
    pub pairs: Vec<Pair>,
    /// Every member with its lengths and cuts, in build order.
    pub cut_sheet: CutSheet,
    /// One wrap for each end that is not square, in build order, `from` before `to`.
    pub wraps: Vec<Wrap>,
    /// One for each bent member, in build order.
    pub bend_sheets: Vec<BendSheet>,
    /// One for each bent member, in build order.
    pub jigs: Vec<JigSheet>,
    /// The plates, by name.
    pub plates: Vec<PlateSheet>,
    /// Strip templates for the holes of tubes, in build order.
    pub strips: Vec<HoleStrip>,
    /// Dimensions to check, declared ones first.
    pub checks: Vec<CheckRow>,
    /// Mass, centre of gravity, surface and welds.
    pub mass: MassSheet,
    /// The order in which the parts go together.
    pub fit_up: FitUp,
    /// What is sawn from bars of each section, by name; empty until the parts are numbered.
    pub stock: Vec<StockSection>,
    /// What is drawn: the frame with its finished parts.
    #[serde(skip)]
    pub made: Option<Arc<Made>>,
}

impl Sheets {
    /// The sheets of a frame and its parts, as the design was settled for a kit.
    ///
    /// # Errors
    /// [`Stopped`] when they are no longer wanted.
    pub fn of(design: &Design, kit: &OneKit, made: &Arc<Made>, stop: Stop) -> Result<Self, Stopped> {
        let Made { frame, parts } = &**made;
        let fit_up = FitUp::of(design, kit, frame, parts);
        let measured = MeasuredPart::all(design, kit, frame, &fit_up);
        let stands = |part: &Part| measured.iter().any(|known| known.member == frame.members[part.member].id);
        let wraps = || -> Result<Vec<[Option<Wrap>; 2]>, Stopped> {
            let both = |part| [End::From, End::To].map(|end| Wrap::of(frame, part, end, stands(part)));
            parts.par_iter().map(|part| stop.check().map(|()| both(part))).collect()
        };
        let others = || {
            let jigs: Vec<JigSheet> = parts.iter().filter_map(|part| JigSheet::of(frame, part)).collect();
            Self {
                about: About::of(design, kit, frame),
                measured: Vec::new(),
                fit_up: FitUp::default(),
                parts: Vec::new(),
                pairs: Vec::new(),
                cut_sheet: CutSheet::of(frame, parts, &stands),
                wraps: Vec::new(),
                bend_sheets: parts.iter().filter_map(|part| BendSheet::of(frame, part, stands(part))).collect(),
                checks: CheckRow::all(design, frame, parts, &jigs),
                jigs,
                plates: PlateSheet::all(frame, parts),
                strips: parts.iter().flat_map(|part| HoleStrip::all_of(frame, part)).collect(),
                mass: MassSheet::of(frame, parts),
                stock: Vec::new(),
                made: Some(Arc::clone(made)),
            }
        };
        let (wraps, others) = rayon::join(wraps, others);
        Ok(Self { wraps: wraps?.into_iter().flatten().flatten().collect(), measured, fit_up, ..others })
    }
}

impl Sheets {
    /// Adds what is wrong with the order of the work, by the numbers of its steps.
    pub(crate) fn report(&self, design: &Design, made: &Made, findings: &mut Findings) {
        trim_room::report(design, made, self, findings);
    }

    /// Whether a part is there already, because something was measured on it.
    #[must_use]
    pub fn stands(&self, member: &str) -> bool {
        self.measured.iter().any(|part| part.member == member)
    }

    /// Puts part numbers on every sheet, and adds the parts list and the pairs. Adds a warning for each pair that is nearly
    /// interchangeable.
    pub fn number(&mut self, made: &Made, numbers: &Numbers, findings: &mut Findings) {
        let numbers = &numbers.present(made);
        let number = |id: &str| numbers.of(id).unwrap_or_default().to_owned();
        for row in &mut self.cut_sheet.rows {
            row.part_number = number(&row.member);
        }
        for plate in &mut self.plates {
            plate.part_number = number(&plate.plate);
        }
        for wrap in &mut self.wraps {
            wrap.part_number = number(&wrap.member);
        }
        self.parts = PartRow::all(made, numbers, |member| self.stands(member));
        self.stock = StockSection::all(made, numbers, |member| self.stands(member));
        self.pairs = Pair::all(made, numbers, findings);
    }
}

impl End {
    /// The end at a position where both are listed, first end first.
    pub(crate) fn at(position: usize) -> Self {
        if position == 0 { Self::From } else { Self::To }
    }

    /// Its position where both ends are listed, first end first.
    #[must_use]
    pub fn position(self) -> usize {
        match self {
            Self::From => 0,
            Self::To => 1,
        }
    }

    /// Its name in documents and names.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::From => "from",
            Self::To => "to",
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
    // Added to a number under 2^51, which is over two million metres, it leaves no room for a fraction.
    const NO_FRACTION: f64 = 6_755_399_441_055_744.0;
    let rounded = (value * 1e6 + NO_FRACTION - NO_FRACTION) / 1e6;
    if rounded == 0.0 { 0.0 } else { rounded }
}

/// Clock angle of a place round a tube, degrees in [0, 360).
fn clock_deg(u: f64, profile: Profile) -> f64 {
    let degrees = rounded(profile.clock(u).to_degrees());
    if degrees >= 360.0 { degrees - 360.0 } else { degrees }
}

/// Outer diameter of a round tube, mm.
fn round_od(profile: Profile) -> Option<f64> {
    if let Profile::Round { outer, .. } = profile { Some(outer * 2.0) } else { None }
}
