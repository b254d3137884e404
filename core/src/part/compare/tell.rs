//! What tells the left part from the right one on the bench.

use super::edge::Edge;
use super::motion::least_turn;
use super::shape::{Hole, Shape};
use crate::geometry::DVec3;
use core::f64::consts::{PI, TAU};

/// A side of the frame.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Left, +y.
    Left,
    /// Right, -y.
    Right,
}

impl Side {
    /// The other one.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }
}

/// Something on a tube that can be seen and has a clock angle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Mark {
    /// Where the cut of an end (0 first, 1 last) stands out furthest.
    LongPoint(usize),
    /// Where it reaches furthest back.
    Throat(usize),
    /// A hole.
    Hole {
        /// Its station along the centreline, mm.
        station: f64,
        /// Its diameter, mm.
        diameter: f64,
        /// The bend after which it comes, counted from 1; 0 for one before all bends.
        after_bend: usize,
        /// How far it lies from where that bend ends; before all bends from the long point of the first end, mm.
        along: f64,
    },
    /// The way a bend turns, counted from 0.
    Bend(usize),
}

/// What tells a handed part from its mirror image. Figures are those of the part that it was made for, the left one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Tell {
    /// Seen from one end with one mark up, another lies to one side; on the opposite hand to the other side.
    Sideways {
        /// End to look from, along the tube: 0 first, 1 last.
        from: usize,
        /// Mark to turn up.
        up: Mark,
        /// Mark to look for.
        other: Mark,
        /// Side on which it lies on the left part.
        side: Side,
        /// Degrees from the top.
        degrees: f64,
        /// How far apart it lies on both hands, mm.
        apart: f64,
    },
    /// The edge of one end stands out further on one side of its long point than at the same place on the other side.
    Uneven {
        /// The end, to be looked at along the tube.
        end: usize,
        /// Side that stands out further on the left part.
        side: Side,
        /// Degrees from the long point.
        degrees: f64,
        /// By how much, mm.
        longer: f64,
    },
    /// No single mark does: the whole part has to be compared with its template.
    Nothing {
        /// Most by which both hands differ, mm.
        deviation: f64,
    },
}

/// Clock angles that could not be told apart by eye, radians.
const ALIKE: f64 = 2.0 * PI / 180.0;

/// Holes nearer to each other along the tube than this are one row, mm.
const ONE_ROW: f64 = 1.0;

struct SeenMark {
    mark: Mark,
    /// All its clock angles: a tee has two long points.
    clocks: Vec<f64>,
    /// How far it can be seen to be out of line at most, mm.
    size: f64,
}

impl Tell {
    /// Chooses the mark that differs most between `left` and its mirror image.
    ///
    /// Both hands have to be told apart before they are drilled: holes are marks only where nothing else tells, as where they
    /// alone differ.
    pub(super) fn of(left: &Shape, deviation: f64, by_holes_alone: bool) -> Self {
        let mut all = marks(left);
        if !by_holes_alone {
            all.retain(|seen| !matches!(seen.mark, Mark::Hole { .. }));
        }
        match Self::by(&all, left, deviation) {
            Self::Nothing { .. } if !by_holes_alone => Self::by(&marks(left), left, deviation),
            tell => tell,
        }
    }

