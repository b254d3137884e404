//! How far the edges of one part, moved, stand from those of another.

use super::edge::{Edge, LINES, SAMPLES, place};
use super::motion::Motion;
use super::shape::Shape;
use crate::geometry::least_place;
use core::f64::consts::TAU;

/// Where the edges of the moved part are read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Reading {
    /// From its regular places and a curve through them: quick, and within some hundredths of a millimetre but at kinks.
    Curve,
    /// From its cut.
    Exact,
}

/// Differences at one end of the second part: stations of the first, swapped and turned but not slid, less those of the second.
#[derive(Debug, Clone, Copy)]
pub(super) struct Off {
    /// Least over both lines, mm.
    pub low: f64,
    /// Largest over both lines, mm.
    pub high: f64,
    /// Turn that makes the squares of the differences least is the quotient of these two, radians; a slide of this end by itself
    /// is allowed for, and kinks and stops are left out.
    pub over: f64,
    /// See `over`.
    pub under: f64,
}

/// Differences at both ends of `b`.
pub(super) fn differences(a: &Shape, b: &Shape, swapped: bool, turn: f64, reading: Reading) -> [Off; 2] {
    let view = View::new(a, b, swapped, turn);
    [0, 1].map(|end| {
        let (from, to) = (&a.edges[view.motion.end_at(end)], &b.edges[end]);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        let (mut count, mut off, mut slope, mut both, mut square) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for line in 0..LINES {
            let stations = view.stations(from, line, reading);
            let (slopes, evens) = from.slopes(line, view.shift(from));
            for (number, wanted) in to.samples()[line].iter().enumerate() {
                let at = view.order(number);
                let d = view.motion.station(stations[at]) - wanted;
                let (even, m) = (evens[at], -slopes[at] * view.arm);
                (low, high) = (low.min(d), high.max(d));
                count += even;
                off += even * d;
                slope += even * m;
                both += even * d * m;
                square += even * m * m;
            }
        }
        let count = f64::max(count, 1.0);
        Off { low, high, over: off * slope / count - both, under: square - slope * slope / count }
    })
}

/// The least and the largest of them alone.
pub(super) fn spans(a: &Shape, b: &Shape, swapped: bool, turn: f64, reading: Reading) -> [(f64, f64); 2] {
    let view = View::new(a, b, swapped, turn);
    [0, 1].map(|end| {
        let (from, to) = (&a.edges[view.motion.end_at(end)], &b.edges[end]);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for line in 0..LINES {
            let stations = view.stations(from, line, reading);
            for (number, wanted) in to.samples()[line].iter().enumerate() {
                let d = view.motion.station(stations[view.order(number)]) - wanted;
                (low, high) = (low.min(d), high.max(d));
            }
        }
        (low, high)
    })
}

/// Least and largest differences where they are and not at the nearest regular place: a kink may stand out between two of them.
pub(super) fn sharp_differences(a: &Shape, b: &Shape, swapped: bool, turn: f64) -> [(f64, f64); 2] {
    let view = View::new(a, b, swapped, turn);
    [0, 1].map(|end| {
        let (from, to) = (&a.edges[view.motion.end_at(end)], &b.edges[end]);
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for line in 0..LINES {
            let off = |u: f64| view.motion.station(from.exact(view.on_first(u), line)) - to.exact(u, line);
            let row: [f64; SAMPLES] = core::array::from_fn(|number| off(place(view.perimeter, number)));
            for number in 0..SAMPLES {
                let (before, here, after) =
                    (row[(number + SAMPLES - 1) % SAMPLES], row[number], row[(number + 1) % SAMPLES]);
                (low, high) = (low.min(here), high.max(here));
                let middle = place(view.perimeter, number);
                let look = |sign: f64| {
                    let f = |u: f64| sign * off(u);
                    f(least_place(middle - to.step(), middle + to.step(), 1e-6 * view.perimeter, f))
                };
                if here <= before && here < after {
                    low = low.min(look(1.0));
                }
                if here >= before && here > after {
                    high = high.max(-look(-1.0));
                }
            }
        }
        (low, high)
    })
}

/// The same for a turn by `steps` regular places, where no curve is needed; `every` leaves out places.
pub(super) fn stepped(a: &Shape, b: &Shape, swapped: bool, steps: usize, every: usize) -> [(f64, f64); 2] {
    [0, 1].map(|end| {
        let from = a.edges[if swapped { 1 - end } else { end }].samples();
        let to = b.edges[end].samples();
        let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
        for line in 0..LINES {
            let (from, to) = (&from[line], &to[line]);
            let mut at = if swapped { steps } else { (SAMPLES - steps) % SAMPLES };
            for number in (0..SAMPLES).step_by(every) {
                let off = if swapped { -from[at] - to[number] } else { from[at] - to[number] };
                low = low.min(off);
                high = high.max(off);
                at += if swapped { SAMPLES - every } else { every };
                if at >= SAMPLES {
                    at -= SAMPLES;
                }
            }
        }
        (low, high)
    })
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

    /// How many steps on the places of `a` begin that come to lie at the regular places of `b`; when swapped they are met from
    /// the last to the first.
    fn shift(&self, from: &Edge) -> f64 {
        self.on_first(0.0) / from.step() + if self.motion.swapped { 1.0 } else { 0.0 }
    }

    /// Where the place of `a` for a regular place of `b` stands in a row.
    fn order(&self, number: usize) -> usize {
        if self.motion.swapped { SAMPLES - 1 - number } else { number }
    }

    /// Stations of an edge of `a` in a row.
    fn stations(&self, from: &Edge, line: usize, reading: Reading) -> [f64; SAMPLES] {
        match reading {
            Reading::Curve => from.row(line, self.shift(from)),
            Reading::Exact => {
                core::array::from_fn(|at| from.exact(self.on_first(place(self.perimeter, self.order(at))), line))
            }
        }
    }

    /// Place on `a` that comes to lie at `u` of `b`.
    fn on_first(&self, u: f64) -> f64 {
        let turn = self.motion.turn * self.arm;
        if self.motion.swapped { turn - u } else { u - turn }
    }
}
