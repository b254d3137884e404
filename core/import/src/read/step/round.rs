//! Round tubes, straight and bent, found in the faces of a solid.

use super::end::{Axis, Known, PARALLEL, SAME};
use super::shell::{Face, Surface};
use crate::answers::Size;
use crate::curve::Arc;
use crate::words::step::NoTube;
use glam::DVec3;
use std::f64::consts::TAU;

/// A tube found in a solid.
#[derive(Debug, Clone)]
pub struct Found {
    /// First end, corners, last end.
    pub points: Vec<DVec3>,
    /// Bend radius at each corner between.
    pub radii: Vec<Option<f64>>,
    /// Its size.
    pub size: Size,
    /// Direction of a rectangular tube's height.
    pub height: Option<DVec3>,
    /// How each end is known.
    pub ends: [Known; 2],
    /// Diameters of holes through the wall.
    pub holes: Vec<f64>,
}

/// A straight stretch with two radii.
#[derive(Debug, Clone)]
struct Leg {
    axis: Axis,
    least: f64,
    most: f64,
    radii: [f64; 2],
}

/// A bend with two radii.
#[derive(Debug, Clone)]
struct Bend {
    arc: Arc,
    radii: [f64; 2],
}

/// The tube that the faces bound; otherwise why they are none.
pub fn find(faces: &[Face]) -> Result<Found, NoTube> {
    if faces.iter().any(|face| face.surface == Surface::Other) {
        return Err(NoTube::OtherSurface);
    }
    let legs = legs(faces)?;
    let bends = bends(faces)?;
    let radii: Vec<[f64; 2]> = legs.iter().map(|leg| leg.radii).chain(bends.iter().map(|bend| bend.radii)).collect();
    let Some(&[inner, outer]) = radii.first() else { return Err(why_none(faces)) };
    if radii.iter().any(|other| (other[0] - inner).abs() > SAME || (other[1] - outer).abs() > SAME) {
        return Err(NoTube::SizesDiffer);
    }
    let size = Size::Round { od: 2.0 * outer, wall: outer - inner };
    let mut found = if bends.is_empty() {
        let [leg] = &legs[..] else { return Err(NoTube::SeveralTubes) };
        straight(leg, size, faces)
    } else {
        chain(legs, bends, size, faces)?
    };
    let length: f64 = found.points.windows(2).map(|ends| ends[0].distance(ends[1])).sum();
    if length < 2.0 * outer {
        return Err(NoTube::Short);
    }
    found.holes = holes(faces, &found, outer);
    Ok(found)
}

fn why_none(faces: &[Face]) -> NoTube {
    let round = |outward| {
        faces
            .iter()
            .any(|face| matches!(face.surface, Surface::Cylinder(..) | Surface::Torus(..)) && face.outward == outward)
    };
    match (round(true), round(false)) {
        (false, false) => NoTube::FlatOnly,
        (true, false) => NoTube::NoInside,
        (false, true) => NoTube::FlatWithHoles,
        (true, true) => NoTube::RoundSurfacesApart,
    }
}

/// Distinct radii among faces, sorted.
fn distinct(radii: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut radii: Vec<f64> = radii.collect();
    radii.sort_by(f64::total_cmp);
    radii.dedup_by(|a, b| (*a - *b).abs() < SAME);
    radii
}

/// Whether the outer surface faces out and the inner one in.
fn is_wall(faces: &[(f64, bool)], radii: [f64; 2]) -> bool {
    let sides = |wanted: f64| -> Vec<bool> {
        faces.iter().filter(|(radius, _)| (radius - wanted).abs() < SAME).map(|(_, outward)| *outward).collect()
    };
    let (inner, outer) = (sides(radii[0]), sides(radii[1]));
    let all = |sides: &[bool], outward| sides.iter().all(|side| *side == outward);
    (all(&outer, true) && all(&inner, false)) || (all(&outer, false) && all(&inner, true))
}

