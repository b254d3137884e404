//! Finding where a function of one number changes sign or is least.

/// Where `f` changes sign between `left` and `right`, to `width`; to the last bits where that is 0.
///
/// The signs at both ends must differ; otherwise the end with the smaller value is returned.
/// Source: T. R. Chandrupatla, "A new hybrid quadratic/bisection algorithm for finding the zero of a nonlinear function
/// without using derivatives", Advances in Engineering Software 28 (1997).
pub fn bisect(left: f64, right: f64, width: f64, f: impl Fn(f64) -> f64) -> f64 {
    crossing([(left, f(left)), (right, f(right))], width, f)
}

/// As [`bisect`], with the values at both ends known.
pub fn crossing([mut old, mut near]: [(f64, f64); 2], width: f64, f: impl Fn(f64) -> f64) -> f64 {
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
        let span = (old.0 - near.0).abs();
        let resolution = (2.0 * f64::EPSILON * best.0.abs()).max(0.5 * width) + 1e-300;
        if best.1 == 0.0 || span <= 2.0 * resolution {
            return best.0;
        }
        let (xi, phi) = ((near.0 - old.0) / (oldest.0 - old.0), (near.1 - old.1) / (oldest.1 - old.1));
        part = if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
            near.1 / (old.1 - near.1) * oldest.1 / (old.1 - oldest.1)
                + (oldest.0 - near.0) / (old.0 - near.0) * near.1 / (oldest.1 - near.1) * old.1 / (oldest.1 - old.1)
        } else {
            0.5
        };
        let least = resolution / span;
        part = part.clamp(least.min(0.5), 1.0 - least.min(0.5));
    }
    near.0
}

/// Where `f` is least between `left` and `right`, to about `width`, if it falls and then rises there.
///
/// Source: R. P. Brent, Algorithms for Minimization without Derivatives (1973), chapter 5: the vertex of a parabola through the
/// three best places where that makes headway, golden section where it does not.
pub fn least_place(left: f64, right: f64, width: f64, f: impl Fn(f64) -> f64) -> f64 {
    const PART: f64 = 0.381_966_011_250_105_1;
    let (mut a, mut b) = (left, right);
    let first = a + PART * (b - a);
    let mut best = (first, f(first));
    let (mut second, mut third) = (best, best);
    let (mut step, mut before) = (0.0f64, 0.0f64);
    for _ in 0..100 {
        let middle = 0.5 * (a + b);
        if (best.0 - middle).abs() + 0.5 * (b - a) <= width {
            break;
        }
        let (r, q) = ((best.0 - second.0) * (best.1 - third.1), (best.0 - third.0) * (best.1 - second.1));
        let (numerator, denominator) = ((best.0 - third.0) * q - (best.0 - second.0) * r, 2.0 * (r - q));
        let parabola = numerator / denominator;
        let at = best.0 + parabola;
        let last = before;
        before = step;
        if parabola.is_finite() && parabola.abs() < 0.5 * last.abs() && at > a && at < b {
            step = parabola;
        } else {
            before = if best.0 < middle { b - best.0 } else { a - best.0 };
            step = PART * before;
        }
        let least = 0.5 * width;
        let place = best.0
            + if step.abs() < least { least.copysign(if step == 0.0 { middle - best.0 } else { step }) } else { step };
        let found = (place, f(place));
        if found.1 <= best.1 {
            if place < best.0 {
                b = best.0
            } else {
                a = best.0
            }
            (third, second, best) = (second, best, found);
        } else {
            if place < best.0 {
                a = place
            } else {
                b = place
            }
            if found.1 <= second.1 || second.0 == best.0 {
                (third, second) = (second, found);
            } else if found.1 <= third.1 || third.0 == best.0 || third.0 == second.0 {
                third = found;
            }
        }
    }
    best.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn roots_and_minima_of_known_functions() {
        assert!((bisect(0.0, 2.0, 0.0, |x| x * x - 2.0) - std::f64::consts::SQRT_2).abs() < 1e-15);
        assert!((bisect(-1.0, 1e6, 0.0, |x| x * x * x) - 0.0).abs() < 1e-5);
        assert!((least_place(-3.0, 5.0, 1e-7, |x| (x - 1.25) * (x - 1.25)) - 1.25).abs() < 1e-6);
        assert!((least_place(-3.0, 5.0, 1e-7, |x: f64| (x - 1.25).abs()) - 1.25).abs() < 1e-6);
        assert!((least_place(0.0, 5.0, 1e-7, |x| -x) - 5.0).abs() < 1e-6);
        assert!((least_place(0.0, 3.0, 1e-7, libm::cos) - std::f64::consts::PI.min(3.0)).abs() < 1e-6);
    }
}
