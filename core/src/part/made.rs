//! Everything that is made for one frame, and its parts as shapes to compare.

use super::Part;
use super::compare::{Countersink, Hole, PlateEdge, PlateHole, PlateShape, PlateSide, Shape};
use crate::frame::{Frame, PlacedPlate};
use crate::geometry::Edge;

/// A frame with its parts.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// What is placed.
    pub frame: Frame,
    /// One part a member, in build order.
    pub parts: Vec<Part>,
}

impl Made {
    /// The part of a member as a shape, free of its place.
    #[must_use]
    pub fn shape(&self, member: usize) -> Shape {
        let (placed, part) = (&self.frame.members[member], &self.parts[member]);
        let section = self.frame.section(placed);
        let holes = part.holes.iter().map(|hole| {
            let mut walls = hole.places(section.profile).map(|u| section.profile.clock(u));
            Hole {
                station: hole.station,
                clock: walls.next().unwrap_or(hole.clock),
                diameter: hole.diameter,
                opposite: walls.next(),
            }
        });
        Shape::of(
            format!("{} {}", section.size(), section.material),
            &placed.path,
            placed.index,
            [&part.ends[0].cut, &part.ends[1].cut],
        )
        .with_holes(holes.collect())
        .left_long(placed.leave_long)
    }

    /// A plate as a shape, free of its place.
    #[must_use]
    pub fn plate_shape(&self, plate: usize) -> PlateShape {
        let placed: &PlacedPlate = &self.frame.plates[plate];
        let edges = placed.plate.outline.edges.iter().map(|edge| {
            let rise = match *edge {
                Edge::Line { .. } => 0.0,
                Edge::Arc { radius, sweep, .. } => radius * (1.0 - libm::cos(sweep / 2.0)) * sweep.signum(),
            };
            PlateEdge { from: edge.at(0.0), rise }
        });
        let holes = placed.holes.iter().map(|hole| PlateHole {
            at: hole.at,
            diameter: hole.diameter,
            countersink: hole.countersink.map(|diameter| Countersink { face: PlateSide::Plus, diameter }),
        });
        PlateShape::of(placed.material.clone(), placed.plate.thickness, &edges.collect::<Vec<_>>(), holes.collect())
    }

    /// Position of a member by its id.
    #[must_use]
    pub fn member(&self, id: &str) -> Option<usize> {
        self.frame.members.iter().position(|member| member.id == id)
    }

    /// Position of a plate by its name.
    #[must_use]
    pub fn plate(&self, id: &str) -> Option<usize> {
        self.frame.plates.iter().position(|plate| plate.id == id)
    }
}
