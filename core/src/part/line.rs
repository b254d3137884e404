//! Cut lines as polylines round the tube: close to the true curve, with breaks, kinks and extremes as points of their own.

use super::cut::{Contact, Cut, Station};
use crate::geometry::{Profile, bisect};

/// Largest distance of the polyline from the true curve on the unrolled surface, mm.
pub const TOLERANCE: f64 = 0.004;

/// Places round the tube that are looked at before anything is known of the curve; every other one becomes a point of the line.
const LOOKED_AT: u32 = 144;

/// Narrowest step round the tube as a part of the turn: places closer than this are one place.
const NARROWEST: f64 = 1e-9;

/// How exactly the place of an extreme is found, as a part of the turn: its station is exact to the square of this.
const RESOLVED: f64 = 1e-6;

/// Most times that a span is halved.
const DEEPEST: u32 = 40;

/// A curve follows the slopes at the ends of a span when its middle strays from them by no more than this part of the tolerance.
const FOLLOWED: f64 = 0.25;

/// Differences of stations that mean nothing, mm.
const NOISE: f64 = 1e-9;

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
        let ring: Vec<Found> = cut.profile().ring(LOOKED_AT).iter().map(|spot| cut.station(spot, depth)).collect();
        trace(cut, &ring, Course::AtDepth(depth))
    }

    /// Relief line of a cut.
    #[must_use]
    pub fn relief(cut: &Cut) -> Self {
        let ring: Vec<Found> = cut.profile().ring(LOOKED_AT).iter().map(|spot| cut.relief_station(spot)).collect();
        trace(cut, &ring, Course::Relief)
    }

    /// Outer and relief line of a cut.
    #[must_use]
    pub fn both(cut: &Cut) -> [Self; 2] {
        let [outer, relief] = cut.both_stations(&cut.profile().ring(LOOKED_AT));
        [trace(cut, &outer, Course::AtDepth(0.0)), trace(cut, &relief, Course::Relief)]
    }

    /// All points.
    pub fn points(&self) -> impl Iterator<Item = LinePoint> + '_ {
        self.runs.iter().flatten().copied()
    }

    /// Station of the polyline at a place of the outline; `None` where it has none.
    #[must_use]
    pub fn at(&self, u: f64) -> Option<f64> {
        let run = self.runs.iter().find(|run| run[0].u <= u && u <= run[run.len() - 1].u)?;
        let after = run.partition_point(|point| point.u < u).max(1);
        let (from, to) = (run[after - 1], run[after]);
        let width = to.u - from.u;
        Some(if width > 0.0 { from.s + (to.s - from.s) * (u - from.u) / width } else { to.s })
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

type Found = Option<Station>;

/// Which line of a cut is followed.
#[derive(Debug, Clone, Copy)]
enum Course {
    AtDepth(f64),
    Relief,
}

struct Tracer<'a> {
    cut: &'a Cut,
    course: Course,
    profile: Profile,
    perimeter: f64,
    runs: Vec<Vec<LinePoint>>,
}

/// Follows a line from what is known of it at equal steps.
fn trace(cut: &Cut, ring: &[Found], course: Course) -> Line {
    let profile = cut.profile();
    let perimeter = profile.perimeter();
    let count = ring.len();
    let step = perimeter / ring.iter().fold(0.0, |count, _| count + 1.0);
    let mut odd = cut.odd_places();
    odd.sort_by(f64::total_cmp);
    let mut odd = odd.into_iter().peekable();
    let mut tracer = Tracer { cut, course, profile, perimeter, runs: vec![Vec::with_capacity(2 * count)] };
    let mut at = 0.0;
    let mut next = || {
        at += 1.0;
        at * step
    };
    let mut left = (0.0, ring[0]);
    tracer.put(left);
    for pair in 0..count / 2 {
        let middle = (next(), ring[2 * pair + 1]);
        let right = match 2 * pair + 2 {
            last if last == count => (perimeter, ring[0]),
            next_but_one => (next(), ring[next_but_one]),
        };
        let mut between = Vec::new();
        while let Some(u) = odd.next_if(|&u| u < right.0) {
            if u - left.0 > NARROWEST * perimeter && right.0 - u > NARROWEST * perimeter {
                between.push((u, tracer.look(u)));
            }
        }
        if between.is_empty() {
            tracer.span(left, right, Some(middle), 0, false);
        } else {
            between.extend([middle, right]);
            between.sort_by(|a, b| a.0.total_cmp(&b.0));
            for here in between {
                tracer.span(left, here, None, 0, false);
                left = here;
            }
        }
        left = right;
    }
    let mut runs = core::mem::take(&mut tracer.runs);
    runs.retain(|run| run.len() > 1);
    for run in &mut runs {
        sharpen(run, perimeter, &|u| tracer.look(u));
    }
    Line { runs }
}

