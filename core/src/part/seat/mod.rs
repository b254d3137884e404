//! How an end sits on what it is fitted to: where its wall only just touches, passes by, or goes into an open end.

mod beyond;
mod gap;
mod open;
mod report;

pub use gap::{Cause, Gap, Missed};
pub use open::OpenEnd;
pub(super) use report::report;

use super::cut::Cut;
use super::line::CutLine;
use super::table::Table;
use crate::frame::{Fit, Frame, Member};
use crate::geometry::crossing;

/// A wall that passes its target by no more touches it, mm: below what is drawn, printed and rolled exactly (judgement).
pub const TOUCHES: f64 = 0.05;

/// The weld closes a gap of up to this, mm, and of up to [`CLOSED_OF_WALL`] of the wall, without a larger root (judgement).
const CLOSED: f64 = 0.5;

/// See [`CLOSED`].
const CLOSED_OF_WALL: f64 = 0.25;

/// How exactly places round the outline are found, as a part of the turn.
const RESOLVED: f64 = 1e-6;

/// The largest gap that the weld closes on a tube of this wall, mm.
#[must_use]
pub fn closed_by_weld(wall: f64) -> f64 {
    CLOSED.min(CLOSED_OF_WALL * wall)
}

/// How an end sits on its targets.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Seat {
    /// Where its wall passes by; `None` where all of it touches.
    pub gap: Option<Gap>,
    /// Where its wall lands on the sawn end of a target instead of its side.
    pub open: Option<OpenEnd>,
}

/// An end that is looked at.
struct Looked<'a> {
    frame: &'a Frame,
    member: &'a Member,
    fit: &'a Fit,
    cut: &'a Cut,
}

/// Looks how an end sits. Where the wall touches without being met by a line to it, the lines are carried on at the nearest
/// approach. Answers with it the stretches that pass by.
pub(super) fn seat(
    frame: &Frame,
    member: &Member,
    fit: &Fit,
    cut: &Cut,
    table: &Table,
    [outer, relief]: [&mut CutLine; 2],
) -> (Seat, Vec<Missed>) {
    if fit.kind.is_square() || fit.targets.is_empty() {
        return (Seat::default(), Vec::new());
    }
    let looked = Looked { frame, member, fit, cut };
    let open = if looked.may_be_open(table) { looked.open() } else { None };
    let (gap, missed) = looked.gap(outer, relief);
    (Seat { gap, open }, missed)
}

/// Stretches between neighbouring places at which a value is above zero, their edges found exactly; the places are in rising
/// order, with their values.
fn stretches(places: &[(f64, f64)], width: f64, value: impl Fn(f64) -> f64) -> Vec<[f64; 2]> {
    let edge = |from: (f64, f64), to: (f64, f64)| crossing([from, to], width, &value);
    let mut found = Vec::new();
    let mut begun = places.first().filter(|place| place.1 > 0.0).map(|place| place.0);
    for pair in places.windows(2) {
        match (begun, pair[0].1 > 0.0, pair[1].1 > 0.0) {
            (None, false, true) => begun = Some(edge(pair[0], pair[1])),
            (Some(start), true, false) => {
                found.push([start, edge(pair[0], pair[1])]);
                begun = None;
            }
            _ => {}
        }
    }
    if let (Some(start), Some((end, _))) = (begun, places.last()) {
        found.push([start, *end]);
    }
    found
}
