//! Rectangular bars with rounded edges, endless or cut square at both ends.

use super::{DVec3, Ray, TOUCH};

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
        let [nx, ny] = if past[0] > 0.0 && past[1] > 0.0 {
            [past[0] * x.signum(), past[1] * y.signum()]
        } else if x.abs() - self.half[0] > y.abs() - self.half[1] {
            [x.signum(), 0.0]
        } else {
            [0.0, y.signum()]
        };
        (self.across * nx + self.axis.cross(self.across) * ny).normalize_or(self.across)
    }

    /// Signed distance of a point from the surface, negative inside (a lower bound outside the edges of an end).
    #[must_use]
    pub fn distance(&self, point: DVec3) -> f64 {
        let [x, y] = self.flat(point - self.point);
        let side = self.beyond_side([x.abs() - (self.half[0] - self.corner), y.abs() - (self.half[1] - self.corner)]);
        self.beyond_end(point).map_or(side, |(beyond, _)| side.max(beyond))
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
