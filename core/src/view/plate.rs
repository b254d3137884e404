//! A plate as it is seen: its edges, and what it hides.

use super::chain::{Chain, Curve, CurvePoint};
use super::look::Look;
use crate::frame::PlacedPlate;
use crate::geometry::{DVec3, Edge, Flat, Ray};
use core::f64::consts::TAU;

/// Steps round a hole.
const ROUND: u32 = 48;

/// Chords of an arc lie this close to it, mm.
const CLOSE: f64 = 0.01;

/// A plate among the bodies of a scene.
#[derive(Debug)]
pub(super) struct PlateBody<'a> {
    placed: &'a PlacedPlate,
    /// Points round the outline.
    outline: Vec<Flat>,
}

impl<'a> PlateBody<'a> {
    pub(super) fn new(placed: &'a PlacedPlate) -> Self {
        Self { placed, outline: placed.plate.outline.points(CLOSE) }
    }

    /// Its corners in space, for a box about it.
    pub(super) fn corners(&self) -> impl Iterator<Item = DVec3> + '_ {
        let plate = &self.placed.plate;
        self.outline.iter().flat_map(|&at| [plate.point(at, 0.0), plate.point(at, plate.thickness)])
    }

    /// Middle of the face, for a leader to end on.
    pub(super) fn middle(&self) -> DVec3 {
        self.placed.plate.point(self.placed.plate.outline.centroid(), self.placed.plate.thickness / 2.0)
    }

    /// Edges of the outline and of holes on both faces, and sharp corners; the same from every side.
    pub(super) fn edges(&self, body: usize) -> Vec<Chain> {
        let plate = &self.placed.plate;
        let faces = [(0.0, -plate.up()), (plate.thickness, plate.up())];
        let mut chains = Vec::new();
        let mut put = |places: Vec<CurvePoint>| chains.extend(Chain::new(body, Curve::Edge, places));
        let turn = plate.outline.area().signum();
        for (height, normal) in faces {
            for edge in &plate.outline.edges {
                let places = parts(edge).into_iter().map(|part| CurvePoint {
                    at: plate.point(edge.at(part), height),
                    out: (normal + self.outwards(edge, part, turn)).normalize(),
                });
                put(places.collect());
            }
            for hole in &self.placed.holes {
                let mut circle = |diameter: f64| {
                    let places = (0..=ROUND).map(|step| {
                        let (sin, cos) = libm::sincos(TAU * f64::from(step % ROUND) / f64::from(ROUND));
                        let at = [hole.at[0] + diameter / 2.0 * cos, hole.at[1] + diameter / 2.0 * sin];
                        let inwards = plate.along * -cos + plate.across * -sin;
                        CurvePoint { at: plate.point(at, height), out: (normal + inwards).normalize() }
                    });
                    put(places.collect());
                };
                match hole.countersink {
                    Some(wide) if height > 0.0 => circle(wide),
                    _ => circle(hole.diameter),
                }
            }
        }
        let edges = &plate.outline.edges;
        for (index, edge) in edges.iter().enumerate() {
            let next = &edges[(index + 1) % edges.len()];
            let (before, after) = (self.outwards(edge, 1.0, turn), self.outwards(next, 0.0, turn));
            if before.dot(after) > 0.999 {
                continue;
            }
            let out = (before + after).normalize_or(before);
            let corner = |height: f64| CurvePoint { at: plate.point(edge.at(1.0), height), out };
            put(vec![corner(0.0), corner(plate.thickness)]);
        }
        chains
    }

    /// Where a rounded edge turns from the viewer.
    pub(super) fn contours(&self, body: usize, look: &Look) -> Vec<Chain> {
        let plate = &self.placed.plate;
        let turn = plate.outline.area().signum();
        let towards = [look.towards.dot(plate.along), look.towards.dot(plate.across)];
        let mut chains = Vec::new();
        for edge in &plate.outline.edges {
            let Edge::Arc { start, sweep, .. } = *edge else { continue };
            // Where the radius stands square to the direction of view.
            let square = libm::atan2(towards[0], -towards[1]);
            for angle in [square, square + TAU / 2.0] {
                let part = (angle - start).rem_euclid(TAU) / sweep.abs();
                let part = if sweep > 0.0 { part } else { (start - angle).rem_euclid(TAU) / sweep.abs() };
                if part > 1e-6 && part < 1.0 - 1e-6 {
                    let out = self.outwards(edge, part, turn);
                    let place = |height: f64| CurvePoint { at: plate.point(edge.at(part), height), out };
                    chains.extend(Chain::new(body, Curve::Contour, vec![place(0.0), place(plate.thickness)]));
                }
            }
        }
        chains
    }

    /// Whether the plate stands in the way of a ray.
    pub(super) fn blocks(&self, ray: &Ray) -> bool {
        let plate = &self.placed.plate;
        let mut blocked = false;
        plate.intervals(ray, |enter, leave| {
            if leave > 0.0 && !blocked {
                blocked = !self.is_hole(ray.at(enter), ray.at(leave));
            }
        });
        blocked
    }

    /// Whether a way through the plate runs through one hole.
    fn is_hole(&self, from: DVec3, to: DVec3) -> bool {
        let [a, b] = [from, to].map(|at| self.placed.plate.own(at));
        self.placed.holes.iter().any(|hole| {
            let within = |[x, y, _]: [f64; 3]| libm::hypot(x - hole.at[0], y - hole.at[1]) < hole.diameter / 2.0;
            within(a) && within(b)
        })
    }

    /// Outward normal of the outline in space at a part of an edge; `turn` is positive for an anticlockwise outline.
    fn outwards(&self, edge: &Edge, part: f64, turn: f64) -> DVec3 {
        let [x, y] = match *edge {
            Edge::Line { from, to } => {
                let length = edge.length().max(1e-12);
                [(to[1] - from[1]) / length * turn, (from[0] - to[0]) / length * turn]
            }
            Edge::Arc { start, sweep, .. } => {
                let (sin, cos) = libm::sincos(start + part * sweep);
                let sign = turn * sweep.signum();
                [cos * sign, sin * sign]
            }
        };
        self.placed.plate.along * x + self.placed.plate.across * y
    }
}

/// Parts of an edge between which its chords lie close to it, from 0 to 1.
fn parts(edge: &Edge) -> Vec<f64> {
    let count = match *edge {
        Edge::Line { .. } => 1,
        Edge::Arc { radius, sweep, .. } => {
            let step = 2.0 * libm::acos((1.0 - CLOSE / radius).clamp(-1.0, 1.0));
            #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)]
            let count = (sweep.abs() / step.max(0.02)).ceil().max(1.0) as u32;
            count
        }
    };
    (0..=count).map(|part| f64::from(part) / f64::from(count)).collect()
}
