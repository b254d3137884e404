//! Cut lines as polylines round the tube: close to the true curve, with breaks, kinks and extremes as points of their own.

use super::cut::Cut;
use super::table::Table;
use super::trace::{Course, NARROWEST, known, trace};
use crate::{Stop, Stopped};

/// Largest distance of the polyline from the true curve on the unrolled surface, mm.
pub const TOLERANCE: f64 = 0.004;

/// Points that are less apart in station than this are equally far out, mm: a cusp is found no more exactly.
const EQUAL: f64 = 1e-4;

/// Points that are less apart in station than this lie on one level edge, mm: the noise of computing it.
const LEVEL: f64 = 1e-7;

/// A point of a cut line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LinePoint {
    /// Place round the outer outline, mm.
    pub u: f64,
    /// Station from the end's datum, mm.
    pub s: f64,
}

/// A cut line: unbroken runs in order of `u`, from 0 to the whole outline; empty where every generator misses.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct CutLine {
    /// Runs of at least two points.
    pub runs: Vec<Vec<LinePoint>>,
}

impl CutLine {
    /// Line of a cut at a depth in the wall.
    #[must_use]
    pub fn at_depth(cut: &Cut, depth: f64) -> Self {
        let ring: Vec<_> = cut.profile().ring(cut.looked_at()).iter().map(|spot| cut.station(spot, depth)).collect();
        trace(cut, &ring, Course::AtDepth(depth), Stop::NEVER).unwrap_or_default()
    }

    /// Outer line and relief line of a cut, followed from a table of it with an even number of rows; of one with many more than it
    /// takes to see where a line goes, from some of them.
    ///
    /// # Errors
    /// [`Stopped`] when they are no longer wanted.
    pub fn both(cut: &Cut, table: &Table, stop: Stop) -> Result<[Self; 2], Stopped> {
        let count = table.rows.len();
        let most = count / cut.looked_at() as usize;
        let every = (1..=most).rev().find(|every| count.is_multiple_of(2 * every)).unwrap_or(1);
        let [outer, relief] = known(table.rows.iter().step_by(every));
        Ok([trace(cut, &outer, Course::AtDepth(0.0), stop)?, trace(cut, &relief, Course::Relief, stop)?])
    }

