//! Tubes that a table or a model tells twice.

use crate::curve::Tube;
use crate::report::{Code, Notes};
use crate::words::tubes::TubeFact;
use glam::DVec3;
use std::collections::HashMap;

/// Tubes whose ends and corners are nearer than this are one, mm.
const ONE: f64 = 0.01;

/// Leaves out tubes that lie where another of the same layer does, and says so.
pub fn without_twins(tubes: Vec<Tube>, notes: &mut Notes) -> Vec<Tube> {
    let mut at: HashMap<[i64; 3], Vec<usize>> = HashMap::new();
    let mut kept: Vec<Tube> = Vec::new();
    for tube in tubes {
        let [x, y, z] = key(&tube);
        let cells = (0..27).map(|step| [x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1]);
        let twin = cells.filter_map(|cell| at.get(&cell)).flatten().find(|index| is_twin(&kept[**index], &tube));
        if let Some(twin) = twin {
            let fact = TubeFact::Twin { other: &kept[*twin].place };
            notes.information(Code::Duplicate, tube.place.as_str(), fact);
            continue;
        }
        at.entry([x, y, z]).or_default().push(kept.len());
        kept.push(tube);
    }
    kept
}

#[expect(clippy::cast_possible_truncation, reason = "frames are some metres long")]
fn key(tube: &Tube) -> [i64; 3] {
    let middle = match tube.points[..] {
        [first, .., last] => first.midpoint(last),
        _ => DVec3::ZERO,
    };
    (middle / (2.0 * ONE)).floor().to_array().map(|number| number as i64)
}

fn is_twin(one: &Tube, other: &Tube) -> bool {
    let near = |a: &DVec3, b: &DVec3| a.distance(*b) < ONE;
    let same_way = || one.points.iter().zip(&other.points).all(|(a, b)| near(a, b));
    let other_way = || one.points.iter().zip(other.points.iter().rev()).all(|(a, b)| near(a, b));
    one.layer == other.layer
        && one.size == other.size
        && one.points.len() == other.points.len()
        && (same_way() || other_way())
}
