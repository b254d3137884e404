//! Figures of a plate.

use super::PlacedPlate;
use crate::geometry::DVec3;
use core::f64::consts::PI;

impl PlacedPlate {
    /// Volume, holes and countersinks of 90 degrees taken off, mm3.
    #[must_use]
    pub fn volume(&self) -> f64 {
        let thickness = self.plate.thickness;
        let holes = self.holes.iter().map(|hole| {
            let (r, wide) = (hole.diameter / 2.0, hole.countersink.map_or(hole.diameter / 2.0, |wide| wide / 2.0));
            // A frustum down to the hole, or as far as the plate is thick.
            let deep = (wide - r).min(thickness);
            let low = wide - deep;
            let cone = PI * deep / 3.0 * (wide * wide + wide * low + low * low) - PI * r * r * deep;
            PI * r * r * thickness + cone
        });
        self.plate.outline.area() * thickness - holes.sum::<f64>()
    }

    /// Centre of gravity in the axes of the frame, countersinks left aside.
    #[must_use]
    pub fn centre(&self) -> DVec3 {
        let area = self.plate.outline.area();
        let middle = self.plate.outline.centroid();
        let (mut rest, mut moment) = (area, middle.map(|at| at * area));
        for hole in &self.holes {
            let hole_area = PI * hole.diameter * hole.diameter / 4.0;
            rest -= hole_area;
            moment = [moment[0] - hole.at[0] * hole_area, moment[1] - hole.at[1] * hole_area];
        }
        self.plate.point(moment.map(|moment| moment / rest), self.plate.thickness / 2.0)
    }

    /// Both faces and the edges, those of its holes included, mm2.
    #[must_use]
    pub fn surface(&self) -> f64 {
        let thickness = self.plate.thickness;
        let holes = self.holes.iter().map(|hole| {
            let area = PI * hole.diameter * hole.diameter / 4.0;
            PI * hole.diameter * thickness - 2.0 * area
        });
        2.0 * self.plate.outline.area() + self.plate.outline.perimeter() * thickness + holes.sum::<f64>()
    }
}
