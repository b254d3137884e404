//! What an old part can still become: the new one by trimming and drilling, or scrap.

use super::align::Alignment;
use super::differences::{Reading, differences, sharp_differences, spans, stepped};
use super::edge::SAMPLES;
use super::holes::{self, Pair};
use super::motion::{Motion, least_turn};
use super::same::{bend_points, same, told_along, turn_of};
use super::shape::{Hole, Shape};
use super::{Match, SAME};
use crate::geometry::{DVec3, Path, bisect, least_place};
use core::f64::consts::TAU;
use serde::{Deserialize, Serialize};

/// What becomes of an old part.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// It is the new part already.
    Unchanged {
        /// How it lies on the new one.
        by: Match,
    },
    /// It can be made into the new part. With nothing to trim and nothing to drill the finished parts are equal, and only what is
    /// left long on delivery differs.
    Rework {
        /// How the old part lies on the new one.
        motion: Motion,
        /// Ends to trim.
        trims: Vec<Trim>,
        /// Holes to drill, as positions in the new part's list.
        drill: Vec<usize>,
        /// Ends of the old part, 0 first, 1 last, at which what is left long must still be there; trims count from the sawn end.
        while_long: [bool; 2],
    },
    /// It cannot be made into the new part.
    Replace {
        /// What is in the way.
        why: Why,
    },
}

/// An end to trim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Trim {
    /// Which end of the old part: 0 first, 1 last.
    pub old_end: usize,
    /// Which end of the new part it becomes.
    pub new_end: usize,
    /// Most to take off anywhere round the tube, along it, mm.
    pub most: f64,
    /// Least to take off anywhere, mm.
    pub least: f64,
}

/// Why an old part cannot become the new one.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case", tag = "why")]
pub enum Why {
    /// It is another tube or another material.
    Section,
    /// It has another number of bends.
    Bends {
        /// Bends of the old part.
        old: usize,
        /// Bends of the new part.
        new: usize,
    },
    /// Its bends run elsewhere.
    Centreline {
        /// Most by which the bent centrelines differ when laid on each other, mm.
        off: f64,
    },
    /// It is too short somewhere, however it is laid.
    TooShort {
        /// By how much at the best, mm.
        by: f64,
        /// End of the new part that the old one does not reach; `None` for a straight tube that can be slid to reach either.
        end: Option<usize>,
    },
    /// A hole of the old part lies where the new one has none.
    Hole {
        /// Which, as a position in the old part's list.
        old: usize,
        /// Distance to the nearest hole of its kind in the new part, mm; `None` when there is none.
        off: Option<f64>,
    },
}

/// Decides what becomes of an `old` part when the `new` one takes its place: over all motions that could serve, whether the new
/// solid lies inside the old one within [`SAME`]. Of several the motion that trims the fewest ends is taken, then the one that
/// takes off least at the worst places. What is left long counts only where the old part would be too short without it.
#[must_use]
pub fn rework(old: &Shape, new: &Shape) -> Change {
    let change = of_finished(old, new);
    if !matches!(change, Change::Replace { why: Why::TooShort { .. } }) {
        return change;
    }
    let long = [[true, false], [false, true], [true, true]].into_iter().find_map(|ends| {
        match of_finished(&old.untrimmed(ends)?, new) {
            // An end that serves as it was sawn would be told of by no trim.
            Change::Rework { motion, trims, drill, .. }
                if (0..2).all(|end| !ends[end] || trims.iter().any(|trim| trim.old_end == end)) =>
            {
                Some(Change::Rework { motion, trims, drill, while_long: ends })
            }
            _ => None,
        }
    });
    long.unwrap_or(change)
}

