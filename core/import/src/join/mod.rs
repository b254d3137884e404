//! From curves in design axes to tubes: what has no length or is drawn twice goes, ends are joined, tangent pieces are chained.

mod centreline;
mod chain;
mod chords;
mod nodes;
mod overlaps;

use crate::answers::Answers;
use crate::curve::{Curve, Piece, Tube};
use crate::report::{Code, Notes, Question, QuestionField};
use crate::words::join::JoinFact;
use matchmark_core::{Stop, Stopped};
use serde_json::json;
use std::collections::BTreeMap;

/// Shortest piece that counts, mm.
const LEAST: f64 = 0.01;
/// Most pieces that are joined; a design has at most 25,000 members.
const MOST_PIECES: usize = 60_000;

/// How curves are joined.
#[derive(Debug, Clone, Copy)]
pub struct Settings {
    /// Ends closer than this are one point, mm.
    pub tolerance: f64,
    /// Whether pieces in one line on one layer are one tube.
    pub in_line: bool,
}

/// A piece with where it comes from.
#[derive(Debug, Clone)]
struct Segment {
    piece: Piece,
    /// Number of its layer.
    layer: usize,
    /// Curve that it is part of.
    curve: usize,
    /// True where the next segment of the same curve begins where this one ends.
    goes_on: bool,
    /// True when it is all of its curve.
    alone: bool,
}

/// What came of the joining.
#[derive(Debug, Default)]
pub struct Joined {
    /// The tubes, in the order of the source.
    pub tubes: Vec<Tube>,
    /// The largest gap that was closed, mm.
    pub largest_gap: f64,
    /// How many pieces in one line were joined.
    pub in_line: usize,
}

/// All tubes of some curves.
pub fn join(curves: &[Curve], settings: Settings, stop: Stop<'_>, notes: &mut Notes) -> Result<Joined, Stopped> {
    let mut layers: BTreeMap<&str, usize> = BTreeMap::new();
    let mut segments: Vec<Segment> = Vec::new();
    for (index, curve) in curves.iter().enumerate() {
        if index.is_multiple_of(1024) {
            stop.check()?;
        }
        let next = layers.len();
        let layer = *layers.entry(curve.layer.as_str()).or_insert(next);
        let is_ring = |piece: &Piece| matches!(piece, Piece::Arc(arc) if arc.is_ring());
        if curve.closed || curve.pieces.iter().any(is_ring) {
            notes.warning(Code::ClosedRing, curve.place.as_str(), JoinFact::ClosedRing);
            continue;
        }
        let (pieces, found) = chords::arcs(&curve.pieces);
        for radius in found {
            notes.information(Code::ChordsFitted, curve.place.as_str(), JoinFact::ChordsFitted { radius });
        }
        let first = segments.len();
        for piece in pieces {
            if piece.length() < LEAST {
                notes.information(Code::NoLength, curve.place.as_str(), JoinFact::NoLength);
                continue;
            }
            segments.push(Segment { piece, layer, curve: index, goes_on: true, alone: false });
        }
        let alone = segments.len() == first + 1;
        if segments.len() > first
            && let Some(last) = segments.last_mut()
        {
            last.goes_on = false;
            last.alone = alone;
        }
        if segments.len() > MOST_PIECES {
            notes.error(Code::TooLarge, curve.place.as_str(), JoinFact::TooManyPieces { most: MOST_PIECES });
            return Ok(Joined::default());
        }
    }
    let places: Vec<&str> = curves.iter().map(|curve| curve.place.as_str()).collect();
    let segments = overlaps::without_doubles(segments, settings.tolerance, &places, stop, notes)?;
    let nodes = nodes::Nodes::of(&segments, settings.tolerance);
    nodes.report(notes);
    stop.check()?;
    let mut joined = Joined { largest_gap: nodes.largest_gap(), ..Joined::default() };
    let chains = chain::chains(&segments, &nodes, settings.in_line, &places, notes);
    for chain in chains {
        let Some(first) = chain.first() else { continue };
        let curve = &curves[segments[first.segment].curve];
        joined.in_line += chain.iter().filter(|link| link.joint == chain::Joint::InLine).count();
        joined.tubes.extend(chain::tubes(&chain, &segments, &nodes, curve, settings.tolerance, notes));
    }
    Ok(joined)
}

/// Says that pieces in line were joined without an answer.
pub fn ask_in_line(count: usize, answers: &Answers, notes: &mut Notes) {
    if count > 0 && answers.join_in_line.is_none() {
        notes.ask(Question {
            field: QuestionField::JoinInLine,
            stops: false,
            text: JoinFact::WhetherInLineIsOne.to_string(),
            default: json!(true),
            figures: json!({"joints": count}),
        });
    }
}
