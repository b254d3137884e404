//! Whether tubes can be made as they are drawn.

use crate::curve::Tube;
use crate::report::{Code, Notes};

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
        let message = format!(
            "This is {length:.2} mm long, too short for a tube, and was left out. Take it out of the drawing, or draw it longer."
        );
        notes.warning(Code::NoLength, tube.place.as_str(), message);
        return false;
    }
    let mut bad = |message: String| notes.warning(Code::BadBends, tube.place.as_str(), message);
    if tube.points.len() > MOST_POINTS {
        bad(format!(
            "This tube has {} corners, more than a member can have, and was left out. Draw its bends as arcs.",
            tube.points.len() - 2
        ));
        return false;
    }
    if tube.points.windows(2).any(|ends| ends[0].distance(ends[1]) < 1e-6) {
        bad("This tube has two corners or ends at one place, and was left out. Correct it.".into());
        return false;
    }
    let mut taken = vec![0.0; tube.points.len()];
    for (index, three) in tube.points.windows(3).enumerate() {
        let turn = (three[1] - three[0]).angle_between(three[2] - three[1]);
        if turn > 3.1 {
            bad("This tube turns back on itself in one corner, which no bend does, and was left out. Correct it."
                .into());
            return false;
        }
        taken[index + 1] = tube.radii[index].unwrap_or(0.0) * (turn / 2.0).tan();
    }
    let overlaps =
        |index: usize| taken[index] + taken[index + 1] > tube.points[index].distance(tube.points[index + 1]) + ROOM;
    if (0..tube.points.len() - 1).any(overlaps) {
        bad("The bends of this tube overlap: the straight between two corners is too short for the radius. Correct the radius or the corners.".into());
    }
    true
}
