//! Lines drawn twice, or in part twice, on one layer.

use super::Segment;
use crate::curve::Piece;
use crate::report::{Code, Notes};
use crate::words::join::JoinFact;
use glam::DVec3;
use matchmark_core::{Stop, Stopped};
use std::collections::BTreeMap;

/// Size of a cell of directions: lines that share a stretch are in one, or in neighbours.
const CELL: f64 = 0.05;

/// The segments with each stretch of a line once. Curves of one layer only are compared.
pub fn without_doubles(
    segments: Vec<Segment>,
    tolerance: f64,
    places: &[&str],
    stop: Stop<'_>,
    notes: &mut Notes,
) -> Result<Vec<Segment>, Stopped> {
    let mut kept: Vec<Option<Segment>> = segments.into_iter().map(Some).collect();
    let axis = widest_axis(&kept);
    let reach = |segment: &Segment| {
        let (a, b) = (segment.piece.first()[axis], segment.piece.last()[axis]);
        (a.min(b) - tolerance, a.max(b) + tolerance)
    };
    let mut order: Vec<(f64, usize)> =
        kept.iter().enumerate().filter_map(|(index, segment)| Some((reach(segment.as_ref()?).0, index))).collect();
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut active: BTreeMap<Key, Vec<usize>> = BTreeMap::new();
    for (from, index) in order {
        stop.check()?;
        let Some(segment) = &kept[index] else { continue };
        let mut near: Vec<usize> = Vec::new();
        for key in keys(&segment.piece, tolerance, &active) {
            if let Some(there) = active.get_mut(&key) {
                there.retain(|&other| kept[other].as_ref().is_some_and(|segment| reach(segment).1 >= from));
                near.extend_from_slice(there);
            }
        }
        let mut at = 0;
        while at < near.len() {
            let other = near[at];
            at += 1;
            let (Some(one), Some(two)) = (&kept[index], &kept[other]) else { continue };
            match compared(one, two, tolerance) {
                Compared::Apart => {}
                Compared::Inside => {
                    said(notes, places[one.curve], places[two.curve], one, two);
                    kept[index] = None;
                    break;
                }
                Compared::Around => {
                    said(notes, places[two.curve], places[one.curve], two, one);
                    kept[other] = None;
                }
                Compared::InPart(whole) => {
                    let fact = JoinFact::OverlapsInPart { other: places[two.curve] };
                    notes.information(Code::Duplicate, places[one.curve], fact);
                    let whole = Segment { piece: whole, ..one.clone() };
                    kept[index] = Some(whole);
                    kept[other] = None;
                    // The longer line may overlap what the shorter did not.
                    at = 0;
                }
            }
        }
        if let Some(segment) = &kept[index] {
            active.entry(key(&segment.piece, tolerance)).or_default().push(index);
        }
    }
    Ok(kept.into_iter().flatten().collect())
}

/// What can overlap: lines of about one direction, short lines of any, arcs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Key {
    Line([i64; 3]),
    Short,
    Arc,
}

#[expect(clippy::cast_possible_truncation, reason = "a direction has a length of 1")]
fn cell(way: DVec3) -> [i64; 3] {
    (way / CELL).floor().to_array().map(|number| number as i64)
}

fn key(piece: &Piece, tolerance: f64) -> Key {
    match piece {
        Piece::Arc(_) => Key::Arc,
        // Within the tolerance such a line may turn by more than a cell.
        Piece::Line(..) if piece.length() * CELL < 2.0 * tolerance => Key::Short,
        Piece::Line(..) => Key::Line(cell(piece.sets_out())),
    }
}

