//! The curves that two surfaces have in common: lines, circles and ellipses as such, anything else as a smooth cubic spline.

use super::exchange::{Exchange, Id, list, real, reals};
use super::surface::{Surface, common_point};
use crate::geometry::DVec3;

/// Largest distance of a spline from the true curve, mm.
const FIT: f64 = 5e-5;

/// Shortest piece of a spline, mm.
const SHORTEST: f64 = 1e-4;

/// Surfaces that meet under a smaller angle than this give no direction of their common curve, radians.
const GRAZING: f64 = 1e-4;

/// A curve from one vertex to another.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Curve {
    /// Straight between its vertices.
    Line,
    /// A circle or an ellipse, right-handed about `axis`; the first radius is that along `major`.
    Conic { centre: DVec3, axis: DVec3, major: DVec3, radii: [f64; 2] },
    /// A smooth curve through nodes.
    Spline(Vec<Node>),
}

/// A point of a spline and the unit direction in which the curve passes it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Node {
    pub(super) at: DVec3,
    pub(super) way: DVec3,
}

/// A point of a curve, with the number by which whoever traces it finds it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct TracedPoint {
    pub(super) number: f64,
    pub(super) at: DVec3,
}

/// The curve along both surfaces through `places` (at least two), in their order. `middle` finds the place half-way between two
/// neighbours, near the point given.
pub(super) fn along(
    a: &Surface,
    b: &Surface,
    places: Vec<TracedPoint>,
    middle: impl Fn(TracedPoint, TracedPoint, DVec3) -> Option<TracedPoint>,
) -> Curve {
    if let (Surface::Plane { .. }, Surface::Plane { .. }) = (a, b) {
        return Curve::Line;
    }
    if let Some(conic) = conic(a, b, &places).or_else(|| conic(b, a, &places)) {
        return conic;
    }
    let mut places = places;
    for _ in 0..14 {
        let nodes = nodes(a, b, &places);
        let mut finer = Vec::with_capacity(places.len());
        for (pair, node) in places.windows(2).zip(nodes.windows(2)) {
            finer.push(pair[0]);
            if pair[0].at.distance(pair[1].at) < 2.0 * SHORTEST {
                continue;
            }
            let drawn = (node[0].at + node[1].at) / 2.0 + (node[0].way - node[1].way) * (span(node[0], node[1]) / 8.0);
            if let Some(found) = middle(pair[0], pair[1], drawn) {
                let way = (node[0].way + node[1].way).normalize_or(node[0].way);
                let off = found.at - drawn;
                if (off - way * off.dot(way)).length() > FIT {
                    finer.push(found);
                }
            }
        }
        finer.extend(places.last());
        if finer.len() == places.len() {
            break;
        }
        places = finer;
    }
    Curve::Spline(nodes(a, b, &places))
}

/// The place half-way on the curve common to both surfaces, for curves that are traced by nothing else.
pub(super) fn between(
    a: &Surface,
    b: &Surface,
    from: TracedPoint,
    to: TracedPoint,
    near: DVec3,
) -> Option<TracedPoint> {
    common_point(a, b, near).map(|at| TracedPoint { number: 0.5 * (from.number + to.number), at })
}

/// A circle or an ellipse where a plane cuts a cylinder, a straight line where it runs along.
fn conic(a: &Surface, b: &Surface, places: &[TracedPoint]) -> Option<Curve> {
    let (Surface::Plane { point, normal }, Surface::Cylinder { point: foot, axis, radius }) = (*a, *b) else {
        return None;
    };
    let lean = normal.dot(axis);
    if lean.abs() < 1e-6 {
        return Some(Curve::Line);
    }
    let centre = foot + axis * ((point - foot).dot(normal) / lean);
    let (first, last) = (places[0].at - centre, places[places.len() - 1].at - centre);
    let across = axis - normal * lean;
    let is_circle = across.length() < 1e-9;
    let major = if is_circle { first.normalize_or(normal.any_orthonormal_vector()) } else { across.normalize() };
    let radii = if is_circle { [radius, radius] } else { [radius / lean.abs(), radius] };
    // The way round is the one on which the places between come before the last.
    let turn = |at: DVec3, about: DVec3| {
        let angle = |at: DVec3| libm::atan2(at.dot(about.cross(major)) / radii[1], at.dot(major) / radii[0]);
        (angle(at) - angle(first)).rem_euclid(core::f64::consts::TAU)
    };
    let halfway = match places.len() {
        2 => normal.cross(first).dot(last - first).signum(),
        count => {
            let between = places[count / 2].at - centre;
            if turn(between, normal) < turn(last, normal) { 1.0 } else { -1.0 }
        }
    };
    Some(Curve::Conic { centre, axis: normal * halfway, major, radii })
}

