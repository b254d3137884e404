//! Plates as they are cut: true outline, holes and mass.

use super::{Facing, rounded};
use crate::frame::{Frame, PlacedPlate};
use crate::part::Part;
use serde::Serialize;

/// One plate, seen on the face that its normal points out of. Coordinates are mm in the plate's own axes.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PlateSheet {
    /// Name of the plate, which is also the mark put on it.
    pub plate: String,
    /// Part number; empty until the design is numbered.
    pub part_number: String,
    /// Thickness, mm.
    pub thickness: f64,
    /// Name of the material.
    pub material: String,
    /// Its outline as a closed polyline within 0.01 mm, anticlockwise, the first point repeated at the end.
    pub outline: Vec<[f64; 2]>,
    /// Width and height of the box round the outline, mm.
    pub size: [f64; 2],
    /// Its holes.
    pub holes: Vec<PlateHoleRow>,
    /// The member that it lies on; `None` for a plate in space.
    pub on: Option<String>,
    /// Where on that member the outline's origin lies: mm along it from the furthest point of the cut at its `from` end.
    pub along_member: Option<f64>,
    /// On which side of that member: clock angle, degrees in [0, 360).
    pub clock_deg: Option<f64>,
    /// Where the face shown and its right-hand side point in the frame: `up`, `down`, `forward`, `back`, `left` or `right`,
    /// whichever is nearest.
    #[cfg_attr(feature = "openapi", schema(value_type = [String; 2]))]
    pub faces: [Facing; 2],
    /// Place of the outline's origin in the frame: x forward, y left, z up, mm.
    pub at: [f64; 3],
    /// Mass, holes taken off, kg.
    pub mass_kg: f64,
    /// The designer's note; empty when there is none.
    pub note: String,
}

/// A hole in a plate.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PlateHoleRow {
    /// Centre, mm.
    pub at: [f64; 2],
    /// Diameter, mm.
    pub diameter: f64,
    /// Diameter of the countersink on the face shown, mm.
    pub countersink: Option<f64>,
}

impl PlateSheet {
    /// The sheets of all plates, in the order of their names.
    #[must_use]
    pub fn all(frame: &Frame, parts: &[Part]) -> Vec<Self> {
        frame.plates.iter().map(|placed| Self::of(frame, parts, placed)).collect()
    }

    fn of(frame: &Frame, parts: &[Part], placed: &PlacedPlate) -> Self {
        let plate = &placed.plate;
        let mut outline: Vec<[f64; 2]> = plate.outline.points(0.01).into_iter().map(|at| at.map(rounded)).collect();
        outline.extend(outline.first().copied());
        let (low, high) = plate.outline.bounds();
        let normal = plate.up();
        let (along_member, clock_deg) = placed
            .on
            .map(|on| {
                let (member, leg) = (&frame.members[on], frame.members[on].path.first());
                let side = leg.direction.cross(member.index);
                let clock = libm::atan2(normal.dot(side), normal.dot(member.index)).to_degrees();
                let station = (plate.origin - leg.start).dot(leg.direction);
                let clock = rounded(clock.rem_euclid(360.0));
                (rounded(station + parts[on].ends[0].longest.s), if clock >= 360.0 { 0.0 } else { clock })
            })
            .unzip();
        Self {
            plate: placed.id.clone(),
            part_number: String::new(),
            thickness: plate.thickness,
            material: placed.material.clone(),
            outline,
            size: [rounded(high[0] - low[0]), rounded(high[1] - low[1])],
            holes: placed
                .holes
                .iter()
                .map(|hole| PlateHoleRow {
                    at: hole.at.map(rounded),
                    diameter: hole.diameter,
                    countersink: hole.countersink,
                })
                .collect(),
            on: placed.on.map(|on| frame.members[on].id.clone()),
            along_member,
            clock_deg,
            faces: [normal, plate.along].map(Facing::of),
            at: plate.origin.to_array().map(rounded),
            mass_kg: placed.volume() * placed.density * 1e-9,
            note: placed.note.clone(),
        }
    }
}
