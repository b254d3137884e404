//! Exact volumes: the wall of a tube end integrated up to its cut.

use super::cut::{Contact, Cut, Row, SIDES};
use super::line::CutLine;
use super::table::Table;
use crate::geometry::{Piece, Profile, Solid, Spot, bisect};
use crate::{Stop, Stopped};

/// Nodes and weights of Gauss' quadrature with three points on -1..1 (Abramowitz and Stegun, table 25.4).
const GAUSS_3: [(f64, f64); 3] =
    [(-0.774_596_669_241_483_4, 5.0 / 9.0), (0.0, 8.0 / 9.0), (0.774_596_669_241_483_4, 5.0 / 9.0)];

/// What the parabola through its three points is at -1, as shares of them: there the integral is known from the outer line, and
/// where the parabola meets that, three points are exact far beyond what is let pass.
const OUTSIDE: [f64; 3] = [1.478_830_557_701_236_1, -2.0 / 3.0, 0.187_836_108_965_430_5];

/// The same with two points.
const GAUSS_2: [(f64, f64); 2] = [(-0.577_350_269_189_625_8, 1.0), (0.577_350_269_189_625_8, 1.0)];

/// Node and, for a range of one, weight of the points beside the middle in Lobatto's quadrature with five points, which has both
/// ends and the middle of a range besides (Abramowitz and Stegun, table 25.6).
const LOBATTO: (f64, f64) = (0.654_653_670_707_977_1, 49.0 / 180.0);

/// Nodes and weights on 0..1 for panels with an end that may be steep: Gauss' quadrature with 16 points in `t` after the substitution
/// `x = (1 - cos pi t) / 2`, which takes the sting out of an end where the slope is infinite.
#[rustfmt::skip]
const STEEP: [(f64, f64); 16] = [
    (0.000_069_295_469_669_086_37, 0.000_355_031_120_977_670_15),
    (0.001_893_723_068_832_15, 0.004_251_385_094_079_633),
    (0.011_095_931_029_013_095, 0.015_657_646_148_953_674),
    (0.036_452_555_605_843_76, 0.036_689_300_323_055_57),
    (0.087_399_563_786_582_22, 0.066_364_342_243_320_13),
    (0.170_514_057_300_457_66, 0.099_929_387_812_074_42),
    (0.285_971_468_205_565_71, 0.129_612_804_578_967_55),
    (0.425_654_067_054_797_8, 0.147_140_102_678_571_35),
    (0.574_345_932_945_202_2, 0.147_140_102_678_571_35),
    (0.714_028_531_794_434_3, 0.129_612_804_578_967_55),
    (0.829_485_942_699_542_3, 0.099_929_387_812_074_42),
    (0.912_600_436_213_417_8, 0.066_364_342_243_320_13),
    (0.963_547_444_394_156_3, 0.036_689_300_323_055_57),
    (0.988_904_068_970_986_9, 0.015_657_646_148_953_674),
    (0.998_106_276_931_167_8, 0.004_251_385_094_079_633),
    (0.999_930_704_530_331, 0.000_355_031_120_977_670_15),
];

/// The same for panels without: Gauss' quadrature with eight points (Abramowitz and Stegun, table 25.4).
#[rustfmt::skip]
const EVEN: [(f64, f64); 8] = [
    (0.019_855_071_751_231_884, 0.050_614_268_145_188_13),
    (0.101_666_761_293_186_64, 0.111_190_517_226_687_24),
    (0.237_233_795_041_835_5, 0.156_853_322_938_943_63),
    (0.408_282_678_752_175_1, 0.181_341_891_689_181),
    (0.591_717_321_247_825, 0.181_341_891_689_181),
    (0.762_766_204_958_164_5, 0.156_853_322_938_943_63),
    (0.898_333_238_706_813_4, 0.111_190_517_226_687_24),
    (0.980_144_928_248_768_1, 0.050_614_268_145_188_13),
];

/// Error that is let pass, as a part of the volume between the search's start and the datum.
const TOLERANCE: f64 = 1e-6;

/// How many times the error that is let pass the results of two and of three points may differ.
const DOUBT: f64 = 20.0;

/// Most times that a range of depths is halved.
const LEVELS: u32 = 14;

