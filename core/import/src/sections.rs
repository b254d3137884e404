//! Which layers are tubes, and of which size.

use crate::answers::{Answers, Size};
use crate::curve::{Curve, Piece, Tube};
use crate::report::{Code, Notes, Question, QuestionField};
use crate::words::sections::{NameUnit, Place, SectionFact};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Sizes of layers by name.
pub type Sizes = BTreeMap<String, Size>;

/// Most layers in a question.
const MOST_LAYERS: usize = 100;

/// Keeps the curves that are tubes, gives tubes without a size the one of their layer, and asks where sizes are missing. `mm` is
/// the unit of sizes in names.
pub fn settle(
    curves: Vec<Curve>,
    tubes: &mut [Tube],
    answers: &Answers,
    mm: f64,
    notes: &mut Notes,
) -> (Vec<Curve>, Sizes) {
    let mut layers: BTreeMap<String, (usize, f64)> = BTreeMap::new();
    for curve in &curves {
        let counted = layers.entry(curve.layer.clone()).or_default();
        counted.0 += 1;
        counted.1 += curve.pieces.iter().map(Piece::length).sum::<f64>();
    }
    for tube in tubes.iter().filter(|tube| tube.size.is_none()) {
        layers.entry(tube.layer.clone()).or_default().0 += 1;
    }
    let mut sizes = Sizes::new();
    for layer in layers.keys() {
        if let Some(size) = answers.section(layer) {
            sizes.insert(layer.clone(), size);
        } else if answers.sections.is_none()
            && let Some((size, unit)) = in_name(layer, mm)
        {
            let fact = SectionFact::SizeFromName { size: size.into(), unit };
            notes.information(Code::SizeFromName, Place::Layer { name: layer }.to_string(), fact);
            sizes.insert(layer.clone(), size);
        }
    }
    for (layer, (count, _)) in layers.iter().filter(|(layer, _)| !sizes.contains_key(*layer) && !sizes.is_empty()) {
        let fact = SectionFact::LayerNotUsed { count: *count };
        notes.information(Code::LayerNotUsed, Place::Layer { name: layer }.to_string(), fact);
    }
    let lacks = tubes.iter().any(|tube| tube.size.is_none() && !sizes.contains_key(&tube.layer));
    if lacks || (!curves.is_empty() && !curves.iter().any(|curve| sizes.contains_key(&curve.layer))) {
        ask(&layers, &sizes, answers, notes);
    }
    for tube in tubes.iter_mut().filter(|tube| tube.size.is_none()) {
        tube.size = sizes.get(&tube.layer).copied();
    }
    (curves.into_iter().filter(|curve| sizes.contains_key(&curve.layer)).collect(), sizes)
}

fn ask(layers: &BTreeMap<String, (usize, f64)>, sizes: &Sizes, answers: &Answers, notes: &mut Notes) {
    let without = layers.iter().filter(|(layer, _)| !sizes.contains_key(*layer));
    let figures: Vec<Value> = without
        .take(MOST_LAYERS)
        .map(|(layer, (count, length))| json!({"layer": if layer.is_empty() { "*" } else { layer.as_str() }, "curves": count, "length_mm": length.round()}))
        .collect();
    let which = if answers.sections.is_some() { SectionFact::WhichLayersInstead } else { SectionFact::WhichLayers };
    notes.ask(Question {
        field: QuestionField::Sections,
        stops: true,
        text: which.to_string(),
        default: Value::Null,
        figures: Value::Array(figures),
    });
}

/// A size in a name, such as `Tube 33.7x2.6` or `40x25x2`, in the file's unit, or in mm where only that is a tube's.
fn in_name(name: &str, mm: f64) -> Option<(Size, NameUnit)> {
    let numbers = factors(name);
    let sizes = |mm: f64| {
        let size = match numbers[..] {
            [width, height, wall, ..] if 2.0 * wall < width.min(height) => Size::Rect {
                width: width * mm,
                height: height * mm,
                wall: wall * mm,
                corner: (2.0 * wall * mm).min(width.min(height) * mm / 2.0),
            },
            [od, wall] if od > 2.0 * wall => Size::Round { od: od * mm, wall: wall * mm },
            _ => return None,
        };
        (size.is_in_range() && size.across() <= 300.0).then_some(size)
    };
    sizes(mm).map(|size| (size, NameUnit::OfFile)).or_else(|| sizes(1.0).map(|size| (size, NameUnit::Millimetre)))
}

/// The longest row of numbers with a sign for times between them.
fn factors(name: &str) -> Vec<f64> {
    let mut best: Vec<f64> = Vec::new();
    let mut row: Vec<f64> = Vec::new();
    let mut expects_number = true;
    let mut rest = name;
    while !rest.is_empty() {
        let digits =
            rest.find(|letter: char| !letter.is_ascii_digit() && letter != '.' && letter != ',').unwrap_or(rest.len());
        if digits > 0 && rest.starts_with(|letter: char| letter.is_ascii_digit()) {
            let number = rest[..digits].trim_end_matches(['.', ',']).replace(',', ".").parse::<f64>().ok();
            if !expects_number {
                row.clear();
            }
            row.extend(number);
            expects_number = false;
            rest = &rest[digits..];
        } else {
            let letter = rest.chars().next().unwrap_or(' ');
            let is_times = ['x', 'X', '×', '*'].contains(&letter);
            if is_times && !row.is_empty() && !expects_number {
                expects_number = true;
            } else if !letter.is_whitespace() {
                row.clear();
                expects_number = true;
            }
            rest = &rest[letter.len_utf8()..];
        }
        if row.len() > best.len() {
            best.clone_from(&row);
        }
    }
    if best.len() > 1 { best } else { Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::{NameUnit, Size, factors, in_name};

    #[test]
    fn sizes_are_found_in_names() {
        assert_eq!(factors("Tube 33.7x2.6"), [33.7, 2.6]);
        assert_eq!(factors("Ø33,7 × 2,6 S235"), [33.7, 2.6]);
        assert_eq!(factors("RHS_40x25x2"), [40.0, 25.0, 2.0]);
        assert!(factors("LAYER 2 x").is_empty() && factors("33.7 2.6").is_empty() && factors("").is_empty());
        assert_eq!(in_name("1.5x0.095", 25.4).map(|found| found.1), Some(NameUnit::OfFile));
        assert_eq!(in_name("33.7x2.6", 25.4), Some((Size::Round { od: 33.7, wall: 2.6 }, NameUnit::Millimetre)));
        assert_eq!(in_name("2x4", 1.0), None);
    }
}
