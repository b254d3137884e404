//! One entity: from its pairs to what it draws, in its own coordinates.

use super::Fault;
use super::codepage::Codepage;
use super::drawing::real;
use super::ocs;
use super::pairs::Pair;
use crate::curve::{Arc, Piece};
use crate::read::spline::Spline;
use crate::words::dxf::Kind;
use glam::{DAffine3, DVec3, dvec3};

/// What an entity draws.
#[derive(Debug)]
pub enum Shape {
    /// Pieces end to end, in the coordinates of the block or model; true when closed.
    Pieces(Vec<Piece>, bool),
    /// A free curve that could not be taken apart into lines and arcs.
    Freeform,
    /// An ellipse that is no circle.
    Ellipse,
    /// A block, placed.
    Insert(Box<Insert>),
    /// Something else, by kind.
    Other(String),
}

/// A block placed once or in rows.
#[derive(Debug)]
pub struct Insert {
    /// Name of the block in lower case.
    pub block: String,
    /// From the block to what it is placed in, but for the block's base point.
    pub places: DAffine3,
    /// Columns and their step, rows and their step, in the rotated axes of the placement.
    pub array: (u32, f64, u32, f64),
    /// Axes of the array's steps.
    pub steps: DAffine3,
}

/// One entity.
#[derive(Debug)]
pub struct Entity {
    /// Kind, as the file calls it.
    pub kind: &'static str,
    /// Layer.
    pub layer: String,
    /// Line of its first value.
    pub line: u64,
    /// True when it stands on a paper sheet.
    pub on_paper: bool,
    /// What it draws.
    pub shape: Shape,
}

/// Kinds that draw curves, and so have their values read.
const WANTED: [&str; 9] = ["LINE", "ARC", "CIRCLE", "LWPOLYLINE", "POLYLINE", "SPLINE", "ELLIPSE", "INSERT", "VERTEX"];

/// The pairs of one entity, and of the vertices that follow a polyline.
#[derive(Debug, Default)]
pub struct Group<'a> {
    kind: &'a [u8],
    wanted: Option<&'static str>,
    line: u64,
    pairs: Vec<Pair<'a>>,
    /// Where the pairs of each vertex begin.
    vertices: Vec<usize>,
}

impl<'a> Group<'a> {
    pub fn restart(&mut self, pair: &Pair<'a>) {
        self.kind = pair.value.text();
        self.wanted = WANTED.into_iter().find(|kind| kind.as_bytes() == self.kind);
        self.line = pair.line;
        self.pairs.clear();
        self.vertices.clear();
    }

    pub fn kind(&self) -> &[u8] {
        self.kind
    }

    pub fn is_wanted(&self) -> bool {
        // Of others the layer and the sheet would be known, yet they are counted by kind alone.
        self.wanted.is_some()
    }

    pub fn push(&mut self, pair: Pair<'a>) {
        self.pairs.push(pair);
    }

    pub fn len(&self) -> usize {
        self.pairs.len()
    }

    pub fn next_vertex(&mut self, pair: &Pair<'a>) {
        if pair.value.text() == b"VERTEX" {
            self.vertices.push(self.pairs.len());
        }
    }

    /// Pairs of the entity itself.
    fn own(&self) -> &[Pair<'a>] {
        &self.pairs[..self.vertices.first().copied().unwrap_or(self.pairs.len())]
    }

