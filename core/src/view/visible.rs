//! Which parts of a curve are seen: rays from it to the viewer, and the places between them where that changes.

use super::block::Blocker;
use super::chain::{Chain, Curve, CurvePoint};
use super::look::Look;
use crate::drawing::Point;
use crate::geometry::{DVec3, Ray};

/// How far off the surface a ray starts, mm.
const CLEAR: f64 = 0.05;

/// How exactly the place is found where a curve is hidden, as a part of the way from one ray to the next.
const SHARP: f64 = 1.0 / 64.0;

/// Rays along a curve for which what may stand before them is picked out at once.
const WINDOW: f64 = 12.0;

/// Shorter stretches at the end of a curve are what the stretch beside them is, mm.
const SHORT: f64 = 0.3;

/// Something that hides, as one view sees it.
pub(super) struct Shade<'a> {
    /// Whose it is, as a position among the bodies.
    pub(super) body: usize,
    blocker: &'a Blocker<'a>,
    /// The lines it lies about, in the view, and how far about them; none where it fills its box.
    spine: Vec<[Point; 2]>,
    reach: f64,
    low: Point,
    high: Point,
    /// How near to the viewer it comes.
    nearest: f64,
}

impl<'a> Shade<'a> {
    pub(super) fn new(body: usize, blocker: &'a Blocker<'a>, look: &Look) -> Self {
        let (points, reach) = blocker.spine();
        let flat: Vec<Point> = points.iter().map(|&point| look.flat(point)).collect();
        let mut shade = Self {
            body,
            blocker,
            spine: Vec::new(),
            reach: reach + CLEAR,
            low: [f64::INFINITY; 2],
            high: [f64::NEG_INFINITY; 2],
            nearest: points.iter().map(|point| point.dot(look.towards)).fold(f64::NEG_INFINITY, f64::max) + reach,
        };
        for [x, y] in &flat {
            shade.low = [shade.low[0].min(x - shade.reach), shade.low[1].min(y - shade.reach)];
            shade.high = [shade.high[0].max(x + shade.reach), shade.high[1].max(y + shade.reach)];
        }
        if blocker.is_thin() {
            shade.spine = flat.windows(2).map(|pair| [pair[0], pair[1]]).collect();
        }
        shade
    }

    fn is_over(&self, [x, y]: Point, depth: f64) -> bool {
        if x < self.low[0] || x > self.high[0] || y < self.low[1] || y > self.high[1] || depth > self.nearest {
            return false;
        }
        let is_near = |[a, b]: &[Point; 2]| {
            let along = [b[0] - a[0], b[1] - a[1]];
            let from = [x - a[0], y - a[1]];
            let square = along[0] * along[0] + along[1] * along[1];
            let part = ((from[0] * along[0] + from[1] * along[1]) / square.max(1e-12)).clamp(0.0, 1.0);
            let off = [from[0] - part * along[0], from[1] - part * along[1]];
            off[0] * off[0] + off[1] * off[1] <= self.reach * self.reach
        };
        self.spine.is_empty() || self.spine.iter().any(is_near)
    }
}

/// A stretch of a curve and when it is no longer seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stretch {
    pub(super) from: f64,
    pub(super) to: f64,
    /// Position of the first body behind which it is hidden; the curve's own when it never is seen.
    pub(super) until: usize,
}

/// What a view needs to know to judge a curve.
pub(super) struct Sight<'a> {
    pub(super) look: &'a Look,
    /// In rising order of their bodies.
    pub(super) shades: &'a [Shade<'a>],
    pub(super) bodies: usize,
    /// Length of the longest ray.
    pub(super) far: f64,
    /// From one ray to the next along a curve, mm.
    pub(super) step: f64,
}

