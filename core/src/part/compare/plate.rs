//! Comparing flat plates: outline, thickness and holes, in the plane or turned over.

use super::plate_tell::PlateTell;
use super::{NEAR, SAME};

/// Points nearer than this to a line or an arc lie on it, mm.
const ON: f64 = 1e-3;

/// A face of a plate: `Plus` is seen when x runs right and y up.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlateSide {
    /// The face towards the reader.
    Plus,
    /// The face away from the reader.
    Minus,
}

/// A countersink of a hole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Countersink {
    /// Face that it opens to.
    pub face: PlateSide,
    /// Its diameter on that face, mm.
    pub diameter: f64,
}

/// A hole of a plate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateHole {
    /// Its centre, mm.
    pub at: [f64; 2],
    /// Its diameter, mm.
    pub diameter: f64,
    /// Its countersink.
    pub countersink: Option<Countersink>,
}

/// An edge of an outline: from its first corner to the first corner of the next edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateEdge {
    /// Its first corner, mm.
    pub from: [f64; 2],
    /// Height of its arc over the chord, mm: positive when it bulges to the right of travel, 0 for a straight edge.
    pub rise: f64,
}

/// A plate in a frame of its own.
#[derive(Debug, Clone, PartialEq)]
pub struct PlateShape {
    pub(super) stock: String,
    pub(super) thickness: f64,
    /// Counter-clockwise, without corners that are none; empty for a disc.
    pub(super) edges: Vec<PlateEdge>,
    /// Centre and radius of a disc.
    disc: Option<([f64; 2], f64)>,
    pub(super) holes: Vec<PlateHole>,
}

/// How one plate lies on another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlateMatch {
    /// True when the first is turned over, about its y axis.
    pub over: bool,
    /// Turn that then follows, counter-clockwise, radians.
    pub turn: f64,
    /// Most by which outlines or holes then differ, mm.
    pub deviation: f64,
}

/// What a mirrored pair of plates is.
#[derive(Debug, Clone, PartialEq)]
pub enum PlateHand {
    /// One plate serves on both sides.
    Interchangeable {
        /// How the mirror image lies on the plate.
        by: PlateMatch,
    },
    /// Two plates.
    Handed {
        /// Most by which the mirror image differs from the plate at the best, mm; infinite when countersinks never meet.
        deviation: f64,
        /// True when they differ by so little that the designer is asked whether one plate was meant.
        near: bool,
        /// What tells both apart on the bench.
        tell: PlateTell,
    },
}

impl PlateShape {
    /// A plate of `thickness` out of `stock` (material and finish; plates are compared only when it is equal). The outline closes
    /// by itself and may run either way round.
    #[must_use]
    pub fn of(stock: impl Into<String>, thickness: f64, outline: &[PlateEdge], holes: Vec<PlateHole>) -> Self {
        let mut edges = outline.to_vec();
        if area(&edges) < 0.0 {
            edges = backwards(&edges);
        }
        let disc = plain(&mut edges);
        Self { stock: stock.into(), thickness, edges, disc, holes }
    }

    /// Its mirror image, across the plane of its x axis; what opens to the reader still does.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        let image = |[x, y]: [f64; 2]| [x, -y];
        self.reflected(image, |face| face)
    }

    /// The plate turned over about its y axis.
    fn turned_over(&self) -> Self {
        self.reflected(
            |[x, y]| [-x, y],
            |face| if face == PlateSide::Plus { PlateSide::Minus } else { PlateSide::Plus },
        )
    }

    fn reflected(&self, image: impl Fn([f64; 2]) -> [f64; 2], to: impl Fn(PlateSide) -> PlateSide) -> Self {
        let reflected: Vec<PlateEdge> =
            self.edges.iter().map(|edge| PlateEdge { from: image(edge.from), rise: -edge.rise }).collect();
        let holes = self.holes.iter().map(|hole| PlateHole {
            at: image(hole.at),
            countersink: hole.countersink.map(|sink| Countersink { face: to(sink.face), ..sink }),
            ..*hole
        });
        Self {
            stock: self.stock.clone(),
            thickness: self.thickness,
            edges: backwards(&reflected),
            disc: self.disc.map(|(centre, radius)| (image(centre), radius)),
            holes: holes.collect(),
        }
    }

    /// Corners and middles of edges, in order.
    fn points(&self) -> Vec<[f64; 2]> {
        let count = self.edges.len();
        (0..count)
            .flat_map(|number| {
                [self.edges[number].from, middle(self.edges[number], self.edges[(number + 1) % count].from)]
            })
            .collect()
    }
}

/// The motion that carries `a` onto `b` within [`SAME`], if there is one; plates may be turned over.
#[must_use]
pub fn same_plate(a: &PlateShape, b: &PlateShape) -> Option<PlateMatch> {
    closest(a, b).filter(|found| found.deviation <= SAME)
}