impl Tracer<'_> {
    fn look(&self, u: f64) -> Found {
        let spot = self.profile.spot(u, 0.0);
        match self.course {
            Course::AtDepth(depth) => self.cut.station(&spot, depth),
            Course::Relief => self.cut.relief_station(&spot),
        }
    }

    /// How far behind the piece of one contact that of another is met at `u`, mm; 0 where one of them is not met.
    fn lead(&self, u: f64, one: Contact, other: Contact) -> f64 {
        match self.course {
            Course::AtDepth(depth) => self.cut.lead(u, depth, one, other),
            Course::Relief => self.cut.relief_lead(u, one, other),
        }
    }

    /// Where one piece takes over from another between two places: the last place of the one and the first of the other;
    /// `None` when it is not as simple as that.
    fn kink(&self, left: (f64, Found), right: (f64, Found)) -> Option<[(f64, Found); 2]> {
        let (before, after) = (left.1?, right.1?);
        let lead = |u: f64| self.lead(u, before.contact, after.contact);
        if !(lead(left.0) < 0.0 && lead(right.0) > 0.0) {
            return None;
        }
        let half = 0.45 * NARROWEST * self.perimeter;
        let u = bisect(left.0, right.0, half, lead);
        let [a, b] = [u - half, u + half].map(|u| u.clamp(left.0, right.0)).map(|u| (u, self.look(u)));
        let is_found = |at: Found, wanted: Station| at.is_some_and(|station| station.owner() == wanted.owner());
        (is_found(a.1, before) && is_found(b.1, after)).then_some([a, b])
    }

    /// Adds a found point to the run in progress, or ends that run at a miss.
    fn put(&mut self, (u, found): (f64, Found)) {
        match found {
            Some(Station { contact: Contact { s, .. }, .. }) => {
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

    /// Adds what lies after `left` up to and with `right`. `known` when the curve has been seen to follow the slopes at both ends.
    fn span(&mut self, left: (f64, Found), right: (f64, Found), middle: Option<(f64, Found)>, depth: u32, known: bool) {
        let owner = |found: Found| found.map(|station| station.owner());
        if owner(left.1) == owner(right.1) {
            self.smooth(left, right, middle, depth, known);
            return;
        }
        if let Some(middle) = middle {
            self.span(left, middle, None, depth + 1, false);
            self.span(middle, right, None, depth + 1, false);
            return;
        }
        let [a, b] = self.kink(left, right).unwrap_or_else(|| {
            let (mut a, mut b) = (left, right);
            while b.0 - a.0 > NARROWEST * self.perimeter {
                let u = 0.5 * (a.0 + b.0);
                let middle = (u, self.look(u));
                if owner(middle.1) == owner(left.1) {
                    a = middle;
                } else {
                    b = middle;
                }
            }
            [a, b]
        });
        self.smooth(left, a, None, depth, false);
        self.put(b);
        if depth < DEEPEST {
            self.span(b, right, None, depth + 1, false);
        }
    }

    /// Adds points until chords lie within the tolerance of the curve; both ends have the same owner.
    fn smooth(
        &mut self,
        left: (f64, Found),
        right: (f64, Found),
        middle: Option<(f64, Found)>,
        depth: u32,
        known: bool,
    ) {
        let (Some(before), Some(after)) = (left.1, right.1) else {
            self.put(right);
            return;
        };
        let width = right.0 - left.0;
        if width <= NARROWEST * self.perimeter || depth >= DEEPEST {
            self.put(right);
            return;
        }
        let chord = Chord::new(width, before, after);
        let is_flat = chord.bulge() <= TOLERANCE;
        if known && is_flat {
            self.put(right);
            return;
        }
        let (u, middle) = middle.unwrap_or_else(|| {
            let u = left.0 + 0.5 * width;
            (u, self.look(u))
        });
        let same = |found: Found| found.filter(|station| station.owner() == before.owner());
        let off =
            |part: f64, found: Found| same(found).map_or(f64::INFINITY, |station| chord.off(part, station.contact.s));
        let follows = same(middle).is_some_and(|station| chord.strays(station.contact.s) <= FOLLOWED * TOLERANCE);
        let close = off(0.5, middle) <= TOLERANCE
            && (is_flat && follows
                || [0.25, 0.75].iter().all(|&part| off(part, self.look(left.0 + part * width)) <= TOLERANCE));
        let middle = (u, middle);
        if close {
            self.put(right);
        } else {
            self.span(left, middle, None, depth + 1, follows);
            self.span(middle, right, None, depth + 1, follows);
        }
    }
}

/// The straight line between two points of a curve whose slopes there are known.
struct Chord {
    from: f64,
    rise: f64,
    /// Slopes at both ends against the chord's, times the width.
    bends: [f64; 2],
    /// Cosine of the chord's own slope.
    lean: f64,
}

impl Chord {
    fn new(width: f64, before: Station, after: Station) -> Self {
        let rise = after.contact.s - before.contact.s;
        let bends = [before.slope, after.slope].map(|slope| slope * width - rise);
        Self { from: before.contact.s, rise, bends, lean: width / (width * width + rise * rise).sqrt() }
    }

    /// Distance of a point at a part of the width.
    fn off(&self, part: f64, s: f64) -> f64 {
        ((s - self.from) - part * self.rise).abs() * self.lean
    }

    /// Largest distance of the cubic that has the slopes at both ends (Hermite's): it is `x (1-x)^2` of the first less
    /// `x^2 (1-x)` of the second.
    fn bulge(&self) -> f64 {
        let cubic = |x: f64| (x * (1.0 - x) * ((1.0 - x) * self.bends[0] - x * self.bends[1])).abs();
        // Between these places it is larger by an eighteenth at most.
        1.06 * cubic(0.25).max(cubic(0.5)).max(cubic(0.75)) * self.lean
    }

    /// Distance of a point in the middle from that cubic.
    fn strays(&self, s: f64) -> f64 {
        ((s - self.from) - 0.5 * self.rise - 0.125 * (self.bends[0] - self.bends[1])).abs() * self.lean
    }
}

/// Adds the true extremes of the curve next to the highest and lowest points of the polyline.
fn sharpen(run: &mut Vec<LinePoint>, perimeter: f64, place: &impl Fn(f64) -> Found) {
    let slope = |u: f64| place(u.rem_euclid(perimeter)).map_or(0.0, |station| station.slope);
    let last = run.len() - 1;
    let is_closed = run[last].u - run[0].u >= perimeter;
    let mut found = Vec::new();
    for index in usize::from(!is_closed)..last {
        let before =
            if index == 0 { LinePoint { u: run[last - 1].u - perimeter, ..run[last - 1] } } else { run[index - 1] };
        let (here, after) = (run[index], run[index + 1]);
        for sign in [1.0, -1.0] {
            let is_extreme = sign * here.s > sign * before.s - NOISE && sign * here.s > sign * after.s + NOISE;
            if !is_extreme {
                continue;
            }
            let u = bisect(before.u, after.u, RESOLVED * perimeter, slope).rem_euclid(perimeter);
            if let Some(Station { contact: Contact { s, .. }, .. }) = place(u)
                && sign * s > sign * here.s + NOISE
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