/// The places with the directions in which the curve passes them.
fn nodes(a: &Surface, b: &Surface, places: &[TracedPoint]) -> Vec<Node> {
    let last = places.len() - 1;
    let chord = |from: usize, to: usize| places[to].at - places[from].at;
    let known: Vec<Option<DVec3>> = (0..=last)
        .map(|index| {
            let at = places[index].at;
            let way = a.normal(at).cross(b.normal(at));
            let onwards = chord(index.saturating_sub(1), (index + 1).min(last));
            (way.length() > GRAZING).then(|| way.normalize() * way.dot(onwards).signum())
        })
        .collect();
    let reflected = |next: Option<DVec3>, chord: DVec3| {
        let straight = chord.normalize_or_zero();
        next.map_or(straight, |next| (straight * 2.0 * next.dot(straight) - next).normalize_or(straight))
    };
    let way = |index: usize| match known[index] {
        Some(way) => way,
        None if index == 0 => reflected(known[1], chord(0, 1)),
        None if index == last => reflected(known[last - 1], chord(last - 1, last)),
        None => {
            let (before, after) = (chord(index - 1, index), chord(index, index + 1));
            let (long, short) = (before.length().max(1e-12), after.length().max(1e-12));
            (before * (short / long) + after * (long / short)).normalize_or_zero()
        }
    };
    (0..=last).map(|index| Node { at: places[index].at, way: way(index) }).collect()
}

/// Length of the knot interval between two nodes, with which the cubic comes nearest to a circle: chord / cos^2(turn / 4).
fn span(from: Node, to: Node) -> f64 {
    let turn = from.way.dot(to.way).clamp(-1.0, 1.0);
    let half = ((1.0 + turn) / 2.0).sqrt();
    from.at.distance(to.at) * 2.0 / (1.0 + half)
}

impl Curve {
    /// Points on the curve other than its vertices that tell where it runs.
    pub(super) fn points(&self) -> &[Node] {
        match self {
            Self::Line | Self::Conic { .. } => &[],
            Self::Spline(nodes) => nodes,
        }
    }

    /// Writes the curve that runs from one point to another.
    pub(super) fn write(&self, exchange: &mut Exchange, from: DVec3, to: DVec3) -> Id {
        match self {
            Self::Line => {
                let start = exchange.point(from);
                let way = exchange.direction((to - from).normalize_or(DVec3::X));
                let vector = exchange.add(&format!("VECTOR('',#{way},1.)"));
                exchange.add(&format!("LINE('',#{start},#{vector})"))
            }
            Self::Conic { centre, axis, major, radii } => {
                let axes = exchange.axes(*centre, *axis, *major);
                if radii[0] == radii[1] {
                    exchange.add(&format!("CIRCLE('',#{axes},{})", real(radii[0], 9)))
                } else {
                    exchange.add(&format!("ELLIPSE('',#{axes},{})", reals(*radii, 9)))
                }
            }
            Self::Spline(nodes) => write_spline(exchange, nodes),
        }
    }
}

/// Each interior knot is double, and the curve passes each node at unit speed, so that it is smooth there.
fn write_spline(exchange: &mut Exchange, nodes: &[Node]) -> Id {
    let (first, last) = (nodes[0], nodes[nodes.len() - 1]);
    let mut poles = vec![exchange.point(first.at)];
    let (mut knots, mut knot) = (vec![0.0], 0.0);
    for pair in nodes.windows(2) {
        let length = span(pair[0], pair[1]);
        poles.push(exchange.point(pair[0].at + pair[0].way * (length / 3.0)));
        poles.push(exchange.point(pair[1].at - pair[1].way * (length / 3.0)));
        knot += length;
        knots.push(knot);
    }
    poles.push(exchange.point(last.at));
    let inner = knots.len() - 2;
    let multiplicities = format!("4,{}4", "2,".repeat(inner));
    exchange.add(&format!(
        "B_SPLINE_CURVE_WITH_KNOTS('',3,({}),.UNSPECIFIED.,.F.,.F.,({multiplicities}),({}),.UNSPECIFIED.)",
        list(poles),
        reals(knots, 9)
    ))
}
