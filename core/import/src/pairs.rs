//! Tubes that are mirrored across y = 0.

use crate::answers::Answers;
use crate::curve::Tube;
use crate::report::{Code, Notes, Question, QuestionField};
use crate::words::tubes::{PairFact, Place};
use glam::DVec3;
use serde_json::json;
use std::collections::{BTreeMap, HashMap};

/// How much hands of a pair may differ where nothing was joined, mm.
const EXACT: f64 = 0.01;
/// Hands that differ by no more than this are worth a word, mm.
const NEAR: f64 = 1.0;

/// What a tube is across the middle plane.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hand {
    /// It has no other hand.
    Alone,
    /// It is its own mirror image.
    Itself,
    /// The left one of a pair, with the number of the right one.
    Left(usize),
    /// The right one of a pair.
    Right,
}

fn mirrored(place: DVec3) -> DVec3 {
    DVec3::new(place.x, -place.y, place.z)
}

/// What each tube is. Points of pairs and of tubes that are their own image are made exactly even.
pub fn find(tubes: &mut [Tube], sections: &[usize], largest_gap: f64, notes: &mut Notes) -> Vec<Hand> {
    let room = EXACT.max((2.0 * largest_gap).min(0.1));
    let mut hands = vec![Hand::Alone; tubes.len()];
    let mut at: HashMap<[i64; 3], Vec<usize>> = HashMap::new();
    for (index, tube) in tubes.iter().enumerate() {
        at.entry(key(middle(tube))).or_default().push(index);
    }
    let mut largest = 0.0_f64;
    for index in 0..tubes.len() {
        if hands[index] != Hand::Alone {
            continue;
        }
        let [x, y, z] = key(mirrored(middle(&tubes[index])));
        let near =
            (0..27).flat_map(|step| at.get(&[x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1])).flatten();
        let mut best: Option<(f64, usize, bool)> = None;
        for &other in near {
            let is_free = hands[other] == Hand::Alone && sections[other] == sections[index] && other >= index;
            if let Some((off, turned)) = is_free.then(|| difference(&tubes[index], &tubes[other])).flatten()
                && best.is_none_or(|(least, ..)| off < least)
            {
                best = Some((off, other, turned));
            }
        }
        let Some((off, other, turned)) = best else { continue };
        if off > room {
            let fact = PairFact::NearPair { other: &tubes[other].place, off };
            notes.information(Code::NearPair, tubes[index].place.clone(), fact);
            continue;
        }
        largest = largest.max(off);
        even(tubes, index, other, turned);
        if other == index {
            hands[index] = Hand::Itself;
        } else {
            let height = |tube: &Tube| tube.points.iter().map(|point| point.y).sum::<f64>();
            let (left, right) =
                if height(&tubes[other]) > height(&tubes[index]) + 1e-6 { (other, index) } else { (index, other) };
            hands[left] = Hand::Left(right);
            hands[right] = Hand::Right;
        }
    }
    if largest > 1e-4 {
        notes.information(Code::PairsAveraged, Place::Pairs.to_string(), PairFact::Averaged { largest });
    }
    hands
}

fn middle(tube: &Tube) -> DVec3 {
    match tube.points[..] {
        [first, .., last] => first.midpoint(last),
        _ => DVec3::ZERO,
    }
}

#[expect(clippy::cast_possible_truncation, reason = "frames are some metres long")]
fn key(place: DVec3) -> [i64; 3] {
    (place / (2.0 * NEAR)).floor().to_array().map(|number| number as i64)
}

/// How far one tube is from the other's mirror image, and whether the other runs the other way; `None` where they differ much.
fn difference(one: &Tube, other: &Tube) -> Option<(f64, bool)> {
    if one.points.len() != other.points.len() {
        return None;
    }
    let radius = |tube: &Tube| tube.radii.first().copied().flatten().unwrap_or(0.0);
    if (radius(one) - radius(other)).abs() > 0.05 {
        return None;
    }
    if let (Some(a), Some(b)) = (one.height, other.height)
        && mirrored(a).cross(b).length() > 1e-4
    {
        return None;
    }
    let off = |turned: bool| {
        let count = one.points.len();
        let pairs = one.points.iter().enumerate();
        pairs
            .map(|(index, point)| {
                let there = other.points[if turned { count - 1 - index } else { index }];
                mirrored(*point).distance(there)
            })
            .fold(0.0, f64::max)
    };
    let (straight, turned) = (off(false), off(true));
    let best = if turned < straight { (turned, true) } else { (straight, false) };
    (best.0 <= NEAR).then_some(best)
}

fn even(tubes: &mut [Tube], index: usize, other: usize, turned: bool) {
    let count = tubes[index].points.len();
    for point in 0..count {
        let there = if turned { count - 1 - point } else { point };
        let (a, b) = (tubes[index].points[point], tubes[other].points[there]);
        let mean = a.midpoint(mirrored(b));
        tubes[index].points[point] = mean;
        tubes[other].points[there] = mirrored(mean);
    }
}

/// Proposes another middle plane where more tubes would be pairs across it. Nothing is moved unasked.
pub fn propose_plane(tubes: &[Tube], hands: &[Hand], answers: &Answers, mm: f64, notes: &mut Notes) {
    let paired = hands.iter().filter(|hand| **hand != Hand::Alone).count();
    if answers.origin.is_some() || 2 * paired >= tubes.len() {
        return;
    }
    // Tubes alike but for their side vote for the plane between them.
    let mut alike: BTreeMap<[i64; 3], Vec<f64>> = BTreeMap::new();
    #[expect(clippy::cast_possible_truncation, reason = "frames are some metres long")]
    let rounded = |length: f64| (length * 20.0).round() as i64;
    for tube in tubes {
        let middle = middle(tube);
        let length: f64 = tube.points.windows(2).map(|ends| ends[0].distance(ends[1])).sum();
        alike.entry([rounded(middle.x), rounded(middle.z), rounded(length)]).or_default().push(middle.y);
    }
    let mut votes: BTreeMap<i64, usize> = BTreeMap::new();
    for sides in alike.values().filter(|sides| sides.len() <= 16) {
        for (index, one) in sides.iter().enumerate() {
            *votes.entry(rounded(*one)).or_default() += 1;
            for other in &sides[index + 1..] {
                *votes.entry(rounded(f64::midpoint(*one, *other))).or_default() += 2;
            }
        }
    }
    let Some((plane, count)) = votes.into_iter().max_by_key(|(plane, count)| (*count, -plane.abs())) else { return };
    #[expect(clippy::cast_precision_loss, reason = "some metres")]
    let plane = plane as f64 / 20.0;
    if count > 2 * paired.max(1) && plane.abs() > 0.1 {
        notes.ask(Question {
            field: QuestionField::Origin,
            stops: false,
            text: PairFact::WhichPlane { count, plane, paired }.to_string(),
            default: json!([0, 0, 0]),
            figures: json!({"y_mm": plane, "y_in_the_source_unit": plane / mm, "tubes": count}),
        });
    }
}
