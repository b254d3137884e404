//! What a shop sets at the saw, cut by cut, for one laid-out bar.
//!
//! The saw swings to one side only. Its slope runs out furthest from the trimmed end on one side of the bar, the far side; the bar is
//! turned so that the slope comes where the part wants it. A bar is laid in with the side of clock angle 0 to the far side; for a round
//! bar that is any side, and no turn is needed before its first sloped cut. Turns are right-handed about the direction from the trimmed
//! end to the other, and the bar's stops are measured along its axis.

use super::model::{Model, UNITS};
use super::trail::{Placed, Row};
use serde::Serialize;

/// An end of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanEnd))]
#[serde(rename_all = "lowercase")]
pub enum EndName {
    /// Its first end.
    From,
    /// Its other end.
    To,
}

impl EndName {
    fn numbered(number: usize) -> Self {
        if number == 0 { Self::From } else { Self::To }
    }
}

/// The end of a part that a cut makes.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanSawnEnd))]
pub struct SawnEnd {
    /// Which part.
    pub id: String,
    /// Which end of it.
    pub end: EndName,
}

/// One cut.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = StockPlanSawCut))]
pub struct SawCut {
    /// Where the side of the blade toward the trimmed end crosses the axis of the bar, mm from the bar's end before it is trimmed.
    pub at: f64,
    /// What the blade takes along the bar, mm: the kerf, or kerf / cos of the saw's angle.
    pub width: f64,
    /// Angle of the saw from square, degrees.
    pub angle_deg: f64,
    /// From the shortest to the longest side of a sloped cut along the bar, mm; 0 for a square one.
    pub depth: f64,
    /// By how much to turn the bar about its axis before the cut, degrees in (-180, 180].
    pub turn_deg: f64,
    /// The part that comes off with this cut.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ends: Option<SawnEnd>,
    /// The part that begins at this cut, and with which end it leads.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub begins: Option<SawnEnd>,
}

/// All cuts of a bar and what they take.
pub struct Sawn {
    /// In order.
    pub cuts: Vec<SawCut>,
    /// Sum of what the blade takes between parts and after the last, in ten-thousandths of a millimetre.
    pub kerf: i64,
    /// What is left of the bar, in ten-thousandths of a millimetre.
    pub rest: i64,
}

/// The cuts of a bar with so much room after its trim. `ids` names each part of the row.
pub fn saw(model: &Model, row: &Row, room: i64, ids: &[&str]) -> Sawn {
    let mut sawing = Sawing { model, ids, side: 0.0, turned: 0.0, cuts: Vec::new() };
    let mut kerf = 0;
    let mut start = model.saw.trim;
    for (place, &placed) in row.parts.iter().enumerate() {
        if let Some(before) = place.checked_sub(1).map(|before| row.parts[before]) {
            let gap = super::trail::gap(model, before, placed);
            kerf += sawing.between(place, before, placed, start, gap);
            start += gap;
        } else {
            sawing.open(placed, start);
        }
        start += model.kinds[placed.item].length;
    }
    let left = model.saw.trim + room - start;
    let mut rest = left;
    if let Some(&last) = row.parts.last() {
        let end = &model.kinds[last.item].ends[last.last()];
        if left > 0 {
            kerf += end.kerf;
            rest = left - end.kerf;
        }
        if left > 0 || end.is_sloped() {
            sawing.end(row.parts.len() - 1, last, start);
        }
    }
    Sawn { cuts: sawing.cuts, kerf, rest }
}

struct Sawing<'a> {
    model: &'a Model,
    ids: &'a [&'a str],
    /// Clock angle of the bar that is at the far side, degrees.
    side: f64,
    /// Clock angle of the bar at which the part being cut has its own clock angle 0.
    turned: f64,
    cuts: Vec<SawCut>,
}

