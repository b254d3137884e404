//! Which smooth surface of a target a generator meets.

use super::SolidError;
use super::surface::Surface;
use crate::geometry::{Cylinder, DVec3, Piece, RoundedPrism, TorusSector};
use crate::part::{Contact, Cut};

/// A smooth surface of a target: which target, which piece of it, which facet of the piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Owner {
    target: usize,
    piece: usize,
    facet: usize,
}

/// Largest distance of a hit from the surface that it is said to lie on, mm.
const RESOLVED: f64 = 1e-3;

fn piece(cut: &Cut, owner: Owner) -> &Piece {
    &cut.targets[owner.target].pieces()[owner.piece]
}

/// The surface on which a contact at `at` lies.
pub(super) fn owner(cut: &Cut, contact: Contact, at: DVec3) -> Result<Owner, SolidError> {
    let facet = match &cut.targets[contact.target].pieces()[contact.piece] {
        Piece::Cylinder(bar) => cylinder_facet(bar, at),
        Piece::Prism(bar) => prism_facet(bar, at),
        Piece::Torus(_) | Piece::HalfSpace(_) => 0,
    };
    let owner = Owner { target: contact.target, piece: contact.piece, facet };
    if surface(cut, owner).distance(at).abs() > RESOLVED {
        return Err(SolidError::Unresolved);
    }
    Ok(owner)
}

/// The endless surface of an owner.
pub(super) fn surface(cut: &Cut, owner: Owner) -> Surface {
    match piece(cut, owner) {
        Piece::Cylinder(bar) => match owner.facet {
            0 => Surface::Cylinder { point: bar.point, axis: bar.axis, radius: bar.radius },
            1 => Surface::Plane { point: bar.point, normal: -bar.axis },
            _ => Surface::Plane { point: bar.point + bar.axis * bar.length.unwrap_or(0.0), normal: bar.axis },
        },
        Piece::Torus(bend) => {
            Surface::Torus { centre: bend.centre, axis: bend.axis, bend_radius: bend.bend_radius, radius: bend.radius }
        }
        Piece::Prism(bar) => prism_surface(bar, owner.facet),
        Piece::HalfSpace(half) => Surface::Plane { point: half.point, normal: half.normal },
    }
}

/// A surface that, with that of `a`, gives the line between both owners: the other one's, or where both run into each other
/// smoothly the plane between them.
pub(super) fn divider(cut: &Cut, a: Owner, b: Owner) -> Surface {
    let between = match (piece(cut, a), piece(cut, b)) {
        (Piece::Prism(bar), Piece::Prism(_)) if a.piece == b.piece && a.target == b.target => {
            let corner = if a.facet % 2 == 1 { a.facet } else { b.facet };
            let flat = if a.facet % 2 == 1 { b.facet } else { a.facet };
            match (prism_surface(bar, corner), prism_surface(bar, flat)) {
                (Surface::Cylinder { point, axis, .. }, Surface::Plane { normal, .. }) => {
                    Some(Surface::Plane { point, normal: axis.cross(normal) })
                }
                _ => None,
            }
        }
        (Piece::Cylinder(leg), Piece::Torus(bend)) | (Piece::Torus(bend), Piece::Cylinder(leg))
            if a.target == b.target =>
        {
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

/// Flats and corners in turn, from the flat that faces across, right-handed about the axis.
fn prism_facet(bar: &RoundedPrism, at: DVec3) -> usize {
    let from = at - bar.point;
    let (x, y) = (from.dot(bar.across), from.dot(bar.axis.cross(bar.across)));
    let past = [x.abs() - (bar.half[0] - bar.corner), y.abs() - (bar.half[1] - bar.corner)];
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
        _ => corner(1.0, -1.0),
    }
}
