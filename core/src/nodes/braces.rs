//! Two braces in a plane with a tube that passes: gap, overlap and eccentricity, for information only.

use super::decided::{Outcome, Role};
use super::end::{End, EndAt, size};
use super::find::Node;
use super::limits::{ECCENTRIC, OVERLAP};
use crate::frame::fit::meeting;
use crate::frame::{Frame, Target};
use crate::geometry::{DVec3, Profile};
use serde::Serialize;

/// Directions that differ by less lie in one plane with the chord: cosine.
const ONE_PLANE: f64 = 0.999;

/// A brace that leans against the chord by less has no footprint: sine.
const ALONG: f64 = 0.02;

/// Two braces on one side of a tube that passes.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Braces {
    /// Their ids.
    pub braces: [String; 2],
    /// Distance of their outlines along the tube's crown, mm; negative where they overlap.
    pub gap: f64,
    /// How far from the tube's axis theirs cross, mm; positive on the side away from them.
    pub eccentricity: f64,
    /// The same as a part of the tube's size.
    pub e_over_d0: f64,
    /// How much of the overlapping brace's footprint lies on the other, percent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overlap_percent: Option<f64>,
    /// The one that is fitted to the other.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub overlapping: Option<String>,
    /// What lies outside the usual ranges (EN 1993-1-8, chapter 7): `gap-under-both-walls`, `overlap-under-25-percent` or
    /// `eccentricity-outside-range`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub information: Option<&'static str>,
}

/// A brace on a chord.
struct Brace<'a> {
    end: &'a End,
    /// Direction square to the chord, on the brace's side.
    side: DVec3,
    sin: f64,
    /// Where its axis meets the crown, along the chord.
    foot: f64,
}

pub(super) fn braces(frame: &Frame, node: &Node, outcome: &Outcome) -> Vec<Braces> {
    let &[Target::Member(chord)] = &node.passing[..] else { return Vec::new() };
    let chord = &frame.members[chord];
    let Profile::Round { outer, .. } = frame.section(chord).profile else { return Vec::new() };
    if !chord.path.arcs.is_empty() {
        return Vec::new();
    }
    let axis = chord.path.first();
    let coped = |at: EndAt| outcome.decided.iter().any(|decided| decided.at == at && decided.role == Role::Cope);
    let found = node.ends.iter().filter(|end| coped(end.at) && !end.is_rectangular()).filter_map(|end| {
        let away = end.away();
        let square = away.reject_from_normalized(axis.direction);
        let side = square.try_normalize().filter(|_| square.length() > ALONG)?;
        let from = end.tip.origin - axis.start;
        let to_crown = (outer - from.dot(side)) / away.dot(side);
        let foot = (from + away * to_crown).dot(axis.direction);
        Some(Brace { end, side, sin: square.length(), foot })
    });
    let found: Vec<Brace<'_>> = found.collect();
    let pairs = found.iter().enumerate().flat_map(|(number, a)| found[number + 1..].iter().map(move |b| (a, b)));
    let in_plane = pairs.filter(|(a, b)| a.side.dot(b.side) >= ONE_PLANE);
    in_plane.map(|(a, b)| pair(frame, axis.start, outer, a, b)).collect()
}

fn pair(frame: &Frame, start: DVec3, outer: f64, a: &Brace<'_>, b: &Brace<'_>) -> Braces {
    let name = |brace: &Brace<'_>| frame.members[brace.end.at.0].id.clone();
    let (low, high) = if a.foot <= b.foot { (a, b) } else { (b, a) };
    let half = |brace: &Brace<'_>| brace.end.size() / 2.0 / brace.sin;
    let gap = (high.foot - half(high)) - (low.foot + half(low));
    let crossing = meeting(&a.end.tip, &b.end.tip).0;
    let eccentricity = -(crossing - start).dot(a.side);
    let over = if a.end.placed_before(b.end).is_lt() { b } else { a };
    let overlap = (gap < 0.0).then(|| -gap * over.sin / size(over.end.profile));
    let part = eccentricity / (2.0 * outer);
    let information = match overlap {
        Some(overlap) if overlap < OVERLAP => Some("overlap-under-25-percent"),
        None if gap < a.end.profile.wall() + b.end.profile.wall() => Some("gap-under-both-walls"),
        _ if !(ECCENTRIC[0]..=ECCENTRIC[1]).contains(&part) => Some("eccentricity-outside-range"),
        _ => None,
    };
    Braces {
        braces: [name(a), name(b)],
        gap: rounded(gap),
        eccentricity: rounded(eccentricity),
        e_over_d0: rounded(part),
        overlap_percent: overlap.map(|overlap| rounded(100.0 * overlap)),
        overlapping: overlap.map(|_| name(over)),
        information,
    }
}

fn rounded(figure: f64) -> f64 {
    let rounded = (figure * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}
