//! Jig sheets: where a bent member must stand before anything is tacked to it.

use super::rounded;
use crate::frame::{Frame, SectionSize, fit::tip};
use crate::geometry::DVec3;
use crate::part::Part;
use serde::Serialize;

/// How a bent member stands in the jig. Points are on the centreline: x forward, y left, z up, mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct JigSheet {
    /// Id of the member.
    pub member: String,
    /// Section as a fitter calls it.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: SectionSize,
    /// Ends of the centreline, `from` first, as finished.
    pub feet: [[f64; 3]; 2],
    /// Straight distance between both, mm.
    pub spread: f64,
    /// Highest point of the centreline; the middle one where a straight lies level.
    pub crown: [f64; 3],
    /// Height of the highest point of the tube's outside over the base plane, mm.
    pub height: f64,
    /// Height of the two feet over the base plane, mm.
    pub feet_height: [f64; 2],
    /// How far what is left long at the two ends reaches below the base plane, mm; 0 where it does not.
    pub below_base: f64,
    /// How far the crown stands in front of the middle between the feet, mm; negative when it stands behind.
    pub fore_and_aft: f64,
    /// Lean of the line from the middle between the feet to the crown from the vertical, degrees, forward positive.
    pub lean_deg: f64,
    /// How far the crown lies left of the middle between the feet, mm.
    pub sideways: f64,
    /// Where each bend starts and ends, and the middle of each straight between bends.
    pub stations: Vec<JigPoint>,
    /// The centreline as fine points to draw, from the `from` end, as finished.
    pub centreline: Vec<[f64; 3]>,
}

/// Step along bends in the centreline to draw, radians.
const STEP: f64 = 0.05;

/// A place to hold or to measure.
#[derive(Debug, Clone, PartialEq)]
pub struct JigPoint {
    /// What it is.
    pub what: JigPlace,
    /// Where it is.
    pub at: [f64; 3],
    /// Height over the base plane, mm.
    pub height: f64,
}

/// What a place of a jig sheet is. Bends are counted from 1 at the `from` end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JigPlace {
    /// Where a bend starts.
    BendStarts(usize),
    /// Where a bend ends.
    BendEnds(usize),
    /// The middle of the straight after a bend.
    Between(usize),
}

/// Points of the centreline this near the highest one belong to a straight that lies level, mm.
const LEVEL: f64 = 1e-6;

impl JigSheet {
    /// The jig sheet of a part; `None` for a straight one.
    #[must_use]
    pub fn of(frame: &Frame, part: &Part) -> Option<Self> {
        let member = &frame.members[part.member];
        let path = &member.path;
        if path.arcs.is_empty() {
            return None;
        }
        let section = frame.section(member);
        let grown = |end: usize| part.ends[end].on_axis;
        let feet = [path.start() - path.first().direction * grown(0), path.end() + path.last().direction * grown(1)];
        let points = path.points(0.005);
        let top = points.iter().map(|point| point.z).fold(f64::NEG_INFINITY, f64::max);
        let (mut sum, mut count) = (DVec3::ZERO, 0.0);
        for point in points.iter().filter(|point| point.z > top - LEVEL) {
            sum += *point;
            count += 1.0;
        }
        let crown = sum / count;
        let long = |end: usize| feet[end].z + tip(member, end).direction.z * member.leave_long[end];
        let below_base = (frame.base - long(0).min(long(1))).max(0.0);
        let middle = (feet[0] + feet[1]) / 2.0;
        let up = crown - middle;
        let mut stations = Vec::new();
        for (number, (arc, pair)) in path.arcs.iter().zip(path.legs.windows(2)).enumerate() {
            let starts = pair[0].start + pair[0].direction * pair[0].length;
            let bend = number + 1;
            stations.push(JigPoint::new(JigPlace::BendStarts(bend), starts, frame.base));
            stations.push(JigPoint::new(JigPlace::BendEnds(bend), pair[1].start, frame.base));
            if bend < path.arcs.len() && arc.angle > 0.0 {
                let between = pair[1].start + pair[1].direction * (pair[1].length / 2.0);
                stations.push(JigPoint::new(JigPlace::Between(bend), between, frame.base));
            }
        }
        let mut centreline = path.points(STEP);
        if let [first, .., last] = centreline.as_mut_slice() {
            [*first, *last] = feet;
        }
        Some(Self {
            member: member.id.clone(),
            size: section.size(),
            feet: feet.map(|foot| foot.to_array().map(rounded)),
            spread: rounded(feet[0].distance(feet[1])),
            crown: crown.to_array().map(rounded),
            height: rounded(top + section.breadth() / 2.0 - frame.base),
            feet_height: feet.map(|foot| rounded(foot.z - frame.base)),
            below_base: rounded(below_base),
            fore_and_aft: rounded(up.x),
            lean_deg: rounded(libm::atan2(up.x, up.z).to_degrees()),
            sideways: rounded(up.y),
            stations,
            centreline: centreline.into_iter().map(|point| point.to_array().map(rounded)).collect(),
        })
    }
}

impl JigPoint {
    fn new(what: JigPlace, at: DVec3, base: f64) -> Self {
        Self { what, at: at.to_array().map(rounded), height: rounded(at.z - base) }
    }
}