impl Cut {
    /// Integral of the station over the wall's section, mm3: what the cut adds to a tube that ends square at the datum.
    /// Generators that miss count as ending at `missed`.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn volume_from_datum(&self, missed: f64, stop: Stop) -> Result<f64, Stopped> {
        let table = Table::of(self, self.looked_at(), stop)?;
        let [outer, _] = CutLine::both(self, &table, stop)?;
        self.volume_over(&table, &outer, missed, stop)
    }

    /// The same from a table of the cut and its outer line.
    pub(super) fn volume_over(&self, table: &Table, outer: &CutLine, missed: f64, stop: Stop) -> Result<f64, Stopped> {
        let volume = self.integrated(table, outer, missed, stop);
        // What came after the word to stop was not looked at.
        stop.check().map(|()| volume)
    }

    /// The same; without meaning when it was stopped.
    fn integrated(&self, table: &Table, outer: &CutLine, missed: f64, stop: Stop) -> f64 {
        let profile = self.profile();
        let wall = profile.wall();
        let tangents = self.tangents();
        let joints = profile.joints().into_iter().map(|u| Break { u, is_steep: false });
        let flanks = tangents.iter().flat_map(|tangent| tangent.flanks).map(|u| Break { u, is_steep: true });
        let breaks = joints.chain(flanks).collect();
        let ring = Ring {
            cut: self,
            stop,
            missed,
            places: places(self, table),
            breaks,
            tolerance: TOLERANCE * profile.perimeter() * self.start().abs().max(1.0),
        };
        let tolerance = ring.tolerance * wall;
        let plain = |depth: f64| ring.at(depth);
        let mut edges = vec![0.0, wall];
        edges.extend(tangents.iter().flat_map(|tangent| tangent.depths).filter(|&depth| depth > 0.0 && depth < wall));
        if edges.len() == 2 {
            if let Some([outer, bore]) = ring.sides(table) {
                let [near, middle, far] = [-LOBATTO.0, 0.0, LOBATTO.0].map(|at| plain(0.5 * (1.0 + at) * wall));
                let best = wall * ((outer + bore) / 20.0 + (near + far) * LOBATTO.1 + middle * (16.0 / 45.0));
                let plainer = wall * (outer + 4.0 * middle + bore) / 6.0;
                if (best - plainer).abs() <= DOUBT * tolerance {
                    return best;
                }
            }
            let found = GAUSS_3.map(|(at, _)| plain(0.5 * (1.0 + at) * wall));
            let outside: f64 = OUTSIDE.iter().zip(found).map(|(share, found)| share * found).sum();
            let breaks = outer.breaks(profile.perimeter());
            let known = outer.integral() + breaks.iter().map(|[from, to]| (to - from) * missed).sum::<f64>();
            if (outside - known).abs() <= DOUBT * ring.tolerance {
                return 0.5 * wall * GAUSS_3.iter().zip(found).map(|((_, weight), found)| weight * found).sum::<f64>();
            }
            if tangents.is_empty() {
                return refined(&plain, 0.0, wall, tolerance, LEVELS);
            }
        }
        let (best, doubt) = estimate(&plain, 0.0, wall);
        if doubt <= DOUBT * tolerance {
            return best;
        }
        edges.sort_by(f64::total_cmp);
        let between = |pair: &[f64]| {
            let (a, half) = (pair[0], 0.5 * (pair[1] - pair[0]));
            let steep = |t: f64| {
                let (sin, cos) = libm::sincos(core::f64::consts::PI * t);
                ring.at(a + half * (1.0 - cos)) * half * core::f64::consts::PI * sin
            };
            refined(&steep, 0.0, 1.0, tolerance, LEVELS)
        };
        edges.windows(2).map(between).sum()
    }

    /// Round bars that the wall of a round tube just touches with a flank, somewhere in the wall or near it: there the
    /// station changes steeply round the outline, and the integral round it steeply with the depth.
    fn tangents(&self) -> Vec<Tangent> {
        let Profile::Round { outer, wall } = self.profile() else {
            return Vec::new();
        };
        let end = self.end();
        let bars = self.targets().iter().flat_map(Solid::pieces).filter_map(Piece::round);
        let tangents = bars.map(|bar| {
            let aside = (end.datum - bar.point).dot(end.outwards.cross(bar.axis).normalize_or_zero()).abs();
            Tangent { depths: [outer - bar.radius + aside, outer - bar.radius - aside], flanks: self.flanks_of(bar) }
        });
        tangents.filter(|tangent| tangent.depths.iter().any(|depth| (-wall..2.0 * wall).contains(depth))).collect()
    }
}

/// A round bar that flanks of the tube touch.
struct Tangent {
    /// Depths at which they do.
    depths: [f64; 2],
    /// Places of the flanks.
    flanks: [f64; 2],
}