fn legs(faces: &[Face]) -> Result<Vec<Leg>, NoTube> {
    // Faces on one axis, and of these what joins along it.
    type Member<'a> = (&'a Face, f64, f64, f64);
    let mut groups: Vec<(Axis, Vec<Member<'_>>)> = Vec::new();
    for face in faces {
        let Surface::Cylinder(origin, along, radius) = face.surface else { continue };
        let index = groups.iter().position(|(axis, _)| axis.is_along(origin, along)).unwrap_or_else(|| {
            groups.push((Axis { origin, along }, Vec::new()));
            groups.len() - 1
        });
        let (axis, members) = &mut groups[index];
        if let Some((least, most)) = axis.extent(face) {
            members.push((face, radius, least, most));
        }
    }
    let mut legs = Vec::new();
    for (axis, mut members) in groups {
        members.sort_by(|a, b| a.2.total_cmp(&b.2));
        let mut rest = &members[..];
        while let Some(first) = rest.first() {
            let (mut most, mut count) = (first.3, 1);
            while rest.get(count).is_some_and(|next| next.2 <= most + SAME) {
                most = most.max(rest[count].3);
                count += 1;
            }
            let (stretch, others) = rest.split_at(count);
            rest = others;
            let least = first.2;
            match distinct(stretch.iter().map(|member| member.1))[..] {
                [inner, outer] => {
                    let sides: Vec<_> = stretch.iter().map(|member| (member.1, member.0.outward)).collect();
                    if !is_wall(&sides, [inner, outer]) {
                        return Err(NoTube::Stepped);
                    }
                    legs.push(Leg { axis, least, most, radii: [inner, outer] });
                }
                [_] | [] => {}
                _ => return Err(NoTube::RadiiOnAxis),
            }
        }
    }
    Ok(legs)
}

fn bends(faces: &[Face]) -> Result<Vec<Bend>, NoTube> {
    type Group<'a> = (DVec3, DVec3, f64, Vec<(&'a Face, f64)>);
    let mut groups: Vec<Group<'_>> = Vec::new();
    for face in faces {
        let Surface::Torus(centre, axis, major, minor) = face.surface else { continue };
        let is_same = |group: &&mut Group<'_>| {
            group.0.distance(centre) < SAME && group.1.cross(axis).length() < PARALLEL && (group.2 - major).abs() < SAME
        };
        match groups.iter_mut().find(is_same) {
            Some(group) => group.3.push((face, minor)),
            None => groups.push((centre, axis, major, vec![(face, minor)])),
        }
    }
    let mut bends = Vec::new();
    for (centre, axis, major, members) in groups {
        match distinct(members.iter().map(|member| member.1))[..] {
            [inner, outer] => {
                let sides: Vec<_> = members.iter().map(|member| (member.1, member.0.outward)).collect();
                if !is_wall(&sides, [inner, outer]) {
                    return Err(NoTube::BentSurfacesFaceAlike);
                }
                let of_outer = members.iter().filter(|member| (member.1 - outer).abs() < SAME).map(|member| member.0);
                for (start, sweep) in sweeps(of_outer, centre, axis)? {
                    bends.push(Bend {
                        arc: Arc { centre, start, normal: axis, radius: major, sweep },
                        radii: [inner, outer],
                    });
                }
            }
            [_] | [] => {}
            _ => return Err(NoTube::RadiiOfBend),
        }
    }
    Ok(bends)
}

/// From where and how far a torus goes round, by the edges that run along it.
fn sweeps<'a>(faces: impl Iterator<Item = &'a Face>, centre: DVec3, axis: DVec3) -> Result<Vec<(DVec3, f64)>, NoTube> {
    let across = axis.any_orthonormal_vector();
    let angle = |direction: DVec3| axis.cross(across).dot(direction).atan2(across.dot(direction)).rem_euclid(TAU);
    let line = Axis { origin: centre, along: axis };
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    for arc in faces.flat_map(|face| &face.arcs).filter(|arc| line.is_along(arc.centre, arc.normal) && !arc.is_ring()) {
        let from = if arc.normal.dot(axis) > 0.0 { arc.direction(0.0) } else { arc.direction(arc.sweep) };
        let from = angle(from);
        let is_known = |(other, sweep): &(f64, f64)| {
            let apart = (from - other).rem_euclid(TAU);
            apart.min(TAU - apart) < 1e-6 && (sweep - arc.sweep).abs() < 1e-6
        };
        if !stretches.iter().any(is_known) {
            stretches.push((from, arc.sweep));
        }
    }
    // What goes on where another ends is one.
    let mut at = 0;
    while at < stretches.len() {
        let end = stretches[at].0 + stretches[at].1;
        let next = (0..stretches.len()).find(|&other| {
            let apart = (stretches[other].0 - end).rem_euclid(TAU);
            other != at && apart.min(TAU - apart) < 1e-6
        });
        match next {
            Some(next) => {
                stretches[at].1 += stretches[next].1;
                stretches.remove(next);
                at = 0;
            }
            None => at += 1,
        }
    }
    if stretches.is_empty() || stretches.iter().any(|(_, sweep)| *sweep > TAU - 1e-3) {
        return Err(NoTube::SweepUnclear);
    }
    Ok(stretches
        .into_iter()
        .map(|(from, sweep)| (across * from.cos() + axis.cross(across) * from.sin(), sweep))
        .collect())
}