    fn find(&self, code: i32) -> Option<&Pair<'a>> {
        self.own().iter().find(|pair| pair.code == code)
    }

    fn number(&self, code: i32, default: f64) -> Result<f64, Fault> {
        self.find(code).map_or(Ok(default), real)
    }

    fn whole(&self, code: i32) -> i64 {
        self.find(code).and_then(|pair| pair.value.whole()).unwrap_or(0)
    }

    fn place(&self, code: i32) -> Result<DVec3, Fault> {
        Ok(dvec3(self.number(code, 0.0)?, self.number(code + 10, 0.0)?, self.number(code + 20, 0.0)?))
    }

    fn extrusion(&self) -> Result<DVec3, Fault> {
        Ok(dvec3(self.number(210, 0.0)?, self.number(220, 0.0)?, self.number(230, 1.0)?))
    }

    /// What this draws; `None` where it is nothing by itself.
    pub fn entity(&self, codepage: Codepage) -> Result<Option<Entity>, Fault> {
        let Some(kind) = self.wanted else {
            let kind = String::from_utf8_lossy(&self.kind[..self.kind.len().min(40)]).into_owned();
            let shape = Shape::Other(kind);
            return Ok(Some(Entity { kind: "", layer: String::new(), line: self.line, on_paper: false, shape }));
        };
        let layer =
            self.find(8).map_or_else(|| "0".to_owned(), |pair| crate::read::name_of(&codepage.read(pair.value.text())));
        let on_paper = self.whole(67) == 1;
        let shape = match kind {
            "LINE" => Shape::Pieces(vec![Piece::Line(self.place(10)?, self.place(11)?)], false),
            "ARC" | "CIRCLE" => self.arc(kind == "CIRCLE")?,
            "ELLIPSE" => self.ellipse()?,
            "LWPOLYLINE" => self.light_polyline()?,
            "POLYLINE" => self.polyline()?,
            "SPLINE" => self.spline()?,
            "INSERT" => self.insert(codepage)?,
            _ => return Ok(None),
        };
        Ok(Some(Entity { kind, layer, line: self.line, on_paper, shape }))
    }

    fn arc(&self, is_ring: bool) -> Result<Shape, Fault> {
        let (from, to) = if is_ring { (0.0, 360.0) } else { (self.number(50, 0.0)?, self.number(51, 360.0)?) };
        let mut sweep = (to - from).rem_euclid(360.0);
        if sweep < 1e-9 {
            sweep = 360.0;
        }
        let arc = Arc {
            centre: self.place(10)?,
            start: turned(from.to_radians()),
            normal: DVec3::Z,
            radius: self.number(40, 0.0)?,
            sweep: sweep.to_radians(),
        };
        let world = ocs::to_world(self.extrusion()?);
        Ok(Piece::Arc(arc)
            .moved(&world)
            .map_or(Shape::Pieces(Vec::new(), false), |piece| Shape::Pieces(vec![piece], sweep >= 360.0)))
    }

    fn ellipse(&self) -> Result<Shape, Fault> {
        let (major, ratio) = (self.place(11)?, self.number(40, 1.0)?);
        let (from, to) = (self.number(41, 0.0)?, self.number(42, core::f64::consts::TAU)?);
        if (ratio - 1.0).abs() > 1e-6 || major.length() == 0.0 {
            return Ok(Shape::Ellipse);
        }
        let normal = self.extrusion()?.try_normalize().unwrap_or(DVec3::Z);
        let x = major.normalize();
        let mut sweep = (to - from).rem_euclid(core::f64::consts::TAU);
        if sweep < 1e-9 {
            sweep = core::f64::consts::TAU;
        }
        let start = x * from.cos() + normal.cross(x) * from.sin();
        let arc = Arc { centre: self.place(10)?, start, normal, radius: major.length(), sweep };
        Ok(Shape::Pieces(vec![Piece::Arc(arc)], arc.is_ring()))
    }

    fn light_polyline(&self) -> Result<Shape, Fault> {
        let height = self.number(38, 0.0)?;
        let mut vertices: Vec<(DVec3, f64)> = Vec::new();
        for pair in self.own() {
            match (pair.code, vertices.last_mut()) {
                (10, _) => vertices.push((dvec3(real(pair)?, 0.0, height), 0.0)),
                (20, Some(last)) => last.0.y = real(pair)?,
                (42, Some(last)) => last.1 = real(pair)?,
                _ => {}
            }
        }
        Ok(bulged(&vertices, self.whole(70) & 1 == 1, &ocs::to_world(self.extrusion()?)))
    }

    fn polyline(&self) -> Result<Shape, Fault> {
        let flags = self.whole(70);
        if flags & (16 | 64) != 0 {
            return Ok(Shape::Other(Kind::Mesh.to_string()));
        }
        let in_space = flags & 8 != 0;
        let height = if in_space { 0.0 } else { self.number(30, 0.0)? };
        let mut vertices = Vec::new();
        for (index, &start) in self.vertices.iter().enumerate() {
            let end = self.vertices.get(index + 1).copied().unwrap_or(self.pairs.len());
            let (mut at, mut bulge, mut kind) = (dvec3(0.0, 0.0, height), 0.0, 0);
            for pair in &self.pairs[start..end] {
                match pair.code {
                    10 => at.x = real(pair)?,
                    20 => at.y = real(pair)?,
                    30 if in_space => at.z = real(pair)?,
                    42 => bulge = real(pair)?,
                    70 => kind = pair.value.whole().unwrap_or(0),
                    _ => {}
                }
            }
            // 16 marks control points of a spline's frame, which are not on the curve.
            if kind & 16 == 0 {
                vertices.push((at, if in_space { 0.0 } else { bulge }));
            }
        }
        let world = if in_space { DAffine3::IDENTITY } else { ocs::to_world(self.extrusion()?) };
        Ok(bulged(&vertices, flags & 1 == 1, &world))
    }

    fn spline(&self) -> Result<Shape, Fault> {
        let (mut knots, mut weights) = (Vec::new(), Vec::new());
        let mut points: Vec<DVec3> = Vec::new();
        for pair in self.own() {
            match (pair.code, points.last_mut()) {
                (40, _) => knots.push(real(pair)?),
                (41, _) => weights.push(real(pair)?),
                (10, _) => points.push(dvec3(real(pair)?, 0.0, 0.0)),
                (20, Some(last)) => last.y = real(pair)?,
                (30, Some(last)) => last.z = real(pair)?,
                _ => {}
            }
        }
        let degree = usize::try_from(self.whole(71)).unwrap_or(0);
        let pieces = Spline::new(degree, points, weights, knots).and_then(|spline| spline.pieces(None));
        Ok(pieces.map_or(Shape::Freeform, |pieces| {
            let closed = closes(&pieces);
            Shape::Pieces(pieces, closed)
        }))
    }

    fn insert(&self, codepage: Codepage) -> Result<Shape, Fault> {
        let world = ocs::to_world(self.extrusion()?);
        let turn = DAffine3::from_rotation_z(self.number(50, 0.0)?.to_radians());
        let scale = dvec3(self.number(41, 1.0)?, self.number(42, 1.0)?, self.number(43, 1.0)?);
        let at = DAffine3::from_translation(self.place(10)?);
        let count = |code| u32::try_from(self.whole(code).clamp(1, 1_000_000)).unwrap_or(1);
        Ok(Shape::Insert(Box::new(Insert {
            block: self.find(2).map(|pair| codepage.read(pair.value.text()).to_lowercase()).unwrap_or_default(),
            places: world * at * turn * DAffine3::from_scale(scale),
            array: (count(70), self.number(44, 0.0)?, count(71), self.number(45, 0.0)?),
            steps: world * turn,
        })))
    }
}