/// Decides whether a plate and its mirror image are one plate. What is told of a handed plate holds for `left`.
#[must_use]
pub fn plate_hand(left: &PlateShape) -> PlateHand {
    match closest(&left.mirrored(), left) {
        Some(by) if by.deviation <= SAME => PlateHand::Interchangeable { by },
        other => {
            let deviation = other.map_or(f64::INFINITY, |by| by.deviation);
            PlateHand::Handed { deviation, near: deviation < NEAR, tell: PlateTell::of(left, deviation) }
        }
    }
}

/// The best motion; `None` when none lays like on like.
fn closest(a: &PlateShape, b: &PlateShape) -> Option<PlateMatch> {
    let alike = a.stock == b.stock
        && (a.thickness - b.thickness).abs() < ON
        && a.edges.len() == b.edges.len()
        && a.disc.is_some() == b.disc.is_some()
        && a.holes.len() == b.holes.len();
    if !alike {
        return None;
    }
    let mut best: Option<PlateMatch> = None;
    for over in [false, true] {
        let moved = if over { a.turned_over() } else { a.clone() };
        for placement in placements(&moved, b) {
            let Some(holes) = hole_misfit(&moved.holes, &b.holes, &placement) else {
                continue;
            };
            let deviation = placement.off.max(holes);
            if best.is_none_or(|best| deviation < best.deviation - 1e-6) {
                best = Some(PlateMatch { over, turn: placement.turn, deviation });
            }
        }
    }
    best
}

/// A turn about `from`, which is moved to `to`.
#[derive(Debug, Clone, Copy)]
struct Placement {
    turn: f64,
    from: [f64; 2],
    to: [f64; 2],
    off: f64,
}

impl Placement {
    fn point(&self, at: [f64; 2]) -> [f64; 2] {
        let (sin, cos) = libm::sincos(self.turn);
        let [x, y] = [at[0] - self.from[0], at[1] - self.from[1]];
        [self.to[0] + cos * x - sin * y, self.to[1] + sin * x + cos * y]
    }
}

/// Ways to lay one outline on the other: corner on corner, or hole on hole for discs.
fn placements(a: &PlateShape, b: &PlateShape) -> Vec<Placement> {
    if let (Some((from, ra)), Some((to, rb))) = (a.disc, b.disc) {
        let off = (ra - rb).abs();
        let about = |centre: [f64; 2], hole: &PlateHole| libm::atan2(hole.at[1] - centre[1], hole.at[0] - centre[0]);
        let mut turns = vec![0.0];
        for hole in &a.holes {
            turns.extend(b.holes.iter().map(|other| about(to, other) - about(from, hole)));
        }
        return turns.into_iter().map(|turn| Placement { turn, from, to, off }).collect();
    }
    let (moved, fixed) = (a.points(), b.points());
    let count = fixed.len();
    (0..count / 2)
        .map(|first| {
            let there: Vec<[f64; 2]> = (0..count).map(|number| fixed[(number + 2 * first) % count]).collect();
            laid(&moved, &there)
        })
        .collect()
}

/// The turn and move with the least sum of squares: turn = atan2(sum of cross products, sum of dot products) about the means.
fn laid(moved: &[[f64; 2]], fixed: &[[f64; 2]]) -> Placement {
    let mean = |points: &[[f64; 2]]| {
        let count = points.iter().fold(0.0, |count, _| count + 1.0);
        let sum = points.iter().fold([0.0, 0.0], |sum, at| [sum[0] + at[0], sum[1] + at[1]]);
        sum.map(|sum| sum / f64::max(count, 1.0))
    };
    let (from, to) = (mean(moved), mean(fixed));
    let (mut cross, mut dot) = (0.0, 0.0);
    for (p, q) in moved.iter().zip(fixed) {
        let ([px, py], [qx, qy]) = ([p[0] - from[0], p[1] - from[1]], [q[0] - to[0], q[1] - to[1]]);
        cross += px * qy - py * qx;
        dot += px * qx + py * qy;
    }
    let mut placement = Placement { turn: libm::atan2(cross, dot), from, to, off: 0.0 };
    placement.off = moved.iter().zip(fixed).map(|(p, q)| distance(placement.point(*p), *q)).fold(0.0, f64::max);
    placement
}

/// Largest distance of a moved hole from its partner; `None` when kinds differ.
fn hole_misfit(moved: &[PlateHole], fixed: &[PlateHole], placement: &Placement) -> Option<f64> {
    let mut free: Vec<&PlateHole> = fixed.iter().collect();
    let mut worst = 0.0f64;
    for hole in moved {
        let at = placement.point(hole.at);
        let (number, off) = free
            .iter()
            .enumerate()
            .filter(|(_, other)| is_kind_of(hole, other))
            .map(|(number, other)| (number, distance(at, other.at)))
            .min_by(|p, q| p.1.total_cmp(&q.1))?;
        free.swap_remove(number);
        worst = worst.max(off);
    }
    Some(worst)
}