/// The same for an old part as it is, whatever is left long at its ends.
fn of_finished(old: &Shape, new: &Shape) -> Change {
    if let Some(by) = same(old, new) {
        return Change::Unchanged { by };
    }
    if !old.has_section_of(new) {
        return Change::Replace { why: Why::Section };
    }
    let bends = [old, new].map(|shape| shape.path.arcs.len());
    if bends[0] != bends[1] {
        return Change::Replace { why: Why::Bends { old: bends[0], new: bends[1] } };
    }
    let mut trials = Trials { old, new, best: None, refusal: None };
    for swapped in [false, true] {
        if old.is_straight() {
            trials.straight(swapped);
        } else {
            trials.bent(swapped);
        }
    }
    match (trials.best, trials.refusal) {
        (Some(plan), _) => {
            Change::Rework { motion: plan.motion, trims: plan.trims, drill: plan.drill, while_long: [false; 2] }
        }
        (None, Some((_, why))) => Change::Replace { why },
        (None, None) => Change::Replace { why: Why::Section },
    }
}

/// Refusals by their gravity: a hole in the way under this, then too short, then other bends.
const TOO_SHORT: f64 = 1e6;
const OTHER_BENDS: f64 = 1e9;

#[derive(Debug, Clone)]
struct Plan {
    motion: Motion,
    trims: Vec<Trim>,
    drill: Vec<usize>,
    /// Sum of the most to take off at both ends, and what ends that stay are off, mm.
    depth: f64,
}

struct Trials<'a> {
    old: &'a Shape,
    new: &'a Shape,
    best: Option<Plan>,
    /// How grave the mildest refusal is, and what it says.
    refusal: Option<(f64, Why)>,
}

