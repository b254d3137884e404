//! Widths between the two hands of a joint that no member across the frame spans.

use super::corners::Corners;
use super::mark::{Landing, Mark, free_end, outwards};
use crate::frame::{Frame, Target, fit::tip};
use crate::geometry::DVec3;
use crate::part::Part;
use crate::sheets::End;

/// A width.
pub(super) struct Width {
    /// Id of the left member of the pair whose end it is taken at, without its hand.
    pub(super) stem: String,
    /// Which end of that.
    pub(super) end: End,
    /// On the left and on the right.
    pub(super) marks: [Mark; 2],
}

/// Widths nearer to each other than this say the same, mm.
const APART: f64 = 60.0;

/// Widths of less are not worth a tape, mm.
const LEAST: f64 = 50.0;

/// All widths, in build order.
pub(super) fn all(frame: &Frame, parts: &[Part], corners: &Corners) -> Vec<Width> {
    let mut widths: Vec<Width> = Vec::new();
    for (left, member) in frame.members.iter().enumerate() {
        let Some(right) = member.opposite.filter(|_| member.id.ends_with(".L")) else { continue };
        for end in 0..2 {
            if is_spanned(frame, corners, [left, right], end) {
                continue;
            }
            let mark = |member: usize| mark(frame, parts, member, end);
            let (Some(a), Some(b)) = (mark(left), mark(right)) else { continue };
            let is_known = widths.iter().any(|known| known.marks[0].at.distance(a.at) < APART);
            if !is_known && a.at.distance(b.at) > LEAST {
                let stem = member.id.trim_end_matches(".L").to_owned();
                widths.push(Width { stem, end: End::at(end), marks: [a, b] });
            }
        }
    }
    widths
}

/// Where the end of a member lands, or its middle where it is free.
fn mark(frame: &Frame, parts: &[Part], member: usize, end: usize) -> Option<Mark> {
    let host = parts[member].ends[end].met.iter().find_map(|met| match met {
        Target::Member(host) => Some(*host),
        Target::Plate(_) => None,
    });
    let Some(host) = host else { return free_end(frame, parts, member, end) };
    let landing = Landing { member, end, host };
    let (leg, _) = landing.leg(frame)?;
    let at = tip(&frame.members[member], end);
    let square: DVec3 = frame.members[host].path.legs[leg].direction.cross(at.direction);
    landing.mark(frame, parts, outwards(square.try_normalize()?, at.origin))
}

/// True when a straight member runs from the corner of the one end to that of the other: its own length holds the width.
fn is_spanned(frame: &Frame, corners: &Corners, pair: [usize; 2], end: usize) -> bool {
    let wanted = pair.map(|member| corners.at(member, end));
    let runs_across = |(member, placed): (usize, &crate::frame::Member)| {
        let ends = [0, 1].map(|end| corners.at(member, end));
        placed.path.arcs.is_empty() && !pair.contains(&member) && (ends == wanted || ends == [wanted[1], wanted[0]])
    };
    frame.members.iter().enumerate().any(runs_across)
}
