//! Rectangular bars with rounded edges, endless or cut square at both ends.

use super::ends::Ends;
use super::ray::Height;
use super::view::{Sees, Sight};
use super::{Beam, DVec3, Field, Ray, TOUCH};

/// A solid bar of rectangular section with rounded corners.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoundedPrism {
    /// A point of the axis, where a bar with ends starts.
    pub point: DVec3,
    /// Unit direction of the axis.
    pub axis: DVec3,
    /// Unit direction of the width, square to the axis.
    pub across: DVec3,
    /// Half the width and half the height, mm.
    pub half: [f64; 2],
    /// Outer corner radius, mm.
    pub corner: f64,
    /// Length from `point` along `axis`, mm; `None` for an endless bar.
    pub length: Option<f64>,
}

impl RoundedPrism {
    /// Where the ray is inside; `None` when it passes by.
    ///
    /// The section is the union of two boxes and four discs and convex, so the first entry and the last exit bound one stretch.
    #[must_use]
    pub fn interval(&self, ray: &Ray) -> Option<(f64, f64)> {
        let from = self.flat(ray.origin - self.point);
        let way = self.flat(ray.direction);
        let ([w, h], c) = (self.half, self.corner);
        let mut span: Option<(f64, f64)> = None;
        let mut join = |found: Option<(f64, f64)>| {
            if let Some((enter, leave)) = found {
                span = Some(span.map_or((enter, leave), |(first, last)| (first.min(enter), last.max(leave))));
            }
        };
        join(box_interval(from, way, [w - c, h]));
        join(box_interval(from, way, [w, h - c]));
        if c > 0.0 {
            for (x, y) in [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)] {
                join(disc_interval([from[0] - x * (w - c), from[1] - y * (h - c)], way, c));
            }
        }
        let (enter, leave) = self.between_ends(ray)?;
        span.map(|(first, last)| (first.max(enter), last.min(leave))).filter(|(first, last)| first <= last)
    }

    fn between_ends(&self, ray: &Ray) -> Option<(f64, f64)> {
        let Some(length) = self.length else {
            return Some((f64::NEG_INFINITY, f64::INFINITY));
        };
        let (start, along) = ((ray.origin - self.point).dot(self.axis), ray.direction.dot(self.axis));
        if along.abs() < 1e-12 {
            return (0.0..=length).contains(&start).then_some((f64::NEG_INFINITY, f64::INFINITY));
        }
        let (a, b) = (-start / along, (length - start) / along);
        Some((a.min(b), a.max(b)))
    }

    /// Outward unit normal at a point of the surface.
    #[must_use]
    pub fn normal(&self, point: DVec3) -> DVec3 {
        let [x, y] = self.flat(point - self.point);
        let past = [x.abs() - (self.half[0] - self.corner), y.abs() - (self.half[1] - self.corner)];
        if let Some((beyond, end)) = self.beyond_end(point)
            && beyond > self.beyond_side(past)
        {
            return end;
        }
        let [nx, ny] = self.side_normal([x, y]);
        self.across * nx + self.axis.cross(self.across) * ny
    }

    /// Outward unit normal of the sides next to a place of the section.
    fn side_normal(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let past = [x.abs() - (self.half[0] - self.corner), y.abs() - (self.half[1] - self.corner)];
        if past[0] > 0.0 && past[1] > 0.0 {
            let length = (past[0] * past[0] + past[1] * past[1]).sqrt();
            [past[0].copysign(x) / length, past[1].copysign(y) / length]
        } else if past[0] > past[1] {
            [1f64.copysign(x), 0.0]
        } else {
            [0.0, 1f64.copysign(y)]
        }
    }

    /// Signed distance of a point from the surface, negative inside (a lower bound outside the edges of an end).
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        let [x, y] = self.flat(point - self.point);
        let side = self.beyond_side([x.abs() - (self.half[0] - self.corner), y.abs() - (self.half[1] - self.corner)]);
        self.beyond_end(point).map_or(side, |(beyond, _)| side.max(beyond))
    }

    /// The place in the bar that lies nearest to a point.
    #[must_use]
    pub fn nearest(&self, point: DVec3) -> DVec3 {
        let along = (point - self.point).dot(self.axis);
        let flat = self.flat(point - self.point);
        let core = [0, 1].map(|k| flat[k].abs().min(self.half[k] - self.corner).max(0.0).copysign(flat[k]));
        let ([x, y], [core_x, core_y]) = (flat, core);
        let (out_x, out_y) = (x - core_x, y - core_y);
        let out = libm::hypot(out_x, out_y);
        let part = if out > self.corner { self.corner / out } else { 1.0 };
        let within = self.length.map_or(along, |length| along.clamp(0.0, length));
        let up = self.axis.cross(self.across);
        self.point + self.axis * within + self.across * (core_x + part * out_x) + up * (core_y + part * out_y)
    }

    fn beyond_side(&self, past: [f64; 2]) -> f64 {
        libm::hypot(past[0].max(0.0), past[1].max(0.0)) + past[0].max(past[1]).min(0.0) - self.corner
    }

    /// Height over the nearer end, negative inside, and that end's outward normal.
    fn beyond_end(&self, point: DVec3) -> Option<(f64, DVec3)> {
        let (length, along) = (self.length?, (point - self.point).dot(self.axis));
        Some(if along < length / 2.0 { (-along, -self.axis) } else { (along - length, self.axis) })
    }

    fn flat(&self, vector: DVec3) -> [f64; 2] {
        [vector.dot(self.across), vector.dot(self.axis.cross(self.across))]
    }
}

