//! The line in which a cut meets the outer surface or the bore, as edges.

use super::SolidError;
use super::brep::Brep;
use super::curve::{self, TracedPoint};
use super::facets;
use super::outline::Strips;
use super::row::Row;
use super::surface::Surface;
use crate::geometry::least_place;
use crate::part::Cut;

/// Seeds of a curve round the whole tube.
const SEEDS: f64 = 36.0;

/// Under this sine of the angle between two surfaces they touch, and their common line has a kink there.
const TOUCHING: f64 = 1e-4;

/// A closed line round the tube: a vertex where each strip begins, and the edges of each strip in rising order of `u`.
#[derive(Debug, Clone, Default)]
pub(super) struct Rim {
    pub(super) corners: Vec<usize>,
    pub(super) edges: Vec<Vec<usize>>,
}

/// The rim of a cut at the outer surface or at the bore.
#[derive(Debug, Clone, Default)]
pub(super) struct CutRim {
    pub(super) rim: Rim,
    /// Vertex of each break of the row.
    pub(super) breaks: Vec<usize>,
    /// Each edge with the interval of the row that it bounds.
    pub(super) pieces: Vec<(usize, usize)>,
}

/// Why a rim has a vertex somewhere.
#[derive(Clone, Copy, PartialEq)]
enum Stop {
    Strip,
    Break(usize),
    Kink,
}

/// Makes vertices and edges of a cut's rim in the row's depth; `skin` is the surface of a strip there.
pub(super) fn rim(
    brep: &mut Brep,
    cut: &Cut,
    row: &Row,
    strips: &Strips,
    skin: impl Fn(usize) -> Surface,
) -> Result<CutRim, SolidError> {
    let depth = row.depth;
    let place = |u: f64| {
        let contact = cut.contact(u, depth)?;
        Some(TracedPoint { number: u, at: cut.end().generator(u, depth).at(contact.s) })
    };
    let mut stops: Vec<(f64, Stop)> = strips.starts.iter().map(|&u| (u, Stop::Strip)).collect();
    stops.extend(row.breaks.iter().enumerate().map(|(k, here)| (strips.unrolled(here.u), Stop::Break(k))));
    stops.extend(kinks(cut, row).into_iter().map(|u| (strips.unrolled(u), Stop::Kink)));
    stops.sort_by(|a, b| a.0.total_cmp(&b.0));

    let mut made = CutRim { breaks: vec![0; row.breaks.len()], ..CutRim::default() };
    let mut at_stops: Vec<(TracedPoint, usize)> = Vec::with_capacity(stops.len());
    for &(u, stop) in &stops {
        let at = match stop {
            Stop::Break(k) => TracedPoint { number: u, at: cut.end().generator(u, depth).at(row.breaks[k].s) },
            Stop::Strip | Stop::Kink => place(u).ok_or(SolidError::Misses)?,
        };
        let before = at_stops.last().filter(|(before, _)| before.at.distance(at.at) < 1e-6).map(|(_, vertex)| *vertex);
        let vertex = before.unwrap_or_else(|| brep.vertex(at.at));
        at_stops.push((at, vertex));
        match stop {
            Stop::Strip => made.rim.corners.push(vertex),
            Stop::Break(k) => made.breaks[k] = vertex,
            Stop::Kink => {}
        }
    }
    made.rim.edges = vec![Vec::new(); strips.starts.len()];
    let mut strip = 0;
    for (index, &(from, vertex)) in at_stops.iter().enumerate() {
        if index > 0 && stops[index].1 == Stop::Strip {
            strip += 1;
        }
        let (to, next) = match at_stops.get(index + 1) {
            Some(&next) => next,
            None => (TracedPoint { number: at_stops[0].0.number + strips.perimeter, ..at_stops[0].0 }, at_stops[0].1),
        };
        if vertex == next {
            continue;
        }
        let middle = 0.5 * (from.number + to.number);
        let interval = row.interval_at(middle.rem_euclid(strips.perimeter));
        let owner = row.owners()[interval];
        let count = ((to.number - from.number) / strips.perimeter * SEEDS).ceil().max(2.0);
        let mut places = vec![from];
        let mut part = 1.0;
        while part < count {
            places.extend(place(from.number + (to.number - from.number) * part / count));
            part += 1.0;
        }
        places.push(to);
        let halfway = |a: TracedPoint, b: TracedPoint, _| place(0.5 * (a.number + b.number));
        let curve = curve::along(&skin(strip), &facets::surface(cut, owner), places, halfway);
        let edge = brep.edge(vertex, next, curve);
        made.rim.edges[strip].push(edge);
        made.pieces.push((edge, interval));
    }
    Ok(made)
}

/// Places where the wall just touches a surface, so that the line turns sharply there.
fn kinks(cut: &Cut, row: &Row) -> Vec<f64> {
    const SIDES: u32 = 180;
    let perimeter = cut.end().profile.perimeter();
    let owners = row.owners();
    let angle = |u: f64| {
        let u = u.rem_euclid(perimeter);
        let Some(contact) = cut.contact(u, row.depth) else { return 1.0 };
        let at = cut.end().generator(u, row.depth).at(contact.s);
        let normal = facets::surface(cut, owners[row.interval_at(u)]).normal(at);
        cut.end().normal(u).cross(normal).length()
    };
    let width = perimeter / f64::from(SIDES);
    let at = |side: u32| width * f64::from(side);
    let angles: Vec<f64> = (0..SIDES).map(|side| angle(at(side))).collect();
    let mut kinks: Vec<f64> = Vec::new();
    for (side, &here) in (0..SIDES).zip(&angles) {
        let before = angles[usize::try_from((side + SIDES - 1) % SIDES).unwrap_or(0)];
        let after = angles[usize::try_from((side + 1) % SIDES).unwrap_or(0)];
        if here > before || here > after || here > 0.2 || before.max(after) < 1e-2 {
            continue;
        }
        let u = least_place(at(side) - width, at(side) + width, 1e-9 * perimeter, angle);
        let near_break = row.breaks.iter().map(|other| other.u).chain(kinks.iter().copied()).any(|other| {
            let gap = (other - u).rem_euclid(perimeter);
            gap.min(perimeter - gap) < 1e-3
        });
        if angle(u) < TOUCHING && !near_break {
            kinks.push(u.rem_euclid(perimeter));
        }
    }
    kinks
}
