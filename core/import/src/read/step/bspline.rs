//! B-spline curves of a file.

use super::placement::point;
use super::record::{Exchange, Record, Value};
use crate::read::spline::Spline;
use glam::DVec3;

/// A B-spline curve with its knots, its points scaled to mm.
pub fn spline(exchange: &Exchange<'_>, record: &Record, mm: f64) -> Option<Spline> {
    let (curve, knots, weights) = if record.is("RATIONAL_B_SPLINE_CURVE") {
        (
            record.part("B_SPLINE_CURVE"),
            record.part("B_SPLINE_CURVE_WITH_KNOTS"),
            record.part("RATIONAL_B_SPLINE_CURVE").first(),
        )
    } else if record.name() == "B_SPLINE_CURVE_WITH_KNOTS" {
        // Name, degree, points, form, closed, self-intersecting, then multiplicities and knots.
        (record.values().get(1..6)?, record.values().get(6..)?, None)
    } else {
        return None;
    };
    let degree = count(curve.first()?)?;
    let points: Vec<DVec3> =
        curve.get(1)?.items().iter().map(|value| Some(point(exchange, value)? * mm)).collect::<Option<_>>()?;
    let mut written_out = Vec::new();
    for (times, knot) in knots.first()?.items().iter().zip(knots.get(1)?.items()) {
        let times = count(times).filter(|times| *times <= degree + 1)?;
        written_out.extend(core::iter::repeat_n(knot.number()?, times));
    }
    let weights = weights.map_or_else(|| Some(Vec::new()), |list| list.items().iter().map(Value::number).collect())?;
    Spline::new(degree, points, weights, written_out)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded just before")]
fn count(value: &Value) -> Option<usize> {
    let number = value.number()?;
    ((0.0..1000.0).contains(&number) && number.fract() == 0.0).then_some(number as usize)
}
