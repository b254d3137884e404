//! Bend radii: those told for sharp corners, and one for each tube.

use crate::answers::{Answers, Radii, RadiiOfSome};
use crate::curve::Tube;
use crate::report::{Code, Notes, Question, QuestionField};
use crate::words::tubes::TubeFact;
use glam::{DAffine3, DVec3};
use serde_json::{Value, json};

/// How near a told place must be to a corner, mm.
const NEAR: f64 = 1.0;
/// Radii of one tube that differ by less are the same, mm.
const SAME: f64 = 0.05;

/// Gives every sharp corner its told radius, and every tube one radius. Tubes with two are left out, which is said; a missing
/// radius is asked for. `to_design` takes coordinates of the source to the design, `source_mm` is its unit.
pub fn settle(
    tubes: Vec<Tube>,
    answers: &Answers,
    to_design: &DAffine3,
    source_mm: f64,
    notes: &mut Notes,
) -> Vec<Tube> {
    let (mut settled, mut missing) = (Vec::new(), Vec::new());
    for mut tube in tubes {
        if tube.radii.iter().all(Option::is_some) {
            settled.extend(with_one_radius(tube, notes));
            continue;
        }
        let Some(told) = told(&tube, answers, to_design, source_mm) else {
            missing.push(figure(&tube));
            continue;
        };
        if told > 0.0 {
            let corners = tube.radii.iter().filter(|radius| radius.is_none()).count();
            let fact = TubeFact::RadiusTaken { corners, radius: told };
            notes.information(Code::RadiusTaken, tube.place.as_str(), fact);
            tube.radii.iter_mut().for_each(|radius| *radius = radius.or(Some(told)));
            settled.extend(with_one_radius(tube, notes));
        } else {
            notes.information(Code::RadiusTaken, tube.place.as_str(), TubeFact::SplitAtCorners);
            settled.extend(pieces(&tube).into_iter().filter_map(|piece| with_one_radius(piece, notes)));
        }
    }
    if !missing.is_empty() {
        notes.ask(Question {
            field: QuestionField::Radius,
            stops: true,
            text: TubeFact::WhichRadius { tubes: missing.len() }.to_string(),
            default: Value::Null,
            figures: json!({"tubes": missing.len(), "first": missing.into_iter().take(40).collect::<Vec<_>>()}),
        });
    }
    settled
}

fn figure(tube: &Tube) -> Value {
    let corners: Vec<[f64; 3]> = tube.points[1..tube.points.len() - 1].iter().take(12).map(DVec3::to_array).collect();
    json!({"place": tube.place, "name": tube.name, "layer": tube.layer, "corners": corners})
}

fn told(tube: &Tube, answers: &Answers, to_design: &DAffine3, source_mm: f64) -> Option<f64> {
    match answers.radius.as_ref()? {
        Radii::All(radius) => Some(*radius),
        Radii::Some(RadiiOfSome { by_layer, by_tube_near }) => {
            let corners = &tube.points[1..tube.points.len() - 1];
            let near = |place: DVec3| corners.iter().any(|corner| corner.distance(place) < NEAR);
            let here = by_tube_near.iter().find_map(|told| {
                let at = DVec3::from(told.at);
                if near(at) {
                    return Some(told.radius);
                }
                near(to_design.transform_point3(at)).then_some(told.radius * source_mm)
            });
            let of_layer = || by_layer.iter().find(|(layer, _)| layer.to_lowercase() == tube.layer.to_lowercase());
            here.or_else(|| of_layer().map(|(_, radius)| *radius))
        }
    }
    .filter(|radius| radius.is_finite() && *radius >= 0.0)
}

/// The tubes between sharp corners.
fn pieces(tube: &Tube) -> Vec<Tube> {
    let mut pieces = Vec::new();
    let mut start = 0;
    let last = tube.points.len() - 1;
    for end in 1..=last {
        if end < last && tube.radii[end - 1].is_some() {
            continue;
        }
        let mut piece = tube.clone();
        piece.points = tube.points[start..=end].to_vec();
        piece.point_names = tube.point_names.get(start..=end).map_or_else(Vec::new, <[String]>::to_vec);
        piece.radii = tube.radii[start..end - 1].to_vec();
        pieces.push(piece);
        start = end;
    }
    pieces
}

/// The tube with the same radius at every corner; `None` where it has two, which is said.
fn with_one_radius(mut tube: Tube, notes: &mut Notes) -> Option<Tube> {
    let radii: Vec<f64> = tube.radii.iter().copied().flatten().collect();
    let sagitta = |corner: usize| {
        let turn = (tube.points[corner + 1] - tube.points[corner])
            .angle_between(tube.points[corner + 2] - tube.points[corner + 1]);
        1.0 - (turn / 2.0).cos()
    };
    // The bend that turns most tells its radius best.
    let Some(best) = (0..radii.len()).max_by(|a, b| sagitta(*a).total_cmp(&sagitta(*b))) else { return Some(tube) };
    let radius = radii[best];
    let differs = |corner: usize| {
        (radii[corner] - radius).abs() > SAME && (radii[corner] - radius).abs() * sagitta(corner) > 0.01
    };
    if let Some(other) = (0..radii.len()).find(|corner| differs(*corner)) {
        notes.warning(Code::TwoRadii, tube.place.as_str(), TubeFact::TwoRadii { radius, other: radii[other] });
        return None;
    }
    tube.radii.iter_mut().for_each(|own| *own = Some(radius));
    Some(tube)
}
