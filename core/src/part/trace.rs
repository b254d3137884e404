//! Following a cut line round the tube from what is known of it at equal steps.

use super::cut::{Contact, Cut, Row, Station};
use super::line::{CutLine, LinePoint, TOLERANCE};
use crate::geometry::{Profile, bisect};
use crate::{Stop, Stopped};

/// Narrowest step round the tube as a part of the turn: places closer than this are one place.
pub(super) const NARROWEST: f64 = 1e-9;

/// How exactly the place of a smooth extreme is found, as a part of the turn.
const RESOLVED: f64 = 1e-7;

/// Most times that a span is halved, and most places at which an extreme is looked for.
const DEEPEST: u32 = 40;

/// A curve follows the slopes at the ends of a span when its middle strays from them by no more than this part of the tolerance.
const FOLLOWED: f64 = 0.25;

/// What chords of such a curve may take of the tolerance.
const CHORDS: f64 = 0.9;

/// Differences of stations that mean nothing, mm.
const NOISE: f64 = 1e-9;

pub(super) type Found = Option<Station>;

/// Which line of a cut is followed.
#[derive(Debug, Clone, Copy)]
pub(super) enum Course {
    AtDepth(f64),
    Relief,
}

/// A point of the line with its slope there.
#[derive(Debug, Clone, Copy)]
struct Knot {
    u: f64,
    s: f64,
    slope: f64,
}

struct Tracer<'a> {
    cut: &'a Cut,
    course: Course,
    profile: Profile,
    perimeter: f64,
    /// Where the outline goes from one of its sides to the next.
    joints: Vec<f64>,
    stop: Stop<'a>,
    runs: Vec<Vec<Knot>>,
}

/// Follows a line from what is known of it at an even number of equal steps, every other of which becomes a point of it at least.
pub(super) fn trace(cut: &Cut, ring: &[Found], course: Course, stop: Stop) -> Result<CutLine, Stopped> {
    let profile = cut.profile();
    let perimeter = profile.perimeter();
    let count = ring.len();
    let step = perimeter / ring.iter().fold(0.0, |count, _| count + 1.0);
    let mut odd = cut.odd_places();
    odd.sort_by(f64::total_cmp);
    let mut odd = odd.into_iter().peekable();
    let runs = vec![Vec::with_capacity(2 * count)];
    let mut tracer = Tracer { cut, course, profile, perimeter, joints: profile.joints(), stop, runs };
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
        let owner = |found: Found| found.map(|station| station.owner());
        let is_left = |(_, found): &(f64, Found)| owner(*found) == owner(left.1);
        if between.is_empty() || [middle, right].iter().chain(&between).all(is_left) {
            tracer.span(left, right, Some(middle), 0);
        } else {
            between.extend([middle, right]);
            between.sort_by(|a, b| a.0.total_cmp(&b.0));
            for here in between {
                tracer.span(left, here, None, 0);
                left = here;
            }
        }
        left = right;
    }
    let runs = core::mem::take(&mut tracer.runs);
    let runs = runs.into_iter().filter(|run| run.len() > 1).map(|run| sharpened(&run, &tracer));
    let line = CutLine { runs: runs.collect() };
    // What came after the word to stop was not looked at.
    stop.check().map(|()| line)
}