fn is_kind_of(a: &PlateHole, b: &PlateHole) -> bool {
    let sinks = match (a.countersink, b.countersink) {
        (None, None) => true,
        (Some(a), Some(b)) => a.face == b.face && (a.diameter - b.diameter).abs() <= SAME,
        _ => false,
    };
    sinks && (a.diameter - b.diameter).abs() <= SAME
}

pub(super) fn distance(a: [f64; 2], b: [f64; 2]) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// Middle of an edge that ends at `to`.
fn middle(edge: PlateEdge, to: [f64; 2]) -> [f64; 2] {
    let chord = distance(edge.from, to).max(1e-300);
    let right = [(to[1] - edge.from[1]) / chord, (edge.from[0] - to[0]) / chord];
    [0, 1].map(|axis| 0.5 * (edge.from[axis] + to[axis]) + right[axis] * edge.rise)
}

/// Centre and radius of an arc that ends at `to`; `None` for a straight edge.
fn circle(edge: PlateEdge, to: [f64; 2]) -> Option<([f64; 2], f64)> {
    let chord = distance(edge.from, to);
    if edge.rise.abs() < 1e-6 || chord < 1e-9 {
        return None;
    }
    let radius = (0.25 * chord * chord + edge.rise * edge.rise) / (2.0 * edge.rise.abs());
    let top = middle(edge, to);
    let right = [(to[1] - edge.from[1]) / chord, (edge.from[0] - to[0]) / chord];
    Some(([0, 1].map(|axis| top[axis] - right[axis] * radius * edge.rise.signum()), radius))
}

/// Twice the area inside, positive when counter-clockwise, with arcs taken as their two chords.
fn area(edges: &[PlateEdge]) -> f64 {
    let count = edges.len();
    let points: Vec<[f64; 2]> = (0..count)
        .flat_map(|number| [edges[number].from, middle(edges[number], edges[(number + 1) % count].from)])
        .collect();
    let next = |number: usize| points[(number + 1) % points.len()];
    (0..points.len()).map(|number| points[number][0] * next(number)[1] - points[number][1] * next(number)[0]).sum()
}

/// The outline the other way round.
fn backwards(edges: &[PlateEdge]) -> Vec<PlateEdge> {
    let count = edges.len();
    (0..count)
        .map(|number| {
            let edge = (2 * count - 1 - number) % count;
            PlateEdge { from: edges[(edge + 1) % count].from, rise: -edges[edge].rise }
        })
        .collect()
}

/// Joins edges that are one line or one arc, and drops edges without length. Tells a disc, of which no edge is left.
fn plain(edges: &mut Vec<PlateEdge>) -> Option<([f64; 2], f64)> {
    let mut number = 0;
    let mut kept = 0;
    while kept < edges.len() && !edges.is_empty() {
        let count = edges.len();
        number %= count;
        let next = (number + 1) % count;
        let (here, there) = (edges[number], edges[next]);
        let end = edges[(next + 1) % count].from;
        if count > 1 && distance(here.from, there.from) < 1e-6 {
            edges.remove(number);
            kept = 0;
            continue;
        }
        match (circle(here, there.from), circle(there, end)) {
            (None, None) if count > 2 && distance_to_line(there.from, here.from, end) < ON => {
                edges.remove(next);
                kept = 0;
                continue;
            }
            (Some((a, ra)), Some((b, rb)))
                if count > 1
                    && distance(a, b) < ON
                    && (ra - rb).abs() < ON
                    && (here.rise > 0.0) == (there.rise > 0.0) =>
            {
                if distance(here.from, end) < 1e-6 {
                    edges.clear();
                    return Some((a, ra));
                }
                let whole = PlateEdge { from: here.from, rise: joined_rise(here, there.from, a, ra, end) };
                edges[number] = whole;
                edges.remove(next);
                kept = 0;
                continue;
            }
            _ => {}
        }
        number += 1;
        kept += 1;
    }
    None
}

/// Rise of the arc about `centre` from the start of `edge`, which passes `through`, to `end`.
fn joined_rise(edge: PlateEdge, through: [f64; 2], centre: [f64; 2], radius: f64, end: [f64; 2]) -> f64 {
    let angle = |at: [f64; 2]| libm::atan2(at[1] - centre[1], at[0] - centre[0]);
    let sense = edge.rise.signum();
    let turn = |from: [f64; 2], to: [f64; 2]| (sense * (angle(to) - angle(from))).rem_euclid(core::f64::consts::TAU);
    let whole = turn(edge.from, through) + turn(through, end);
    sense * radius * (1.0 - libm::cos(0.5 * whole))
}

fn distance_to_line(at: [f64; 2], a: [f64; 2], b: [f64; 2]) -> f64 {
    let length = distance(a, b).max(1e-300);
    ((b[0] - a[0]) * (at[1] - a[1]) - (b[1] - a[1]) * (at[0] - a[0])).abs() / length
}
