//! One end of a part: its lines, its long and short points, what it meets and where it misses.

use super::cut::{Cut, TubeEnd};
use super::line::{Line, LinePoint};
use crate::frame::fit::tip;
use crate::frame::{CutKind, Fit, Frame, Member};
use crate::geometry::{Piece, Profile, Solid};

/// Places round the tube at which both lines are compared.
const COMPARED: u32 = 180;

/// One end as it is made. Stations are mm from the end of the centreline's path, growing out of the body.
#[derive(Debug, Clone, PartialEq)]
pub struct PartEnd {
    /// How it is cut.
    pub kind: CutKind,
    /// The cut itself, to be asked for any place.
    pub cut: Cut,
    /// Outer line; `u` grows with the clock angle about the direction of travel, at both ends.
    pub outer: Line,
    /// Relief line.
    pub relief: Line,
    /// Furthest point of the outer line; of equal ones that with the least clock angle.
    pub longest: LinePoint,
    /// Station of the outer line nearest the body.
    pub least: f64,
    /// Station on the centreline.
    pub on_axis: f64,
    /// Members met, the nearest to the body first, as positions in [`Frame::members`].
    pub met: Vec<usize>,
    /// Where the outer surface misses.
    pub missed: Vec<Missed>,
    /// Most by which the relief line lies behind the outer line, mm.
    pub largest_relief: f64,
    /// Volume that the cut adds to a tube that ends square at the end of the path, mm3; negative when it is cut back.
    pub volume: f64,
    /// Angle of a plane cut from a square one, radians; `None` for a cope.
    pub mitre: Option<f64>,
    /// True when the tube already lies inside a target where the search starts, so that the cut means nothing.
    pub starts_inside: bool,
}

/// A stretch of the outer surface that misses every target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Missed {
    /// Where it begins and ends, mm round the outline; the end may run past the whole outline.
    pub between: [f64; 2],
    /// By how much the wall passes the target at the worst place, mm.
    pub by: f64,
}

impl PartEnd {
    /// Cuts one end of a member.
    #[must_use]
    pub fn of(frame: &Frame, position: usize, end: usize) -> Self {
        let member = &frame.members[position];
        let fit = &member.ends[end];
        let cut = cut_of(frame, member, fit, end);
        let outer = Line::outer(&cut);
        let relief = Line::relief(&cut);
        let perimeter = cut.profile().perimeter();
        let missed = outer.breaks(perimeter).into_iter().map(|between| missed(&cut, between)).collect();
        let beyond = mean_of_run_ends(&outer);
        let met = met(&cut, fit);
        let mitre = fit.plane.map(|plane| libm::acos(plane.normal.dot(cut.end().outwards).abs().min(1.0)));
        Self {
            kind: fit.kind,
            longest: outer.longest().unwrap_or(LinePoint { u: 0.0, s: 0.0 }),
            least: outer.least().unwrap_or(0.0),
            on_axis: cut.axis_contact().map_or(beyond, |contact| contact.s),
            met,
            missed,
            largest_relief: largest_relief(&cut),
            volume: if fit.kind == CutKind::Square { 0.0 } else { cut.volume_from_datum(beyond) },
            mitre: if fit.kind == CutKind::Mitre { mitre } else { None },
            starts_inside: outer.least().is_some_and(|least| least <= cut.start()),
            outer,
            relief,
            cut,
        }
    }
}

fn cut_of(frame: &Frame, member: &Member, fit: &Fit, end: usize) -> Cut {
    let tube = frame.tube(member);
    let tip = tip(member, end);
    let travel = if end == 0 { -tip.direction } else { tip.direction };
    let index = if end == 0 { member.index } else { member.path.carried(member.index) };
    let leg = if end == 0 { member.path.first() } else { member.path.last() };
    let largest = fit.targets.iter().map(|&target| frame.tube(&frame.members[target]).od).fold(0.0, f64::max);
    let start = -if member.path.arcs.is_empty() { leg.length / 2.0 } else { leg.length };
    let limit = 3.0 * (tube.od + largest);
    let targets = match fit.plane {
        Some(plane) => vec![Solid::new(vec![Piece::HalfSpace(plane)])],
        None => {
            let bars = fit.targets.iter().map(|&target| target_bar(frame, target, member.gap));
            bars.map(|bar| bar.near(&tip, start, limit, tube.od)).collect()
        }
    };
    let end = TubeEnd {
        profile: Profile::Round { outer: tube.od / 2.0, wall: tube.wall },
        datum: tip.origin,
        outwards: tip.direction,
        index,
        side: travel.cross(index),
    };
    Cut::new(end, targets, start, limit)
}

/// A target's outside, grown by the root gap.
fn target_bar(frame: &Frame, target: usize, gap: f64) -> Solid {
    let member = &frame.members[target];
    if gap == 0.0 { member.bar.clone() } else { member.path.bar(frame.tube(member).od / 2.0 + gap, 0.0) }
}

fn met(cut: &Cut, fit: &Fit) -> Vec<usize> {
    if fit.targets.is_empty() {
        return Vec::new();
    }
    let (perimeter, wall) = (cut.profile().perimeter(), cut.profile().wall());
    let mut nearest = vec![f64::INFINITY; fit.targets.len()];
    for step in 0..COMPARED {
        let u = perimeter * f64::from(step) / f64::from(COMPARED);
        for depth in [0.0, wall] {
            if let Some(contact) = cut.contact(u, depth) {
                nearest[contact.target] = nearest[contact.target].min(contact.s);
            }
        }
    }
    let mut met: Vec<(f64, usize)> =
        nearest.into_iter().zip(fit.targets.iter().copied()).filter(|(s, _)| s.is_finite()).collect();
    met.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    met.into_iter().map(|(_, target)| target).collect()
}

fn missed(cut: &Cut, between: [f64; 2]) -> Missed {
    const TRIED: u32 = 12;
    let at = |step: u32| between[0] + (between[1] - between[0]) * f64::from(step) / f64::from(TRIED);
    let by = (0..=TRIED).map(|step| cut.clearance(at(step))).fold(0.0, f64::max);
    Missed { between, by }
}

fn mean_of_run_ends(line: &Line) -> f64 {
    let ends: Vec<f64> = line.runs.iter().flat_map(|run| [run[0].s, run[run.len() - 1].s]).collect();
    let count = ends.iter().fold(0.0, |count, _| count + 1.0);
    if ends.is_empty() { 0.0 } else { ends.iter().sum::<f64>() / count }
}

fn largest_relief(cut: &Cut) -> f64 {
    let perimeter = cut.profile().perimeter();
    let throats = (0..COMPARED).filter_map(|step| {
        let u = perimeter * f64::from(step) / f64::from(COMPARED);
        Some(cut.contact(u, 0.0)?.s - cut.relief(u)?)
    });
    throats.fold(0.0, f64::max)
}
