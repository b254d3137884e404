//! Faces of a solid's shell: their surfaces and the circles and vertices that bound them.

use super::placement::{placement, point};
use super::record::{Exchange, Record};
use super::wire::Wires;
use crate::curve::{Arc, Piece};
use crate::words::step::NoTube;
use glam::{DAffine3, DVec3};

/// Most faces of one solid that is looked at.
pub const MOST_FACES: usize = 2_000;

/// The surface of a face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Surface {
    /// A plane through a point, with its normal.
    Plane(DVec3, DVec3),
    /// A cylinder: a point of its axis, the axis, and the radius.
    Cylinder(DVec3, DVec3, f64),
    /// A torus: centre, axis, radius of its circle, radius of its tube.
    Torus(DVec3, DVec3, f64, f64),
    /// Something else.
    Other,
}

/// A face with its bounds.
#[derive(Debug, Clone)]
pub struct Face {
    /// Its surface.
    pub surface: Surface,
    /// True when the solid lies on the side that the surface's own normal leaves: outside of a cylinder it is false for a bore.
    pub outward: bool,
    /// Arcs and circles among its edges.
    pub arcs: Vec<Arc>,
    /// Vertices, and control points of edges that are free curves.
    pub places: Vec<DVec3>,
}

/// The faces of a shell; `None` where one cannot be read, with the kind of what it is.
pub fn faces(wires: &Wires<'_>, shell: &Record) -> Result<Vec<Face>, NoTube> {
    let (exchange, mm) = (wires.exchange, wires.mm);
    let list =
        shell.values().iter().map(super::record::Value::references).find(|list| !list.is_empty()).unwrap_or_default();
    if list.is_empty() || list.len() > MOST_FACES {
        return Err(NoTube::FaceCount { count: list.len() });
    }
    let mut all = Vec::new();
    for id in list {
        let mut face = exchange.record(id).ok_or(NoTube::FaceMissing { id })?;
        let mut turned = false;
        if face.name() == "ORIENTED_FACE" {
            turned = !face.values().last().is_some_and(super::record::Value::is_true);
            let inside = face.values().iter().rev().find_map(|value| exchange.of(value));
            face = inside.ok_or(NoTube::OrientedFaceMissing)?;
        }
        if !matches!(face.name(), "ADVANCED_FACE" | "FACE_SURFACE") {
            return Err(NoTube::FaceKind { kind: face.name().to_owned() });
        }
        let own = exchange.of(face.value(2)).ok_or(NoTube::SurfaceMissing { id })?;
        let mut read = Face {
            surface: surface(exchange, &own, mm),
            outward: face.value(3).is_true() != turned,
            arcs: Vec::new(),
            places: Vec::new(),
        };
        for bound in face.value(1).references() {
            bound_of(wires, bound, &mut read);
        }
        all.push(read);
    }
    Ok(all)
}

fn surface(exchange: &Exchange<'_>, record: &Record, mm: f64) -> Surface {
    let axes = placement(exchange, record.value(1), mm);
    let number = |index| record.value(index).number().map(|number| number * mm).filter(|number| *number > 0.0);
    let Some(DAffine3 { matrix3, translation }) = axes else { return Surface::Other };
    match (record.name(), number(2), number(3)) {
        ("PLANE", ..) => Surface::Plane(translation, matrix3.z_axis),
        ("CYLINDRICAL_SURFACE", Some(radius), _) => Surface::Cylinder(translation, matrix3.z_axis, radius),
        ("TOROIDAL_SURFACE", Some(major), Some(minor)) => Surface::Torus(translation, matrix3.z_axis, major, minor),
        _ => Surface::Other,
    }
}

/// Adds the edges of one bound to a face.
fn bound_of(wires: &Wires<'_>, bound: u64, face: &mut Face) {
    let exchange = wires.exchange;
    let Some(of_loop) = exchange.record(bound).and_then(|bound| exchange.of(bound.value(1))) else { return };
    if of_loop.name() != "EDGE_LOOP" {
        if let Some(at) = point(exchange, of_loop.value(1)) {
            face.places.push(at * wires.mm);
        }
        return;
    }
    for oriented in of_loop.value(1).references() {
        let edge = exchange.record(oriented).and_then(|oriented| {
            if oriented.name() == "EDGE_CURVE" { Some(oriented) } else { exchange.of(oriented.value(3)) }
        });
        let Some(edge) = edge else { continue };
        face.places.extend((1..=2).filter_map(|index| point(exchange, edge.value(index))).map(|at| at * wires.mm));
        match wires.edge(&edge) {
            Ok(pieces) => face.arcs.extend(pieces.iter().filter_map(|piece| match piece {
                Piece::Arc(arc) => Some(*arc),
                Piece::Line(..) => None,
            })),
            Err(_) => face.places.extend(control_points(exchange, &edge).into_iter().map(|at| at * wires.mm)),
        }
    }
}

/// Control points of an edge's free curve: the curve stays within them.
fn control_points(exchange: &Exchange<'_>, edge: &Record) -> Vec<DVec3> {
    let Some(mut curve) = exchange.of(edge.value(3)) else { return Vec::new() };
    if curve.is("SURFACE_CURVE") || curve.is("SEAM_CURVE") || curve.is("INTERSECTION_CURVE") {
        let Some(inside) = exchange.of(curve.value(1)) else { return Vec::new() };
        curve = inside;
    }
    let list = if curve.is("B_SPLINE_CURVE") { curve.part("B_SPLINE_CURVE").get(1) } else { curve.values().get(2) };
    list.map_or(&[][..], super::record::Value::items).iter().filter_map(|value| point(exchange, value)).collect()
}