/// A bar as a beam sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct PrismView {
    bar: RoundedPrism,
    beam: Beam,
    /// Where a ray's origin lies in the section.
    from: [Height; 2],
    /// The way of a ray in the section.
    way: [f64; 2],
    /// Directions of the section, seen by the beam.
    sides: [DVec3; 2],
    ends: Option<Ends>,
}

impl PrismView {
    pub(super) fn new(bar: &RoundedPrism, beam: &Beam) -> Self {
        let sides = [bar.across, bar.axis.cross(bar.across)];
        Self {
            bar: *bar,
            beam: *beam,
            from: sides.map(|side| beam.height(bar.point, side)),
            way: sides.map(|side| beam.direction.dot(side)),
            sides: sides.map(|side| beam.components(side)),
            ends: bar.length.map(|length| Ends::new(bar.point, bar.axis, length, beam)),
        }
    }

    /// The bar as the rays of a field see it: `None` when none of them can meet it, without its ends when none of them can meet
    /// those first.
    pub(super) fn within(mut self, field: &Field) -> Option<Self> {
        let reach = field.reach + TOUCH;
        let (mut first, mut last) = (field.start, field.limit);
        for axis in 0..2 {
            let [low, high] = self.from[axis].range(reach);
            let (half, way) = (self.bar.half[axis], self.way[axis]);
            if way.abs() < 1e-6 {
                if low > half + TOUCH || high < -half - TOUCH {
                    return None;
                }
            } else {
                let passes = [(-half - low) / way, (-half - high) / way, (half - low) / way, (half - high) / way];
                first = first.max(passes.into_iter().fold(f64::INFINITY, f64::min));
                last = last.min(passes.into_iter().fold(f64::NEG_INFINITY, f64::max));
            }
        }
        if first > last {
            return None;
        }
        if let Some(ends) = &self.ends {
            let [low, high] = ends.along_between(reach, first, last);
            if low > ends.length || high < 0.0 {
                return None;
            }
            if first > field.start && low > 0.0 && high < ends.length {
                self.ends = None;
            }
        }
        Some(self)
    }

