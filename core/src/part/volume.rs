//! Exact volumes: the wall of a tube end integrated up to its cut.

use super::cut::Cut;

/// Nodes and weights of Gauss' quadrature with three points on -1..1 (Abramowitz and Stegun, table 25.4).
const GAUSS_3: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

/// Sides into which the outline is cut to look for breaks.
const SIDES: u32 = 120;

impl Cut {
    /// Integral of the station over the wall's section, mm3: what the cut adds to a tube that ends square at the datum.
    /// Generators that miss count as ending at `missed`.
    #[must_use]
    pub fn volume_from_datum(&self, missed: f64) -> f64 {
        let wall = self.end.profile.wall();
        let area = self.end.profile.perimeter() * wall;
        let ring = |depth: f64| self.ring(depth, missed);
        over_depth(&ring, 0.0, wall, gauss(&ring, 0.0, wall), 2e-7 * area * self.start.abs().max(1.0), 14)
    }

    /// Integral of the station round the outline at one depth, mm2.
    fn ring(&self, depth: f64, missed: f64) -> f64 {
        let profile = self.end.profile;
        let perimeter = profile.perimeter();
        let owner =
            |u: f64| (self.contact(u, depth).map(|contact| (contact.target, contact.piece)), profile.spot(u, 0.0).side);
        let value = |u: f64| self.contact(u, depth).map_or(missed, |contact| contact.s) * profile.spot(u, depth).share;
        let mut breaks = vec![0.0];
        let mut left = (0.0, owner(0.0));
        for u in self.places(SIDES) {
            let right = (u, owner(u));
            if right.1 != left.1 {
                let (mut a, mut b) = (left.0, right.0);
                while b - a > 1e-10 * perimeter {
                    let middle = 0.5 * (a + b);
                    if owner(middle) == left.1 {
                        a = middle;
                    } else {
                        b = middle;
                    }
                }
                breaks.push(0.5 * (a + b));
            }
            left = right;
        }
        if breaks.len() == 1 {
            let step = perimeter / f64::from(SIDES);
            return (0..SIDES).map(|side| value(step * f64::from(side))).sum::<f64>() * step;
        }
        breaks.push(perimeter);
        breaks.windows(2).map(|panel| self.panel(panel[0], panel[1], &value)).sum()
    }

    /// Integral over a smooth panel. The substitution `u = a + (b - a) (1 - cos pi t) / 2` takes the sting out of ends where
    /// the slope is infinite.
    fn panel(&self, a: f64, b: f64, value: &impl Fn(f64) -> f64) -> f64 {
        use core::f64::consts::PI;
        let parts = ((b - a) / self.end.profile.perimeter() * 24.0).ceil().max(2.0);
        let mut sum = 0.0;
        let mut part = 0.0;
        while part < parts {
            for (node, weight) in GAUSS_3 {
                let t = (part + 0.5 + 0.5 * node) / parts;
                let (sin, cos) = libm::sincos(PI * t);
                sum += weight * value(a + (b - a) * 0.5 * (1.0 - cos)) * sin;
            }
            part += 1.0;
        }
        sum * (b - a) * PI / (4.0 * parts)
    }
}

fn gauss(f: &impl Fn(f64) -> f64, a: f64, b: f64) -> f64 {
    let (middle, half) = (0.5 * (a + b), 0.5 * (b - a));
    GAUSS_3.iter().map(|(node, weight)| weight * f(middle + half * node)).sum::<f64>() * half
}

/// Halves the depth until both halves together say the same as the whole.
fn over_depth(f: &impl Fn(f64) -> f64, a: f64, b: f64, whole: f64, tolerance: f64, levels: u32) -> f64 {
    let middle = 0.5 * (a + b);
    let (left, right) = (gauss(f, a, middle), gauss(f, middle, b));
    if levels == 0 || (left + right - whole).abs() <= tolerance {
        return left + right;
    }
    over_depth(f, a, middle, left, 0.5 * tolerance, levels - 1)
        + over_depth(f, middle, b, right, 0.5 * tolerance, levels - 1)
}
