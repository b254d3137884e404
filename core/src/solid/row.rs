//! One turn round a cut at one depth of the wall: which surfaces it lies on and where it goes from one to the next.

use super::SolidError;
use super::facets::{self, Owner};
use crate::geometry::Profile;
use crate::part::Cut;

/// Places round the outline at which to look first.
const SIDES: u32 = 288;

/// Stretches on one surface narrower than this are passed over, mm round the outline.
pub(super) const SLIVER: f64 = 6e-3;

/// A break this near a joint of the outline is put on it, mm.
const SNAP: f64 = 5e-3;

/// Stations that differ by less than this are one, mm.
const STEP: f64 = 2e-3;

/// A place where the cut goes from one surface to the next.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Break {
    /// Place round the outer outline, mm.
    pub(super) u: f64,
    /// Station, mm.
    pub(super) s: f64,
    /// The surface before it, seen in rising order of `u`.
    pub(super) before: Owner,
    /// The surface after it.
    pub(super) after: Owner,
}

/// A whole turn: breaks in rising order of `u`; without breaks all of it lies on one surface.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) depth: f64,
    pub(super) breaks: Vec<Break>,
    /// The surface where `u` is 0.
    pub(super) first: Owner,
}

impl Row {
    /// The surfaces in order; interval `k` lies after break `k`.
    pub(super) fn owners(&self) -> Vec<Owner> {
        if self.breaks.is_empty() { vec![self.first] } else { self.breaks.iter().map(|here| here.after).collect() }
    }

    /// The interval in which a place lies.
    pub(super) fn interval_at(&self, u: f64) -> usize {
        let after = self.breaks.iter().rposition(|here| here.u <= u);
        after.unwrap_or(self.breaks.len().saturating_sub(1))
    }

    /// Places to look at where a row nearby may have stretches that are easily overlooked.
    pub(super) fn hints(&self, perimeter: f64) -> Vec<f64> {
        let narrow = 4.0 * perimeter / f64::from(SIDES);
        let mut hints = Vec::new();
        for (here, next) in self.breaks.iter().zip(self.breaks.iter().cycle().skip(1)) {
            let width = (next.u - here.u).rem_euclid(perimeter);
            if width < narrow {
                hints.extend((-12..=24).map(|step| (here.u + width * f64::from(step) / 12.0).rem_euclid(perimeter)));
            }
        }
        hints
    }
}

/// The surfaces at the outer surface and in the bore are those this far inside the wall, mm, so that none is named that a
/// cut only touches there.
const INSIDE: f64 = 1e-6;

/// What a generator meets.
#[derive(Clone, Copy)]
struct Found {
    u: f64,
    s: f64,
    /// Station a little inside the wall, where the surface is named.
    inside: f64,
    owner: Owner,
}

/// Looks once round the cut at a depth, and closely at `hints`.
pub(super) fn row(cut: &Cut, depth: f64, hints: &[f64]) -> Result<Row, SolidError> {
    let perimeter = cut.end().profile.perimeter();
    let find = |u: f64| -> Result<Found, SolidError> {
        let contact = cut.contact(u, depth).ok_or(SolidError::Misses)?;
        if contact.s <= cut.start() {
            return Err(SolidError::StartsInside);
        }
        let inside = depth.clamp(INSIDE, cut.end().profile.wall() - INSIDE);
        let met = cut.contact(u, inside).ok_or(SolidError::Misses)?;
        let at = cut.end().generator(u, inside).at(met.s);
        Ok(Found { u, s: contact.s, inside: met.s, owner: facets::owner(cut, met, at)? })
    };
    let mut places = cut.places(SIDES);
    places.extend(hints);
    places.sort_by(f64::total_cmp);
    let mut breaks = Vec::new();
    let mut left = find(places[0])?;
    let first = left.owner;
    for &u in &places[1..] {
        let right = find(u)?;
        while left.owner != right.owner {
            let (mut a, mut b) = (left, right);
            while b.u - a.u > 1e-10 * perimeter {
                let middle = find(0.5 * (a.u + b.u))?;
                if middle.owner == left.owner { a = middle } else { b = middle }
            }
            if (a.inside - b.inside).abs() > STEP {
                return Err(SolidError::Step);
            }
            breaks.push(Break { u: b.u, s: b.s, before: a.owner, after: b.owner });
            left = b;
        }
        left = right;
    }
    if left.owner != first {
        // The tube's beginning and its end are one place.
        breaks.insert(0, Break { u: 0.0, s: left.s, before: left.owner, after: first });
    }
    snap(&mut breaks, cut, depth);
    let left = drop_slivers(&mut breaks, perimeter).unwrap_or(first);
    let first = breaks.first().map_or(left, |here| if here.u > 0.0 { here.before } else { here.after });
    Ok(Row { depth, breaks, first })
}

fn snap(breaks: &mut [Break], cut: &Cut, depth: f64) {
    if let Profile::Round { .. } = cut.end().profile {
        return;
    }
    for joint in cut.end().profile.joints() {
        for here in breaks.iter_mut().filter(|here| (here.u - joint).abs() < SNAP) {
            here.u = joint;
            here.s = cut.contact(joint, depth).map_or(here.s, |contact| contact.s);
        }
    }
}

/// Answers the one surface that is left when the last breaks go.
fn drop_slivers(breaks: &mut Vec<Break>, perimeter: f64) -> Option<Owner> {
    let mut left = None;
    loop {
        let count = breaks.len();
        let narrow =
            (0..count).find(|&k| count > 1 && (breaks[(k + 1) % count].u - breaks[k].u).rem_euclid(perimeter) < SLIVER);
        let Some(here) = narrow else { return left };
        let next = (here + 1) % count;
        breaks[here].after = breaks[next].after;
        let whole = breaks[here];
        breaks.remove(next);
        if whole.before == whole.after {
            left = Some(whole.before);
            breaks.retain(|other| *other != whole);
        }
    }
}
