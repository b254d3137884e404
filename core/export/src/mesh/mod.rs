//! Finished parts as triangles: true coped tubes with their bores, bends and holes, and plates.

mod patch;
mod plate;
mod tube;

pub(crate) use plate::of_plate;
pub(crate) use tube::of_tube;

use matchmark_core::geometry::DVec3;

/// Triangles of one part, in the axes of the frame, mm; anticlockwise seen from outside.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Mesh {
    pub(crate) points: Vec<DVec3>,
    pub(crate) normals: Vec<DVec3>,
    pub(crate) triangles: Vec<[u32; 3]>,
    /// Holes that run into a cut or a bend, and are not drilled here.
    pub(crate) not_drilled: Vec<String>,
}

impl Mesh {
    /// Adds a vertex with its outward normal.
    fn vertex(&mut self, at: DVec3, normal: DVec3) -> u32 {
        self.points.push(at);
        self.normals.push(normal.normalize_or(DVec3::Z));
        u32::try_from(self.points.len() - 1).unwrap_or(u32::MAX)
    }

    /// Adds a triangle, turned over where `flipped`; one without an area is left out.
    fn triangle(&mut self, [a, b, c]: [u32; 3], flipped: bool) {
        let at = |vertex: u32| self.points[vertex as usize];
        if (at(b) - at(a)).cross(at(c) - at(a)).length() > 1e-9 {
            self.triangles.push(if flipped { [a, c, b] } else { [a, b, c] });
        }
    }

    /// Adds two triangles between neighbouring places of two runs: `a` and `b` of the first, `c` and `d` beyond them.
    fn quad(&mut self, [a, b, c, d]: [u32; 4], flipped: bool) {
        self.triangle([a, b, d], flipped);
        self.triangle([a, d, c], flipped);
    }
}
