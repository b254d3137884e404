//! Where the centreline of a solid tube ends.

use super::shell::{Face, Surface};
use glam::DVec3;

/// Two places or lengths that differ by less are the same, mm.
pub const SAME: f64 = 0.005;
/// Two directions that differ by less are the same, radians.
pub const PARALLEL: f64 = 1e-5;

/// How an end is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Known {
    /// A flat end, square or at an angle.
    Flat,
    /// Coped: taken where the axes meet.
    Coped,
    /// Of another shape: taken where the tube's wall ends.
    Other,
}

/// A straight stretch of a tube.
#[derive(Debug, Clone, Copy)]
pub struct Axis {
    /// A place on it.
    pub origin: DVec3,
    /// Its unit direction.
    pub along: DVec3,
}

impl Axis {
    /// Length along it from its origin to beside a place.
    pub fn station(&self, place: DVec3) -> f64 {
        (place - self.origin).dot(self.along)
    }

    /// The place at a length along it.
    pub fn at(&self, station: f64) -> DVec3 {
        self.origin + self.along * station
    }

    /// Distance of a place from it.
    pub fn distance(&self, place: DVec3) -> f64 {
        (place - self.origin).reject_from_normalized(self.along).length()
    }

    /// Whether another line lies on it.
    pub fn is_along(&self, place: DVec3, direction: DVec3) -> bool {
        self.along.cross(direction).length() < PARALLEL && self.distance(place) < SAME
    }

    /// The station nearest to another line, and how near that comes; `None` when they are parallel.
    pub fn nearest(&self, place: DVec3, direction: DVec3) -> Option<(f64, f64)> {
        let normal = self.along.cross(direction);
        let squared = normal.length_squared();
        if squared < 1e-6 {
            return None;
        }
        let between = place - self.origin;
        Some((between.cross(direction).dot(normal) / squared, between.dot(normal).abs() / squared.sqrt()))
    }

    /// Least and greatest station of a face's bounds.
    pub fn extent(&self, face: &Face) -> Option<(f64, f64)> {
        let whole =
            face.arcs.iter().filter(|arc| arc.normal.cross(self.along).length() < PARALLEL).map(|arc| arc.centre);
        let stations = face.places.iter().copied().chain(whole).map(|place| self.station(place));
        stations.fold(None, |extent, station| {
            let (least, most) = extent.unwrap_or((station, station));
            Some((f64::min(least, station), f64::max(most, station)))
        })
    }

    /// Where the centreline ends on the side of `side` (1 or -1), of a tube so wide, whose wall goes as far as `reach`.
    pub fn end(&self, side: f64, reach: f64, across: f64, faces: &[Face]) -> (f64, Known) {
        let beyond = |station: f64| (station - reach) * side;
        let square = faces.iter().flat_map(|face| &face.arcs).find(|arc| {
            self.is_along(arc.centre, arc.normal)
                && (2.0 * arc.radius - across).abs() < SAME
                && beyond(self.station(arc.centre)).abs() < SAME
        });
        if let Some(arc) = square {
            return (self.station(arc.centre), Known::Flat);
        }
        let flat = faces.iter().filter_map(|face| {
            let Surface::Plane(place, normal) = face.surface else { return None };
            let lean = normal.dot(self.along);
            let station = (place - self.origin).dot(normal) / lean;
            let (least, most) = self.extent(face)?;
            let reaches = beyond(if side > 0.0 { most } else { least }).abs() < 0.5;
            let is_near = station >= least - SAME && station <= most + SAME;
            (lean.abs() > 0.1 && reaches && is_near).then_some(station)
        });
        if let Some(station) = flat.min_by(|a, b| beyond(*b).total_cmp(&beyond(*a))) {
            return (station, Known::Flat);
        }
        let coped = faces.iter().filter_map(|face| {
            let Surface::Cylinder(place, direction, radius) = face.surface else { return None };
            let (station, distance) = self.nearest(place, direction)?;
            let is_near = distance < radius + across / 2.0 && beyond(station).abs() < 3.0 * (radius + across);
            is_near.then_some(station)
        });
        match coped.min_by(|a, b| beyond(*a).abs().total_cmp(&beyond(*b).abs())) {
            Some(station) => (station, Known::Coped),
            None => (reach, Known::Other),
        }
    }
}
