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

    fn crossing(&self, left: f64, right: f64, roots: &mut Roots) {
        if (self.at(left) > 0.0) != (self.at(right) > 0.0) {
            roots.push(bisect(left, right, |s| self.at(s)));
        }
    }

    fn turning_points(&self, span: f64) -> ([f64; 3], usize) {
        let inflection = if self.p < 0.0 { (-self.p / 6.0).sqrt() } else { f64::INFINITY };
        let cuts = [-span, -inflection.min(span), inflection.min(span), span];
        let (mut turning, mut count) = ([0.0; 3], 0);
        for pair in cuts.windows(2) {
            let (left, right) = (pair[0], pair[1]);
            if left < right && count < 3 && (self.slope(left) > 0.0) != (self.slope(right) > 0.0) {
                turning[count] = bisect(left, right, |s| self.slope(s));
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
