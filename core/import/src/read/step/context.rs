//! Units of a representation, from its context.

use super::record::{Exchange, Record, Value};
use std::f64::consts::PI;

/// Units in which a representation is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Units {
    /// mm in its unit of length; `None` where it states none.
    pub mm: Option<f64>,
    /// Radians in its unit of angle.
    pub radians: f64,
}

/// Deepest chain of units made of units.
const DEEPEST: usize = 6;

/// Units of a context.
pub fn units(exchange: &Exchange<'_>, context: Option<u64>) -> Units {
    let mut units = Units { mm: None, radians: 1.0 };
    let Some(record) = context.and_then(|id| exchange.record(id)) else { return units };
    let Some(list) = record.part("GLOBAL_UNIT_ASSIGNED_CONTEXT").iter().find(|value| matches!(value, Value::List(_)))
    else {
        return units;
    };
    for unit in list.items().iter().filter_map(|value| exchange.of(value)) {
        if unit.is("LENGTH_UNIT") {
            units.mm = factor(exchange, &unit, DEEPEST).map(|metres| metres * 1000.0).filter(|mm| *mm > 0.0);
        } else if unit.is("PLANE_ANGLE_UNIT") {
            units.radians = factor(exchange, &unit, DEEPEST).unwrap_or(1.0);
        }
    }
    units
}

/// How many of the SI unit without prefix one unit is. A unit made by conversion is as large as its measure says, whatever its name.
fn factor(exchange: &Exchange<'_>, unit: &Record, deepest: usize) -> Option<f64> {
    if unit.is("SI_UNIT") {
        let own = unit.part("SI_UNIT");
        // In a simple record the dimensions stand first.
        let word = |from_last: usize| own.len().checked_sub(from_last).and_then(|index| own.get(index));
        let prefix = match word(2) {
            Some(Value::Word(prefix)) => prefix.as_str(),
            _ => "",
        };
        return Some(match prefix {
            "KILO" => 1e3,
            "HECTO" => 1e2,
            "DECA" => 1e1,
            "DECI" => 1e-1,
            "CENTI" => 1e-2,
            "MILLI" => 1e-3,
            "MICRO" => 1e-6,
            "NANO" => 1e-9,
            "" => 1.0,
            _ => return None,
        });
    }
    let conversion = unit.part("CONVERSION_BASED_UNIT");
    let measure = conversion.get(conversion.len().checked_sub(1)?).and_then(|value| exchange.of(value))?;
    let value = measure
        .values()
        .iter()
        .find_map(Value::number)
        .or_else(|| measure.part("MEASURE_WITH_UNIT").iter().find_map(Value::number))?;
    let attributes = if measure.is("MEASURE_WITH_UNIT") { measure.part("MEASURE_WITH_UNIT") } else { measure.values() };
    let base = attributes.iter().rev().find_map(|value| exchange.of(value))?;
    let base = factor(exchange, &base, deepest.checked_sub(1)?)?;
    let whole = value * base;
    // Degrees are written with few digits by some.
    let degree = PI / 180.0;
    let is_degree = unit.is("PLANE_ANGLE_UNIT") && (whole - degree).abs() < 1e-7;
    Some(if is_degree { degree } else { whole }).filter(|whole| whole.is_finite())
}