    /// All points.
    pub fn points(&self) -> impl Iterator<Item = LinePoint> + '_ {
        self.runs.iter().flatten().copied()
    }

    /// Station of the polyline at a place of the outline; `None` where it has none.
    #[must_use]
    pub fn at(&self, u: f64) -> Option<f64> {
        self.along(core::iter::once(u)).next()?
    }

    /// The same at places in rising order.
    pub fn along<'a>(&'a self, places: impl Iterator<Item = f64> + 'a) -> impl Iterator<Item = Option<f64>> + 'a {
        let (mut run, mut after) = (0, 1);
        places.map(move |u| {
            while self.runs.get(run).is_some_and(|points| points[points.len() - 1].u < u) {
                (run, after) = (run + 1, 1);
            }
            let points = self.runs.get(run).filter(|points| points[0].u <= u)?;
            while points[after].u < u {
                after += 1;
            }
            let (from, to) = (points[after - 1], points[after]);
            let width = to.u - from.u;
            Some(if width > 0.0 { from.s + (to.s - from.s) * (u - from.u) / width } else { to.s })
        })
    }

    /// The furthest points out of the body, in rising `u`: of each stretch that is equally far out for any purpose its highest, and
    /// all that are level with that.
    #[must_use]
    pub fn furthest(&self) -> Vec<LinePoint> {
        let points: Vec<LinePoint> = self.points().collect();
        let top = points.iter().map(|point| point.s).fold(f64::NEG_INFINITY, f64::max);
        let stretches = points.split(|point| point.s < top - EQUAL);
        let highest = stretches.flat_map(|stretch| {
            let top = stretch.iter().map(|point| point.s).fold(f64::NEG_INFINITY, f64::max);
            stretch.iter().filter(move |point| point.s >= top - LEVEL)
        });
        highest.copied().collect()
    }

    /// The station nearest the body.
    #[must_use]
    pub fn least(&self) -> Option<f64> {
        self.points().map(|point| point.s).reduce(f64::min)
    }

    /// Length of the line on the tube's surface, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        let steps = self.runs.iter().flat_map(|run| run.windows(2));
        let length = |[along, rise]: [f64; 2]| (along * along + rise * rise).sqrt();
        steps.map(|pair| length([pair[1].u - pair[0].u, pair[1].s - pair[0].s])).sum()
    }

    /// Integral of the station over the outline where there is a line, mm2.
    #[must_use]
    pub fn integral(&self) -> f64 {
        let steps = self.runs.iter().flat_map(|run| run.windows(2));
        steps.map(|pair| (pair[1].u - pair[0].u) * (pair[0].s + pair[1].s) / 2.0).sum()
    }

    /// Places at which one surface takes over from another, a little before and after each, and where runs begin and end.
    pub(super) fn edges(&self, perimeter: f64) -> impl Iterator<Item = f64> + '_ {
        let is_taken_over = move |pair: &&[LinePoint]| pair[1].u - pair[0].u <= 2.0 * NARROWEST * perimeter;
        let kinks = self.runs.iter().flat_map(move |run| run.windows(2).filter(is_taken_over)).flatten();
        let ends = self.runs.iter().flat_map(|run| [&run[0], &run[run.len() - 1]]);
        kinks.chain(ends).map(|point| point.u)
    }

    /// True when the line goes on at a place, which may lie past the whole outline.
    pub(super) fn covers(&self, u: f64, perimeter: f64) -> bool {
        let u = u.rem_euclid(perimeter);
        self.runs.iter().any(|run| run[0].u <= u && u <= run[run.len() - 1].u)
    }

    /// Adds points where the line has none, joined to the runs before and after where they end there. The points may go on past
    /// the whole outline.
    pub(super) fn add_run(&mut self, points: Vec<LinePoint>, perimeter: f64) {
        let (mut here, past): (Vec<LinePoint>, Vec<LinePoint>) =
            points.into_iter().partition(|point| point.u <= perimeter);
        let mut past: Vec<LinePoint> =
            past.into_iter().map(|point| LinePoint { u: point.u - perimeter, ..point }).collect();
        if let (Some(last), Some(first)) = (here.last().copied(), past.first().copied()) {
            // The seam is one place.
            let width = (first.u + perimeter - last.u).max(NARROWEST * perimeter);
            let s = last.s + (first.s - last.s) * (perimeter - last.u) / width;
            here.push(LinePoint { u: perimeter, s });
            past.insert(0, LinePoint { u: 0.0, s });
        }
        self.join(here, perimeter);
        self.join(past, perimeter);
    }

    fn join(&mut self, points: Vec<LinePoint>, perimeter: f64) {
        if points.len() < 2 {
            return;
        }
        self.runs.push(points);
        self.runs.sort_by(|a, b| a[0].u.total_cmp(&b[0].u));
        let mut joined: Vec<Vec<LinePoint>> = Vec::with_capacity(self.runs.len());
        for run in core::mem::take(&mut self.runs) {
            match joined.last_mut() {
                Some(before) if run[0].u - before[before.len() - 1].u <= 1e-6 * perimeter => before.extend(run),
                _ => joined.push(run),
            }
        }
        self.runs = joined;
    }

    /// Stretches of the outline without a line, as `[from, to]` in `u`; the last may run past the whole outline.
    #[must_use]
    pub fn breaks(&self, perimeter: f64) -> Vec<[f64; 2]> {
        let mut breaks = Vec::new();
        for (index, run) in self.runs.iter().enumerate() {
            let next = self.runs.get(index + 1).map_or(self.runs[0][0].u + perimeter, |next| next[0].u);
            let end = run[run.len() - 1].u;
            if next - end > 1e-6 * perimeter {
                breaks.push([end, next]);
            }
        }
        breaks
    }
}
