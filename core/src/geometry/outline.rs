//! Closed outlines in a plane: straight edges and arcs.

/// A place in the plane of an outline, mm.
pub type Flat = [f64; 2];

/// One edge of an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// A straight edge.
    Line {
        /// Where it starts.
        from: Flat,
        /// Where it ends.
        to: Flat,
    },
    /// A part of a circle.
    Arc {
        /// Centre of the circle.
        centre: Flat,
        /// Radius, mm.
        radius: f64,
        /// Angle of its start, radians from the x axis towards the y axis.
        start: f64,
        /// Angle swept, radians, positive towards the y axis.
        sweep: f64,
    },
}

/// A closed outline; each edge starts where the one before ends.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Outline {
    /// Its edges in order.
    pub edges: Vec<Edge>,
}

impl Edge {
    /// The arc from `from` through `through` to `to`; the straight edge when the three lie in line.
    #[must_use]
    pub fn through(from: Flat, through: Flat, to: Flat) -> Self {
        let (b, c) = (less(through, from), less(to, from));
        let twice = 2.0 * cross(b, c);
        if twice.abs() < 1e-9 * (dot(b, b) + dot(c, c)) {
            return Self::Line { from, to };
        }
        let (bb, cc) = (dot(b, b), dot(c, c));
        let middle = [(c[1] * bb - b[1] * cc) / twice, (b[0] * cc - c[0] * bb) / twice];
        let centre = [from[0] + middle[0], from[1] + middle[1]];
        let angle = |at: Flat| libm::atan2(at[1] - centre[1], at[0] - centre[0]);
        let start = angle(from);
        let turn = (angle(to) - start).rem_euclid(core::f64::consts::TAU);
        let sweep = if twice > 0.0 { turn } else { turn - core::f64::consts::TAU };
        Self::Arc { centre, radius: libm::hypot(middle[0], middle[1]), start, sweep }
    }

    /// The place at the part `t` of the edge, 0 at its start and 1 at its end.
    #[must_use]
    pub fn at(&self, t: f64) -> Flat {
        match *self {
            Self::Line { from, to } => [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])],
            Self::Arc { centre, radius, start, sweep } => {
                let (sin, cos) = libm::sincos(start + t * sweep);
                [centre[0] + radius * cos, centre[1] + radius * sin]
            }
        }
    }

    /// Length, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        match *self {
            Self::Line { from, to } => libm::hypot(to[0] - from[0], to[1] - from[1]),
            Self::Arc { radius, sweep, .. } => radius * sweep.abs(),
        }
    }

    /// Distance of a place from the edge, mm.
    #[must_use]
    pub fn distance(&self, place: Flat) -> f64 {
        let apart = |other: Flat| libm::hypot(place[0] - other[0], place[1] - other[1]);
        match *self {
            Self::Line { from, to } => {
                let (along, rest) = (less(to, from), less(place, from));
                let t = (dot(along, rest) / dot(along, along).max(1e-300)).clamp(0.0, 1.0);
                apart(self.at(t))
            }
            Self::Arc { centre, radius, start, sweep } => {
                let out = less(place, centre);
                if on_arc(libm::atan2(out[1], out[0]), start, sweep) {
                    (libm::hypot(out[0], out[1]) - radius).abs()
                } else {
                    apart(self.at(0.0)).min(apart(self.at(1.0)))
                }
            }
        }
    }

    /// Calls `visit(t)` for each crossing of the line `from + t way`.
    fn crossings(&self, from: Flat, way: Flat, mut visit: impl FnMut(f64)) {
        match *self {
            Self::Line { from: a, to: b } => {
                let along = less(b, a);
                let turn = cross(way, along);
                if turn.abs() < 1e-14 {
                    return;
                }
                let rest = less(a, from);
                let on_edge = cross(rest, way) / turn;
                // Half open, so that a corner counts once.
                if (0.0..1.0).contains(&on_edge) {
                    visit(cross(rest, along) / turn);
                }
            }
            Self::Arc { centre, radius, start, sweep } => {
                let rest = less(from, centre);
                let (a, b, c) = (dot(way, way), dot(rest, way), dot(rest, rest) - radius * radius);
                let square = b * b - a * c;
                if a < 1e-18 || square <= 0.0 {
                    return;
                }
                let root = square.sqrt();
                for t in [(-b - root) / a, (-b + root) / a] {
                    let at = [rest[0] + t * way[0], rest[1] + t * way[1]];
                    if on_arc(libm::atan2(at[1], at[0]), start, sweep) {
                        visit(t);
                    }
                }
            }
        }
    }
}

