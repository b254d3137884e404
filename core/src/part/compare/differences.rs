//! How far the edges of one part, moved, stand from those of another.

use super::edge::{LINES, SAMPLES, bounds, place};
use super::motion::Motion;
use super::shape::Shape;
use core::f64::consts::TAU;

/// Where the edges of the moved part are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Reading {
    /// From its regular places and a curve through them: quick, and within some hundredths of a millimetre but at kinks.
    Curve,
    /// From its cut.
    Exact,
}

/// Least and largest difference at both ends of `b`, mm: station of `a` there, moved by swap and turn but not slid, less that
/// of `b`, over both lines.
pub(super) fn differences(a: &Shape, b: &Shape, swapped: bool, turn: f64, reading: Reading) -> [(f64, f64); 2] {
    let view = View::new(a, b, swapped, turn);
    [0, 1].map(|end| {
        let (from, to) = (&a.edges[view.motion.end_at(end)], &b.edges[end]);
        bounds((0..LINES).flat_map(|line| (0..SAMPLES).map(move |number| (line, number))).map(|(line, number)| {
            let u = view.place(number);
            let there = if reading == Reading::Exact { from.exact(u, line) } else { from.near(u, line).0 };
            view.motion.station(there) - to.samples()[line][number]
        }))
    })
}

/// The same for a turn by `steps` regular places, where no curve is needed; `every` leaves out places.
pub(super) fn stepped(a: &Shape, b: &Shape, swapped: bool, steps: usize, every: usize) -> [(f64, f64); 2] {
    [0, 1].map(|end| {
        let from = a.edges[if swapped { 1 - end } else { end }].samples();
        let to = b.edges[end].samples();
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for line in 0..LINES {
            for number in (0..SAMPLES).step_by(every) {
                let there = if swapped {
                    -from[line][(steps + SAMPLES - number) % SAMPLES]
                } else {
                    from[line][(number + SAMPLES - steps) % SAMPLES]
                };
                let off = there - to[line][number];
                low = low.min(off);
                high = high.max(off);
            }
        }
        (low, high)
    })
}

/// Products for the turn that makes the squares of the differences least: what to divide by what to get the turn still needed,
/// over the `ends` given. A slide of each end by itself is allowed for.
pub(super) fn squares(a: &Shape, b: &Shape, swapped: bool, turn: f64, reading: Reading, ends: &[usize]) -> (f64, f64) {
    let view = View::new(a, b, swapped, turn);
    let count = f64::from(u32::try_from(LINES * SAMPLES).unwrap_or(1));
    let mut total = (0.0, 0.0);
    for &end in ends {
        let (from, to) = (&a.edges[view.motion.end_at(end)], &b.edges[end]);
        let (mut off, mut slope, mut both, mut square) = (0.0, 0.0, 0.0, 0.0);
        for line in 0..LINES {
            for number in 0..SAMPLES {
                let u = view.place(number);
                let (near, rise) = from.near(u, line);
                let there = if reading == Reading::Exact { from.exact(u, line) } else { near };
                let (d, m) = (view.motion.station(there) - to.samples()[line][number], -rise * view.arm);
                off += d;
                slope += m;
                both += d * m;
                square += m * m;
            }
        }
        total.0 -= both - off * slope / count;
        total.1 += square - slope * slope / count;
    }
    total
}

struct View {
    motion: Motion,
    /// Outline for a radian, mm.
    arm: f64,
    perimeter: f64,
}

impl View {
    fn new(a: &Shape, b: &Shape, swapped: bool, turn: f64) -> Self {
        let perimeter = b.profile.perimeter();
        debug_assert!((perimeter - a.profile.perimeter()).abs() < 1e-3);
        Self { motion: Motion { swapped, turn, slide: 0.0 }, arm: perimeter / TAU, perimeter }
    }

    /// Place on `a` that comes to lie at a regular place of `b`.
    fn place(&self, number: usize) -> f64 {
        let (u, turn) = (place(self.perimeter, number), self.motion.turn * self.arm);
        if self.motion.swapped { turn - u } else { u - turn }
    }
}
