//! Exact volumes: the wall of a tube end integrated up to its cut.

use super::cut::Cut;
use crate::geometry::{Profile, Spot};

/// Nodes and weights of Gauss' quadrature with three points on -1..1 (Abramowitz and Stegun, table 25.4).
const GAUSS_3: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

/// Sides into which the outline is cut to look for breaks.
const SIDES: u32 = 72;

/// Error that is let pass, as a part of the volume between the search's start and the datum.
const TOLERANCE: f64 = 2e-7;

impl Cut {
    /// Integral of the station over the wall's section, mm3: what the cut adds to a tube that ends square at the datum.
    /// Generators that miss count as ending at `missed`.
    #[must_use]
    pub fn volume_from_datum(&self, missed: f64) -> f64 {
        let profile = self.profile();
        let wall = profile.wall();
        let ring = Ring {
            cut: self,
            missed,
            places: self.places(SIDES),
            spots: profile.ring(SIDES),
            tolerance: TOLERANCE * profile.perimeter() * self.start().abs().max(1.0),
        };
        let at = |depth: f64| ring.at(depth);
        over_depth(&at, 0.0, wall, gauss(&at, 0.0, wall), ring.tolerance * wall, 14)
    }
}

/// The integral of the station round the outline at one depth.
struct Ring<'a> {
    cut: &'a Cut,
    missed: f64,
    /// Places to look for breaks.
    places: Vec<f64>,
    /// Regular places.
    spots: Vec<Spot>,
    /// Error that is let pass, mm2.
    tolerance: f64,
}

impl Ring<'_> {
    fn at(&self, depth: f64) -> f64 {
        self.smooth(depth).unwrap_or_else(|| self.by_panels(depth))
    }

    /// Equal steps round a curve without breaks converge faster than any power of the step: when half of them say the same,
    /// all of them are right. `None` when there are breaks, or the curve turns too sharply.
    fn smooth(&self, depth: f64) -> Option<f64> {
        let Profile::Round { outer, .. } = self.cut.profile() else {
            return None;
        };
        let mut owner = None;
        let mut sums = [0.0; 2];
        for (number, spot) in self.spots.iter().enumerate() {
            let contact = self.cut.first(spot.inwards(depth))?;
            let here = (contact.target, contact.piece, contact.face);
            if *owner.get_or_insert(here) != here {
                return None;
            }
            sums[number % 2] += contact.s;
        }
        let step = core::f64::consts::TAU * (outer - depth) / f64::from(SIDES);
        let (half, whole) = (2.0 * sums[0] * step, (sums[0] + sums[1]) * step);
        ((whole - half).abs() <= self.tolerance).then_some(whole)
    }

    fn by_panels(&self, depth: f64) -> f64 {
        let profile = self.cut.profile();
        let perimeter = profile.perimeter();
        let contact = |u: f64| self.cut.contact(u, depth);
        let owner = |u: f64| {
            (contact(u).map(|contact| (contact.target, contact.piece, contact.face)), profile.spot(u, 0.0).side)
        };
        let value = |u: f64| {
            let spot = profile.spot(u, depth);
            self.cut.first(spot.at).map_or(self.missed, |contact| contact.s) * spot.share
        };
        let mut breaks = vec![0.0, perimeter];
        breaks.extend(self.cut.flanks());
        let mut left = (0.0, owner(0.0));
        for &u in &self.places {
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
        breaks.sort_by(f64::total_cmp);
        breaks.windows(2).map(|panel| self.panel(panel[0], panel[1], &value)).sum()
    }

    /// Integral over a smooth panel. The substitution `u = a + (b - a) (1 - cos pi t) / 2` takes the sting out of ends where
    /// the slope is infinite.
    fn panel(&self, a: f64, b: f64, value: &impl Fn(f64) -> f64) -> f64 {
        use core::f64::consts::PI;
        let parts = ((b - a) / self.cut.profile().perimeter() * 24.0).ceil().max(2.0);
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