impl Outline {
    /// Area enclosed, mm2: positive when the edges run anticlockwise.
    ///
    /// Formula: half the integral of x dy - y dx; an arc adds its sector over its chord, radius^2 (sweep - sin sweep) / 2.
    #[must_use]
    pub fn area(&self) -> f64 {
        let edges = self.edges.iter().map(|edge| {
            let (from, to) = (edge.at(0.0), edge.at(1.0));
            let chord = cross(from, to) / 2.0;
            match *edge {
                Edge::Line { .. } => chord,
                Edge::Arc { radius, sweep, .. } => chord + radius * radius * (sweep - libm::sin(sweep)) / 2.0,
            }
        });
        edges.sum()
    }

    /// Length all round, mm.
    #[must_use]
    pub fn perimeter(&self) -> f64 {
        self.edges.iter().map(Edge::length).sum()
    }

    /// Centre of the enclosed area, mm.
    ///
    /// Formula: Green's theorem over each edge with Gauss' quadrature; straight edges come out exact.
    #[must_use]
    pub fn centroid(&self) -> Flat {
        let mut sums = [0.0, 0.0];
        for edge in &self.edges {
            for (t, dt) in panels(edge) {
                let (before, here, after) = (edge.at(t - dt / 2.0), edge.at(t), edge.at(t + dt / 2.0));
                let turn = cross(before, after);
                sums[0] += turn * (before[0] + 4.0 * here[0] + after[0]) / 6.0 / 3.0;
                sums[1] += turn * (before[1] + 4.0 * here[1] + after[1]) / 6.0 / 3.0;
            }
        }
        let area = self.area();
        if area.abs() < 1e-12 { [0.0, 0.0] } else { sums.map(|sum| sum / area) }
    }

    /// True when a place lies inside.
    #[must_use]
    pub fn contains(&self, place: Flat) -> bool {
        let mut inside = false;
        // A direction that no drawn edge is likely to have.
        let way = [0.884_312_7, 0.466_894_1];
        for edge in &self.edges {
            edge.crossings(place, way, |t| inside ^= t > 0.0);
        }
        inside
    }

    /// Distance of a place from the outline, negative inside, mm.
    #[must_use]
    pub fn distance(&self, place: Flat) -> f64 {
        let apart = self.edges.iter().map(|edge| edge.distance(place)).fold(f64::INFINITY, f64::min);
        if self.contains(place) { -apart } else { apart }
    }

    /// Stretches of the line `from + t way` that lie inside, as pairs of `t` in rising order.
    #[must_use]
    pub fn stretches(&self, from: Flat, way: Flat) -> Vec<(f64, f64)> {
        let mut crossings = Vec::new();
        for edge in &self.edges {
            edge.crossings(from, way, |t| crossings.push(t));
        }
        crossings.sort_by(f64::total_cmp);
        crossings.chunks_exact(2).map(|pair| (pair[0], pair[1])).collect()
    }

    /// The outline as seen from the back: mirrored across its y axis.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        use core::f64::consts::PI;
        let flip = |place: Flat| [-place[0], place[1]];
        let edges = self.edges.iter().rev().map(|edge| match *edge {
            Edge::Line { from, to } => Edge::Line { from: flip(to), to: flip(from) },
            Edge::Arc { centre, radius, start, sweep } => {
                Edge::Arc { centre: flip(centre), radius, start: PI - (start + sweep), sweep }
            }
        });
        Self { edges: edges.collect() }
    }

    /// Points round the outline for drawing, the first not repeated at the end; arcs within `tolerance` mm.
    #[must_use]
    pub fn points(&self, tolerance: f64) -> Vec<Flat> {
        let mut points = Vec::new();
        for edge in &self.edges {
            let count = match *edge {
                Edge::Line { .. } => 1.0,
                Edge::Arc { radius, sweep, .. } => {
                    let step = 2.0 * libm::acos((1.0 - tolerance / radius).clamp(-1.0, 1.0));
                    (sweep.abs() / step.max(1e-3)).ceil().max(1.0)
                }
            };
            let mut part = 0.0;
            while part < count {
                points.push(edge.at(part / count));
                part += 1.0;
            }
        }
        points
    }

    /// Lower and upper corner of the box that holds it.
    #[must_use]
    pub fn bounds(&self) -> (Flat, Flat) {
        let mut low = [f64::INFINITY; 2];
        let mut high = [f64::NEG_INFINITY; 2];
        for [x, y] in self.points(0.01) {
            low = [low[0].min(x), low[1].min(y)];
            high = [high[0].max(x), high[1].max(y)];
        }
        (low, high)
    }
}

