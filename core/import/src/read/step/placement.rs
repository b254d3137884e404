//! Points, directions and placements, ISO 10303-42.

use super::record::{Exchange, Record, Value};
use glam::{DAffine3, DMat3, DVec3, dvec3};

/// A point, in the units of the file; a missing coordinate is 0.
pub fn point(exchange: &Exchange<'_>, value: &Value) -> Option<DVec3> {
    let record = exchange.of(value)?;
    match record.name() {
        "CARTESIAN_POINT" => coordinates(record.value(1)),
        "VERTEX_POINT" => point_of(exchange, record.value(1)),
        _ => None,
    }
}

fn point_of(exchange: &Exchange<'_>, value: &Value) -> Option<DVec3> {
    let record = exchange.of(value)?;
    record.is("CARTESIAN_POINT").then(|| coordinates(record.value(1))).flatten()
}

fn coordinates(list: &Value) -> Option<DVec3> {
    let numbers: Vec<f64> = list.items().iter().map(Value::number).collect::<Option<_>>()?;
    let at = |index: usize| numbers.get(index).copied().unwrap_or(0.0);
    (!numbers.is_empty() && numbers.len() <= 3).then(|| dvec3(at(0), at(1), at(2)))
}

/// A direction, of length 1; `None` where there is none.
pub fn direction(exchange: &Exchange<'_>, value: &Value) -> Option<DVec3> {
    let record = exchange.of(value)?;
    record.is("DIRECTION").then(|| coordinates(record.value(1)))??.try_normalize()
}

/// A placement as axes and origin, its origin scaled to mm.
pub fn placement(exchange: &Exchange<'_>, value: &Value, mm: f64) -> Option<DAffine3> {
    let record = exchange.of(value)?;
    record.is("AXIS2_PLACEMENT_3D").then(|| placed(exchange, &record, mm)).flatten()
}

fn placed(exchange: &Exchange<'_>, record: &Record, mm: f64) -> Option<DAffine3> {
    let origin = point(exchange, record.value(1))? * mm;
    let z = direction(exchange, record.value(2)).unwrap_or(DVec3::Z);
    let x = first_axis(z, direction(exchange, record.value(3)));
    Some(DAffine3 { matrix3: DMat3::from_cols(x, z.cross(x), z), translation: origin })
}

/// The first axis: a direction, or else the world's x, freed of its part along z.
fn first_axis(z: DVec3, wanted: Option<DVec3>) -> DVec3 {
    let free = |from: DVec3| from.reject_from_normalized(z).try_normalize();
    wanted.and_then(free).or_else(|| free(DVec3::X)).or_else(|| free(DVec3::Y)).unwrap_or(DVec3::X)
}

/// A transformation operator, which may mirror and scale (ISO 10303-42, base axis). One or three texts stand before the axes.
pub fn operator(exchange: &Exchange<'_>, record: &Record, mm: f64) -> Option<DAffine3> {
    // The origin is the only point, and two axes stand before it, whatever stands before them.
    let values = record.values();
    let origin_at = (0..values.len()).find(|&index| point(exchange, &values[index]).is_some())?;
    let first = origin_at.checked_sub(2)?;
    let axis = |index: usize| values.get(index).and_then(|value| direction(exchange, value));
    let z = axis(first + 4).unwrap_or(DVec3::Z);
    let x = first_axis(z, axis(first));
    let right_handed = z.cross(x);
    let y = match axis(first + 1) {
        Some(wanted) if wanted.dot(right_handed) < 0.0 => -right_handed,
        _ => right_handed,
    };
    let scale = values.get(first + 3).and_then(Value::number).unwrap_or(1.0);
    let axes = DMat3::from_cols(x, y, z) * scale;
    (scale.is_finite() && scale > 0.0)
        .then_some(DAffine3 { matrix3: axes, translation: point(exchange, &values[first + 2])? * mm })
}