/// The integral of the station round the outline at one depth.
struct Ring<'a> {
    cut: &'a Cut,
    stop: Stop<'a>,
    missed: f64,
    /// Places to look for breaks, from 0 to the whole outline.
    places: Vec<OutlinePlace>,
    /// Places where panels end at every depth.
    breaks: Vec<Break>,
    /// Error that is let pass, mm2.
    tolerance: f64,
}

/// A place of the outline where a cut is looked at.
struct OutlinePlace {
    u: f64,
    spot: Spot,
    /// One of [`SIDES`] at equal steps.
    is_regular: bool,
}

/// A place where panels end.
#[derive(Debug, Clone, Copy)]
struct Break {
    u: f64,
    /// Whether the station may change steeply beside it.
    is_steep: bool,
}

/// Some of a table's places, those that equal steps pass over, and the end of the outline.
fn places(cut: &Cut, table: &Table) -> Vec<OutlinePlace> {
    let profile = cut.profile();
    let every = table.rows.len() / SIDES as usize;
    let regular = table.rows.iter().zip(&table.ring).step_by(every);
    let mut places: Vec<OutlinePlace> =
        regular.map(|(row, &spot)| OutlinePlace { u: row.u, spot, is_regular: true }).collect();
    places.push(OutlinePlace { u: profile.perimeter(), spot: table.ring[0], is_regular: false });
    for u in cut.odd_places() {
        let at = places.partition_point(|place| place.u < u);
        let is_new = |place: &OutlinePlace| (place.u - u).abs() > 1e-9 * profile.perimeter();
        if places[at.saturating_sub(1)..places.len().min(at + 1)].iter().all(is_new) {
            places.insert(at, OutlinePlace { u, spot: profile.spot(u, 0.0), is_regular: false });
        }
    }
    places
}

/// Which smooth surface a generator meets.
fn owner(contact: Option<Contact>) -> Option<(u16, u16, u8)> {
    contact.map(|contact| (contact.target, contact.piece, contact.face))
}

impl Ring<'_> {
    fn at(&self, depth: f64) -> f64 {
        if self.stop.asked() {
            return 0.0;
        }
        let found = self.cut.firsts(self.places.iter().map(|place| place.spot.inwards(depth)));
        self.smooth(depth, &found).unwrap_or_else(|| self.by_panels(depth, &found))
    }

    /// The integral where a round tube's curve is smooth; `None` elsewhere and for other outlines.
    fn smooth(&self, depth: f64, found: &[Option<Contact>]) -> Option<f64> {
        let first = owner(*found.first()?);
        if found.iter().any(|&contact| owner(contact) != first) {
            return None;
        }
        let regular = self.places.iter().zip(found).filter(|(place, _)| place.is_regular);
        self.round(depth, regular.map(|(_, &contact)| contact))
    }

    /// The integral of a round tube's curve from an even number of equal steps. Round a curve without breaks they converge faster
    /// than any power of the step: when half of them say the same, all of them are exact. `None` where they do not.
    fn round(&self, depth: f64, found: impl Iterator<Item = Option<Contact>> + Clone) -> Option<f64> {
        let Profile::Round { outer, .. } = self.cut.profile() else {
            return None;
        };
        let first = owner(found.clone().next()?);
        let (mut sums, mut count) = ([0.0; 2], 0.0);
        for (number, contact) in found.enumerate() {
            if first.is_none() || owner(contact) != first {
                return None;
            }
            sums[number % 2] += contact?.s;
            count += 1.0;
        }
        let step = core::f64::consts::TAU * (outer - depth) / count;
        let (half, whole) = (2.0 * sums[0] * step, (sums[0] + sums[1]) * step);
        ((whole - half).abs() <= self.tolerance).then_some(whole)
    }

    /// The integrals at both sides of the wall where a table has all of them and they are smooth.
    fn sides(&self, table: &Table) -> Option<[f64; 2]> {
        let outer = |row: &Row| row.outer.map(|station| station.contact);
        let bore = |row: &Row| row.inner;
        Some([
            self.round(0.0, table.rows.iter().map(outer))?,
            self.round(self.cut.profile().wall(), table.rows.iter().map(bore))?,
        ])
    }

    /// Where the surface that is met changes between two places: where two pieces are met at once, or where a piece ends.
    fn change(&self, left: (f64, Option<Contact>), right: (f64, Option<Contact>), depth: f64) -> Break {
        let width = 1e-7 * self.cut.profile().perimeter();
        if let (Some(before), Some(after)) = (left.1, right.1) {
            let lead = |u: f64| self.cut.lead(u, depth, before, after);
            if lead(left.0) < 0.0 && lead(right.0) > 0.0 {
                let u = bisect(left.0, right.0, width, lead);
                let beside = [u - width, u + width].map(|u| owner(self.cut.contact(u, depth)));
                if beside == [owner(left.1), owner(right.1)] {
                    return Break { u, is_steep: false };
                }
            }
        }
        let is_left = |u: f64| if owner(self.cut.contact(u, depth)) == owner(left.1) { 1.0 } else { -1.0 };
        Break { u: bisect(left.0, right.0, width, is_left), is_steep: true }
    }

    fn by_panels(&self, depth: f64, found: &[Option<Contact>]) -> f64 {
        let profile = self.cut.profile();
        let mut breaks = self.breaks.clone();
        for (at, pair) in found.windows(2).enumerate() {
            if owner(pair[0]) != owner(pair[1]) {
                breaks.push(self.change((self.places[at].u, pair[0]), (self.places[at + 1].u, pair[1]), depth));
            }
        }
        breaks.sort_by(|a, b| a.u.total_cmp(&b.u));
        let first = breaks.first().copied().unwrap_or(Break { u: 0.0, is_steep: false });
        if breaks.is_empty() {
            breaks.push(first);
        }
        breaks.push(Break { u: first.u + profile.perimeter(), ..first });
        let mut nodes: Vec<(Spot, f64)> = Vec::with_capacity(STEEP.len() * (breaks.len() + 4));
        for pair in breaks.windows(2) {
            let panels = ((pair[1].u - pair[0].u) / (0.25 * profile.perimeter()) - 1e-9).ceil();
            let width = (pair[1].u - pair[0].u) / panels;
            let mut panel = 0.0;
            while panel < panels {
                let is_steep = panel == 0.0 && pair[0].is_steep || panel + 1.0 == panels && pair[1].is_steep;
                let rule = if is_steep { &STEEP[..] } else { &EVEN[..] };
                let from = pair[0].u + panel * width;
                nodes.extend(rule.iter().map(|(x, weight)| (profile.spot(from + width * x, depth), weight * width)));
                panel += 1.0;
            }
        }
        let firsts = self.cut.firsts(nodes.iter().map(|(spot, _)| spot.at));
        let value = |contact: Option<Contact>| contact.map_or(self.missed, |contact| contact.s);
        nodes.iter().zip(firsts).map(|((spot, weight), first)| weight * spot.share * value(first)).sum()
    }
}

