//! From the source's axes and unit to the design's: x forward, y left, z up, mm.

use crate::answers::Answers;
use crate::curve::{Curve, Piece, Tube};
use crate::report::{Code, Notes, Question, QuestionField};
use crate::unit::Unit;
use crate::words::place::{Place, PlaceFact, UnitDoubt};
use glam::{DAffine3, DMat3, DVec3};
use serde_json::{Value, json};

/// Least and greatest extent of a frame that needs no question, mm.
const LEAST: f64 = 100.0;
const MOST: f64 = 20_000.0;
/// The same of a tube's size across.
const SIZES: (f64, f64) = (3.0, 300.0);

/// The rotation that the answered axes are; `None` where they are none, which is an error of the report.
pub fn axes(answers: &Answers, notes: &mut Notes) -> Option<DMat3> {
    let Some(axes) = &answers.axes else { return Some(DMat3::IDENTITY) };
    let row = |axis: &String| {
        let (sign, letter) = match axis.trim().strip_prefix('-') {
            Some(letter) => (-1.0, letter),
            None => (1.0, axis.trim().trim_start_matches('+')),
        };
        match letter.to_lowercase().as_str() {
            "x" => Some(DVec3::X * sign),
            "y" => Some(DVec3::Y * sign),
            "z" => Some(DVec3::Z * sign),
            _ => None,
        }
    };
    let rows = axes.each_ref().map(row);
    if let [Some(x), Some(y), Some(z)] = rows {
        let matrix = DMat3::from_cols(x, y, z).transpose();
        if (matrix.determinant() - 1.0).abs() < 1e-9 {
            return Some(matrix);
        }
        if (matrix.determinant() + 1.0).abs() < 1e-9 {
            notes.error(Code::BadAnswers, Place::AnsweredAxes.to_string(), PlaceFact::MirroringAxes);
            return None;
        }
    }
    notes.error(Code::BadAnswers, Place::AnsweredAxes.to_string(), PlaceFact::BadAxes);
    None
}

/// From coordinates of the source, in a unit, to the design.
pub fn to_design(axes: DMat3, answers: &Answers, coordinates_mm: f64, source_mm: f64) -> DAffine3 {
    let origin = answers.origin.map_or(DVec3::ZERO, DVec3::from) * source_mm;
    DAffine3::from_mat3(axes) * DAffine3::from_translation(-origin) * DAffine3::from_scale(DVec3::splat(coordinates_mm))
}

/// Least and greatest coordinates.
pub fn extent(curves: &[Curve], tubes: &[Tube]) -> Option<(DVec3, DVec3)> {
    let of_curves =
        curves.iter().flat_map(|curve| &curve.pieces).flat_map(|piece: &Piece| [piece.first(), piece.last()]);
    let all = of_curves.chain(tubes.iter().flat_map(|tube| tube.points.iter().copied()));
    all.fold(None, |extent, place| {
        let (least, most) = extent.unwrap_or((place, place));
        Some((place.min(least), place.max(most)))
    })
}

/// Asks for the unit, with the size of the frame in each that could be meant. The extent is in units of the source.
pub fn ask_unit(extent: Option<(DVec3, DVec3)>, doubt: UnitDoubt<'_>, notes: &mut Notes) {
    let size = extent.map_or(DVec3::ZERO, |(least, most)| most - least);
    let figures: Vec<Value> = [Unit::Millimetre, Unit::Centimetre, Unit::Metre, Unit::Inch, Unit::Foot]
        .into_iter()
        .map(|unit| json!({"unit": unit.sign(), "size_mm": (size * unit.mm()).to_array().map(|length| (length * 10.0).round() / 10.0)}))
        .collect();
    notes.ask(Question {
        field: QuestionField::Unit,
        stops: true,
        text: PlaceFact::WhichUnit { doubt }.to_string(),
        default: Value::Null,
        figures: Value::Array(figures),
    });
}

/// Asks for the unit where the size of the frame or of its tubes is not that of a frame. `mm` is the unit that was taken.
pub fn check_size(tubes: &[Tube], told: bool, mm: f64, notes: &mut Notes) {
    let Some((least, most)) = extent(&[], tubes) else { return };
    let size = most - least;
    let longest = size.max_element();
    let across = |tube: &Tube| tube.size.map(|size| size.across());
    let odd = tubes.iter().filter_map(across).find(|across| !(SIZES.0..=SIZES.1).contains(across));
    let doubt = if longest > MOST {
        UnitDoubt::LargeFrame { metres: longest / 1000.0 }
    } else if longest < LEAST {
        UnitDoubt::SmallFrame { longest }
    } else if let Some(across) = odd {
        UnitDoubt::OddSize { across }
    } else {
        let bent = tubes
            .iter()
            .filter_map(|tube| Some((tube.radii.iter().copied().flatten().fold(f64::NAN, f64::max), across(tube)?)));
        if let Some((radius, across)) =
            bent.into_iter().find(|(radius, across)| *radius > 20.0 * across || *radius < across / 2.0)
        {
            let fact = PlaceFact::OddRadius { radius, across };
            notes.warning(Code::UnitDoubtful, Place::FrameSize.to_string(), fact);
        }
        return;
    };
    if told {
        notes.warning(Code::UnitDoubtful, Place::FrameSize.to_string(), PlaceFact::ToldUnitDoubtful { doubt });
    } else {
        ask_unit(Some((least / mm, most / mm)), doubt, notes);
    }
}

/// Says which axes were taken without an answer.
pub fn ask_axes(tubes: &[Tube], answers: &Answers, notes: &mut Notes) {
    let Some((least, most)) = extent(&[], tubes).filter(|_| answers.axes.is_none()) else { return };
    let rounded = |place: DVec3| place.to_array().map(|length| (length * 10.0).round() / 10.0);
    notes.ask(Question {
        field: QuestionField::Axes,
        stops: false,
        text: PlaceFact::WhichAxes.to_string(),
        default: json!(["x", "y", "z"]),
        figures: json!({"least_mm": rounded(least), "most_mm": rounded(most)}),
    });
}
