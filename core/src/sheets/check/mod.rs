//! Check dimensions: those that the design declares, and those that the engine proposes.

mod bays;
mod corners;
mod declared;
mod mark;
mod place;
mod tolerance;
mod widths;

use super::{End, JigSheet, rounded};
use crate::document::{Axis, Class, Design};
use crate::frame::{Frame, locate};
use crate::geometry::DVec3;
use crate::part::Part;
use corners::Corners;
use mark::Mark;
pub use place::{Dimension, EndFace, Place, PlaceRound};
use std::collections::BTreeSet;
pub use tolerance::linear_tolerance;

/// A dimension to check before and after welding.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckRow {
    /// Its name: as declared, or made from what it measures.
    pub name: String,
    /// What is measured.
    pub what: Dimension,
    /// True when the design declares it; false when the engine proposes it.
    pub declared: bool,
    /// From where and to where, by the marks of tubes.
    pub between: [Place; 2],
    /// Where it is measured from, in the frame, mm.
    pub from: [f64; 3],
    /// Where it is measured to.
    pub to: [f64; 3],
    /// What it should measure, mm.
    pub nominal: f64,
    /// Tolerance class of ISO 13920.
    pub class: Class,
    /// What it may be off by, mm; `None` where the standard gives no figure for this length.
    pub tolerance: Option<f64>,
}

/// Most dimensions that are proposed.
const MOST_PROPOSED: usize = 60;

impl CheckRow {
    /// All check dimensions of a frame: the declared ones by name, then the proposed ones, which run between places that a tape
    /// finds: spread and height of each bent member, both diagonals of each closed bay, and widths between the two hands of a
    /// joint that no cross member spans.
    #[must_use]
    pub fn all(design: &Design, frame: &Frame, parts: &[Part], jigs: &[JigSheet]) -> Vec<Self> {
        let general = design.tolerance.unwrap_or(Class::B);
        let mut rows: Vec<Self> = Vec::new();
        for (name, check) in design.checks.iter().flatten() {
            let [from, to] = check.between.as_slice() else { continue };
            let (Some(at), Some(there)) = (locate(design, from), locate(design, to)) else { continue };
            let nominal = match check.along {
                None => at.distance(there),
                Some(Axis::X) => (at.x - there.x).abs(),
                Some(Axis::Y) => (at.y - there.y).abs(),
                Some(Axis::Z) => (at.z - there.z).abs(),
            };
            let marks = [at, there].map(|at| Mark { at, place: declared::place(frame, parts, at) });
            let what = match (&check.what, check.along) {
                (Some(what), _) => Dimension::Named { words: what.as_str().to_owned() },
                (None, Some(axis)) => Dimension::DistanceAlong { axis },
                (None, None) => Dimension::Distance,
            };
            rows.push(Self::new(name.clone(), what, true, marks, nominal, check.class.unwrap_or(general)));
        }
        let declared = rows.len();
        let mut propose = |name: String, what: Dimension, marks: [Mark; 2]| {
            let nominal = marks[0].at.distance(marks[1].at);
            let [from, to] = [marks[0].at, marks[1].at];
            let known = rows.iter().any(|row| (row.nominal - nominal).abs() < 0.01 && same_place(row, from, to));
            if !known && rows.len() < declared + MOST_PROPOSED {
                rows.push(Self::new(name, what, false, marks, nominal, general));
            }
        };
        for jig in jigs {
            let end = |end: usize| Mark {
                at: DVec3::from_array(jig.feet[end]),
                place: Place::EndMiddle { member: jig.member.clone(), end: End::at(end) },
            };
            propose(format!("spread_{}", jig.member), Dimension::Spread, [end(0), end(1)]);
            let crown = DVec3::from_array(jig.crown);
            let below = Mark { at: DVec3::new(crown.x, crown.y, frame.base), place: Place::BasePlane };
            let at = below.at + DVec3::Z * jig.height;
            let top = Mark { at, place: Place::Crown { member: jig.member.clone() } };
            propose(format!("height_{}", jig.member), Dimension::Height, [below, top]);
        }
        let corners = Corners::of(frame, parts);
        for diagonal in bays::diagonals(frame, parts, &corners).into_iter().flatten() {
            let [[p, q], [r, s]] = &diagonal.joints;
            propose(format!("diagonal_{p}_{q}_to_{r}_{s}"), Dimension::Diagonal, diagonal.marks);
        }
        for width in widths::all(frame, parts, &corners) {
            propose(format!("width_{}_{}", width.stem, width.end.word()), Dimension::Width, width.marks);
        }
        number_equal_names(&mut rows);
        rows
    }

    fn new(name: String, what: Dimension, declared: bool, marks: [Mark; 2], nominal: f64, class: Class) -> Self {
        let [from, to] = marks;
        Self {
            name,
            what,
            declared,
            from: from.at.to_array().map(rounded),
            to: to.at.to_array().map(rounded),
            between: [from.place, to.place],
            nominal: rounded(nominal),
            class,
            tolerance: linear_tolerance(class, nominal),
        }
    }
}

fn same_place(row: &CheckRow, from: DVec3, to: DVec3) -> bool {
    let near = |a: [f64; 3], b: DVec3| DVec3::from_array(a).distance(b) < 0.1;
    (near(row.from, from) && near(row.to, to)) || (near(row.from, to) && near(row.to, from))
}

/// Proposed names are told apart by a number where several come out alike.
fn number_equal_names(rows: &mut [CheckRow]) {
    let mut taken = BTreeSet::new();
    for row in rows {
        let names = (2..).map(|count: u32| format!("{}_{count}", row.name));
        if let Some(free) = std::iter::once(row.name.clone()).chain(names).find(|name| taken.insert(name.clone())) {
            row.name = free;
        }
    }
}