fn straight(leg: &Leg, size: Size, faces: &[Face]) -> Found {
    let (first, known_first) = leg.axis.end(-1.0, leg.least, size.across(), faces);
    let (last, known_last) = leg.axis.end(1.0, leg.most, size.across(), faces);
    Found {
        points: vec![leg.axis.at(first), leg.axis.at(last)],
        radii: Vec::new(),
        size,
        height: None,
        ends: [known_first, known_last],
        holes: Vec::new(),
    }
}

/// Walks along bends and legs from one end to the other.
fn chain(mut legs: Vec<Leg>, mut bends: Vec<Bend>, size: Size, faces: &[Face]) -> Result<Found, NoTube> {
    let mut found =
        Found { points: Vec::new(), radii: Vec::new(), size, height: None, ends: [Known::Flat; 2], holes: Vec::new() };
    let first = bends.swap_remove(0);
    let mut on_the_way = vec![first.arc];
    for side in 0..2 {
        // Both ways from the first bend: at the second turn the way is walked back to front.
        if side == 1 {
            on_the_way = on_the_way.iter().rev().map(Arc::reversed).collect();
            found.points.reverse();
            found.ends.reverse();
        }
        while let Some(last) = on_the_way.last().copied() {
            let (place, onward) = (last.at(last.sweep), last.tangent(last.sweep));
            let leg = legs.iter().position(|leg| {
                let station = leg.axis.station(place);
                leg.axis.is_along(place, onward) && station > leg.least - SAME && station < leg.most + SAME
            });
            let Some(leg) = leg.map(|index| legs.swap_remove(index)) else {
                if let Some(next) = next_bend(&mut bends, |at| at.distance(place) < SAME, onward) {
                    on_the_way.push(next);
                    continue;
                }
                found.points.push(place);
                break;
            };
            let onward_side = leg.axis.along.dot(onward).signum();
            let from = leg.axis.station(place) * onward_side;
            let ahead = |at: DVec3| {
                let station = leg.axis.station(at);
                leg.axis.distance(at) < SAME
                    && station * onward_side > from - SAME
                    && (leg.least - SAME..=leg.most + SAME).contains(&station)
            };
            if let Some(next) = next_bend(&mut bends, ahead, onward) {
                on_the_way.push(next);
                continue;
            }
            let reach = if onward_side > 0.0 { leg.most } else { leg.least };
            let (station, known) = leg.axis.end(onward_side, reach, size.across(), faces);
            found.points.push(leg.axis.at(station));
            found.ends[1] = known;
            break;
        }
    }
    if !legs.is_empty() || !bends.is_empty() {
        return Err(NoTube::PartsApart);
    }
    if found.points.len() != 2 {
        return Err(NoTube::ClosedRing);
    }
    let last = found.points.remove(1);
    for arc in on_the_way {
        let corners = arc.corners();
        found.radii.extend(core::iter::repeat_n(Some(arc.radius), corners.len()));
        found.points.extend(corners);
    }
    found.points.push(last);
    Ok(found)
}

/// Takes the bend that begins or ends at a place and goes on in a direction, turned so that it begins there.
fn next_bend(bends: &mut Vec<Bend>, is_there: impl Fn(DVec3) -> bool, onward: DVec3) -> Option<Arc> {
    let goes_on = |arc: &Arc| is_there(arc.at(0.0)) && arc.tangent(0.0).dot(onward) > 1.0 - 1e-8;
    let index = bends.iter().position(|bend| goes_on(&bend.arc) || goes_on(&bend.arc.reversed()))?;
    let arc = bends.swap_remove(index).arc;
    Some(if goes_on(&arc) { arc } else { arc.reversed() })
}

/// Diameters of bores whose axis crosses the tube between its ends.
fn holes(faces: &[Face], found: &Found, outer: f64) -> Vec<f64> {
    let mut holes: Vec<(Axis, f64)> = Vec::new();
    for face in faces {
        let Surface::Cylinder(origin, along, radius) = face.surface else { continue };
        if radius >= outer || holes.iter().any(|(axis, _)| axis.is_along(origin, along)) {
            continue;
        }
        let crosses = found.points.windows(2).any(|ends| {
            let Some(direction) = (ends[1] - ends[0]).try_normalize() else { return false };
            let (axis, length) = (Axis { origin: ends[0], along: direction }, ends[0].distance(ends[1]));
            axis.nearest(origin, along).is_some_and(|(station, distance)| {
                station > radius && station < length - radius && distance < outer + radius
            })
        });
        if crosses {
            holes.push((Axis { origin, along }, 2.0 * radius));
        }
    }
    holes.into_iter().map(|(_, diameter)| diameter).collect()
}