/// Keys of what may overlap a piece.
fn keys(piece: &Piece, tolerance: f64, active: &BTreeMap<Key, Vec<usize>>) -> Vec<Key> {
    match key(piece, tolerance) {
        Key::Arc => vec![Key::Arc],
        Key::Short => active.keys().copied().filter(|key| *key != Key::Arc).collect(),
        Key::Line(_) => {
            let way = piece.sets_out();
            let around = [way, -way].into_iter().flat_map(|way| {
                let [x, y, z] = cell(way);
                (0..27).map(move |step| Key::Line([x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1]))
            });
            let mut keys: Vec<Key> = around.collect();
            keys.push(Key::Short);
            keys
        }
    }
}

fn said(notes: &mut Notes, inner: &str, outer: &str, one: &Segment, two: &Segment) {
    let fact = if one.piece.length() < two.piece.length() * 0.999 {
        JoinFact::PartOfAnother { outer }
    } else {
        JoinFact::Duplicate { outer }
    };
    notes.information(Code::Duplicate, inner, fact);
}

fn widest_axis(segments: &[Option<Segment>]) -> usize {
    let ends = segments.iter().flatten().flat_map(|segment| [segment.piece.first(), segment.piece.last()]);
    let (least, most) =
        ends.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(least, most), end| (least.min(end), most.max(end)));
    let size = most - least;
    (0..3).max_by(|a, b| size[*a].total_cmp(&size[*b])).unwrap_or(0)
}

enum Compared {
    Apart,
    /// The first lies in the second.
    Inside,
    /// The second lies in the first.
    Around,
    /// They share a stretch and are this together.
    InPart(Piece),
}

fn compared(one: &Segment, two: &Segment, tolerance: f64) -> Compared {
    if one.layer != two.layer {
        return Compared::Apart;
    }
    match (&one.piece, &two.piece) {
        (Piece::Line(a, b), Piece::Line(c, d)) => lines([*a, *b], [*c, *d], one.alone && two.alone, tolerance),
        (Piece::Arc(a), Piece::Arc(b)) => {
            let same_way = |b: &crate::curve::Arc| {
                a.at(0.0).distance(b.at(0.0)) <= tolerance
                    && a.at(a.sweep / 2.0).distance(b.at(b.sweep / 2.0)) <= tolerance
                    && a.at(a.sweep).distance(b.at(b.sweep)) <= tolerance
            };
            if same_way(b) || same_way(&b.reversed()) { Compared::Inside } else { Compared::Apart }
        }
        _ => Compared::Apart,
    }
}

fn lines(one: [DVec3; 2], two: [DVec3; 2], may_join: bool, tolerance: f64) -> Compared {
    let on = |place: DVec3, line: [DVec3; 2]| {
        let (along, length) = ((line[1] - line[0]).normalize_or_zero(), line[0].distance(line[1]));
        let station = (place - line[0]).dot(along);
        let is_beside = (place - line[0] - along * station).length() <= tolerance;
        is_beside.then_some((station, length))
    };
    let within = |place: DVec3, line: [DVec3; 2]| {
        on(place, line).is_some_and(|(station, length)| station >= -tolerance && station <= length + tolerance)
    };
    if one.iter().all(|end| within(*end, two)) {
        return Compared::Inside;
    }
    if two.iter().all(|end| within(*end, one)) {
        return Compared::Around;
    }
    if !may_join {
        return Compared::Apart;
    }
    // Both ends beside the other's line, one of them well inside it.
    let (Some((first, length)), Some((last, _))) = (on(one[0], two), on(one[1], two)) else { return Compared::Apart };
    let (least, most) = (first.min(last), first.max(last));
    if least > length - 10.0 * tolerance || most < 10.0 * tolerance {
        return Compared::Apart;
    }
    let along = (two[1] - two[0]).normalize_or_zero();
    if (one[1] - one[0]).normalize_or_zero().cross(along).length() > 0.0087 {
        return Compared::Apart;
    }
    let from = if least < 0.0 { if first < last { one[0] } else { one[1] } } else { two[0] };
    let to = if most > length { if first < last { one[1] } else { one[0] } } else { two[1] };
    Compared::InPart(Piece::Line(from, to))
}
