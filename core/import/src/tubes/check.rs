//! Whether tubes can be made as they are drawn.

use crate::curve::Tube;
use crate::report::{Code, Notes};
use crate::words::tubes::TubeFact;

/// How much bends may overlap, mm.
const ROOM: f64 = 0.01;
/// Most points of a member's path.
const MOST_POINTS: usize = 64;

/// Nothing shorter is a tube, mm: both its ends would lie in one joint.
const SHORTEST: f64 = 2.0;

/// Leaves out tubes that no member can be, and says so; warns of bends that overlap.
pub fn check(tubes: Vec<Tube>, notes: &mut Notes) -> Vec<Tube> {
    tubes.into_iter().filter(|tube| can_be(tube, notes)).collect()
}

fn can_be(tube: &Tube, notes: &mut Notes) -> bool {
    let length: f64 = tube.points.windows(2).map(|ends| ends[0].distance(ends[1])).sum();
    if length < SHORTEST {
        notes.warning(Code::NoLength, tube.place.as_str(), TubeFact::TooShort { length });
        return false;
    }
    let mut bad = |fact: TubeFact<'_>| notes.warning(Code::BadBends, tube.place.as_str(), fact);
    if tube.points.len() > MOST_POINTS {
        bad(TubeFact::TooManyCorners { corners: tube.points.len() - 2 });
        return false;
    }
    if tube.points.windows(2).any(|ends| ends[0].distance(ends[1]) < 1e-6) {
        bad(TubeFact::CornersAtOnePlace);
        return false;
    }
    let mut taken = vec![0.0; tube.points.len()];
    for (index, three) in tube.points.windows(3).enumerate() {
        let turn = (three[1] - three[0]).angle_between(three[2] - three[1]);
        if turn > 3.1 {
            bad(TubeFact::TurnsBack);
            return false;
        }
        taken[index + 1] = tube.radii[index].unwrap_or(0.0) * (turn / 2.0).tan();
    }
    let overlaps =
        |index: usize| taken[index] + taken[index + 1] > tube.points[index].distance(tube.points[index + 1]) + ROOM;
    if (0..tube.points.len() - 1).any(overlaps) {
        bad(TubeFact::BendsOverlap);
    }
    true
}
