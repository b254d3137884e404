//! Curves of a file as lines and arcs, in mm.

use super::bspline::spline;
use super::context::Units;
use super::placement::{direction, placement, point};
use super::record::{Exchange, Record, Value};
use crate::curve::{Arc, Piece};
use glam::DVec3;
use std::cell::Cell;
use std::f64::consts::TAU;

/// Deepest nesting of curves in curves.
const DEEPEST: usize = 8;

/// Why a curve is no line of tubes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum NoCurve {
    /// A kind that is not read, or one that goes on without end.
    Unknown,
    /// Neither straight nor an arc.
    Freeform,
    /// It refers to what is not there.
    Missing,
}

/// What reads curves of one representation.
#[derive(Clone, Copy)]
pub struct Wires<'a> {
    pub exchange: &'a Exchange<'a>,
    pub units: Units,
    pub mm: f64,
    /// How many more curves of this file are looked at.
    pub left: &'a Cell<usize>,
}

impl Wires<'_> {
    /// The pieces of a curve in order.
    pub fn pieces(&self, record: &Record) -> Result<Vec<Piece>, NoCurve> {
        self.at_depth(record, DEEPEST)
    }

    fn of(&self, value: &Value) -> Result<Record, NoCurve> {
        self.exchange.of(value).ok_or(NoCurve::Missing)
    }

    fn at_depth(&self, record: &Record, depth: usize) -> Result<Vec<Piece>, NoCurve> {
        let depth = depth.checked_sub(1).ok_or(NoCurve::Unknown)?;
        self.left.set(self.left.get().checked_sub(1).ok_or(NoCurve::Unknown)?);
        match record.name() {
            "POLYLINE" => {
                let points =
                    record.value(1).items().iter().map(|value| self.point(value)).collect::<Result<Vec<_>, _>>()?;
                Ok(points.windows(2).map(|ends| Piece::Line(ends[0], ends[1])).collect())
            }
            "TRIMMED_CURVE" => self.trimmed(record),
            "COMPOSITE_CURVE" => self.composite(record, depth),
            "EDGE_CURVE" => self.edge(record),
            "CIRCLE" => self.circle(record, 0.0, TAU).map(|arc| vec![Piece::Arc(arc)]),
            "SURFACE_CURVE" | "SEAM_CURVE" | "INTERSECTION_CURVE" => self.at_depth(&self.of(record.value(1))?, depth),
            _ if record.is("B_SPLINE_CURVE") || record.is("B_SPLINE_CURVE_WITH_KNOTS") => self.spline(record, None),
            _ => Err(NoCurve::Unknown),
        }
    }

    fn point(&self, value: &Value) -> Result<DVec3, NoCurve> {
        point(self.exchange, value).map(|at| at * self.mm).ok_or(NoCurve::Missing)
    }

    fn spline(&self, record: &Record, between: Option<(f64, f64)>) -> Result<Vec<Piece>, NoCurve> {
        let spline = spline(self.exchange, record, self.mm).ok_or(NoCurve::Unknown)?;
        let (least, most) = spline.range();
        let between = between.map(|(from, to)| (from.min(to).max(least), from.max(to).min(most)));
        spline.pieces(between.filter(|(from, to)| from < to)).ok_or(NoCurve::Freeform)
    }

    /// A circle from one angle to another, right-handed.
    fn circle(&self, record: &Record, from: f64, to: f64) -> Result<Arc, NoCurve> {
        let axes = placement(self.exchange, record.value(1), self.mm).ok_or(NoCurve::Missing)?;
        let radius = record.value(2).number().ok_or(NoCurve::Missing)? * self.mm;
        if record.name() == "ELLIPSE" {
            let other = record.value(3).number().ok_or(NoCurve::Missing)? * self.mm;
            if (radius - other).abs() > 1e-6 * radius {
                return Err(NoCurve::Freeform);
            }
        }
        if !(radius > 0.0 && radius < 1e9) {
            return Err(NoCurve::Missing);
        }
        let mut sweep = (to - from).rem_euclid(TAU);
        if sweep < 1e-9 {
            sweep = TAU;
        }
        let matrix = axes.matrix3;
        Ok(Arc {
            centre: axes.translation,
            start: matrix.x_axis * from.cos() + matrix.y_axis * from.sin(),
            normal: matrix.z_axis,
            radius,
            sweep,
        })
    }

    /// The angle of a place on a circle.
    fn angle(&self, circle: &Record, at: DVec3) -> Result<f64, NoCurve> {
        let axes = placement(self.exchange, circle.value(1), self.mm).ok_or(NoCurve::Missing)?;
        let out = axes.inverse().transform_point3(at);
        Ok(out.y.atan2(out.x))
    }

    fn trimmed(&self, record: &Record) -> Result<Vec<Piece>, NoCurve> {
        let basis = self.of(record.value(1))?;
        let agrees = record.value(4).is_true();
        let (first, last) = (record.value(2), record.value(3));
        let end = |trim: &Value| trim.items().iter().find_map(|value| self.point(value).ok());
        let parameter = |trim: &Value| trim.items().iter().find_map(Value::number).ok_or(NoCurve::Missing);
        let piece = match basis.name() {
            "LINE" => {
                let at = |trim| match end(trim) {
                    Some(place) => Ok(place),
                    None => self.on_line(&basis, parameter(trim)?),
                };
                Piece::Line(at(first)?, at(last)?)
            }
            "CIRCLE" | "ELLIPSE" => {
                let at = |trim| match end(trim) {
                    Some(place) => self.angle(&basis, place),
                    None => Ok(parameter(trim)? * self.units.radians),
                };
                let (from, to) = (at(first)?, at(last)?);
                if agrees {
                    Piece::Arc(self.circle(&basis, from, to)?)
                } else {
                    return Ok(vec![Piece::Arc(self.circle(&basis, to, from)?).reversed()]);
                }
            }
            _ if basis.is("B_SPLINE_CURVE") || basis.is("B_SPLINE_CURVE_WITH_KNOTS") => {
                let between = Some((parameter(first)?, parameter(last)?));
                return Ok(turned(self.spline(&basis, between)?, !agrees));
            }
            _ => return Err(NoCurve::Unknown),
        };
        Ok(vec![piece])
    }

    /// The place on a line at a parameter, which counts in lengths of its vector.
    fn on_line(&self, line: &Record, parameter: f64) -> Result<DVec3, NoCurve> {
        let vector = self.of(line.value(2))?;
        let along = direction(self.exchange, vector.value(1)).ok_or(NoCurve::Missing)?;
        let magnitude = vector.value(2).number().ok_or(NoCurve::Missing)?;
        Ok(self.point(line.value(1))? + along * (parameter * magnitude * self.mm))
    }

    fn composite(&self, record: &Record, depth: usize) -> Result<Vec<Piece>, NoCurve> {
        let mut pieces = Vec::new();
        for segment in record.value(1).items() {
            let segment = self.of(segment)?;
            // Transition, same sense, curve; a name may stand before them.
            let curve =
                segment.values().iter().rev().find_map(|value| self.exchange.of(value)).ok_or(NoCurve::Missing)?;
            let agrees = segment.values().iter().any(|value| matches!(value, Value::Word(word) if word == "T"));
            pieces.extend(turned(self.at_depth(&curve, depth)?, !agrees));
        }
        Ok(pieces)
    }

    /// An edge: its curve between its vertices.
    pub fn edge(&self, record: &Record) -> Result<Vec<Piece>, NoCurve> {
        let (from, to) = (self.point(record.value(1))?, self.point(record.value(2))?);
        let agrees = record.value(4).is_true();
        let mut curve = self.of(record.value(3))?;
        for _ in 0..DEEPEST {
            if !matches!(curve.name(), "SURFACE_CURVE" | "SEAM_CURVE" | "INTERSECTION_CURVE" | "TRIMMED_CURVE") {
                break;
            }
            curve = self.of(curve.value(1))?;
        }
        match curve.name() {
            "LINE" => Ok(vec![Piece::Line(from, to)]),
            "CIRCLE" | "ELLIPSE" => {
                let (first, last) = (self.angle(&curve, from)?, self.angle(&curve, to)?);
                if agrees {
                    Ok(vec![Piece::Arc(self.circle(&curve, first, last)?)])
                } else {
                    Ok(vec![Piece::Arc(self.circle(&curve, last, first)?).reversed()])
                }
            }
            "POLYLINE" | "COMPOSITE_CURVE" => Ok(turned(self.at_depth(&curve, DEEPEST)?, !agrees)),
            _ => Ok(turned(self.spline(&curve, None)?, !agrees)),
        }
    }
}

fn turned(mut pieces: Vec<Piece>, reverse: bool) -> Vec<Piece> {
    if reverse {
        pieces = pieces.iter().rev().map(Piece::reversed).collect();
    }
    pieces
}