impl Sawing<'_> {
    /// The cut before the first part.
    fn open(&mut self, first: Placed, start: i64) {
        if self.model.kinds[first.item].ends[first.first()].is_sloped() || self.model.saw.trim > 0 {
            self.begin(0, first, start);
        } else {
            self.lay_in(first);
        }
    }

    /// The cut or cuts between two parts. Gives what they take.
    fn between(&mut self, place: usize, before: Placed, after: Placed, start: i64, gap: i64) -> i64 {
        let (a, b) =
            (self.model.kinds[before.item].ends[before.last()], self.model.kinds[after.item].ends[after.first()]);
        self.end(place - 1, before, start);
        if a.slope.is_some() && a.slope == b.slope {
            // The slope that the cut has on this bar is now the first one of the part after it.
            self.turned = self.side + 180.0 - clock(after, b.clock);
        } else if a.is_sloped() || b.is_sloped() {
            self.begin(place, after, start + gap);
            return gap;
        } else {
            self.lay_in(after);
        }
        let begins = Some(self.sawn(place, after.first()));
        if let Some(cut) = self.cuts.last_mut() {
            cut.begins = begins;
        }
        a.kerf
    }

    /// A cut that a part begins with.
    fn begin(&mut self, place: usize, placed: Placed, start: i64) {
        self.lay_in(placed);
        let end = self.model.kinds[placed.item].ends[placed.first()];
        let at = mm(start - end.kerf) + end.to_axis;
        let begins = Some(self.sawn(place, placed.first()));
        self.cut(at, end, self.turned + clock(placed, end.clock) + 180.0, None, begins);
    }

    /// A cut that a part ends with.
    fn end(&mut self, place: usize, placed: Placed, long_point: i64) {
        let end = self.model.kinds[placed.item].ends[placed.last()];
        let ends = Some(self.sawn(place, placed.last()));
        self.cut(mm(long_point) - end.to_axis, end, self.turned + clock(placed, end.clock), ends, None);
    }

    fn cut(&mut self, at: f64, end: super::ends::End, side: f64, ends: Option<SawnEnd>, begins: Option<SawnEnd>) {
        let mut turn = 0.0;
        if end.is_sloped() {
            turn = half_turn(self.side - side);
            self.side = side;
        }
        let figure = |value: f64| (value * 1e6).round() / 1e6 + 0.0;
        self.cuts.push(SawCut {
            at: figure(at),
            width: mm(end.kerf),
            angle_deg: figure(end.angle),
            depth: figure(2.0 * end.to_axis),
            turn_deg: figure(turn),
            ends,
            begins,
        });
    }

    /// Chooses how the next part lies in the bar: so that its first sloped cut needs the least turn.
    fn lay_in(&mut self, placed: Placed) {
        let ends = &self.model.kinds[placed.item].ends;
        let (first, last) = (ends[placed.first()], ends[placed.last()]);
        let wanted = if first.is_sloped() {
            self.side + 180.0 - clock(placed, first.clock)
        } else if last.is_sloped() {
            self.side - clock(placed, last.clock)
        } else {
            0.0
        };
        let step = self.model.saw.turning_step;
        self.turned = if step > 0.0 { (wanted / step).round() * step } else { wanted };
    }

    fn sawn(&self, place: usize, end: usize) -> SawnEnd {
        SawnEnd { id: self.ids[place].to_owned(), end: EndName::numbered(end) }
    }
}

/// A clock angle of a part about the direction of the bar: one that lies the other way round was turned over about its clock angle 0.
fn clock(placed: Placed, clock: f64) -> f64 {
    if placed.flipped { -clock } else { clock }
}

fn mm(units: i64) -> f64 {
    units as f64 / UNITS
}

/// The same direction in (-180, 180], without the noise of the last bits.
fn half_turn(degrees: f64) -> f64 {
    let turn = (degrees * 1e6).round() / 1e6;
    let turn = turn.rem_euclid(360.0);
    if turn > 180.0 { turn - 360.0 } else { turn }
}
