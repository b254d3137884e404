//! Cut lines as polylines round the tube: close to the true curve, with breaks, kinks and extremes as points of their own.

use super::cut::Cut;
use crate::geometry::golden_minimum;

/// Largest distance of the polyline from the true curve on the unrolled surface, mm.
pub const TOLERANCE: f64 = 0.002;

/// Sides into which the turn is cut before anything is known of the curve.
const SIDES: u32 = 72;

/// Narrowest step round the tube as a part of the turn: places closer than this are one place.
const NARROWEST: f64 = 1e-9;

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
pub struct Line {
    /// Runs of at least two points.
    pub runs: Vec<Vec<LinePoint>>,
}

impl Line {
    /// Outer line of a cut.
    #[must_use]
    pub fn outer(cut: &Cut) -> Self {
        Self::at_depth(cut, 0.0)
    }

    /// Line of a cut at a depth in the wall.
    #[must_use]
    pub fn at_depth(cut: &Cut, depth: f64) -> Self {
        trace(cut, &|u| {
            let contact = cut.contact(u, depth)?;
            Some((contact.s, (contact.target, contact.piece, cut.end.profile.spot(u, 0.0).side)))
        })
    }

    /// Relief line of a cut.
    #[must_use]
    pub fn relief(cut: &Cut) -> Self {
        trace(cut, &|u| Some((cut.relief(u)?, (0, 0, cut.end.profile.spot(u, 0.0).side))))
    }

    /// All points.
    pub fn points(&self) -> impl Iterator<Item = LinePoint> + '_ {
        self.runs.iter().flatten().copied()
    }

    /// The furthest point out of the body; of equal ones that with the least `u`.
    #[must_use]
    pub fn longest(&self) -> Option<LinePoint> {
        let top = self.points().map(|point| point.s).reduce(f64::max)?;
        self.points().find(|point| point.s >= top - 1e-6)
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
        steps.map(|pair| libm::hypot(pair[1].u - pair[0].u, pair[1].s - pair[0].s)).sum()
    }

    /// Integral of the station over the outline where there is a line, mm2.
    #[must_use]
    pub fn integral(&self) -> f64 {
        let steps = self.runs.iter().flat_map(|run| run.windows(2));
        steps.map(|pair| (pair[1].u - pair[0].u) * (pair[0].s + pair[1].s) / 2.0).sum()
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

/// Which smooth piece of which surface a point lies on.
type Owner = (usize, usize, usize);

type Found = Option<(f64, Owner)>;

struct Tracer<'a, F> {
    place: &'a F,
    perimeter: f64,
    runs: Vec<Vec<LinePoint>>,
}

fn trace<F: Fn(f64) -> Found>(cut: &Cut, place: &F) -> Line {
    let perimeter = cut.end.profile.perimeter();
    let places = cut.places(SIDES);
    let mut tracer = Tracer { place, perimeter, runs: Vec::new() };
    let mut left = (places[0], place(places[0]));
    tracer.put(left);
    for &u in &places[1..] {
        let right = (u, place(u));
        tracer.span(left, right, 0);
        left = right;
    }
    let mut runs = tracer.runs;
    runs.retain(|run| run.len() > 1);
    for run in &mut runs {
        sharpen(run, place);
    }
    Line { runs }
}

impl<F: Fn(f64) -> Found> Tracer<'_, F> {
    /// Adds a found point to the run in progress, or ends that run at a miss.
    fn put(&mut self, (u, found): (f64, Found)) {
        match found {
            Some((s, _)) => {
                if self.runs.is_empty() {
                    self.runs.push(Vec::new());
                }
                if let Some(run) = self.runs.last_mut()
                    && run.last().is_none_or(|last| last.u != u || last.s != s)
                {
                    run.push(LinePoint { u, s });
                }
            }
            None => {
                if self.runs.last().is_some_and(|run| !run.is_empty()) {
                    self.runs.push(Vec::new());
                }
            }
        }
    }

    /// Adds what lies after `left` up to and with `right`.
    fn span(&mut self, left: (f64, Found), right: (f64, Found), depth: u32) {
        let owner = |found: Found| found.map(|(_, owner)| owner);
        if owner(left.1) != owner(right.1) {
            let (mut a, mut b) = (left, right);
            while b.0 - a.0 > NARROWEST * self.perimeter {
                let u = 0.5 * (a.0 + b.0);
                let middle = (u, (self.place)(u));
                if owner(middle.1) == owner(left.1) {
                    a = middle;
                } else {
                    b = middle;
                }
            }
            self.smooth(left, a, depth);
            self.put(b);
            if depth < 40 {
                self.span(b, right, depth + 1);
            }
            return;
        }
        self.smooth(left, right, depth);
    }

    /// Adds points until chords lie within the tolerance of the curve; both ends have the same owner.
    fn smooth(&mut self, left: (f64, Found), right: (f64, Found), depth: u32) {
        let (Some((s_left, owner)), Some((s_right, _))) = (left.1, right.1) else {
            self.put(right);
            return;
        };
        let width = right.0 - left.0;
        if width <= NARROWEST * self.perimeter || depth >= 40 {
            self.put(right);
            return;
        }
        let rise = s_right - s_left;
        let chord = libm::hypot(width, rise);
        let mut close = true;
        let mut middle = (0.0, None);
        for part in [0.5, 0.25, 0.75] {
            let u = left.0 + part * width;
            let found = (self.place)(u);
            if part == 0.5 {
                middle = (u, found);
            }
            close &= match found {
                Some((s, found_owner)) if found_owner == owner => {
                    ((s - s_left) - part * rise).abs() * width / chord <= TOLERANCE
                }
                _ => false,
            };
            if !close {
                break;
            }
        }
        if close {
            self.put(right);
        } else {
            self.span(left, middle, depth + 1);
            self.span(middle, right, depth + 1);
        }
    }
}

/// Puts the true extremes of the curve in place of the highest and lowest points of the polyline.
fn sharpen<F: Fn(f64) -> Found>(run: &mut Vec<LinePoint>, place: &F) {
    let mut found = Vec::new();
    for index in 1..run.len().saturating_sub(1) {
        let (before, here, after) = (run[index - 1], run[index], run[index + 1]);
        for sign in [1.0, -1.0] {
            let is_extreme = sign * here.s >= sign * before.s && sign * here.s > sign * after.s;
            if !is_extreme {
                continue;
            }
            let height = |u: f64| place(u).map_or(f64::INFINITY, |(s, _)| -sign * s);
            let u = golden_minimum(before.u, after.u, 1e-7, height);
            if let Some((s, _)) = place(u)
                && sign * s > sign * here.s + 1e-9
            {
                found.push(LinePoint { u, s });
            }
        }
    }
    if !found.is_empty() {
        run.extend(found);
        run.sort_by(|a, b| a.u.total_cmp(&b.u));
    }
}