fn turned(angle: f64) -> DVec3 {
    dvec3(angle.cos(), angle.sin(), 0.0)
}

/// Whether the last piece ends where the first begins.
pub fn closes(pieces: &[Piece]) -> bool {
    let length: f64 = pieces.iter().map(Piece::length).sum();
    match (pieces.first(), pieces.last()) {
        (Some(first), Some(last)) => first.first().distance(last.last()) <= 1e-9 * length,
        _ => false,
    }
}

/// Pieces between vertices; a bulge is the tangent of a quarter of the angle that the arc to the next vertex turns to the left.
fn bulged(vertices: &[(DVec3, f64)], closed: bool, world: &DAffine3) -> Shape {
    let count = if closed { vertices.len() } else { vertices.len().saturating_sub(1) };
    let mut pieces = Vec::with_capacity(count);
    for index in 0..count {
        let ((from, bulge), (to, _)) = (vertices[index], vertices[(index + 1) % vertices.len()]);
        let chord = to - from;
        if chord.length() == 0.0 {
            continue;
        }
        let piece = if bulge == 0.0 {
            Piece::Line(from, to)
        } else {
            let left = DVec3::Z.cross(chord);
            let centre = (from + to) / 2.0 + left * (1.0 - bulge * bulge) / (4.0 * bulge);
            Piece::Arc(Arc {
                centre,
                start: (from - centre).normalize(),
                normal: DVec3::Z * bulge.signum(),
                radius: from.distance(centre),
                sweep: 4.0 * bulge.abs().atan(),
            })
        };
        pieces.extend(piece.moved(world));
    }
    let closed = closed || (pieces.len() > 2 && closes(&pieces));
    Shape::Pieces(pieces, closed)
}

#[cfg(test)]
mod tests {
    use super::{Shape, bulged};
    use crate::curve::Piece;
    use glam::{DAffine3, dvec3};

    #[test]
    fn a_bulge_of_one_is_half_a_circle_to_the_left() {
        // DXF reference: bulge = tan(angle / 4); positive turns left, so the middle lies to the right of the chord.
        let vertices = [(dvec3(0.0, 0.0, 5.0), 1.0), (dvec3(10.0, 0.0, 5.0), 0.0)];
        let Shape::Pieces(pieces, false) = bulged(&vertices, false, &DAffine3::IDENTITY) else { panic!("closed") };
        let [Piece::Arc(arc)] = pieces[..] else { panic!("{pieces:?}") };
        assert!(arc.at(arc.sweep / 2.0).distance(dvec3(5.0, -5.0, 5.0)) < 1e-9);
        assert!(arc.at(arc.sweep).distance(dvec3(10.0, 0.0, 5.0)) < 1e-9);
    }
}
