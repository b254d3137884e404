//! Finding where a function of one number changes sign or is least.

/// Where `f` changes sign between `left` and `right`, to the last bits.
///
/// The signs at both ends must differ; otherwise the end with the smaller value is returned.
/// Source: T. R. Chandrupatla, "A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear function
/// without using derivatives", Advances in Engineering Software 28 (1997).
pub fn bisect(left: f64, right: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut old, mut near) = ((left, f(left)), (right, f(right)));
    if (old.1 > 0.0) == (near.1 > 0.0) {
        return if old.1.abs() < near.1.abs() { old.0 } else { near.0 };
    }
    let mut part = 0.5;
    for _ in 0..120 {
        let middle = near.0 + part * (old.0 - near.0);
        let found = (middle, f(middle));
        let oldest;
        if (found.1 > 0.0) == (near.1 > 0.0) {
            oldest = near;
        } else {
            oldest = old;
            old = near;
        }
        near = found;
        let best = if near.1.abs() < old.1.abs() { near } else { old };
        let width = (old.0 - near.0).abs();
        let resolution = 2.0 * f64::EPSILON * best.0.abs() + 1e-300;
        if best.1 == 0.0 || width <= 2.0 * resolution {
            return best.0;
        }
        let (xi, phi) = ((near.0 - old.0) / (oldest.0 - old.0), (near.1 - old.1) / (oldest.1 - old.1));
        part = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            near.1 / (old.1 - near.1) * oldest.1 / (old.1 - oldest.1)
                + (oldest.0 - near.0) / (old.0 - near.0) * near.1 / (oldest.1 - near.1) * old.1 / (oldest.1 - old.1)
        } else {
            0.5
        };
        let least = resolution / width;
        part = part.clamp(least.min(0.5), 1.0 - least.min(0.5));
    }
    near.0
}

/// Where `f` is least between `left` and `right`, to `width`, if it falls and then rises there (golden section).
pub fn golden_minimum(left: f64, right: f64, width: f64, f: impl Fn(f64) -> f64) -> f64 {
    const PART: f64 = 0.618_033_988_749_894_9;
    let (mut a, mut b) = (left, right);
    let mut inner = (b - PART * (b - a), a + PART * (b - a));
    let mut values = (f(inner.0), f(inner.1));
    while b - a > width {
        if values.0 <= values.1 {
            b = inner.1;
            inner = (b - PART * (b - a), inner.0);
            values = (f(inner.0), values.0);
        } else {
            a = inner.0;
            inner = (inner.1, a + PART * (b - a));
            values = (values.1, f(inner.1));
        }
    }
    0.5 * (a + b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_and_minima_of_known_functions() {
        assert!((bisect(0.0, 2.0, |x| x * x - 2.0) - std::f64::consts::SQRT_2).abs() < 1e-15);
        assert!((bisect(-1.0, 1e6, |x| x * x * x) - 0.0).abs() < 1e-5);
        assert!((golden_minimum(-3.0, 5.0, 1e-7, |x| (x - 1.25) * (x - 1.25)) - 1.25).abs() < 1e-6);
    }
}
