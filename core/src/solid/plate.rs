//! A plate as a solid: its outline raised by its thickness, with holes and countersinks.

use super::SolidError;
use super::brep::{Brep, Loop, Walked, reversed};
use super::curve::Curve;
use super::surface::Surface;
use crate::frame::{PlacedHole, PlacedPlate};
use crate::geometry::{DVec3, Edge, Plate};

/// The solid of a plate.
pub(super) fn solid(placed: &PlacedPlate) -> Result<Brep, SolidError> {
    let (plate, mut brep) = (&placed.plate, Brep::default());
    let mut faces = [Vec::new(), Vec::new()];
    for (face, ring) in faces.iter_mut().zip(wall(&mut brep, plate, &plate.outline.edges)) {
        face.push(ring);
    }
    for hole in &placed.holes {
        let [below, above] = bore(&mut brep, plate, hole);
        faces[0].push(below);
        faces[1].push(reversed(&above));
    }
    let [below, above] = faces;
    let (up, middle) = (plate.up(), plate.outline.centroid());
    let (low, high) = (plate.point(middle, 0.0), plate.point(middle, plate.thickness));
    let mut below = below.into_iter();
    let outer: Vec<Loop> = below.next().map(|ring| reversed(&ring)).into_iter().chain(below).collect();
    brep.face(Surface::Plane { point: low, normal: -up }, true, low, outer);
    brep.face(Surface::Plane { point: high, normal: up }, true, high, above);
    brep.check()?;
    Ok(brep)
}

/// Adds the faces round the outline, and answers its edges at the foot and at the top, anticlockwise seen from above.
fn wall(brep: &mut Brep, plate: &Plate, outline: &[Edge]) -> [Loop; 2] {
    let heights = [0.0, plate.thickness];
    let corners = heights.map(|height| {
        outline.iter().map(|edge| brep.vertex(plate.point(edge.at(0.0), height))).collect::<Vec<usize>>()
    });
    let next = |at: usize| (at + 1) % outline.len();
    let uprights: Vec<usize> =
        corners[0].iter().zip(&corners[1]).map(|(&low, &high)| brep.edge(low, high, Curve::Line)).collect();
    let rings = [0, 1].map(|level: usize| {
        let walk = outline.iter().enumerate().map(|(at, edge)| {
            let curve = curve(plate, edge, heights[level]);
            Walked { edge: brep.edge(corners[level][at], corners[level][next(at)], curve), forwards: true }
        });
        walk.collect::<Loop>()
    });
    for (at, edge) in outline.iter().enumerate() {
        let [low, high] = [rings[0][at], rings[1][at].back()];
        let up = |at: usize| Walked { edge: uprights[at], forwards: true };
        let near = plate.point(edge.at(0.5), plate.thickness / 2.0);
        let (surface, outwards) = match *edge {
            Edge::Line { from, to } => {
                let way = plate.point(to, 0.0) - plate.point(from, 0.0);
                (Surface::Plane { point: near, normal: way.cross(plate.up()).normalize_or(DVec3::X) }, true)
            }
            Edge::Arc { centre, radius, sweep, .. } => {
                (Surface::Cylinder { point: plate.point(centre, 0.0), axis: plate.up(), radius }, sweep > 0.0)
            }
        };
        brep.face(surface, outwards, near, vec![vec![low, up(next(at)), high, up(at).back()]]);
    }
    rings
}

/// An edge of the outline at a height.
fn curve(plate: &Plate, edge: &Edge, height: f64) -> Curve {
    match *edge {
        Edge::Line { .. } => Curve::Line,
        Edge::Arc { centre, radius, sweep, .. } => {
            let centre = plate.point(centre, height);
            let axis = plate.up() * sweep.signum();
            Curve::Conic { centre, axis, major: plate.point(edge.at(0.0), height) - centre, radii: [radius, radius] }
        }
    }
}

/// Adds the faces of a hole, and answers its edges on the lower and on the upper face, anticlockwise seen from above.
fn bore(brep: &mut Brep, plate: &Plate, hole: &PlacedHole) -> [Loop; 2] {
    let (radius, thickness) = (hole.diameter / 2.0, plate.thickness);
    let wide = hole.countersink.map_or(radius, |wide| wide / 2.0);
    // A cone of 90 degrees down to the hole, or as far as the plate is thick.
    let deep = (wide - radius).min(thickness);
    let mut levels = vec![(0.0, if deep < thickness { radius } else { wide - deep })];
    if deep > 0.0 && deep < thickness {
        levels.push((thickness - deep, radius));
    }
    levels.push((thickness, wide));
    let rings: Vec<([usize; 2], Loop)> =
        levels.iter().map(|&(height, radius)| ring(brep, plate, hole.at, height, radius)).collect();
    for (pair, heights) in rings.windows(2).zip(levels.windows(2)) {
        let [(low_corners, low), (high_corners, high)] = [&pair[0], &pair[1]];
        let [(foot, narrow), (top, broad)] = [heights[0], heights[1]];
        let point = plate.point(hole.at, foot);
        let surface = if broad > narrow {
            Surface::Cone { point, axis: plate.up(), radius: narrow }
        } else {
            Surface::Cylinder { point, axis: plate.up(), radius }
        };
        let uprights = [0, 1].map(|side: usize| brep.edge(low_corners[side], high_corners[side], Curve::Line));
        for (side, sign) in [(0, 1.0), (1, -1.0)] {
            let up = |side: usize| Walked { edge: uprights[side], forwards: true };
            let near = plate.point([hole.at[0], hole.at[1] + sign * narrow], (foot + top) / 2.0);
            let walk = vec![low[side], up(1 - side), high[side].back(), up(side).back()];
            brep.face(surface, false, near, vec![reversed(&walk)]);
        }
    }
    [rings[0].1.clone(), rings[rings.len() - 1].1.clone()]
}

/// A circle in two halves, the first on the side of y, with the vertices at which they begin.
fn ring(brep: &mut Brep, plate: &Plate, [x, y]: [f64; 2], height: f64, radius: f64) -> ([usize; 2], Loop) {
    let centre = plate.point([x, y], height);
    let corners = [radius, -radius].map(|off| brep.vertex(plate.point([x + off, y], height)));
    let half = |from: usize, to: usize, brep: &mut Brep| {
        let major = brep.at(from) - centre;
        let curve = Curve::Conic { centre, axis: plate.up(), major, radii: [radius, radius] };
        Walked { edge: brep.edge(from, to, curve), forwards: true }
    };
    let halves = vec![half(corners[0], corners[1], brep), half(corners[1], corners[0], brep)];
    (corners, halves)
}
