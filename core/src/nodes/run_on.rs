//! How far a tube must run on past an end, so that the whole wall of another seats on its side.

use super::end::End;
use crate::geometry::{Cylinder, Piece, Profile, Ray, RoundedPrism, least_place};

/// Places tried across or round a tube for the furthest.
const TRIED: u32 = 180;

/// How exactly the furthest place is found, as a part of the tube's size.
const RESOLVED: f64 = 1e-6;

/// Axes that lean against each other by less meet nowhere: sine.
const PARALLEL: f64 = 1e-3;

/// How far `trunk` must run on past its end for `branch`, mm; 0 where it is long enough.
pub(super) fn run_on(trunk: &End, branch: &End) -> f64 {
    let furthest = match (trunk.profile, branch.profile) {
        (Profile::Round { outer: large, .. }, Profile::Round { outer: small, .. }) => {
            round(trunk, branch, large, small)
        }
        _ => by_lines(trunk, branch),
    };
    furthest.map_or(0.0, |furthest| furthest.max(0.0))
}

/// How far past the end of a round trunk the outer line of a round branch reaches; negative where it ends before.
///
/// Formula: on the trunk at `y = e + u` off its axis, `z = z0 + cot(theta) sqrt(R^2 - y^2) - sqrt(r^2 - u^2) / sin(theta)`, with `z`
/// along the trunk into its body, `z0` where the branch's axis crosses, `e` how far off it passes, and `theta` between both
/// directions away (derivable; the least `z` for `e = 0` and `r <= R` is `-(r - R cos(theta)) / sin(theta)`).
fn round(trunk: &End, branch: &End, large: f64, small: f64) -> Option<f64> {
    let (a, b) = (trunk.away(), branch.away());
    let (cos, square) = (a.dot(b), a.cross(b));
    let sin = square.length();
    if sin < PARALLEL {
        return None;
    }
    let between = branch.tip.origin - trunk.tip.origin;
    let offset = between.dot(square / sin).abs();
    let along = (between.dot(a) - cos * between.dot(b)) / (sin * sin);
    let (low, high) = ((-small).max(-large - offset), small.min(large - offset));
    if low > high {
        return None;
    }
    let past = |u: f64| {
        let (own, other) = ((small * small - u * u).max(0.0), (large * large - (offset + u) * (offset + u)).max(0.0));
        (own.sqrt() - cos * other.sqrt()) / sin - along
    };
    Some(greatest(low, high, small * RESOLVED, past))
}

/// The same by the lines of the branch's outer surface, against the trunk without ends.
fn by_lines(trunk: &End, branch: &End) -> Option<f64> {
    let endless = endless(trunk);
    let (x, y) = (branch.index, branch.tip.direction.cross(branch.index));
    let perimeter = branch.profile.perimeter();
    let past = |u: f64| {
        let [across, up] = branch.profile.spot(u.rem_euclid(perimeter), 0.0).at;
        let ray = Ray { origin: branch.tip.origin + x * across + y * up, direction: branch.tip.direction };
        let hit = endless.first(&ray, branch.start())?;
        Some((ray.at(hit) - trunk.tip.origin).dot(trunk.tip.direction))
    };
    let least = -1e9;
    let greatest = greatest(0.0, perimeter, perimeter * RESOLVED, |u| past(u).unwrap_or(least));
    (greatest > least).then_some(greatest)
}

/// The bar of an end's straight part, longer at both of its ends than anything near.
fn endless(end: &End) -> Piece {
    const FAR: f64 = 1e4;
    let point = end.tip.at(FAR);
    let axis = -end.tip.direction;
    let length = Some(end.length + 2.0 * FAR);
    match end.profile {
        Profile::Round { outer, .. } => Piece::Cylinder(Cylinder { point, axis, radius: outer, length }),
        Profile::Rect { half_width, half_height, corner, .. } => Piece::Prism(RoundedPrism {
            point,
            axis,
            across: end.index,
            half: [half_width, half_height],
            corner,
            length,
        }),
    }
}

/// The greatest value of a function that may have more than one summit.
fn greatest(low: f64, high: f64, width: f64, f: impl Fn(f64) -> f64) -> f64 {
    let step = (high - low) / f64::from(TRIED);
    let tried = (0..=TRIED).map(|number| low + step * f64::from(number)).map(|at| (at, f(at)));
    let Some((at, best)) = tried.reduce(|best, next| if next.1 > best.1 { next } else { best }) else { return f(low) };
    let place = least_place((at - step).max(low), (at + step).min(high), width, |at| -f(at));
    f(place).max(best)
}
