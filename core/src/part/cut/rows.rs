//! Everything about a cut at many places at once: each piece is asked for all of them before the next.

use super::{Aim, Contact, Cut, LEVEL, Station};
use crate::geometry::{Extremes, Spot};
use crate::{Stop, Stopped};

/// The cut at one place of the outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Place round the outer outline, mm.
    pub u: f64,
    /// Where the outer surface meets its target.
    pub outer: Option<Station>,
    /// Contact of the bore.
    pub inner: Option<Contact>,
    /// Least station over the wall.
    pub relief: Option<Station>,
    /// Cosine of the local dihedral angle on the outer surface; without meaning where that misses.
    pub(in crate::part) cosine: f64,
}

impl Row {
    /// The latest of its contacts, mm; infinite where one of them misses.
    fn latest(&self) -> f64 {
        let s = |contact: Option<Contact>| contact.map_or(f64::INFINITY, |contact| contact.s);
        let [outer, relief] = [self.outer, self.relief].map(|station| s(station.map(|station| station.contact)));
        outer.max(relief).max(s(self.inner))
    }

    /// Local dihedral angle on the outer surface, radians; `None` where that misses.
    #[must_use]
    pub fn dihedral(&self) -> Option<f64> {
        self.outer.map(|_| libm::acos(self.cosine.clamp(-1.0, 1.0)))
    }
}

impl Cut {
    /// Everything at places of the outer surface that are `step` mm apart, from `u = 0`.
    pub(in crate::part) fn rows(&self, places: &[Spot], step: f64, stop: Stop) -> Result<Vec<Row>, Stopped> {
        let missed =
            |place: u32| Row { u: step * f64::from(place), outer: None, inner: None, relief: None, cosine: 0.0 };
        let mut rows: Vec<Row> = (0..).map(missed).take(places.len()).collect();
        for aim in &self.aims {
            stop.check()?;
            let ways = places.iter().zip(&mut rows).map(|(spot, row)| (self.inwards(spot), (spot, row)));
            aim.view.each(ways, |(_, row)| row.latest(), |(spot, row), seen| aim.put(row, spot, seen));
        }
        Ok(rows)
    }
}

impl Aim {
    /// Puts what this piece gives where it is met first.
    #[inline]
    fn put(&self, row: &mut Row, spot: &Spot, seen: &Extremes) {
        let s = |contact: Option<Contact>| contact.map_or(f64::INFINITY, |contact| contact.s);
        if seen.outer.sight.s < s(row.outer.map(|station| station.contact)) - LEVEL {
            row.outer = Some(self.station(spot, &seen.outer));
            row.cosine = super::facing(spot, seen.outer.normal);
        }
        if seen.inner.sight.s < s(row.inner) - LEVEL {
            row.inner = Some(self.contact(seen.inner.sight));
        }
        let least = seen.least();
        if least.sight.s < s(row.relief.map(|station| station.contact)) - LEVEL {
            row.relief = Some(self.station(spot, least));
        }
    }
}
