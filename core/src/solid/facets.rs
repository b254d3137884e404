//! Which smooth surface of a target a generator meets.

use super::SolidError;
use super::surface::Surface;
use crate::geometry::{Cylinder, DVec3, Edge, Piece, Plate, RoundedPrism, TorusSector};
use crate::part::{Contact, Cut};

/// A smooth surface of a target: which target, which piece of it, which facet of the piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Owner {
    target: usize,
    piece: usize,
    facet: usize,
}

/// The two faces of a plate come before its edges.
const FACES: usize = 2;

/// The planes that cut the ends of a bar come after all faces of the bar.
const PLANES: usize = 16;

/// Largest distance of a hit from the surface that it is said to lie on, mm.
const RESOLVED: f64 = 1e-3;

fn piece(cut: &Cut, owner: Owner) -> &Piece {
    &cut.targets()[owner.target].pieces()[owner.piece]
}

/// The surface on which a contact at `at` lies.
pub(super) fn owner(cut: &Cut, contact: Contact, at: DVec3) -> Result<Owner, SolidError> {
    let (target, piece) = (usize::from(contact.target), usize::from(contact.piece));
    let facet = facet(&cut.targets()[target].pieces()[piece], at);
    let owner = Owner { target, piece, facet };
    if surface(cut, owner).distance(at).abs() > RESOLVED {
        return Err(SolidError::Unresolved);
    }
    Ok(owner)
}

fn facet(piece: &Piece, at: DVec3) -> usize {
    match piece {
        Piece::Cylinder(bar) => cylinder_facet(bar, at),
        Piece::Prism(bar) => prism_facet(bar, at),
        Piece::Plate(plate) => plate_facet(plate, at),
        Piece::Torus(_) | Piece::HalfSpace(_) => 0,
        Piece::Cut(bar) => bar.end_at(at).map_or_else(|| facet(&bar.bar, at), |end| PLANES + end),
    }
}

/// The endless surface of an owner.
pub(super) fn surface(cut: &Cut, owner: Owner) -> Surface {
    surface_of(piece(cut, owner), owner.facet)
}

fn surface_of(piece: &Piece, facet: usize) -> Surface {
    match piece {
        Piece::Cylinder(bar) => match facet {
            0 => Surface::Cylinder { point: bar.point, axis: bar.axis, radius: bar.radius },
            1 => Surface::Plane { point: bar.point, normal: -bar.axis },
            _ => Surface::Plane { point: bar.point + bar.axis * bar.length.unwrap_or(0.0), normal: bar.axis },
        },
        Piece::Torus(bend) => {
            Surface::Torus { centre: bend.centre, axis: bend.axis, bend_radius: bend.bend_radius, radius: bend.radius }
        }
        Piece::Prism(bar) => prism_surface(bar, facet),
        Piece::Plate(plate) => plate_surface(plate, facet),
        Piece::HalfSpace(half) => Surface::Plane { point: half.point, normal: half.normal },
        Piece::Cut(bar) => match facet.checked_sub(PLANES).and_then(|end| bar.planes.get(end).copied().flatten()) {
            Some(plane) => Surface::Plane { point: plane.point, normal: plane.normal },
            None => surface_of(&bar.bar, facet),
        },
    }
}

/// The bar of a cut one, where its own surface is met.
fn whole(piece: &Piece, facet: usize) -> &Piece {
    match piece {
        Piece::Cut(bar) if facet < PLANES => &bar.bar,
        other => other,
    }
}

/// True where the surface's normal points out of the target; false in the hollow edge of a plate.
pub(super) fn faces_out(cut: &Cut, owner: Owner) -> bool {
    let Piece::Plate(plate) = piece(cut, owner) else { return true };
    let edge = owner.facet.checked_sub(FACES).and_then(|edge| plate.outline.edges.get(edge));
    !matches!(edge, Some(Edge::Arc { sweep, .. }) if (*sweep < 0.0) == (plate.outline.area() > 0.0))
}

/// A surface that, with that of `a`, gives the line between both owners: the other one's, or where both run into each other
/// smoothly the plane between them.
pub(super) fn divider(cut: &Cut, a: Owner, b: Owner) -> Surface {
    let same_target = a.target == b.target;
    let between = match (whole(piece(cut, a), a.facet), whole(piece(cut, b), b.facet)) {
        (Piece::Plate(plate), Piece::Plate(_)) if same_target => plate_divider(plate, a.facet, b.facet),
        (Piece::Prism(bar), Piece::Prism(_)) if a.piece == b.piece && same_target => {
            let corner = if a.facet % 2 == 1 { a.facet } else { b.facet };
            let flat = if a.facet % 2 == 1 { b.facet } else { a.facet };
            match (prism_surface(bar, corner), prism_surface(bar, flat)) {
                (Surface::Cylinder { point, axis, .. }, Surface::Plane { normal, .. }) => {
                    Some(Surface::Plane { point, normal: axis.cross(normal) })
                }
                _ => None,
            }
        }
        (Piece::Cylinder(leg), Piece::Torus(bend)) | (Piece::Torus(bend), Piece::Cylinder(leg)) if same_target => {
            Some(section_plane(leg, bend))
        }
        _ => None,
    };
    between.unwrap_or_else(|| surface(cut, b))
}

