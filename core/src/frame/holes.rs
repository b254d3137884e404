//! Holes through members, and their opposite hands.

use super::{DrilledHole, Frame};
use crate::document::{self, Design, Finding, Findings, other_hand};
use crate::geometry::Profile;
use crate::words::findings::frame::FrameFault;

/// Puts every hole of the design on its member.
pub(super) fn drill(design: &Design, frame: &mut Frame, findings: &mut Findings) {
    for (name, hole) in design.holes.iter().flatten() {
        let position = |id: &str| frame.members.iter().position(|member| member.id == id);
        // A hole in a member that this kit's choices leave out is left out with it.
        let Some(member) = position(hole.member.as_str()) else { continue };
        if let Some(message) = trouble(frame, member, hole) {
            let pointer = format!("/holes/{name}");
            findings.push(Finding::error("hole-impossible", pointer, message).about([hole.member.as_str()]));
            continue;
        }
        let opposite = other_hand(name)
            .filter(|_| hole.mirror == Some(true))
            .and_then(|other| Some((other, frame.members[member].opposite?)));
        let first = drilled(frame, name, name.clone(), hole, member, 1.0);
        frame.members[member].holes.push(first);
        if let Some((other, opposite_member)) = opposite {
            let second = drilled(frame, name, other, hole, opposite_member, -1.0);
            frame.members[opposite_member].holes.push(second);
        }
    }
}

fn drilled(frame: &Frame, source: &str, id: String, hole: &document::Hole, member: usize, hand: f64) -> DrilledHole {
    let profile = frame.section(&frame.members[member]).profile;
    let clock = (hand * hole.clock.get()).rem_euclid(360.0).to_radians();
    let offset = hand * hole.offset.map_or(0.0, document::Coordinate::get);
    DrilledHole {
        id,
        source: source.to_owned(),
        station: hole.station.get(),
        clock,
        u: (profile.place_at(clock) + offset).rem_euclid(profile.perimeter()),
        diameter: hole.diameter.get(),
        both_walls: hole.both_walls == Some(true),
        note: hole.note.as_ref().map_or_else(String::new, |note| note.as_str().to_owned()),
    }
}

/// Why a hole cannot be drilled.
fn trouble(frame: &Frame, position: usize, hole: &document::Hole) -> Option<String> {
    let member = &frame.members[position];
    let (station, radius) = (hole.station.get(), hole.diameter.get() / 2.0);
    let length = member.path.length();
    if station < radius || station > length - radius {
        return Some(
            FrameFault::HoleOverEnd { diameter: radius * 2.0, station, member: &member.id, length }.to_string(),
        );
    }
    if let Some(bend) = bend_at(frame, position, station, radius) {
        return Some(FrameFault::HoleInBend { bend, member: &member.id }.to_string());
    }
    match frame.section(member).profile {
        Profile::Round { outer, wall } => {
            if hole.offset.is_some() {
                return Some(FrameFault::OffsetOnRound.to_string());
            }
            (radius >= outer - wall)
                .then(|| FrameFault::HoleTooLarge { diameter: radius * 2.0, bore: 2.0 * (outer - wall) }.to_string())
        }
        Profile::Rect { half_width, half_height, corner, .. } => {
            let quarter = hole.clock.get().rem_euclid(90.0);
            if quarter != 0.0 {
                return Some(FrameFault::HoleClock.to_string());
            }
            let side = if hole.clock.get().rem_euclid(180.0) == 0.0 { half_height } else { half_width };
            let offset = hole.offset.map_or(0.0, document::Coordinate::get).abs();
            (offset + radius > side - corner)
                .then(|| FrameFault::HoleOffFlat { reach: offset + radius, flat: side - corner }.to_string())
        }
    }
}

/// Number of the bend that a place on the centreline lies in or next to, from 1.
fn bend_at(frame: &Frame, position: usize, station: f64, radius: f64) -> Option<usize> {
    let path = &frame.members[position].path;
    let mut at = 0.0;
    for (number, (leg, arc)) in path.legs.iter().zip(&path.arcs).enumerate() {
        let start = at + leg.length;
        at = start + arc.length();
        if station + radius > start && station - radius < at {
            return Some(number + 1);
        }
    }
    None
}