impl Trials<'_> {
    fn straight(&mut self, swapped: bool) {
        for turn in self.turns(swapped) {
            self.slides(swapped, turn);
        }
        for motion in holes::alignments(self.old, self.new, swapped) {
            let Some(motion) = self.on_own_turn(motion) else { continue };
            let ends = sharp_differences(self.old, self.new, swapped, motion.turn);
            if self.is_long_enough(&ends) {
                self.consider(motion, &ends, 0.0);
            }
        }
    }

    /// Whether a straight old part reaches both ends of the new one somewhere on its way along it; if not, that is noted.
    fn is_long_enough(&mut self, ends: &[(f64, f64); 2]) -> bool {
        let lacking = ends[0].1 - ends[1].0;
        if lacking > 2.0 * SAME {
            self.refuse(TOO_SHORT + lacking, Why::TooShort { by: lacking, end: None });
        }
        lacking <= 2.0 * SAME
    }

    /// Turns worth trying: no turn, that with most to spare, and those where an end of the old part fits one of the new.
    fn turns(&self, swapped: bool) -> Vec<f64> {
        if let Some(turns) = self.old.own_turns() {
            return turns.to_vec();
        }
        let (old, new) = (self.old, self.new);
        let mut turns = vec![0.0];
        turns.extend(holes::alignments(old, new, swapped).into_iter().map(|motion| motion.turn));
        let coarse: Vec<[(f64, f64); 2]> = (0..SAMPLES).map(|steps| stepped(old, new, swapped, steps, 2)).collect();
        let spare: Vec<f64> = coarse.iter().map(|ends| ends[0].1 - ends[1].0).collect();
        let lacking = |turn: f64, reading: Reading| {
            let ends = spans(old, new, swapped, turn, reading);
            ends[0].1 - ends[1].0
        };
        let least = |turn: f64, width: f64, reading: Reading| {
            least_place(turn - width, turn + width, 1e-6, |turn| lacking(turn, reading))
        };
        let free = lows(&spare).into_iter().map(|steps| least(turn_of(steps), turn_of(1), Reading::Curve));
        if let Some(best) = free.min_by(|p, q| lacking(*p, Reading::Curve).total_cmp(&lacking(*q, Reading::Curve))) {
            turns.push(least(best, 0.1 * turn_of(1), Reading::Exact));
        }
        for end in [0, 1] {
            let ranges: Vec<f64> = coarse.iter().map(|ends| ends[end].1 - ends[end].0).collect();
            turns.extend(lows(&ranges).into_iter().filter_map(|steps| self.fitted(swapped, end, turn_of(steps))));
        }
        turns.sort_by(|a, b| least_turn(*a).abs().total_cmp(&least_turn(*b).abs()));
        turns.dedup_by(|a, b| (*a - *b).abs() < 1e-9);
        turns
    }

    /// The motion with the turn that lays outline on outline; `None` when that would move a hole away again.
    fn on_own_turn(&self, motion: Motion) -> Option<Motion> {
        let Some(turns) = self.old.own_turns() else { return Some(motion) };
        let off = |turn: f64| least_turn(turn - motion.turn).abs();
        let turn = turns.iter().copied().reduce(|p, q| if off(q) < off(p) { q } else { p })?;
        (off(turn) * self.new.profile.reach() <= SAME).then_some(Motion { turn, ..motion })
    }

    /// The turn near `turn` that lays an end of the old part on one of the new; `None` when they are cut otherwise.
    fn fitted(&self, swapped: bool, end: usize, mut turn: f64) -> Option<f64> {
        // On curves a kink is off by some tenths of a millimetre.
        for (reading, most) in [(Reading::Curve, 1.0), (Reading::Exact, 2.0 * SAME)] {
            let mut range = f64::INFINITY;
            for _ in 0..8 {
                let here = differences(self.old, self.new, swapped, turn, reading)[end];
                range = here.high - here.low;
                let step = if here.under < 1e-9 { 0.0 } else { (here.over / here.under).clamp(-0.1, 0.1) };
                if range < 1e-4 || step.abs() < 1e-9 {
                    break;
                }
                turn += step;
            }
            let rough = self.old.is_rough() || self.new.is_rough();
            if range > most && !(rough && reading == Reading::Curve) {
                return None;
            }
        }
        Some(turn)
    }

    /// For one turn, the slides worth trying: an end of the old part on one of the new, and the middle of what is free.
    fn slides(&mut self, swapped: bool, turn: f64) {
        let ends = sharp_differences(self.old, self.new, swapped, turn);
        if !self.is_long_enough(&ends) {
            return;
        }
        let middles = ends.map(|(low, high)| -0.5 * (low + high));
        let free = -0.5 * (ends[0].1 + ends[1].0);
        for slide in [middles[0], middles[1], free] {
            self.consider(Motion { swapped, turn: turn.rem_euclid(TAU), slide }, &ends, 0.0);
        }
    }

    fn bent(&mut self, swapped: bool) {
        let reach = |path: &Path| [path.first().length, path.last().length];
        let (a, b) = (reach(&self.old.path), reach(&self.new.path));
        let a_there = if swapped { [a[1], a[0]] } else { a };
        let common = [a_there[0].min(b[0]), a_there[1].min(b[1])];
        let at_old = if swapped { [common[1], common[0]] } else { common };
        let mut moved = with_legs(&self.old.path, at_old);
        if swapped {
            moved.reverse();
        }
        let laid = Alignment::of(&moved, &with_legs(&self.new.path, common));
        let (motion, misfit) = told_along(self.old, self.new, swapped, &laid);
        let ends = sharp_differences(self.old, self.new, swapped, motion.turn);
        self.consider(motion, &ends, laid.off.max(misfit));
    }

    /// Weighs one motion. `ends` are the differences before the slide, `off` the misfit of the centrelines.
    fn consider(&mut self, motion: Motion, ends: &[(f64, f64); 2], off: f64) {
        if off > SAME {
            self.refuse(OTHER_BENDS + off, Why::Centreline { off });
            return;
        }
        // What is taken off: at the first end what the old part has below the new one, at the last what it has above.
        let off_ends = [
            (-(ends[0].1 + motion.slide), -(ends[0].0 + motion.slide)),
            (ends[1].0 + motion.slide, ends[1].1 + motion.slide),
        ];
        let end = if off_ends[0].0 < off_ends[1].0 { 0 } else { 1 };
        if off_ends[end].0 < -SAME {
            let by = -off_ends[end].0;
            self.refuse(TOO_SHORT + by, Why::TooShort { by, end: Some(end) });
            return;
        }
        let pairs = holes::pairs(self.old, self.new, &motion);
        if let Some((old, distance)) = self.stray_hole(&motion, &pairs) {
            self.refuse(distance.unwrap_or(f64::INFINITY).min(0.1 * TOO_SHORT), Why::Hole { old, off: distance });
            return;
        }
        let trims: Vec<Trim> = (0..2)
            .filter(|&end| off_ends[end].1 > SAME)
            .map(|end| Trim {
                old_end: motion.end_at(end),
                new_end: end,
                most: off_ends[end].1,
                least: off_ends[end].0.max(0.0),
            })
            .collect();
        // An end that stays is better laid exactly than shifted within the tolerance to save a trim the same amount.
        let cost = |(least, most): &(f64, f64)| if *most > SAME { *most } else { 2.0 * most.abs().max(least.abs()) };
        let depth = off_ends.iter().map(cost).sum::<f64>();
        let reach = self.new.profile.reach();
        let made = |new: &usize| pairs.iter().any(|pair| pair.second == *new && pair.distance(reach) <= SAME);
        let drill: Vec<usize> = (0..self.new.holes.len()).filter(|new| !made(new)).collect();
        let better = |best: &Plan| {
            let fewer = trims.len().cmp(&best.trims.len()).then(drill.len().cmp(&best.drill.len()));
            fewer.is_lt() || (fewer.is_eq() && depth < best.depth - 1e-3)
        };
        if self.best.as_ref().is_none_or(better) {
            self.best = Some(Plan { motion, trims, drill, depth });
        }
    }

    /// An old hole that neither meets a new one nor is trimmed away.
    fn stray_hole(&self, motion: &Motion, pairs: &[Pair]) -> Option<(usize, Option<f64>)> {
        let reach = self.new.profile.reach();
        self.old.holes.iter().enumerate().find_map(|(old, hole)| {
            let pair = pairs.iter().find(|pair| pair.first == old).map(|pair| pair.distance(reach));
            let meets = pair.is_some_and(|distance| distance <= SAME);
            (!meets && !self.is_trimmed_away(motion, hole)).then_some((old, pair))
        })
    }

    fn is_trimmed_away(&self, motion: &Motion, hole: &Hole) -> bool {
        let (station, radius) = (motion.station(hole.station), hole.diameter / 2.0);
        let perimeter = self.new.profile.perimeter();
        let beyond = |end: usize, clock: f64| {
            let there = motion.clock(clock);
            let middle = bisect(0.0, perimeter * (1.0 - 1e-12), 0.0, |u| self.new.profile.clock(u) - there);
            [-1.0, -0.5, 0.0, 0.5, 1.0].iter().all(|part| {
                (0..super::edge::LINES).all(|line| {
                    let edge = self.new.edges[end].exact(middle + part * radius, line);
                    if end == 0 { station + radius <= edge } else { station - radius >= edge }
                })
            })
        };
        let walls = || [Some(hole.clock), hole.opposite].into_iter().flatten();
        (0..2).any(|end| walls().all(|clock| beyond(end, clock)))
    }

    fn refuse(&mut self, gravity: f64, why: Why) {
        if self.refusal.is_none_or(|(mildest, _)| gravity < mildest) {
            self.refusal = Some((gravity, why));
        }
    }
}

/// The bends and a point on each end leg so far from its bend.
fn with_legs(path: &Path, legs: [f64; 2]) -> Vec<DVec3> {
    let (first, last) = (path.first(), path.last());
    let mut points = vec![first.start + first.direction * (first.length - legs[0])];
    points.extend(bend_points(path));
    points.push(last.start + last.direction * legs[1]);
    points
}

/// The three lowest places of a closed row of values.
fn lows(values: &[f64]) -> Vec<usize> {
    let count = values.len();
    let mut lows: Vec<usize> = (0..count)
        .filter(|&at| values[at] <= values[(at + count - 1) % count] && values[at] <= values[(at + 1) % count])
        .collect();
    lows.sort_by(|&a, &b| values[a].total_cmp(&values[b]).then(a.cmp(&b)));
    lows.truncate(3);
    lows
}