/// What rows of a table know of the outer line and of the relief line.
pub(super) fn known<'a>(rows: impl Iterator<Item = &'a Row> + Clone) -> [Vec<Found>; 2] {
    [rows.clone().map(|row| row.outer).collect(), rows.map(|row| row.relief).collect()]
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

    /// Where one piece takes over from another, or one side of the tube from the next, between two places: the last place of the
    /// one and the first of the other; `None` when it is not as simple as that.
    fn kink(&self, left: (f64, Found), right: (f64, Found)) -> Option<[(f64, Found); 2]> {
        let (before, after) = (left.1?, right.1?);
        let half = 0.45 * NARROWEST * self.perimeter;
        let u = if before.surface() == after.surface() {
            *self.joints.iter().find(|&&joint| left.0 <= joint && joint <= right.0)?
        } else {
            let lead = |u: f64| self.lead(u, before.contact, after.contact);
            if !(lead(left.0) < 0.0 && lead(right.0) > 0.0) {
                return None;
            }
            bisect(left.0, right.0, half, lead)
        };
        let [a, b] = [u - half, u + half].map(|u| u.clamp(left.0, right.0)).map(|u| (u, self.look(u)));
        let is_found = |at: Found, wanted: Station| at.is_some_and(|station| station.owner() == wanted.owner());
        (is_found(a.1, before) && is_found(b.1, after)).then_some([a, b])
    }

    /// The extreme of the line between two points of it whose slopes differ in sign; `None` where they do not.
    ///
    /// Formula: false position on the slope, with the value at an end that stays halved (Dowell and Jarratt, BIT 11, 1971).
    fn extreme(&self, from: Knot, to: Knot) -> Option<LinePoint> {
        if self.stop.asked() {
            return None;
        }
        let (mut old, mut near) = ((from.u, from.slope), (to.u, to.slope));
        let mut found = None;
        for _ in 0..DEEPEST {
            if (old.0 - near.0).abs() < NARROWEST * self.perimeter || (old.1 > 0.0) == (near.1 > 0.0) {
                break;
            }
            let pace = (near.0 - old.0) / (near.1 - old.1);
            let u = near.0 - near.1 * pace;
            let place = u.rem_euclid(self.perimeter);
            let Some(Station { contact: Contact { s, .. }, slope, .. }) = self.look(place) else { break };
            found = Some(LinePoint { u: place, s });
            if (slope * pace).abs() < RESOLVED * self.perimeter {
                break;
            }
            if (slope > 0.0) == (near.1 > 0.0) {
                old.1 *= 0.5;
            } else {
                old = near;
            }
            near = (u, slope);
        }
        found
    }

    /// Adds a found point to the run in progress, or ends that run at a miss.
    fn put(&mut self, (u, found): (f64, Found)) {
        match found {
            Some(Station { contact: Contact { s, .. }, slope, .. }) => {
                if self.runs.is_empty() {
                    self.runs.push(Vec::new());
                }
                if let Some(run) = self.runs.last_mut()
                    && run.last().is_none_or(|last| last.u != u || last.s != s)
                {
                    run.push(Knot { u, s, slope });
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
    fn span(&mut self, left: (f64, Found), right: (f64, Found), middle: Option<(f64, Found)>, depth: u32) {
        if self.stop.asked() {
            return;
        }
        let owner = |found: Found| found.map(|station| station.owner());
        if owner(left.1) == owner(right.1) {
            self.smooth(left, right, middle, depth);
            return;
        }
        if let Some(middle) = middle {
            self.span(left, middle, None, depth + 1);
            self.span(middle, right, None, depth + 1);
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
        self.smooth(left, a, None, depth);
        self.put(b);
        if depth < DEEPEST {
            self.span(b, right, None, depth + 1);
        }
    }

    /// Adds points until chords lie within the tolerance of the curve; both ends have the same owner.
    fn smooth(&mut self, left: (f64, Found), right: (f64, Found), middle: Option<(f64, Found)>, depth: u32) {
        let (Some(before), Some(after)) = (left.1, right.1) else {
            self.put(right);
            return;
        };
        let width = right.0 - left.0;
        if width <= NARROWEST * self.perimeter || depth >= DEEPEST {
            self.put(right);
            return;
        }
        let chord = Chord::new(left.0, width, before, after);
        let (u, middle) = middle.unwrap_or_else(|| {
            let u = left.0 + 0.5 * width;
            (u, self.look(u))
        });
        let of_owner = |found: Found| found.filter(|station| station.owner() == before.owner());
        if let Some(halfway) = of_owner(middle)
            && chord.strays(halfway) <= FOLLOWED * TOLERANCE
        {
            if chord.is_flat() {
                self.put(right);
            } else {
                // Over half the width a smooth curve strays from such a cubic by a sixteenth of what it does over the whole.
                self.follow(&Chord::new(left.0, u - left.0, before, halfway));
                self.put((u, middle));
                self.follow(&Chord::new(u, right.0 - u, halfway, after));
                self.put(right);
            }
            return;
        }
        let off = |part: f64, found: Found| {
            of_owner(found).map_or(f64::INFINITY, |station| chord.off(part, station.contact.s))
        };
        let is_close = off(0.5, middle) <= TOLERANCE
            && [0.25, 0.75].iter().all(|&part| off(part, self.look(left.0 + part * width)) <= TOLERANCE);
        let middle = (u, middle);
        if is_close {
            self.put(right);
        } else {
            self.span(left, middle, None, depth + 1);
            self.span(middle, right, None, depth + 1);
        }
    }

    /// Adds points between the ends of a chord on the cubic over it, so many that chords keep to that.
    fn follow(&mut self, chord: &Chord) {
        let Some(run) = self.runs.last_mut() else { return };
        let steps = chord.steps();
        let mut step = 1.0;
        while step < steps {
            run.push(chord.knot(step / steps));
            step += 1.0;
        }
    }
}

/// The straight line between two points of a curve whose slopes there are known, and the cubic over it with these slopes:
/// with `b` and `c` the slopes at its ends against its own, times the width, it lies `b x (1-x)^2 - c x^2 (1-x)` above
/// (Hermite's form).
struct Chord {
    u: f64,
    s: f64,
    width: f64,
    rise: f64,
    bends: [f64; 2],
    /// Cosine of the chord's own slope.
    lean: f64,
}

impl Chord {
    fn new(u: f64, width: f64, before: Station, after: Station) -> Self {
        let rise = after.contact.s - before.contact.s;
        let bends = [before.slope, after.slope].map(|slope| slope * width - rise);
        Self { u, s: before.contact.s, width, rise, bends, lean: width / (width * width + rise * rise).sqrt() }
    }

    /// Distance of a point at a part of the width.
    fn off(&self, part: f64, s: f64) -> f64 {
        ((s - self.s) - part * self.rise).abs() * self.lean
    }

    /// How far a curve whose middle is known strays from the cubic: what is even about the middle shows in the station there, what
    /// is odd, a quintic that vanishes with its slopes at both ends, in the slope, of which it reaches a seventh over the width.
    fn strays(&self, middle: Station) -> f64 {
        let [b, c] = self.bends;
        let even = (middle.contact.s - self.s) - 0.5 * self.rise - 0.125 * (b - c);
        let odd = (middle.slope * self.width - self.rise + 0.25 * (b + c)) / 7.0;
        (even.abs() + odd.abs()) * self.lean
    }

    /// Whether the chord alone will do for the cubic.
    fn is_flat(&self) -> bool {
        let cubic = |x: f64| (x * (1.0 - x) * ((1.0 - x) * self.bends[0] - x * self.bends[1])).abs();
        // Between these places it is larger by an eighteenth at most.
        1.06 * cubic(0.25).max(cubic(0.5)).max(cubic(0.75)) * self.lean <= TOLERANCE
    }

    /// Equal steps whose chords keep to the cubic: a chord lies off by an eighth of the second change over its step, which is
    /// largest at an end.
    fn steps(&self) -> f64 {
        let [b, c] = self.bends;
        let change = (4.0 * b + 2.0 * c).abs().max((2.0 * b + 4.0 * c).abs());
        (change * self.lean / (8.0 * CHORDS * TOLERANCE)).sqrt().ceil()
    }

    /// The cubic's point at a part of the width.
    fn knot(&self, x: f64) -> Knot {
        let ([b, c], y) = (self.bends, 1.0 - x);
        let rises = self.rise + b * y * (1.0 - 3.0 * x) - c * x * (2.0 - 3.0 * x);
        Knot {
            u: self.u + x * self.width,
            s: self.s + x * self.rise + x * y * (y * b - x * c),
            slope: rises / self.width,
        }
    }
}

/// A run with the true extremes of the curve next to the highest and lowest of its points.
fn sharpened(run: &[Knot], tracer: &Tracer) -> Vec<LinePoint> {
    let perimeter = tracer.perimeter;
    let last = run.len() - 1;
    let mut found = Vec::new();
    let mut look_at = |before: Knot, here: Knot, after: Knot| {
        let (rise, next) = (here.s - before.s, after.s - here.s);
        if rise.min(next) > NOISE || rise.max(next) < -NOISE {
            return;
        }
        for sign in [1.0, -1.0] {
            if sign * rise <= -NOISE || sign * next >= -NOISE {
                continue;
            }
            let (from, to) = if sign * here.slope < 0.0 { (before, here) } else { (here, after) };
            if let Some(extreme) = tracer.extreme(from, to)
                && sign * extreme.s > sign * here.s + NOISE
            {
                found.push(extreme);
            }
        }
    };
    let is_closed = run[last].u - run[0].u >= perimeter;
    if is_closed {
        look_at(Knot { u: run[last - 1].u - perimeter, ..run[last - 1] }, run[0], run[1]);
    }
    for knots in run.windows(3) {
        look_at(knots[0], knots[1], knots[2]);
    }
    let mut points: Vec<LinePoint> = Vec::with_capacity(run.len() + found.len());
    points.extend(run.iter().map(|knot| LinePoint { u: knot.u, s: knot.s }));
    for extreme in found {
        let at = points.partition_point(|point| point.u <= extreme.u);
        points.insert(at, extreme);
    }
    points
}