    /// Where a ray enters the sides, if it does so on a flat side or in the corner next to where it enters the square box;
    /// `None` when that must be looked at more closely.
    #[inline]
    fn quick(&self, place: [f64; 2]) -> Option<(f64, u8)> {
        let from = [self.from[0].at(place), self.from[1].at(place)];
        let RoundedPrism { half, corner, .. } = self.bar;
        let enter = |axis: usize| {
            let way = self.way[axis];
            if way.abs() < 1e-9 { f64::NEG_INFINITY } else { (-half[axis].copysign(way) - from[axis]) / way }
        };
        let entries = [enter(0), enter(1)];
        let axis = usize::from(entries[1] > entries[0]);
        let (s, other) = (entries[axis], 1 - axis);
        let beside = from[other] + s * self.way[other];
        if beside.abs() <= half[other] - corner {
            let side = 4 + 2 * u8::from(axis == 1) + u8::from(self.way[axis] > 0.0);
            return Some((s, if corner > 0.0 { 0 } else { side }));
        }
        let centre = [0, 1].map(|k| {
            let towards = if k == axis { -self.way[k] } else { beside };
            (half[k] - corner).copysign(towards)
        });
        let rest = [from[0] - centre[0], from[1] - centre[1]];
        let (s, _) = disc_interval(rest, self.way, corner)?;
        let is_in_corner = [0, 1].iter().all(|&k| (rest[k] + s * self.way[k]) * centre[k] >= 0.0);
        is_in_corner.then_some((s, 0))
    }
}

impl Sees for PrismView {
    fn first(&self, place: [f64; 2], start: f64) -> Sight {
        if let Some((s, face)) = self.quick(place)
            && s > start
        {
            let Some(ends) = &self.ends else {
                return Sight { s, face };
            };
            let (near, far, _) = ends.between(place);
            if near <= s && s <= far {
                return Sight { s, face };
            }
        }
        let plain = self.bar.interval(&self.beam.ray(place)).filter(|&(_, leave)| leave >= start);
        plain.map_or(Sight::MISS, |(enter, _)| {
            let end = self.ends.as_ref().map(|ends| ends.between(place)).filter(|&(near, _, _)| near >= enter - TOUCH);
            Sight { s: enter.max(start), face: end.map_or(0, |(_, _, end)| end) }
        })
    }

    fn normal(&self, place: [f64; 2], sight: Sight) -> DVec3 {
        if let Some(ends) = &self.ends
            && [Ends::FIRST, Ends::LAST].contains(&sight.face)
        {
            return ends.normal(sight.face);
        }
        let at = [0, 1].map(|k| self.from[k].at(place) + sight.s * self.way[k]);
        let [x, y] = self.bar.side_normal(at);
        self.sides[0] * x + self.sides[1] * y
    }
}

fn box_interval(from: [f64; 2], way: [f64; 2], half: [f64; 2]) -> Option<(f64, f64)> {
    let mut span = (f64::NEG_INFINITY, f64::INFINITY);
    for axis in 0..2 {
        if way[axis].abs() < 1e-12 {
            if from[axis].abs() > half[axis] + TOUCH {
                return None;
            }
        } else {
            let (a, b) = ((-half[axis] - from[axis]) / way[axis], (half[axis] - from[axis]) / way[axis]);
            span = (span.0.max(a.min(b)), span.1.min(a.max(b)));
        }
    }
    (span.0 <= span.1).then_some(span)
}

fn disc_interval(from: [f64; 2], way: [f64; 2], radius: f64) -> Option<(f64, f64)> {
    let a = way[0] * way[0] + way[1] * way[1];
    if a < 1e-18 {
        return None;
    }
    let b = from[0] * way[0] + from[1] * way[1];
    let c = from[0] * from[0] + from[1] * from[1] - radius * radius;
    let discriminant = b * b - a * c;
    if discriminant < -2.0 * radius * a * TOUCH {
        return None;
    }
    let root = discriminant.max(0.0).sqrt();
    Some(((-b - root) / a, (-b + root) / a))
}
