//! Centrelines: straight legs joined by arcs, from corner points and a bend radius.

pub use crate::words::findings::path::PathError;

use super::{Cylinder, DVec3, Piece, Ray, Solid, TorusSector, turned};

/// Corners that turn by less than this are straight, radians.
const STRAIGHT: f64 = 1e-6;

/// A centreline: legs and the arcs between them, from first end to last.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// Straight parts between tangent points; one more than there are arcs. Their length may be 0, never less.
    pub legs: Vec<Leg>,
    /// Bends between the legs.
    pub arcs: Vec<Arc>,
}

/// A straight part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Leg {
    /// Where it starts.
    pub start: DVec3,
    /// Unit direction of travel.
    pub direction: DVec3,
    /// Length, mm.
    pub length: f64,
}

/// A bend.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre of the bend.
    pub centre: DVec3,
    /// Unit axis: direction before x direction after.
    pub axis: DVec3,
    /// Unit direction from the centre to where the bend starts.
    pub start: DVec3,
    /// Change of direction, radians.
    pub angle: f64,
    /// Centreline radius, mm.
    pub radius: f64,
}

impl Arc {
    /// Length along the centreline, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.radius * self.angle
    }
}

impl Path {
    /// Rounds the corners of `points` (at least two) with arcs of `radius`. Corners without a change of direction are passed.
    ///
    /// Formula: tangent length = radius x tan(angle / 2).
    ///
    /// # Errors
    /// [`PathError`] when points coincide, the path turns straight back or the bends do not fit between corners.
    pub fn rounded(points: &[DVec3], radius: f64) -> Result<Self, PathError> {
        let mut directions = Vec::with_capacity(points.len());
        for (index, pair) in points.windows(2).enumerate() {
            let leg = pair[1] - pair[0];
            if leg.length() < 1e-6 {
                return Err(PathError::Coincident(index, index + 1));
            }
            directions.push(leg.normalize());
        }
        let mut corners = Vec::new();
        for index in 1..directions.len() {
            let (before, after) = (directions[index - 1], directions[index]);
            let angle = libm::atan2(before.cross(after).length(), before.dot(after));
            if angle > core::f64::consts::PI - 1e-3 {
                return Err(PathError::TurnsBack(index));
            }
            if angle > STRAIGHT {
                corners.push((index, angle, radius * libm::tan(angle / 2.0)));
            }
        }
        let mut path = Self { legs: Vec::with_capacity(corners.len() + 1), arcs: Vec::with_capacity(corners.len()) };
        let (mut from, mut taken) = (0, 0.0);
        for &(corner, angle, tangent) in &corners {
            path.push_leg(points, from, corner, taken, tangent)?;
            let (before, after) = (directions[corner - 1], directions[corner]);
            let axis = before.cross(after).normalize();
            let start_point = points[corner] - before * tangent;
            let inward = axis.cross(before);
            path.arcs.push(Arc { centre: start_point + inward * radius, axis, start: -inward, angle, radius });
            (from, taken) = (corner, tangent);
        }
        path.push_leg(points, from, points.len() - 1, taken, 0.0)?;
        Ok(path)
    }

    fn push_leg(
        &mut self,
        points: &[DVec3],
        from: usize,
        to: usize,
        taken: f64,
        tangent: f64,
    ) -> Result<(), PathError> {
        let whole = points[to] - points[from];
        let length = whole.length();
        if length < 1e-6 {
            return Err(PathError::Coincident(from, to));
        }
        let needed = taken + tangent;
        if length - needed < -1e-6 {
            return Err(PathError::TooShort { from, to, length, needed });
        }
        let direction = whole / length;
        self.legs.push(Leg { start: points[from] + direction * taken, direction, length: (length - needed).max(0.0) });
        Ok(())
    }

    /// Length along the centreline, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.legs.iter().map(|leg| leg.length).sum::<f64>() + self.arcs.iter().map(Arc::length).sum::<f64>()
    }

    /// First leg.
    #[must_use]
    pub fn first(&self) -> Leg {
        self.legs[0]
    }

    /// Last leg.
    #[must_use]
    pub fn last(&self) -> Leg {
        self.legs[self.legs.len() - 1]
    }

    /// First point of the centreline.
    #[must_use]
    pub fn start(&self) -> DVec3 {
        self.first().start
    }

    /// Last point of the centreline.
    #[must_use]
    pub fn end(&self) -> DVec3 {
        let last = self.last();
        last.start + last.direction * last.length
    }

    /// A direction square to the first leg, carried to the last leg without twist: turned with each bend about its axis.
    #[must_use]
    pub fn carried(&self, index: DVec3) -> DVec3 {
        self.arcs.iter().fold(index, |index, arc| turned(index, arc.axis, arc.angle))
    }

    /// Clock angle of the inside of each bend, the side towards its centre, about the carried index line that starts as `index`:
    /// right-handed about the direction of travel, radians in (-pi, pi].
    #[must_use]
    pub fn insides(&self, index: DVec3) -> Vec<f64> {
        let mut index = index;
        let insides = self.arcs.iter().zip(&self.legs).map(|(arc, leg)| {
            let inwards = -arc.start;
            let inside = libm::atan2(inwards.dot(leg.direction.cross(index)), inwards.dot(index));
            index = turned(index, arc.axis, arc.angle);
            inside
        });
        insides.collect()
    }

    /// The leg on which a station lies, counted from 0, and the station at which it starts, mm; `None` within a bend and beyond
    /// both ends.
    #[must_use]
    pub fn leg_at(&self, station: f64) -> Option<(usize, f64)> {
        let mut start = 0.0;
        for (number, leg) in self.legs.iter().enumerate() {
            if (start..=start + leg.length).contains(&station) {
                return Some((number, start));
            }
            start += leg.length + self.arcs.get(number).map_or(0.0, Arc::length);
        }
        None
    }

    /// The round bar about this centreline, its end legs made longer by `extension` at both ends.
    #[must_use]
    pub fn bar(&self, radius: f64, extension: f64) -> Solid {
        let last = self.legs.len() - 1;
        let legs = self.legs.iter().enumerate().map(|(index, leg)| {
            let before = if index == 0 { extension } else { 0.0 };
            let after = if index == last { extension } else { 0.0 };
            Piece::Cylinder(Cylinder {
                point: leg.start - leg.direction * before,
                axis: leg.direction,
                radius,
                length: Some(leg.length + before + after),
            })
        });
        let bends = self.arcs.iter().map(|arc| {
            Piece::Torus(TorusSector {
                centre: arc.centre,
                axis: arc.axis,
                start: arc.start,
                angle: arc.angle,
                bend_radius: arc.radius,
                radius,
            })
        });
        Solid::new(legs.chain(bends).collect())
    }

    /// Points of the centreline for drawing: ends of legs and points on arcs no further apart than `step` radians.
    #[must_use]
    pub fn points(&self, step: f64) -> Vec<DVec3> {
        let mut points = vec![self.start()];
        for (leg, arc) in self.legs.iter().zip(&self.arcs) {
            points.push(Ray { origin: leg.start, direction: leg.direction }.at(leg.length));
            let count = (arc.angle / step).ceil().max(1.0);
            let mut at = 1.0;
            while at <= count {
                points.push(arc.centre + turned(arc.start, arc.axis, arc.angle * at / count) * arc.radius);
                at += 1.0;
            }
        }
        points.push(self.end());
        points
    }
}