impl Sight<'_> {
    /// The stretches of a curve, those that are never seen left out.
    pub(super) fn stretches(&self, chain: &Chain) -> Vec<Stretch> {
        let own = |shade: &&Shade| shade.body == chain.body;
        // The side of a straight tube is the outline of a body without hollows on the outside: it does not hide itself.
        let is_clear_of_own = matches!(chain.curve, Curve::Side(_)) && self.shades.iter().filter(own).count() == 1;
        let others = self.shades.iter().filter(|shade| !(is_clear_of_own && own(shade)));
        let all = self.over(chain.all(), others);
        if all.is_empty() {
            return vec![Stretch { from: 0.0, to: chain.length(), until: self.bodies }];
        }
        let length = chain.length();
        let count = (length / self.step).ceil().max(4.0);
        let mut stretches: Vec<Stretch> = Vec::new();
        let mut put = |from: f64, to: f64, until: usize| match stretches.last_mut() {
            Some(last) if last.until == until => last.to = to,
            _ => stretches.push(Stretch { from, to, until }),
        };
        let (mut at, mut part) = (length * 0.5 / count, 0.5);
        let mut left = (0.0, self.until(chain, &chain.at(at), &all));
        while part + 1.0 < count {
            let end = (part + WINDOW).min(count);
            let over = self.over(chain.points(at, length * end / count).into_iter(), all.iter().copied());
            let until = |along: f64| self.until(chain, &chain.at(along), &over);
            while part + 1.0 < count && part < end {
                part += 1.0;
                let here = length * part / count;
                let found = if over.is_empty() { self.bodies } else { until(here) };
                for (place, before) in changes(&until, (at, left.1), (here, found), SHARP * self.step) {
                    put(left.0, place, before);
                    left.0 = place;
                }
                left.1 = found;
                at = here;
            }
        }
        put(left.0, length, left.1);
        self.settle(&mut stretches, length);
        stretches.retain(|stretch| stretch.until > chain.body);
        stretches
    }

    /// Gives short stretches at both ends to their neighbours: where surfaces meet a ray cannot tell.
    fn settle(&self, stretches: &mut Vec<Stretch>, length: f64) {
        if let [first, second, ..] = &mut stretches[..]
            && first.to < SHORT
        {
            second.from = 0.0;
            stretches.remove(0);
        }
        if let [.., before, last] = &mut stretches[..]
            && length - last.from < SHORT
        {
            before.to = length;
            stretches.pop();
        }
    }

    /// Which of some things may stand before points of a curve.
    fn over<'b>(
        &self,
        points: impl Iterator<Item = DVec3>,
        shades: impl Iterator<Item = &'b Shade<'b>>,
    ) -> Vec<&'b Shade<'b>> {
        let (mut low, mut high, mut depth) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2], f64::INFINITY);
        for point in points {
            let [x, y] = self.look.flat(point);
            low = [low[0].min(x), low[1].min(y)];
            high = [high[0].max(x), high[1].max(y)];
            depth = depth.min(point.dot(self.look.towards));
        }
        let is_over = |shade: &&Shade| {
            shade.low[0] <= high[0]
                && low[0] <= shade.high[0]
                && shade.low[1] <= high[1]
                && low[1] <= shade.high[1]
                && depth <= shade.nearest
        };
        shades.filter(is_over).collect()
    }

    /// Position of the first body that hides a place, the curve's own when it is one before it; the number of bodies when it is
    /// never hidden.
    fn until(&self, chain: &Chain, place: &CurvePoint, over: &[&Shade]) -> usize {
        let out = place.out.normalize_or_zero() * CLEAR;
        let own = self.start(place.at + out);
        // An outline that falls on that of a body in front of it is hidden.
        let others =
            if matches!(chain.curve, Curve::Side(_) | Curve::Contour) { self.start(place.at - out) } else { own };
        let hides = |shade: &&&Shade| {
            let (origin, at, depth) = if shade.body == chain.body { own } else { others };
            shade.is_over(at, depth) && shade.blocker.blocks(&Ray { origin, direction: self.look.towards }, self.far)
        };
        over.iter().find(hides).map_or(self.bodies, |shade| shade.body.max(chain.body))
    }

    /// A place where a ray starts, where it is seen, and how near to the viewer it lies.
    fn start(&self, at: DVec3) -> (DVec3, Point, f64) {
        (at, self.look.flat(at), at.dot(self.look.towards))
    }
}

/// Where the value changes between two places, to `sharp`, with the value before each change.
fn changes(until: &impl Fn(f64) -> usize, left: (f64, usize), right: (f64, usize), sharp: f64) -> Vec<(f64, usize)> {
    let mut found = Vec::new();
    change(until, left, right, sharp, &mut found);
    found
}

fn change(
    until: &impl Fn(f64) -> usize,
    left: (f64, usize),
    right: (f64, usize),
    sharp: f64,
    found: &mut Vec<(f64, usize)>,
) {
    if left.1 == right.1 {
        return;
    }
    if right.0 - left.0 < sharp {
        found.push((f64::midpoint(left.0, right.0), left.1));
        return;
    }
    let middle = f64::midpoint(left.0, right.0);
    let middle = (middle, until(middle));
    change(until, left, middle, sharp, found);
    change(until, middle, right, sharp, found);
}
