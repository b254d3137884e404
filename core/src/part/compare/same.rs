//! Whether a rigid motion carries one part onto another, and by how much the best one misses.

use super::SAME;
use super::align::Alignment;
use super::differences::{Off, Reading, differences, spans, stepped};
use super::edge::SAMPLES;
use super::holes;
use super::motion::{Motion, least_turn};
use super::shape::Shape;
use crate::geometry::DVec3;
use core::f64::consts::TAU;

/// A motion that is better by less than this is no better, mm: the simplest is taken.
const NO_BETTER: f64 = 1e-6;

/// A motion this good is looked no further for, mm.
const AS_GOOD: f64 = 1e-4;

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
    if !a.may_match(b, SAME) || !a.is_like(b) {
        return None;
    }
    nearest(a, b, SAME).filter(|found| found.deviation <= SAME)
}

/// The motion that carries `a` nearest to `b`, and how near; `None` when they are of different tube, have different numbers of
/// bends or holes of different kinds. Deviations over about 1.5 mm are read at the regular places only: a kink between two of them
/// can stand out by some tenths more.
#[must_use]
pub fn closest(a: &Shape, b: &Shape) -> Option<Match> {
    if a.is_like(b) { nearest(a, b, f64::INFINITY) } else { None }
}

/// The nearest motion; one that misses by more than `limit` is not followed up.
fn nearest(a: &Shape, b: &Shape, limit: f64) -> Option<Match> {
    let mut best: Option<Match> = None;
    for swapped in [false, true] {
        let found = if a.is_straight() { straight(a, b, swapped, limit) } else { bent(a, b, swapped) };
        if best.is_none_or(|best| found.deviation < best.deviation - NO_BETTER) {
            best = Some(found);
        }
        if found.deviation <= AS_GOOD {
            break;
        }
    }
    best
}

fn straight(a: &Shape, b: &Shape, swapped: bool, limit: f64) -> Match {
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
        let mut near: Option<Match> = None;
        for turn in candidates(a, b, swapped) {
            let found = on_curve(a, b, swapped, turn, limit);
            if near.is_none_or(|near| found.deviation < near.deviation - NO_BETTER) {
                near = Some(found);
            }
            if found.deviation <= SAME {
                break;
            }
        }
        if let Some(near) = near {
            let look_closer = near.deviation < CURVE_DECIDES || a.is_rough() || b.is_rough();
            best = Some(if look_closer { exactly(a, b, near) } else { near });
        }
    }
    best.unwrap_or(Match { motion: Motion { swapped, turn: 0.0, slide: 0.0 }, deviation: f64::INFINITY })
}

/// The best slide for a turn, and the deviation that is left.
fn judged(a: &Shape, b: &Shape, swapped: bool, turn: f64, reading: Reading) -> Match {
    slid(a, b, swapped, turn, spans(a, b, swapped, turn, reading))
}

/// The same from the differences at both ends.
fn slid(a: &Shape, b: &Shape, swapped: bool, turn: f64, [first, last]: [(f64, f64); 2]) -> Match {
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
        let [first, last] = stepped(a, b, swapped, steps, 6);
        slid(a, b, swapped, turn_of(steps), [first, last]).deviation
    });
    let mut lows: Vec<usize> = (0..SAMPLES)
        .filter(|&at| spans[at] <= spans[(at + SAMPLES - 1) % SAMPLES] && spans[at] <= spans[(at + 1) % SAMPLES])
        .collect();
    lows.sort_by(|&p, &q| spans[p].total_cmp(&spans[q]).then(p.cmp(&q)));
    lows.truncate(3);
    // Between two regular turns an edge can come nearer by its rise over a step: one that is worse by more than that is no match
    // for the best.
    let most = lows.first().map_or(0.0, |&best| spans[best]) + 2.0 * b.edges[0].step();
    lows.retain(|&at| spans[at] <= most);
    let mut turns: Vec<f64> = lows.into_iter().map(turn_of).collect();
    turns.extend(holes::alignments(a, b, swapped).into_iter().map(|motion| motion.turn));
    turns
}

/// A turn by so many regular places, radians.
pub(super) fn turn_of(steps: usize) -> f64 {
    super::edge::place(TAU, steps)
}

/// The best turn near `turn` on curves through the regular places.
fn on_curve(a: &Shape, b: &Shape, swapped: bool, turn: f64, limit: f64) -> Match {
    let squares = settled(a, b, swapped, turn, Reading::Curve, 3);
    if squares.deviation <= SAME || squares.deviation > limit + CURVE_DECIDES {
        return squares;
    }
    let least = lowest(turn, turn_of(1), 5e-5, |turn| judged(a, b, swapped, turn, Reading::Curve).deviation);
    let golden = judged(a, b, swapped, least, Reading::Curve);
    if golden.deviation < squares.deviation { golden } else { squares }
}

/// The same motion judged and bettered on the true edges.
fn exactly(a: &Shape, b: &Shape, near: Match) -> Match {
    let motion = near.motion;
    let squares = settled(a, b, motion.swapped, motion.turn, Reading::Exact, 10);
    if squares.deviation <= 0.2 * SAME {
        return squares;
    }
    let least = lowest(motion.turn, 0.1 * turn_of(1), 1e-6, |turn| {
        judged(a, b, motion.swapped, turn, Reading::Exact).deviation
    });
    let golden = judged(a, b, motion.swapped, least, Reading::Exact);
    if golden.deviation < squares.deviation { golden } else { squares }
}

fn lowest(turn: f64, width: f64, close: f64, f: impl Fn(f64) -> f64) -> f64 {
    crate::geometry::least_place(turn - width, turn + width, close, f)
}

/// Newton's steps towards the least squares of edges and holes; the best motion met.
fn settled(a: &Shape, b: &Shape, swapped: bool, turn: f64, reading: Reading, steps: u32) -> Match {
    let (mut turn, mut best): (f64, Option<Match>) = (turn, None);
    for _ in 0..=steps {
        let ends = differences(a, b, swapped, turn, reading);
        let here = slid(a, b, swapped, turn, ends.map(|end| (end.low, end.high)));
        if best.is_none_or(|best| here.deviation < best.deviation) {
            best = Some(here);
        }
        let step = step(a, b, &here.motion, &ends);
        if here.deviation <= AS_GOOD || step.abs() < 1e-9 {
            break;
        }
        turn += step;
    }
    best.unwrap_or(Match { motion: Motion { swapped, turn, slide: 0.0 }, deviation: f64::INFINITY })
}

fn step(a: &Shape, b: &Shape, motion: &Motion, ends: &[Off; 2]) -> f64 {
    let (mut over, mut under) = (ends[0].over + ends[1].over, ends[0].under + ends[1].under);
    let reach = b.profile.reach();
    for pair in holes::pairs(a, b, motion) {
        over -= pair.clock * reach * reach;
        under += reach * reach;
    }
    if under < 1e-9 { 0.0 } else { (over / under).clamp(-turn_of(2), turn_of(2)) }
}

fn bent(a: &Shape, b: &Shape, swapped: bool) -> Match {
    let laid = Alignment::of(&landmarks(a, swapped), &landmarks(b, false));
    let (motion, misfit) = told_along(a, b, swapped, &laid);
    let [first, last] = spans(a, b, swapped, motion.turn, Reading::Exact);
    let edges = [first.0, first.1, last.0, last.1].map(|off| (off + motion.slide).abs());
    let edges = edges.into_iter().fold(0.0, f64::max);
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
