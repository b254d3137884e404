//! Bend sheets: feed, rotate, bend for each bent member, with marks to bend at.

use super::{End, rounded};
use crate::frame::{Frame, Member, SectionSize};
use crate::geometry::{DVec3, Path};
use crate::part::Part;
use serde::Serialize;

/// How one bent member is made. Lengths are mm, angles degrees as finished.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct BendSheet {
    /// Id of the member.
    pub member: String,
    /// Section as a fitter calls it, such as `45 x 2.5`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: SectionSize,
    /// Outer diameter, mm.
    pub od: f64,
    /// Length round a round tube, mm; `None` for a rectangular one.
    pub circumference: Option<f64>,
    /// One row a bend, in the order they are met from the `from` end.
    pub rows: Vec<BendRow>,
    /// Straight after the last bend to the end of the blank as sawn, what is left long there included: feeds, arcs and this are
    /// the whole blank.
    pub last_straight: f64,
    /// Length along the centreline between the cuts, as finished.
    pub developed: f64,
    /// Left long at the `from` and `to` end.
    pub leave_long: [f64; 2],
    /// Length to saw from the bar before bending.
    pub blank: f64,
    /// True for a part that is there already, because something was measured on it: nothing of it is sawn or bent again, and its
    /// figures are those as measured.
    pub stands: bool,
    /// Where each bend starts and ends, measured along the straight blank from its `from` end.
    pub marks: Vec<BendMark>,
    /// Degrees that this section opens again per 90 degrees bent; `None` when the design does not say.
    pub springback_deg_per_90: Option<f64>,
    /// True when all bends lie in one plane.
    pub planar: bool,
    /// The centreline seen square to the plane of its first bend, as fine points to draw, [right, up] in mm, from the `from` end.
    pub view: Vec<[f64; 2]>,
    /// Straight line between the two ends of the centreline as finished, mm: the spread of a hoop at its feet.
    pub end_to_end: f64,
    /// Largest distance of the centreline from the straight line between its ends, mm: the height of a hoop.
    pub rise: f64,
}

/// One bend: feed the straight, rotate the tube, bend.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct BendRow {
    /// Straight between tangent points, mm; for the first bend from the end of the blank as sawn, what is left long there included.
    pub feed: f64,
    /// Turn on the tube from the plane of the bend before to that of this one, right-handed about from -> to, degrees in
    /// (-180, 180]; 0 for the first. In a bender that stands still the tube turns the other way.
    pub rotate_deg: f64,
    /// Clock angle of the inside of the bend, the side that gets shorter, degrees in [0, 360).
    pub inside_deg: f64,
    /// Change of direction as finished, degrees.
    pub bend_deg: f64,
    /// Angle to set on the bender so that the finished angle remains, degrees; `None` when springback is not stated.
    pub set_deg: Option<f64>,
    /// Centreline radius, mm.
    pub radius: f64,
    /// Arc along the centreline, mm.
    pub arc: f64,
}

/// Tangent points of one bend, measured along the straight blank from its `from` end, what is left long included.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct BendMark {
    /// Number of the bend, from 1.
    pub bend: usize,
    /// Where the bend starts, mm.
    pub start: f64,
    /// Where the bend ends, mm.
    pub end: f64,
}

/// A side of a bend.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum BendSide {
    /// Where it starts, counted from the `from` end.
    Start,
    /// Where it ends.
    End,
}

impl BendMark {
    /// The marks of a bent part, first bend first.
    pub(super) fn all(member: &Member, part: &Part) -> Vec<Self> {
        let mut at = 0.0;
        let marks = part.bends.rows.iter().zip(1..).map(|(row, bend)| {
            let beyond = if bend == 1 { beyond(member, part, End::From) } else { 0.0 };
            let start = at + beyond + row.feed;
            at = start + row.radius * row.angle;
            Self { bend, start: rounded(start), end: rounded(at) }
        });
        marks.collect()
    }
}

/// Step along bends in drawings and heights, radians: 0.005 mm off the arc at a radius of 400 mm.
const STEP: f64 = 0.01;

impl BendSheet {
    /// The bend sheet of a part that `stands` already or is still to be made; `None` for a straight section.
    #[must_use]
    pub fn of(frame: &Frame, part: &Part, stands: bool) -> Option<Self> {
        let member = &frame.members[part.member];
        let section = frame.section(member);
        let path = &member.path;
        if part.bends.rows.is_empty() {
            return None;
        }
        let insides = path.insides(member.index);
        let rows: Vec<BendRow> = part
            .bends
            .rows
            .iter()
            .zip(insides)
            .enumerate()
            .map(|(number, (bend, inside))| BendRow {
                feed: rounded(bend.feed + if number == 0 { beyond(member, part, End::From) } else { 0.0 }),
                rotate_deg: rounded(bend.rotate.to_degrees()),
                inside_deg: full_turn(inside),
                bend_deg: rounded(bend.angle.to_degrees()),
                set_deg: section
                    .springback
                    .map(|springback| rounded(bend.angle.to_degrees() * (1.0 + springback / 90.0))),
                radius: bend.radius,
                arc: rounded(bend.radius * bend.angle),
            })
            .collect();
        let feet = [
            path.start() - path.first().direction * part.ends[0].on_axis,
            path.end() + path.last().direction * part.ends[1].on_axis,
        ];
        let (view, rise) = in_plane(path, feet);
        Some(Self {
            member: member.id.clone(),
            size: section.size(),
            od: section.breadth(),
            circumference: super::round_od(section.profile).map(|od| rounded(core::f64::consts::PI * od)),
            rows,
            last_straight: rounded(part.bends.last_straight + beyond(member, part, End::To)),
            developed: rounded(part.centreline()),
            leave_long: member.leave_long,
            blank: rounded(part.overall() + member.leave_long[0] + member.leave_long[1]),
            stands,
            marks: BendMark::all(member, part),
            springback_deg_per_90: section.springback,
            planar: part.bends.is_planar(),
            view,
            end_to_end: rounded(feet[0].distance(feet[1])),
            rise: rounded(rise),
        })
    }
}

/// How far the end of the blank as sawn lies beyond the end of the path, mm.
fn beyond(member: &Member, part: &Part, end: End) -> f64 {
    part.ends[end.position()].longest.s + member.leave_long[end.position()]
}

/// An angle in degrees in [0, 360).
fn full_turn(radians: f64) -> f64 {
    let degrees = rounded(radians.to_degrees().rem_euclid(360.0));
    if degrees >= 360.0 { 0.0 } else { degrees }
}

/// The centreline between its `feet` seen square to the plane of its first bend, its ends level and the bends above, and its height
/// over the straight line between its ends.
fn in_plane(path: &Path, feet: [DVec3; 2]) -> (Vec<[f64; 2]>, f64) {
    let [start, end] = feet;
    let right = (end - start).try_normalize().unwrap_or(path.first().direction);
    let normal = path.arcs.first().map_or(DVec3::Y, |arc| arc.axis);
    let up = normal.cross(right).normalize_or(DVec3::Z);
    let mut points = path.points(STEP);
    if let [first, .., last] = points.as_mut_slice() {
        [*first, *last] = feet;
    }
    let mean: f64 = points.iter().map(|point| (*point - start).dot(up)).sum();
    let up = if mean < 0.0 { -up } else { up };
    let rise = points.iter().map(|point| (*point - start).cross(right).length()).fold(0.0, f64::max);
    let view = points.iter().map(|point| [rounded((*point - start).dot(right)), rounded((*point - start).dot(up))]);
    (view.collect(), rise)
}