    fn by(all: &[SeenMark], left: &Shape, deviation: f64) -> Self {
        let seen: Vec<&SeenMark> = all.iter().collect();
        let reach = left.profile.reach();
        let mut best: Option<(f64, Self)> = None;
        let mut offer = |size: f64, tell: Self| {
            if best.is_none_or(|best| size > best.0 + 1e-3) {
                best = Some((size, tell));
            }
        };
        for (number, &up) in seen.iter().enumerate() {
            for &other in &seen[number + 1..] {
                let swapped = [up, other].map(|seen| counterpart(left, all, seen));
                if let Some((offset, gap)) = offset([&up.clocks, &other.clocks], swapped) {
                    let both_bends = matches!((up.mark, other.mark), (Mark::Bend(_), Mark::Bend(_)));
                    let arm = if both_bends { other.size } else { reach };
                    let apart = 2.0 * arm * libm::sin(0.5 * gap);
                    let size = if both_bends { apart } else { apart.min(up.size).min(other.size) };
                    let from = end_of(up.mark).unwrap_or(0);
                    // Clock angles grow to the right for one who looks along from -> to.
                    let to_right = (offset > 0.0) == (from == 0);
                    let side = if to_right { Side::Right } else { Side::Left };
                    let degrees = offset.abs().to_degrees();
                    offer(size, Self::Sideways { from, up: up.mark, other: other.mark, side, degrees, apart });
                }
            }
        }
        for end in [0, 1] {
            if let Some(Uneven { right, degrees, longer, sure }) = uneven(left, end) {
                let side = if right { Side::Right } else { Side::Left };
                // A mark that can be pointed at is better than a difference that has to be measured.
                offer(0.5 * sure, Self::Uneven { end, side, degrees, longer });
            }
        }
        best.map_or(Self::Nothing { deviation }, |best| best.1)
    }
}

fn end_of(mark: Mark) -> Option<usize> {
    match mark {
        Mark::LongPoint(end) | Mark::Throat(end) => Some(end),
        Mark::Hole { .. } | Mark::Bend(_) => None,
    }
}

/// Everything on a part that has a clock angle, what is best turned up first.
fn marks(shape: &Shape) -> Vec<SeenMark> {
    let clock = |u: f64| shape.profile.clock(u);
    let mut seen = Vec::new();
    let insides = shape.path.insides(DVec3::X);
    for (number, arc) in shape.path.arcs.iter().enumerate() {
        let after = shape.path.legs[number + 1].length;
        let size = after * libm::sin(arc.angle).abs() + arc.radius * (1.0 - libm::cos(arc.angle));
        seen.push(SeenMark { mark: Mark::Bend(number), clocks: vec![insides[number]], size });
    }
    for (end, edge) in shape.edges.iter().enumerate() {
        let clocks: Vec<f64> = edge.extremes(1.0).into_iter().map(clock).collect();
        seen.push(SeenMark { mark: Mark::LongPoint(end), clocks, size: edge.height() });
    }
    for (end, edge) in shape.edges.iter().enumerate() {
        let clocks: Vec<f64> = edge.extremes(-1.0).into_iter().map(clock).collect();
        seen.push(SeenMark { mark: Mark::Throat(end), clocks, size: edge.height() });
    }
    let mut rows: Vec<SeenMark> = Vec::new();
    for hole in &shape.holes {
        let clocks = [Some(hole.clock), hole.opposite].into_iter().flatten();
        let row = rows.iter_mut().find(|row| {
            matches!(row.mark, Mark::Hole { station, diameter, .. }
                if (station - hole.station).abs() < ONE_ROW && (diameter - hole.diameter).abs() < 0.1)
        });
        match row {
            Some(row) => row.clocks.extend(clocks),
            None => rows.push(SeenMark { mark: hole_mark(shape, hole), clocks: clocks.collect(), size: f64::INFINITY }),
        }
    }
    seen.extend(rows);
    seen.retain(|seen| !seen.clocks.is_empty());
    seen
}

/// A hole as a mark that a tape finds.
fn hole_mark(shape: &Shape, hole: &Hole) -> Mark {
    let (after_bend, start) = shape.path.leg_at(hole.station).unwrap_or_default();
    let datum = if after_bend == 0 { shape.edges[0].furthest() } else { start };
    Mark::Hole { station: hole.station, diameter: hole.diameter, after_bend, along: hole.station - datum }
}

