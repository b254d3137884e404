//! Check dimensions: those that the design declares, and those that the engine proposes.

mod bays;
mod tolerance;

use super::{JigSheet, rounded};
use crate::document::{Axis, Class, Design};
use crate::frame::{Frame, locate, locate_named};
use crate::geometry::DVec3;
use crate::part::Part;
use serde::Serialize;
use std::collections::BTreeSet;
pub use tolerance::linear_tolerance;

/// A dimension to check before and after welding.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CheckRow {
    /// Its name: as declared, or made from what it measures.
    pub name: String,
    /// What is measured, in words.
    pub what: String,
    /// True when the design declares it; false when the engine proposes it.
    pub declared: bool,
    /// Where it is measured from, in the frame, mm.
    pub from: [f64; 3],
    /// Where it is measured to.
    pub to: [f64; 3],
    /// What it should measure, mm.
    pub nominal: f64,
    /// Tolerance class of ISO 13920: A, B, C or D.
    pub class: String,
    /// What it may be off by, mm; `None` where the standard gives no figure for this length.
    pub tolerance: Option<f64>,
}

/// Most dimensions that are proposed.
const MOST_PROPOSED: usize = 60;

impl CheckRow {
    /// All check dimensions of a frame: the declared ones by name, then the proposed ones: spread and height of each bent member, both
    /// diagonals of each closed bay, and widths between the two hands of a point that no cross member spans.
    #[must_use]
    pub fn all(design: &Design, frame: &Frame, parts: &[Part], jigs: &[JigSheet]) -> Vec<Self> {
        let general = design.tolerance.unwrap_or(Class::B);
        let mut rows: Vec<Self> = Vec::new();
        for (name, check) in design.checks.iter().flatten() {
            let [from, to] = check.between.as_slice() else { continue };
            let (Some(from), Some(to)) = (locate(design, from), locate(design, to)) else { continue };
            let nominal = match check.along {
                None => from.distance(to),
                Some(Axis::X) => (from.x - to.x).abs(),
                Some(Axis::Y) => (from.y - to.y).abs(),
                Some(Axis::Z) => (from.z - to.z).abs(),
            };
            let what = check.what.as_ref().map_or_else(|| words_between(check), |what| what.as_str().to_owned());
            rows.push(Self::new(name.clone(), what, true, [from, to], nominal, check.class.unwrap_or(general)));
        }
        let declared = rows.len();
        let mut propose = |name: String, what: String, ends: [DVec3; 2], nominal: f64| {
            let known =
                rows.iter().any(|row| (row.nominal - nominal).abs() < 0.01 && same_place(row, ends[0], ends[1]));
            if !known && rows.len() < declared + MOST_PROPOSED {
                rows.push(Self::new(name, what, false, ends, nominal, general));
            }
        };
        for jig in jigs {
            let feet = jig.feet.map(DVec3::from_array);
            propose(format!("spread_{}", jig.member), format!("{}: foot to foot", jig.member), feet, jig.spread);
            let crown = DVec3::from_array(jig.crown);
            let below = DVec3::new(crown.x, crown.y, frame.base);
            let words = format!("{}: height of the tube's top over the base", jig.member);
            propose(format!("height_{}", jig.member), words, [below, crown], jig.height);
        }
        for bay in bays::closed(frame, parts) {
            let [ab, bc, cd, da] = &bay.members;
            let [a, b, c, d] = bay.corners;
            for [near, far] in [[([da, ab], a), ([bc, cd], c)], [([ab, bc], b), ([cd, da], d)]] {
                // The same name whichever way round the bay was found.
                let mut joints = [near, far].map(|(mut members, at)| {
                    members.sort();
                    (members, at)
                });
                joints.sort_by_key(|(members, _)| *members);
                let [([p, q], from), ([r, s], to)] = joints;
                let words = format!("diagonal from the joint of {p} and {q} to that of {r} and {s}");
                propose(format!("diagonal_{p}_{q}_to_{r}_{s}"), words, [from, to], from.distance(to));
            }
        }
        for (name, points) in widths(design) {
            let words = format!("width between {name}.L and {name}.R");
            propose(format!("width_{name}"), words, points, points[0].distance(points[1]));
        }
        number_equal_names(&mut rows);
        rows
    }

    fn new(name: String, what: String, declared: bool, ends: [DVec3; 2], nominal: f64, class: Class) -> Self {
        Self {
            name,
            what,
            declared,
            from: ends[0].to_array().map(rounded),
            to: ends[1].to_array().map(rounded),
            nominal: rounded(nominal),
            class: class.word().to_owned(),
            tolerance: linear_tolerance(class, nominal),
        }
    }
}

fn words_between(check: &crate::document::Check) -> String {
    let name = |point: &crate::document::PointRef| match point {
        crate::document::PointRef::Named(name) => name.as_str().to_owned(),
        crate::document::PointRef::Here(point) => format!("({}, {}, {})", point.0[0], point.0[1], point.0[2]),
    };
    let names: Vec<String> = check.between.iter().map(name).collect();
    let along = check.along.map_or_else(String::new, |axis| format!(" along {}", axis.word()));
    format!("{}{along}", names.join(" to "))
}

fn same_place(row: &CheckRow, from: DVec3, to: DVec3) -> bool {
    let near = |a: [f64; 3], b: DVec3| DVec3::from_array(a).distance(b) < 0.1;
    (near(row.from, from) && near(row.to, to)) || (near(row.from, to) && near(row.to, from))
}

/// Points of both hands that members use, by the name they share, save those that one straight member spans: its own length
/// holds that width.
fn widths(design: &Design) -> Vec<(String, [DVec3; 2])> {
    use crate::document::PointRef;
    let mut stems = BTreeSet::new();
    let mut spanned = BTreeSet::new();
    for member in &design.members {
        if let (Some(PointRef::Named(from)), Some(PointRef::Named(to))) = (&member.from, &member.to)
            && crate::document::other_hand(from.as_str()).as_deref() == Some(to.as_str())
        {
            spanned.insert(from.as_str().trim_end_matches(".L").trim_end_matches(".R").to_owned());
        }
        for point in member.from.iter().chain(&member.to).chain(member.path.iter().flatten()) {
            if let PointRef::Named(name) = point
                && let Some(stem) = name.as_str().strip_suffix(".L").or_else(|| name.as_str().strip_suffix(".R"))
            {
                stems.insert(stem.to_owned());
            }
        }
    }
    let place = |name: String| locate_named(design, &name);
    let both = stems.difference(&spanned).cloned().filter_map(|stem| {
        let points = [place(format!("{stem}.L"))?, place(format!("{stem}.R"))?];
        (points[0].distance(points[1]) > 1.0).then_some((stem, points))
    });
    both.collect()
}

/// Proposed names are told apart by a number where several come out alike.
fn number_equal_names(rows: &mut [CheckRow]) {
    let mut seen = std::collections::BTreeMap::new();
    for row in rows {
        let count = seen.entry(row.name.clone()).or_insert(0_u32);
        *count += 1;
        if *count > 1 {
            row.name = format!("{}_{count}", row.name);
        }
    }
}
