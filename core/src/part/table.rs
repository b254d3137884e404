//! A cut at equal steps round the tube, computed once for all who want figures there.

use super::cut::{Cut, Row};
use crate::geometry::Spot;
use crate::{Stop, Stopped};

/// A cut at equal steps round the outline, from `u = 0`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// One row a place.
    pub rows: Vec<Row>,
    /// The places themselves.
    pub(super) ring: Vec<Spot>,
}

impl Table {
    /// A cut at `places` equal steps.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn of(cut: &Cut, places: u32, stop: Stop) -> Result<Self, Stopped> {
        let profile = cut.profile();
        let step = profile.perimeter() / f64::from(places);
        let ring = profile.ring(places);
        let rows = cut.rows(&ring, step, stop)?;
        Ok(Self { rows, ring })
    }

    /// The least dihedral angle, radians; `None` where nothing is met.
    #[must_use]
    pub fn sharpest(&self) -> Option<f64> {
        let met = self.rows.iter().filter(|row| row.outer.is_some());
        met.reduce(|best, row| if row.cosine > best.cosine { row } else { best })?.dihedral()
    }

    /// Every target that outer surface or bore meets, with the least station there, nearest to the body first.
    #[must_use]
    pub fn met(&self) -> Vec<(u16, f64)> {
        let mut met: Vec<(u16, f64)> = Vec::new();
        let mut last = 0;
        for contact in self.rows.iter().flat_map(|row| [row.outer.map(|outer| outer.contact), row.inner]).flatten() {
            if met.get(last).is_none_or(|(target, _)| *target != contact.target) {
                last = met.iter().position(|(target, _)| *target == contact.target).unwrap_or(met.len());
            }
            match met.get_mut(last) {
                Some((_, nearest)) => *nearest = nearest.min(contact.s),
                None => met.push((contact.target, contact.s)),
            }
        }
        nearest_first(&mut met);
        met
    }
}

/// Puts targets that are met in the order of their least stations; of those that are equal the first named comes first.
pub(super) fn nearest_first(met: &mut [(u16, f64)]) {
    // Stations that round to the same of these are equal, mm.
    const EQUAL: f64 = 1e-6;
    met.sort_by(|a, b| (a.1 / EQUAL).round().total_cmp(&(b.1 / EQUAL).round()).then(a.0.cmp(&b.0)));
}
