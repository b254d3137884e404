//! Whether a rigid motion carries one part onto another, and by how much the best one misses.

use super::SAME;
use super::align::Alignment;
use super::differences::{Reading, differences, squares, stepped};
use super::edge::SAMPLES;
use super::holes;
use super::motion::{Motion, least_turn};
use super::shape::Shape;
use crate::geometry::DVec3;
use core::f64::consts::TAU;

/// A motion that is better by less than this is no better, mm: the simplest is taken.
const NO_BETTER: f64 = 1e-6;

/// Curves through the regular places tell a misfit of more than this from one of less than [`super::NEAR`], mm.
const CURVE_DECIDES: f64 = 1.5;

/// How one part lies on another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Match {
    /// The motion that carries the first part onto the second.
    pub motion: Motion,
    /// Most by which the first then differs from the second anywhere, mm.
    pub deviation: f64,
}

/// The motion that carries `a` onto `b` within [`SAME`], if there is one.
///
/// A part is compared with the stored master of its number: near the tolerance "the same" is not transitive.
#[must_use]
pub fn same(a: &Shape, b: &Shape) -> Option<Match> {
    if !a.is_like(b) || !a.may_match(b, SAME) {
        return None;
    }
    closest(a, b).filter(|found| found.deviation <= SAME)
}

/// The motion that carries `a` nearest to `b`, and how near; `None` when they are of different tube, have different numbers of
/// bends or holes of different kinds. Deviations over about 1.5 mm are good to some tenths where an edge has kinks.
#[must_use]
pub fn closest(a: &Shape, b: &Shape) -> Option<Match> {
    if !a.is_like(b) {
        return None;
    }
    let mut best: Option<Match> = None;
    for swapped in [false, true] {
        let found = if a.is_straight() { straight(a, b, swapped) } else { bent(a, b, swapped) };
        if best.is_none_or(|best| found.deviation < best.deviation - NO_BETTER) {
            best = Some(found);
        }
        if found.deviation <= NO_BETTER {
            break;
        }
    }
    best
}

fn straight(a: &Shape, b: &Shape, swapped: bool) -> Match {
    let mut best: Option<Match> = None;
    let mut offer = |found: Match| {
        if best.is_none_or(|best| found.deviation < best.deviation - NO_BETTER) {
            best = Some(found);
        }
        found
    };
    if let Some(turns) = a.own_turns() {
        for &turn in turns {
            offer(judged(a, b, swapped, turn, Reading::Curve));
        }
    } else if offer(judged(a, b, swapped, 0.0, Reading::Curve)).deviation > NO_BETTER {
        let near = candidates(a, b, swapped)
            .into_iter()
            .map(|turn| on_curve(a, b, swapped, turn))
            .reduce(|best, next| if next.deviation < best.deviation - NO_BETTER { next } else { best });
        if let Some(near) = near {
            best = Some(if near.deviation < CURVE_DECIDES { exactly(a, b, near) } else { near });
        }
    }
    best.unwrap_or(Match { motion: Motion { swapped, turn: 0.0, slide: 0.0 }, deviation: f64::INFINITY })
}

/// The best slide for a turn, and the deviation that is left.
fn judged(a: &Shape, b: &Shape, swapped: bool, turn: f64, reading: Reading) -> Match {
    let [first, last] = differences(a, b, swapped, turn, reading);
    let (low, high) = (first.0.min(last.0), first.1.max(last.1));
    let motion = Motion { swapped, turn: turn.rem_euclid(TAU), slide: -0.5 * (low + high) };
    Match { motion, deviation: (0.5 * (high - low)).max(beside_edges(a, b, &motion)) }
}

/// Deviation of holes and of lengths left long, mm.
fn beside_edges(a: &Shape, b: &Shape, motion: &Motion) -> f64 {
    let reach = b.profile.reach();
    let holes = holes::pairs(a, b, motion).iter().map(|pair| pair.distance(reach)).fold(0.0, f64::max);
    let long = [0, 1].map(|end| (a.leave_long[motion.end_at(end)] - b.leave_long[end]).abs());
    holes.max(long[0]).max(long[1])
}

/// Turns worth a closer look: the three best of the regular ones and those that lay a hole on a hole.
fn candidates(a: &Shape, b: &Shape, swapped: bool) -> Vec<f64> {
    let spans: [f64; SAMPLES] = core::array::from_fn(|steps| {
        let [first, last] = stepped(a, b, swapped, steps, 4);
        first.1.max(last.1) - first.0.min(last.0)
    });
    let mut lows: Vec<usize> = (0..SAMPLES)
        .filter(|&at| spans[at] <= spans[(at + SAMPLES - 1) % SAMPLES] && spans[at] <= spans[(at + 1) % SAMPLES])
        .collect();
    lows.sort_by(|&p, &q| spans[p].total_cmp(&spans[q]).then(p.cmp(&q)));
    lows.truncate(3);
    let mut turns: Vec<f64> = lows.into_iter().map(turn_of).collect();
    turns.extend(holes::alignments(a, b, swapped).into_iter().map(|motion| motion.turn));
    turns
}

/// A turn by so many regular places, radians.
pub(super) fn turn_of(steps: usize) -> f64 {
    super::edge::place(TAU, steps)
}

