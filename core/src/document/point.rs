//! Points and directions.

use super::field::{Field, wrong_kind};
use super::finding::Findings;
use super::place::JsonPlace;
use super::scalar::{Component, Coordinate, Name};
use crate::words::findings::document::DocumentFault;
use crate::words::findings::values::Wanted;
use serde_json::{Value, json};

/// A place in the frame: x forward, y left, z up, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Point(pub [f64; 3]);

impl Field for Point {
    const MOST: usize = 100_000;

    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        triple::<Coordinate>(value, Wanted::Point, place, findings).map(|[x, y, z]| Self([x.get(), y.get(), z.get()]))
    }

    fn schema() -> Value {
        json!({"type": "array", "minItems": 3, "maxItems": 3, "items": Coordinate::schema()})
    }
}

/// A direction, of any length but zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Direction(pub [f64; 3]);

impl Field for Direction {
    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        let [x, y, z] = triple::<Component>(value, Wanted::Direction, place, findings)?.map(Component::get);
        if x * x + y * y + z * z < 1e-12 {
            findings.error("zero-direction", place, DocumentFault::NoDirection);
            return None;
        }
        Some(Self([x, y, z]))
    }

    fn schema() -> Value {
        json!({"type": "array", "minItems": 3, "maxItems": 3, "items": Component::schema()})
    }
}

fn triple<T: Field + Copy>(
    value: &Value,
    wanted: Wanted,
    place: &JsonPlace<'_>,
    findings: &mut Findings,
) -> Option<[T; 3]> {
    let Some([x, y, z]) = value.as_array().map(Vec::as_slice) else {
        wrong_kind(wanted, value, place, findings);
        return None;
    };
    let read =
        [(0, x), (1, y), (2, z)].map(|(index, component)| T::read(component, &JsonPlace::Item(place, index), findings));
    match read {
        [Some(x), Some(y), Some(z)] => Some([x, y, z]),
        _ => None,
    }
}

/// A point by name or by its coordinates.
#[derive(Debug, Clone, PartialEq)]
pub enum PointRef {
    /// A name of `points`.
    Named(Name),
    /// Coordinates in place.
    Here(Point),
}

impl Field for PointRef {
    const MOST: usize = 64;

    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        match value {
            Value::String(_) => Name::read(value, place, findings).map(Self::Named),
            Value::Array(_) => Point::read(value, place, findings).map(Self::Here),
            _ => {
                wrong_kind(Wanted::PointRef, value, place, findings);
                None
            }
        }
    }

    fn schema() -> Value {
        json!({"oneOf": [Name::schema(), Point::schema()]})
    }
}

/// A place in the plane of a plate, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlatPoint(pub [f64; 2]);

impl Field for FlatPoint {
    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        let Some([x, y]) = value.as_array().map(Vec::as_slice) else {
            wrong_kind(Wanted::FlatPoint, value, place, findings);
            return None;
        };
        let read = [(0, x), (1, y)].map(|(index, at)| Coordinate::read(at, &JsonPlace::Item(place, index), findings));
        match read {
            [Some(x), Some(y)] => Some(Self([x.get(), y.get()])),
            _ => None,
        }
    }

    fn schema() -> Value {
        json!({"type": "array", "minItems": 2, "maxItems": 2, "items": Coordinate::schema()})
    }
}