/// The plane in which a leg runs over into a bend.
fn section_plane(leg: &Cylinder, bend: &TorusSector) -> Surface {
    let far = leg.point + leg.axis * leg.length.unwrap_or(0.0);
    let off = |at: DVec3| (at.distance(bend.centre) - bend.bend_radius).abs();
    let point = if off(leg.point) < off(far) { leg.point } else { far };
    Surface::Plane { point, normal: leg.axis }
}

fn cylinder_facet(bar: &Cylinder, at: DVec3) -> usize {
    let Some(length) = bar.length else { return 0 };
    let from = at - bar.point;
    let along = from.dot(bar.axis);
    let beyond_wall = (from - bar.axis * along).length() - bar.radius;
    let (beyond_end, end) = if along > length / 2.0 { (along - length, 2) } else { (-along, 1) };
    if beyond_end > beyond_wall { end } else { 0 }
}

/// Flats and corners in turn, from the flat that faces across, right-handed about the axis; then its ends.
fn prism_facet(bar: &RoundedPrism, at: DVec3) -> usize {
    let from = at - bar.point;
    let (x, y) = (from.dot(bar.across), from.dot(bar.axis.cross(bar.across)));
    let past = [x.abs() - (bar.half[0] - bar.corner), y.abs() - (bar.half[1] - bar.corner)];
    if let Some(length) = bar.length {
        let along = from.dot(bar.axis);
        let beyond_side = libm::hypot(past[0].max(0.0), past[1].max(0.0)) + past[0].max(past[1]).min(0.0) - bar.corner;
        let (beyond_end, end) = if along < length / 2.0 { (-along, 8) } else { (along - length, 9) };
        if beyond_end > beyond_side {
            return end;
        }
    }
    if past[0] > 0.0 && past[1] > 0.0 {
        return match (x > 0.0, y > 0.0) {
            (true, true) => 1,
            (false, true) => 3,
            (false, false) => 5,
            (true, false) => 7,
        };
    }
    if x.abs() - bar.half[0] > y.abs() - bar.half[1] {
        if x > 0.0 { 0 } else { 4 }
    } else if y > 0.0 {
        2
    } else {
        6
    }
}

fn prism_surface(bar: &RoundedPrism, facet: usize) -> Surface {
    let up = bar.axis.cross(bar.across);
    let flat = |normal: DVec3, half: f64| Surface::Plane { point: bar.point + normal * half, normal };
    let [w, h] = bar.half;
    let corner = |x: f64, y: f64| Surface::Cylinder {
        point: bar.point + bar.across * (x * (w - bar.corner)) + up * (y * (h - bar.corner)),
        axis: bar.axis,
        radius: bar.corner,
    };
    match facet {
        0 => flat(bar.across, w),
        1 => corner(1.0, 1.0),
        2 => flat(up, h),
        3 => corner(-1.0, 1.0),
        4 => flat(-bar.across, w),
        5 => corner(-1.0, -1.0),
        6 => flat(-up, h),
        7 => corner(1.0, -1.0),
        8 => Surface::Plane { point: bar.point, normal: -bar.axis },
        _ => Surface::Plane { point: bar.point + bar.axis * bar.length.unwrap_or(0.0), normal: bar.axis },
    }
}

/// The face that the normal leaves behind, the other face, then the edges in order.
fn plate_facet(plate: &Plate, at: DVec3) -> usize {
    let [x, y, height] = plate.own(at);
    if (-height).max(height - plate.thickness) >= plate.outline.distance([x, y]) {
        return usize::from(height > plate.thickness / 2.0);
    }
    let distances = plate.outline.edges.iter().map(|edge| edge.distance([x, y]));
    FACES + distances.enumerate().min_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(edge, _)| edge)
}

fn plate_surface(plate: &Plate, facet: usize) -> Surface {
    let up = plate.up();
    let edge = facet.checked_sub(FACES).and_then(|edge| plate.outline.edges.get(edge));
    match edge {
        None if facet == 0 => Surface::Plane { point: plate.origin, normal: -up },
        None => Surface::Plane { point: plate.origin + up * plate.thickness, normal: up },
        Some(Edge::Line { from, to }) => {
            let point = plate.point(*from, 0.0);
            let hand = plate.outline.area().signum();
            Surface::Plane { point, normal: (plate.point(*to, 0.0) - point).cross(up).normalize_or(up) * hand }
        }
        Some(Edge::Arc { centre, radius, .. }) => {
            Surface::Cylinder { point: plate.point(*centre, 0.0), axis: up, radius: *radius }
        }
    }
}

/// The plane through the corner between two neighbouring edges, across them; they may run into each other smoothly.
fn plate_divider(plate: &Plate, a: usize, b: usize) -> Option<Surface> {
    let edges = &plate.outline.edges;
    let (a, b) = (a.checked_sub(FACES)?, b.checked_sub(FACES)?);
    let (before, after) = if (a + 1) % edges.len() == b { (a, b) } else { (b, a) };
    if (before + 1) % edges.len() != after {
        return None;
    }
    let [end, start] = [(before, 0.999), (after, 0.001)].map(|(edge, t)| plate.point(edges[edge].at(t), 0.0));
    let point = plate.point(edges[after].at(0.0), 0.0);
    Some(Surface::Plane {
        point,
        normal: ((point - end).normalize_or_zero() + (start - point).normalize_or_zero()).try_normalize()?,
    })
}