/// The best turn near `turn` on curves through the regular places.
fn on_curve(a: &Shape, b: &Shape, swapped: bool, turn: f64) -> Match {
    let start = judged(a, b, swapped, turn, Reading::Curve);
    let squares = settled(a, b, start, Reading::Curve, 3);
    if squares.deviation < 0.5 * CURVE_DECIDES {
        return squares;
    }
    let least = lowest(turn, turn_of(1), 1e-5, |turn| judged(a, b, swapped, turn, Reading::Curve).deviation);
    let golden = judged(a, b, swapped, least, Reading::Curve);
    [start, squares, golden].into_iter().reduce(|p, q| if q.deviation < p.deviation { q } else { p }).unwrap_or(start)
}

/// The same motion judged and bettered on the true edges.
fn exactly(a: &Shape, b: &Shape, near: Match) -> Match {
    let motion = near.motion;
    let start = judged(a, b, motion.swapped, motion.turn, Reading::Exact);
    let squares = settled(a, b, start, Reading::Exact, 4);
    if squares.deviation <= 0.2 * SAME {
        return squares;
    }
    let least = lowest(squares.motion.turn, 0.1 * turn_of(1), 1e-6, |turn| {
        judged(a, b, motion.swapped, turn, Reading::Exact).deviation
    });
    let golden = judged(a, b, motion.swapped, least, Reading::Exact);
    if golden.deviation < squares.deviation { golden } else { squares }
}

fn lowest(turn: f64, width: f64, close: f64, f: impl Fn(f64) -> f64) -> f64 {
    crate::geometry::least_place(turn - width, turn + width, close, f)
}

/// Newton's steps towards the least squares of edges and holes; the best motion met.
fn settled(a: &Shape, b: &Shape, start: Match, reading: Reading, steps: u32) -> Match {
    let (mut best, mut here) = (start, start);
    for _ in 0..steps {
        let swapped = here.motion.swapped;
        let (mut over, mut under) = squares(a, b, swapped, here.motion.turn, reading, &[0, 1]);
        let reach = b.profile.reach();
        for pair in holes::pairs(a, b, &here.motion) {
            over -= pair.clock * reach * reach;
            under += reach * reach;
        }
        if under < 1e-9 {
            break;
        }
        let step = (over / under).clamp(-turn_of(2), turn_of(2));
        here = judged(a, b, swapped, here.motion.turn + step, reading);
        if here.deviation < best.deviation {
            best = here;
        }
        if step.abs() < 1e-10 {
            break;
        }
    }
    best
}

fn bent(a: &Shape, b: &Shape, swapped: bool) -> Match {
    let laid = Alignment::of(&landmarks(a, swapped), &landmarks(b, false));
    let (motion, misfit) = told_along(a, b, swapped, &laid);
    let [first, last] = differences(a, b, swapped, motion.turn, Reading::Exact);
    let edges =
        [first.0, first.1, last.0, last.1].map(|off| (off + motion.slide).abs()).into_iter().fold(0.0, f64::max);
    Match { motion, deviation: laid.off.max(misfit).max(edges).max(beside_edges(a, b, &motion)) }
}

/// The motion of a bent part told along the tube, and by how much the outlines of both tubes are turned out of line, mm.
pub(super) fn told_along(a: &Shape, b: &Shape, swapped: bool, laid: &Alignment) -> (Motion, f64) {
    let index = if swapped { a.path.carried(DVec3::X) } else { DVec3::X };
    let there = laid.direction(index);
    let clock = libm::atan2(there.y, there.x);
    let own = b.own_turns().and_then(|turns| {
        turns
            .iter()
            .copied()
            .reduce(|p, q| if least_turn(q - clock).abs() < least_turn(p - clock).abs() { q } else { p })
    });
    let turn = own.unwrap_or(clock).rem_euclid(TAU);
    let tangents = |shape: &Shape| [shape.path.first().length, shape.path.length() - shape.path.last().length];
    let (ta, tb) = (tangents(a), tangents(b));
    let slides = if swapped { [tb[0] + ta[1], tb[1] + ta[0]] } else { [tb[0] - ta[0], tb[1] - ta[1]] };
    let motion = Motion { swapped, turn, slide: 0.5 * (slides[0] + slides[1]) };
    (motion, least_turn(turn - clock).abs() * b.profile.reach())
}

/// Points of the centreline that say what it is: its ends at the mean of their edges, tangent points and middles of bends.
fn landmarks(shape: &Shape, backwards: bool) -> Vec<DVec3> {
    let (path, first, last) = (&shape.path, shape.path.first(), shape.path.last());
    let ends = shape.edges.each_ref().map(|edge| 0.5 * (edge.mean()[0] + edge.mean()[1]));
    let mut points = vec![first.start + first.direction * ends[0]];
    points.extend(bend_points(path));
    points.push(path.end() + last.direction * (ends[1] - path.length()));
    if backwards {
        points.reverse();
    }
    points
}

/// Start, middle and end of every bend.
pub(super) fn bend_points(path: &crate::geometry::Path) -> Vec<DVec3> {
    let point = |arc: &crate::geometry::Arc, part: f64| {
        arc.centre + crate::geometry::turned(arc.start, arc.axis, arc.angle * part) * arc.radius
    };
    path.arcs.iter().flat_map(|arc| [0.0, 0.5, 1.0].map(|part| point(arc, part))).collect()
}
