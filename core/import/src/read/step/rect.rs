//! Rectangular tubes with rounded corners, found in the faces of a solid. Only what is certain is taken.

use super::end::{Axis, PARALLEL, SAME};
use super::round::Found;
use super::shell::{Face, Surface};
use crate::answers::Size;
use glam::DVec3;

/// How much walls and corners of one tube may differ, mm.
const EVEN: f64 = 0.01;

/// The tube that the faces bound; `None` when it is no rectangular one.
pub fn find(faces: &[Face]) -> Option<Found> {
    let cylinders: Vec<(DVec3, DVec3, f64, bool)> = faces
        .iter()
        .filter_map(|face| match face.surface {
            Surface::Cylinder(place, axis, radius) => Some((place, axis, radius, face.outward)),
            _ => None,
        })
        .collect();
    let along = cylinders.first()?.1;
    let is_plain = |face: &Face| match face.surface {
        Surface::Plane(..) => true,
        Surface::Cylinder(_, axis, _) => axis.cross(along).length() < PARALLEL,
        _ => false,
    };
    if !faces.iter().all(is_plain) || cylinders.len() < 4 {
        return None;
    }
    let sides: Vec<(DVec3, DVec3)> = faces
        .iter()
        .filter_map(|face| match face.surface {
            Surface::Plane(place, normal) if normal.dot(along).abs() < PARALLEL => Some((place, normal)),
            _ => None,
        })
        .collect();
    let first = sides.first()?.1;
    let second = along.cross(first);
    if sides
        .iter()
        .any(|(_, normal)| normal.cross(first).length() > PARALLEL && normal.cross(second).length() > PARALLEL)
    {
        return None;
    }
    let across = |direction: DVec3| {
        let stations = sides.iter().filter(|(_, normal)| normal.cross(direction).length() < PARALLEL);
        let mut stations: Vec<f64> = stations.map(|(place, _)| place.dot(direction)).collect();
        stations.sort_by(f64::total_cmp);
        stations.dedup_by(|a, b| (*a - *b).abs() < SAME);
        let [out, inside, other_inside, other_out] = stations[..] else { return None };
        let wall = inside - out;
        ((other_out - other_inside - wall).abs() < EVEN).then_some((
            wall,
            other_out - out,
            f64::midpoint(out, other_out),
        ))
    };
    let (wall, size_first, middle_first) = across(first)?;
    let (other_wall, size_second, middle_second) = across(second)?;
    let corner = corner(&cylinders, [(first, size_first, middle_first), (second, size_second, middle_second)])?;
    let inside_size = size_first.min(size_second) - 2.0 * wall;
    if (wall - other_wall).abs() > EVEN || inside_size <= 0.0 {
        return None;
    }
    let axis = Axis { origin: first * middle_first + second * middle_second, along };
    let extent =
        faces.iter().filter(|face| matches!(face.surface, Surface::Cylinder(..))).filter_map(|face| axis.extent(face));
    let (least, most) = extent.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
    let widest = size_first.max(size_second);
    let (from, known_from) = axis.end(-1.0, least, widest, faces);
    let (to, known_to) = axis.end(1.0, most, widest, faces);
    // Taken with the first direction as height; which of both stands up is decided in the axes of the design.
    let size = Size::Rect { width: size_second, height: size_first, wall, corner };
    (to - from > widest).then(|| Found {
        points: vec![axis.at(from), axis.at(to)],
        radii: Vec::new(),
        size,
        height: Some(first),
        ends: [known_from, known_to],
        holes: Vec::new(),
    })
}

/// Outer corner radius, where four outer corners lie as they must.
fn corner(cylinders: &[(DVec3, DVec3, f64, bool)], sides: [(DVec3, f64, f64); 2]) -> Option<f64> {
    let radius = cylinders.iter().map(|cylinder| cylinder.2).fold(0.0, f64::max);
    let outer: Vec<_> = cylinders.iter().filter(|cylinder| (cylinder.2 - radius).abs() < SAME).collect();
    let lies_right = |place: DVec3| {
        sides.iter().all(|(direction, size, middle)| {
            ((place.dot(*direction) - middle).abs() - (size / 2.0 - radius)).abs() < EVEN
        })
    };
    let quarters = [(1.0, 1.0), (1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0)];
    let [(first, _, middle_first), (second, _, middle_second)] = sides;
    let in_each = quarters.iter().all(|(a, b)| {
        outer.iter().any(|(place, ..)| {
            (place.dot(first) - middle_first) * a >= -SAME && (place.dot(second) - middle_second) * b >= -SAME
        })
    });
    (in_each && outer.iter().all(|cylinder| lies_right(cylinder.0))).then_some(radius)
}