/// Clock angles of the mark that stands in the place of `seen` when the part is turned end for end, so that one who takes one end
/// for the other would take it for `seen`; empty when there is none.
fn counterpart<'a>(shape: &Shape, all: &'a [SeenMark], seen: &SeenMark) -> &'a [f64] {
    /// Stations that are measured with a tape are taken for equal within this, mm.
    const TAPE: f64 = 3.0;
    let [first, last] = shape.edges.each_ref().map(|edge| edge.mean()[0]);
    let stands_in = |other: &&SeenMark| match (seen.mark, other.mark) {
        (Mark::LongPoint(a), Mark::LongPoint(b)) | (Mark::Throat(a), Mark::Throat(b)) => a + b == 1,
        (Mark::Bend(a), Mark::Bend(b)) => a + b + 1 == shape.path.arcs.len(),
        (Mark::Hole { station: a, diameter: d, .. }, Mark::Hole { station: b, diameter: e, .. }) => {
            (first + last - a - b).abs() < TAPE && (d - e).abs() < 0.5
        }
        _ => false,
    };
    all.iter().find(stands_in).map_or(&[], |other| &other.clocks)
}

/// The offset between two marks that differs most from every offset that the mirror image shows, in (-pi, pi], and by how much it
/// differs; `None` when the mirror image shows the same offsets. It shows those between the marks' counterparts too, to one who
/// looks from its other end: seen from there and mirrored, their sign is that on the part itself.
fn offset([up, other]: [&[f64]; 2], [up_there, other_there]: [&[f64]; 2]) -> Option<(f64, f64)> {
    let between = |up: &[f64], other: &[f64]| -> Vec<f64> {
        up.iter().flat_map(|up| other.iter().map(move |other| least_turn(other - up))).collect()
    };
    let offsets = between(up, other);
    let mut images: Vec<f64> = offsets.iter().map(|offset| -offset).collect();
    images.extend(between(up_there, other_there));
    let mut best: Option<(f64, f64)> = None;
    for &offset in &offsets {
        let gap = images.iter().map(|image| least_turn(offset - image).abs()).fold(f64::INFINITY, f64::min);
        let better =
            |best: (f64, f64)| gap > best.1 + 1e-6 || (gap > best.1 - 1e-6 && offset.abs() < best.0.abs() - 1e-6);
        if gap > ALIKE && best.is_none_or(better) {
            best = Some((offset, gap));
        }
    }
    best
}

/// Where an edge stands out on one side of its long point.
struct Uneven {
    /// True when it does so on the right, seen along the tube from this end.
    right: bool,
    /// Degrees from the long point.
    degrees: f64,
    /// Further out than on the other side by so much, mm.
    longer: f64,
    /// Half of what it differs by from anything that the mirror image shows at either end, mm.
    sure: f64,
}

/// Where an edge is most unlike its mirror image about its long point; `None` when its long points do not agree on one, when it
/// is even, or when the other end of the mirror image looks the same.
fn uneven(shape: &Shape, end: usize) -> Option<Uneven> {
    const LEAST: f64 = 0.5;
    const STEPS: u32 = 60;
    let perimeter = shape.profile.perimeter();
    let (edge, far) = (&shape.edges[end], &shape.edges[1 - end]);
    // Right less left at a part of the turn from a long point, as seen from that end.
    let lean = |edge: &Edge, sense: f64, long: f64, part: f64| {
        sense * (edge.outwards(long + part * perimeter) - edge.outwards(long - part * perimeter))
    };
    let sense = if end == 0 { 1.0 } else { -1.0 };
    let far_longs = far.extremes(1.0);
    let mut least: Option<Uneven> = None;
    for long in edge.extremes(1.0) {
        let mut most = Uneven { right: true, degrees: 0.0, longer: 0.0, sure: 0.0 };
        for step in 1..STEPS {
            let part = 0.5 * f64::from(step) / f64::from(STEPS);
            let here = lean(edge, sense, long, part);
            let there = far_longs.iter().map(|&long| 0.5 * (here + lean(far, -sense, long, part)).abs());
            let sure = there.fold(here.abs(), f64::min);
            if sure > most.sure {
                most = Uneven { right: here > 0.0, degrees: (part * TAU).to_degrees(), longer: here.abs(), sure };
            }
        }
        if least.as_ref().is_none_or(|least| most.sure < least.sure) {
            least = Some(most);
        }
    }
    least.filter(|least| least.sure > LEAST)
}
