//! Real roots of the torus' quartic, found by brackets alone: no complex arithmetic, nothing lost at a double root.

use super::search::bisect;

/// A polynomial `s^4 + p s^2 + q s + r`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Quartic {
    pub p: f64,
    pub q: f64,
    pub r: f64,
}

/// Up to four roots in rising order, double roots given twice.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Roots {
    values: [f64; 4],
    count: usize,
}

impl Roots {
    pub(super) fn as_slice(&self) -> &[f64] {
        &self.values[..self.count]
    }

    fn push(&mut self, root: f64) {
        if self.count < 4 {
            self.values[self.count] = root;
            self.count += 1;
        }
    }
}

impl Quartic {
    /// A ray and a torus of bend radius `rb` and bar radius `r`: `beta` is the square of the ray's least distance from the
    /// centre, `gamma` its foot's height along the axis, `delta` its direction's part along the axis.
    pub(super) fn of_torus(rb: f64, r: f64, beta: f64, gamma: f64, delta: f64) -> Self {
        let k = beta + rb * rb - r * r;
        Self {
            p: 2.0 * k - 4.0 * rb * rb * (1.0 - delta * delta),
            q: 8.0 * rb * rb * gamma * delta,
            r: k * k - 4.0 * rb * rb * (beta - gamma * gamma),
        }
    }

    pub(super) fn at(&self, s: f64) -> f64 {
        let square = s * s;
        square * square + self.p * square + self.q * s + self.r
    }

    fn slope(&self, s: f64) -> f64 {
        (4.0 * s * s + 2.0 * self.p) * s + self.q
    }

    /// Roots within `-span..span`. Between two turning points the polynomial is monotone, so each change of sign brackets one
    /// root. A minimum that stays above zero by no more than `touch(s)` there counts as a double root.
    pub(super) fn roots(&self, span: f64, touch: impl Fn(f64) -> f64) -> Roots {
        let mut roots = Roots::default();
        let (turning, turns) = self.turning_points(span);
        let mut left = -span;
        for &right in &turning[..turns] {
            self.crossing(left, right, &mut roots);
            let (value_left, value) = (self.at(left), self.at(right));
            if value > 0.0 && value_left > value && value <= touch(right) {
                roots.push(right);
                roots.push(right);
            }
            left = right;
        }
        self.crossing(left, span, &mut roots);
        roots
    }

    /// The first root in `from..to`, where the polynomial is above zero at `from`; a minimum that stays above zero by no more
    /// than `touch(s)` counts as one.
    ///
    /// Between its inflections the polynomial is concave and crosses zero only if it ends below it; outside them it is convex,
    /// and Newton's method from the left never passes the first root.
    pub(super) fn first_entry(&self, from: f64, to: f64, touch: impl Fn(f64) -> f64) -> Option<f64> {
        let inflection = if self.p < 0.0 { (-self.p / 6.0).sqrt() } else { 0.0 };
        let mut left = from;
        for (end, is_convex) in [(-inflection, true), (inflection, false), (f64::INFINITY, true)] {
            let right = end.min(to);
            if right <= left {
                continue;
            }
            if self.at(right) <= 0.0 {
                return Some(self.falling_root(left, right));
            }
            if is_convex && let Some(root) = self.dip(left, right, &touch) {
                return Some(root);
            }
            left = right;
        }
        None
    }

    /// The first root where the polynomial is convex between `left` and `right` and above zero at both.
    fn dip(&self, left: f64, right: f64, touch: &impl Fn(f64) -> f64) -> Option<f64> {
        let mut s = left;
        for _ in 0..100 {
            let (value, slope) = (self.at(s), self.slope(s));
            if value <= 0.0 {
                return Some(s);
            }
            if slope >= 0.0 {
                return None;
            }
            let next = s - value / slope;
            if next - s <= 4.0 * f64::EPSILON * s.abs().max(1e-3) {
                return Some(next);
            }
            if next >= right || self.slope(next) >= 0.0 {
                return self.touched(s, next.min(right), touch);
            }
            s = next;
        }
        Some(s)
    }

    /// The minimum between `left`, where the polynomial falls, and `right`, if it stays above zero by no more than `touch`.
    fn touched(&self, left: f64, right: f64, touch: &impl Fn(f64) -> f64) -> Option<f64> {
        let (down, up) = (self.slope(left), self.slope(right));
        if up <= 0.0 {
            return None;
        }
        // It lies above its tangents.
        let meet = left + (self.at(right) - self.at(left) + up * (left - right)) / (down - up);
        if self.at(left) + down * (meet - left) > 8.0 * touch(meet) {
            return None;
        }
        let turning = bisect(left, right, 0.0, |s| self.slope(s));
        let least = self.at(turning);
        if least <= 0.0 {
            return Some(self.falling_root(left, turning));
        }
        (least <= touch(turning)).then_some(turning)
    }

    /// The root between `above`, where the polynomial is above zero, and `below`, where it is not (Newton's method within a
    /// bracket).
    fn falling_root(&self, mut above: f64, mut below: f64) -> f64 {
        let mut s = 0.5 * (above + below);
        for _ in 0..100 {
            let value = self.at(s);
            if value > 0.0 {
                above = s;
            } else {
                below = s;
            }
            let newton = s - value / self.slope(s);
            let next = if newton > above && newton < below { newton } else { 0.5 * (above + below) };
            if (next - s).abs() <= 4.0 * f64::EPSILON * s.abs().max(1e-3) {
                return next;
            }
            s = next;
        }
        s
    }

    fn crossing(&self, left: f64, right: f64, roots: &mut Roots) {
        if (self.at(left) > 0.0) != (self.at(right) > 0.0) {
            roots.push(bisect(left, right, 0.0, |s| self.at(s)));
        }
    }

    fn turning_points(&self, span: f64) -> ([f64; 3], usize) {
        let inflection = if self.p < 0.0 { (-self.p / 6.0).sqrt() } else { f64::INFINITY };
        let cuts = [-span, -inflection.min(span), inflection.min(span), span];
        let (mut turning, mut count) = ([0.0; 3], 0);
        for pair in cuts.windows(2) {
            let (left, right) = (pair[0], pair[1]);
            if left < right && count < 3 && (self.slope(left) > 0.0) != (self.slope(right) > 0.0) {
                turning[count] = bisect(left, right, 0.0, |s| self.slope(s));
                count += 1;
            }
        }
        (turning, count)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn known_roots_are_found() {
        // (s^2 - 1)(s^2 - 9) and (s - 1)^2 (s + 1)^2, multiplied out.
        let apart = Quartic { p: -10.0, q: 0.0, r: 9.0 }.roots(10.0, |_| 0.0);
        for (found, wanted) in apart.as_slice().iter().zip([-3.0, -1.0, 1.0, 3.0]) {
            assert!((found - wanted).abs() < 1e-12);
        }
        let double = Quartic { p: -2.0, q: 0.0, r: 1.0 + 1e-12 }.roots(10.0, |_| 1e-9);
        assert_eq!(double.as_slice().len(), 4);
        assert!((double.as_slice()[3] - 1.0).abs() < 1e-9);
        assert!(Quartic { p: -2.0, q: 0.0, r: 1.1 }.roots(10.0, |_| 1e-9).as_slice().is_empty());
    }
}
