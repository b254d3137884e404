//! A cut at regular places round the tube, computed once for all who want figures there.

use super::cut::{Contact, Cut};

/// A cut at equal steps round the outline, from `u = 0`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// One row a place.
    pub rows: Vec<Row>,
}

/// The cut at one place of the outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Place round the outer outline, mm.
    pub u: f64,
    /// Contact of the outer surface.
    pub outer: Option<Contact>,
    /// Contact of the bore.
    pub inner: Option<Contact>,
    /// Station of the relief line, mm.
    pub relief: Option<f64>,
    /// Local dihedral angle on the outer surface, radians.
    pub dihedral: Option<f64>,
}

impl Row {
    /// Puts what another piece gives at the same place where it is met first.
    pub(super) fn take_nearer(&mut self, other: &Self) {
        let station = |contact: Option<Contact>| contact.map_or(f64::INFINITY, |contact| contact.s);
        if station(other.outer) < station(self.outer) {
            (self.outer, self.dihedral) = (other.outer, other.dihedral);
        }
        if station(other.inner) < station(self.inner) {
            self.inner = other.inner;
        }
        if other.relief.unwrap_or(f64::INFINITY) < self.relief.unwrap_or(f64::INFINITY) {
            self.relief = other.relief;
        }
    }
}

impl Table {
    /// A cut at `places` equal steps.
    #[must_use]
    pub fn of(cut: &Cut, places: u32) -> Self {
        let profile = cut.profile();
        let step = profile.perimeter() / f64::from(places);
        let ring: Vec<_> =
            (0..places).zip(profile.ring(places)).map(|(place, spot)| (step * f64::from(place), spot)).collect();
        Self { rows: cut.rows(&ring) }
    }

    /// The least dihedral angle, radians; `None` where nothing is met.
    #[must_use]
    pub fn sharpest(&self) -> Option<f64> {
        self.rows.iter().filter_map(|row| row.dihedral).reduce(f64::min)
    }

    /// Every target that outer surface or bore meets, with the least station there, nearest to the body first.
    #[must_use]
    pub fn met(&self) -> Vec<(u16, f64)> {
        let mut met: Vec<(u16, f64)> = Vec::new();
        for contact in self.rows.iter().flat_map(|row| [row.outer, row.inner]).flatten() {
            match met.iter_mut().find(|(target, _)| *target == contact.target) {
                Some((_, nearest)) => *nearest = nearest.min(contact.s),
                None => met.push((contact.target, contact.s)),
            }
        }
        met.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
        met
    }
}