/// Middles and widths of the parts into which an edge is cut to be summed.
fn panels(edge: &Edge) -> impl Iterator<Item = (f64, f64)> {
    let count: u32 = match edge {
        Edge::Line { .. } => 1,
        Edge::Arc { .. } => 256,
    };
    (0..count).map(move |part| ((f64::from(part) + 0.5) / f64::from(count), 1.0 / f64::from(count)))
}

fn on_arc(angle: f64, start: f64, sweep: f64) -> bool {
    use core::f64::consts::TAU;
    let turn = if sweep >= 0.0 { (angle - start).rem_euclid(TAU) } else { (start - angle).rem_euclid(TAU) };
    turn < sweep.abs()
}

fn less(a: Flat, b: Flat) -> Flat {
    [a[0] - b[0], a[1] - b[1]]
}

fn dot(a: Flat, b: Flat) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn cross(a: Flat, b: Flat) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::f64::consts::PI;

    fn half_disc() -> Outline {
        let arc = Edge::through([10.0, 0.0], [0.0, 10.0], [-10.0, 0.0]);
        Outline { edges: vec![arc, Edge::Line { from: [-10.0, 0.0], to: [10.0, 0.0] }] }
    }

    #[test]
    fn a_half_disc_has_the_area_and_the_centroid_of_the_handbooks() {
        // Half disc: area pi r^2 / 2, centroid 4 r / (3 pi) above its edge (any handbook of mechanics; from memory).
        let half = half_disc();
        assert!((half.area() - 50.0 * PI).abs() < 1e-9);
        assert!((half.perimeter() - (20.0 + 10.0 * PI)).abs() < 1e-9);
        let [x, y] = half.centroid();
        assert!(x.abs() < 1e-9 && (y - 40.0 / (3.0 * PI)).abs() < 1e-3, "{x} {y}");
    }

    #[test]
    fn lines_are_cut_where_they_leave_and_enter() {
        let half = half_disc();
        let found = half.stretches([-20.0, 6.0], [1.0, 0.0]);
        assert_eq!(found.len(), 1);
        assert!((found[0].0 - 12.0).abs() < 1e-9 && (found[0].1 - 28.0).abs() < 1e-9, "{found:?}");
        assert!(half.contains([0.0, 5.0]) && !half.contains([0.0, -1.0]) && !half.contains([8.0, 8.0]));
        assert!((half.distance([0.0, 2.0]) + 2.0).abs() < 1e-9 && (half.distance([0.0, 13.0]) - 3.0).abs() < 1e-9);
    }

    #[test]
    fn the_back_of_an_outline_is_its_mirror_image() {
        let mut shape = half_disc();
        shape.edges.pop();
        shape.edges.push(Edge::Line { from: [-10.0, 0.0], to: [-4.0, -6.0] });
        shape.edges.push(Edge::Line { from: [-4.0, -6.0], to: [10.0, 0.0] });
        let back = shape.mirrored();
        assert!((back.area() - shape.area()).abs() < 1e-9);
        assert!(back.contains([4.0, -5.0]) && !back.contains([-4.0, -5.0]));
        for pair in back.edges.windows(2) {
            let (end, start) = (pair[0].at(1.0), pair[1].at(0.0));
            assert!(libm::hypot(end[0] - start[0], end[1] - start[1]) < 1e-9);
        }
    }
}
