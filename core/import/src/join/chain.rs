//! Pieces that meet in a tangent, or belong together otherwise, as tubes.

use super::Segment;
use super::centreline::centreline;
use super::nodes::Nodes;
use crate::curve::{Curve, Piece, Tube};
use crate::report::{Code, Notes};
use crate::words::join::JoinFact;
use glam::DVec3;
use std::collections::BTreeMap;

/// Greatest angle at which directions count as the same: half a degree.
const SAME_DIRECTION: f64 = 0.0087;
/// How far joints in one line may lie beside the whole, mm.
const STRAIGHT: f64 = 0.2;

/// How a piece goes on from the one before it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Joint {
    /// It is the first.
    First,
    /// A line and an arc, or two arcs, in a tangent.
    Tangent,
    /// Two lines in one line.
    InLine,
    /// At a corner of one polyline.
    Sharp,
}

/// A piece of a chain.
#[derive(Debug, Clone, Copy)]
pub struct Link {
    pub segment: usize,
    /// True when it is walked from last to first.
    pub turned: bool,
    pub joint: Joint,
}

/// An end of a segment: 0 is its first, 1 its last.
type End = (usize, usize);

/// All chains, in the order of their first segments.
pub fn chains(
    segments: &[Segment],
    nodes: &Nodes,
    in_line: bool,
    places: &[&str],
    notes: &mut Notes,
) -> Vec<Vec<Link>> {
    let joints = joints(segments, nodes, in_line, places, notes);
    let mut done = vec![false; segments.len()];
    let mut all = Vec::new();
    // Those with a free end first; what is left then goes round.
    for ring in [false, true] {
        for start in 0..segments.len() {
            if done[start] || (!ring && joints.contains_key(&(start, 0)) && joints.contains_key(&(start, 1))) {
                continue;
            }
            let from = usize::from(joints.contains_key(&(start, 0)) && !ring);
            let chain = walk((start, from), &joints, &mut done);
            if ring {
                let fact = JoinFact::RingOfPieces { more: chain.len() - 1 };
                notes.warning(Code::ClosedRing, places[segments[start].curve], fact);
            } else {
                all.push(chain);
            }
        }
    }
    all.sort_by_key(|chain| chain.iter().map(|link| link.segment).min());
    all
}

/// Walks from an end that is free, through the segment and on.
fn walk(start: End, joints: &BTreeMap<End, (End, Joint)>, done: &mut [bool]) -> Vec<Link> {
    let mut chain = Vec::new();
    let mut next = Some((start, Joint::First));
    while let Some(((segment, end), joint)) = next {
        if core::mem::replace(&mut done[segment], true) {
            break;
        }
        chain.push(Link { segment, turned: end == 1, joint });
        next = joints.get(&(segment, 1 - end)).copied();
    }
    // A ring that was cut nowhere may have been walked backwards; the order does not matter then.
    chain
}