fn gauss(f: &impl Fn(f64) -> f64, a: f64, b: f64, nodes: &[(f64, f64)]) -> f64 {
    let (middle, half) = (0.5 * (a + b), 0.5 * (b - a));
    nodes.iter().map(|(node, weight)| weight * f(middle + half * node)).sum::<f64>() * half
}

/// Integral over a range by three points, and how far that by two points lies from it. Where the error of two points falls with
/// the fourth power of the range, that of three falls with the sixth and is far smaller than their difference.
fn estimate(f: &impl Fn(f64) -> f64, a: f64, b: f64) -> (f64, f64) {
    let best = gauss(f, a, b, &GAUSS_3);
    (best, (best - gauss(f, a, b, &GAUSS_2)).abs())
}

/// Integral over a range, which is halved until two and three points say the same of it.
fn refined(f: &impl Fn(f64) -> f64, a: f64, b: f64, tolerance: f64, levels: u32) -> f64 {
    let (best, doubt) = estimate(f, a, b);
    if levels == 0 || doubt <= DOUBT * tolerance {
        return best;
    }
    let middle = 0.5 * (a + b);
    refined(f, a, middle, 0.5 * tolerance, levels - 1) + refined(f, middle, b, 0.5 * tolerance, levels - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn panels_integrate_smooth_curves_and_steep_ends() {
        let over =
            |rule: &[(f64, f64)], f: &dyn Fn(f64) -> f64| rule.iter().map(|&(x, weight)| weight * f(x)).sum::<f64>();
        assert!((over(&EVEN, &|_| 1.0) - 1.0).abs() < 1e-15);
        // Exact up to this power.
        assert!((over(&EVEN, &|x| x.powi(15)) - 1.0 / 16.0).abs() < 1e-15);
        assert!((over(&STEEP, &|_| 1.0) - 1.0).abs() < 1e-15);
        assert!((over(&STEEP, &|x| x.powi(5)) - 1.0 / 6.0).abs() < 1e-15);
        assert!((over(&STEEP, &|x| x.sqrt()) - 2.0 / 3.0).abs() < 1e-14);
        // A quarter of the area of a circle of diameter 1, times two.
        assert!((over(&STEEP, &|x| (x - x * x).sqrt()) - core::f64::consts::PI / 8.0).abs() < 1e-14);
    }
}
