//! Vertices, edges and faces of a solid, and their entities.

use super::SolidError;
use super::curve::Curve;
use super::exchange::{Exchange, Id, list};
use super::surface::Surface;
use crate::geometry::DVec3;

/// Least length round a face, mm.
const LEAST_ROUND: f64 = 0.05;

/// An edge and the way in which a loop walks it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Walked {
    pub(super) edge: usize,
    pub(super) forwards: bool,
}

impl Walked {
    /// The same edge walked the other way.
    pub(super) fn back(self) -> Self {
        Self { forwards: !self.forwards, ..self }
    }
}

/// A closed walk, anticlockwise seen from outside the solid about an outer bound.
pub(super) type Loop = Vec<Walked>;

struct Edge {
    from: usize,
    to: usize,
    curve: Curve,
}

struct Face {
    surface: Surface,
    /// True where the surface's normal points out of the solid.
    outwards: bool,
    near: DVec3,
    /// The outer bound first.
    loops: Vec<Loop>,
}

/// A solid by its boundary.
#[derive(Default)]
pub(super) struct Brep {
    vertices: Vec<DVec3>,
    edges: Vec<Edge>,
    faces: Vec<Face>,
}

/// A loop walked the other way.
pub(super) fn reversed(walk: &[Walked]) -> Loop {
    walk.iter().rev().map(|walked| walked.back()).collect()
}

impl Brep {
    pub(super) fn vertex(&mut self, at: DVec3) -> usize {
        self.vertices.push(at);
        self.vertices.len() - 1
    }

    pub(super) fn at(&self, vertex: usize) -> DVec3 {
        self.vertices[vertex]
    }

    pub(super) fn edge(&mut self, from: usize, to: usize, curve: Curve) -> usize {
        self.edges.push(Edge { from, to, curve });
        self.edges.len() - 1
    }

    /// First and last vertex of a walked edge.
    pub(super) fn ends(&self, walked: Walked) -> (usize, usize) {
        let edge = &self.edges[walked.edge];
        if walked.forwards { (edge.from, edge.to) } else { (edge.to, edge.from) }
    }

    /// Mean of the points that are known along loops.
    pub(super) fn middle(&self, loops: &[Loop]) -> DVec3 {
        let (mut sum, mut count) = (DVec3::ZERO, 0.0);
        for walked in loops.iter().flatten() {
            let edge = &self.edges[walked.edge];
            let nodes = edge.curve.points().iter().map(|node| node.at);
            for at in nodes.chain([self.vertices[edge.from], self.vertices[edge.to]]) {
                sum += at;
                count += 1.0;
            }
        }
        sum / f64::max(count, 1.0)
    }

    /// Adds a face; `near` lies on it, or at least on the same side of the surface's axis.
    pub(super) fn face(&mut self, surface: Surface, outwards: bool, near: DVec3, loops: Vec<Loop>) {
        self.faces.push(Face { surface, outwards, near, loops });
    }

    /// Refuses a shell that is not closed, where some edge is not walked once each way, and one with a face too small for others
    /// to read.
    pub(super) fn check(&self) -> Result<(), SolidError> {
        let mut walks = vec![[0_u32; 2]; self.edges.len()];
        for face in &self.faces {
            for walk in &face.loops {
                if walk.iter().map(|walked| self.length(walked.edge)).sum::<f64>() < LEAST_ROUND {
                    return Err(SolidError::TooIntricate);
                }
                for (here, next) in walk.iter().zip(walk.iter().cycle().skip(1)) {
                    walks[here.edge][usize::from(here.forwards)] += 1;
                    if self.ends(*here).1 != self.ends(*next).0 {
                        return Err(SolidError::Open);
                    }
                }
            }
        }
        if walks.iter().all(|walks| *walks == [1, 1]) { Ok(()) } else { Err(SolidError::Open) }
    }

    /// Length of an edge along the points known of it, mm.
    fn length(&self, edge: usize) -> f64 {
        let Edge { from, to, curve } = &self.edges[edge];
        let points = [self.vertices[*from]].into_iter().chain(curve.points().iter().map(|node| node.at));
        let points: Vec<DVec3> = points.chain([self.vertices[*to]]).collect();
        points.windows(2).map(|pair| pair[0].distance(pair[1])).sum()
    }

    /// Writes the solid as one manifold brep.
    pub(super) fn write(&self, exchange: &mut Exchange, name: &str) -> Id {
        let vertices: Vec<Id> = self
            .vertices
            .iter()
            .map(|at| {
                let point = exchange.point(*at);
                exchange.add(&format!("VERTEX_POINT('',#{point})"))
            })
            .collect();
        let edges: Vec<Id> = self
            .edges
            .iter()
            .map(|edge| {
                let curve = edge.curve.write(exchange, self.vertices[edge.from], self.vertices[edge.to]);
                let (from, to) = (vertices[edge.from], vertices[edge.to]);
                exchange.add(&format!("EDGE_CURVE('',#{from},#{to},#{curve},.T.)"))
            })
            .collect();
        let faces: Vec<Id> = self.faces.iter().map(|face| face.write(exchange, &edges)).collect();
        let shell = exchange.add(&format!("CLOSED_SHELL('',({}))", list(faces)));
        exchange.add(&format!("MANIFOLD_SOLID_BREP({name},#{shell})"))
    }
}

impl Face {
    fn write(&self, exchange: &mut Exchange, edges: &[Id]) -> Id {
        let mut bounds = Vec::new();
        for (index, walk) in self.loops.iter().enumerate() {
            let mut oriented = Vec::new();
            for walked in walk {
                let (edge, sense) = (edges[walked.edge], flag(walked.forwards));
                oriented.push(exchange.add(&format!("ORIENTED_EDGE('',*,*,#{edge},{sense})")));
            }
            let ring = exchange.add(&format!("EDGE_LOOP('',({}))", list(oriented)));
            let kind = if index == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
            bounds.push(exchange.add(&format!("{kind}('',#{ring},.T.)")));
        }
        let surface = self.surface.write(exchange, self.near);
        exchange.add(&format!("ADVANCED_FACE('',({}),#{surface},{})", list(bounds), flag(self.outwards)))
    }
}

fn flag(value: bool) -> &'static str {
    if value { ".T." } else { ".F." }
}