/// Which ends go on into which.
fn joints(
    segments: &[Segment],
    nodes: &Nodes,
    in_line: bool,
    places: &[&str],
    notes: &mut Notes,
) -> BTreeMap<End, (End, Joint)> {
    let mut joints: BTreeMap<End, (End, Joint)> = BTreeMap::new();
    let mut link = |one: End, other: End, joint| {
        joints.insert(one, (other, joint));
        joints.insert(other, (one, joint));
    };
    let mut at_node: Vec<Vec<End>> = vec![Vec::new(); nodes.len()];
    for (index, ends) in nodes.ends.iter().enumerate() {
        for (end, node) in ends.iter().enumerate() {
            at_node[*node].push((index, end));
        }
    }
    // Polylines keep together.
    let mut taken: Vec<[bool; 2]> = vec![[false; 2]; segments.len()];
    for index in 1..segments.len() {
        let (before, own) = (&segments[index - 1], &segments[index]);
        if before.curve == own.curve && before.goes_on && before.piece.last().distance(own.piece.first()) < 1e-6 {
            let joint = kind((&before.piece, 1), (&own.piece, 0)).unwrap_or(Joint::Sharp);
            link((index - 1, 1), (index, 0), joint);
            taken[index - 1][1] = true;
            taken[index][0] = true;
        }
    }
    for (node, ends) in at_node.iter().enumerate() {
        let free: Vec<End> = ends.iter().copied().filter(|end| !taken[end.0][end.1]).collect();
        // A point where hundreds of lines meet is no joint of pieces.
        if free.len() < 2 || free.len() > 64 {
            continue;
        }
        let fits = |one: End, other: End| {
            let (a, b) = (&segments[one.0], &segments[other.0]);
            let joint =
                (one.0 != other.0 && a.layer == b.layer).then(|| kind((&a.piece, one.1), (&b.piece, other.1)))??;
            (joint == Joint::Tangent || in_line).then_some(joint)
        };
        for &one in &free {
            let partners: Vec<(End, Joint)> =
                free.iter().filter_map(|&other| Some((other, fits(one, other)?))).collect();
            match partners[..] {
                [] => {}
                [(other, joint)] => {
                    let is_mutual = free.iter().filter(|&&third| fits(other, third).is_some()).count() == 1;
                    if is_mutual && one < other {
                        link(one, other, joint);
                        if joint == Joint::InLine {
                            let other = places[segments[other.0].curve];
                            let fact = JoinFact::JoinedInLine { at: nodes.place(node).into(), other };
                            notes.information(Code::JoinedInLine, places[segments[one.0].curve], fact);
                        }
                    }
                }
                _ => notes.warning(
                    Code::JoinUnclear,
                    places[segments[one.0].curve],
                    JoinFact::ManyWaysOn { at: nodes.place(node).into(), ways: partners.len() },
                ),
            }
        }
    }
    joints
}

/// How two pieces go on into each other at these ends; `None` where they do not.
fn kind(one: (&Piece, usize), other: (&Piece, usize)) -> Option<Joint> {
    let away = |(piece, end): (&Piece, usize)| if end == 0 { piece.sets_out() } else { -piece.arrives() };
    let turn = core::f64::consts::PI - away(one).angle_between(away(other));
    let both_straight = matches!((one.0, other.0), (Piece::Line(..), Piece::Line(..)));
    (turn < SAME_DIRECTION).then_some(if both_straight { Joint::InLine } else { Joint::Tangent })
}

/// The tube of a chain, or one for each piece where lines joined in line are not straight together.
pub fn tubes(
    chain: &[Link],
    segments: &[Segment],
    nodes: &Nodes,
    curve: &Curve,
    tolerance: f64,
    notes: &mut Notes,
) -> Vec<Tube> {
    let walked = |link: &Link| {
        let piece = segments[link.segment].piece;
        if link.turned { piece.reversed() } else { piece }
    };
    let end_of = |link: &Link, last: bool| {
        let end = usize::from(last != link.turned);
        nodes.place(nodes.ends[link.segment][end])
    };
    let pieces: Vec<(Piece, Joint)> = chain.iter().map(|link| (walked(link), link.joint)).collect();
    let (Some(first), Some(last)) = (chain.first(), chain.last()) else { return Vec::new() };
    let tube = |pieces: &[(Piece, Joint)], from: DVec3, to: DVec3| {
        let (points, radii) = centreline(pieces, from, to);
        Tube { layer: curve.layer.clone(), points, radii, place: curve.place.clone(), ..Tube::default() }
    };
    if is_straight_where_joined(&pieces, tolerance) {
        return vec![tube(&pieces, end_of(first, false), end_of(last, true))];
    }
    notes.warning(Code::JoinUnclear, curve.place.as_str(), JoinFact::NotStraightTogether);
    chain.iter().map(|link| tube(&[(walked(link), Joint::First)], end_of(link, false), end_of(link, true))).collect()
}

fn is_straight_where_joined(pieces: &[(Piece, Joint)], tolerance: f64) -> bool {
    let mut start = 0;
    while start < pieces.len() {
        let count = 1 + pieces[start + 1..].iter().take_while(|(_, joint)| *joint == Joint::InLine).count();
        let stretch = &pieces[start..start + count];
        let (from, to) = (stretch[0].0.first(), stretch[count - 1].0.last());
        let along = (to - from).normalize_or_zero();
        let beside = |place: DVec3| (place - from).reject_from(along).length();
        if along == DVec3::ZERO || stretch.iter().any(|(piece, _)| beside(piece.last()) > STRAIGHT.max(tolerance)) {
            return false;
        }
        start += count;
    }
    true
}
