//! Sections and stock: what they name, and sizes that make a tube.

use super::{Known, nearest, readable};
use crate::document::finding::{Finding, Findings};
use crate::document::section::{Section, Stock};
use serde_json::Value;

pub(super) fn refer(document: &Value, known: &Known, findings: &mut Findings) {
    for (name, section) in document["sections"].as_object().into_iter().flatten() {
        if let Some(section) = readable::<Section>(section) {
            refer_section(name, &section, known, findings);
        }
    }
    for (index, stock) in document["stock"].as_array().into_iter().flatten().enumerate() {
        let Some(stock) = readable::<Stock>(stock) else { continue };
        let section = stock.section.as_str();
        if !known.sections.contains(section) {
            let message = format!("No section is called `{section}`. {}", nearest(section, known.sections.iter()));
            findings.push(Finding::error("unknown-section", format!("/stock/{index}/section"), message));
        }
    }
}

fn refer_section(name: &str, section: &Section, known: &Known, findings: &mut Findings) {
    let mut error = |code: &str, rest: &str, message: String| {
        findings.push(Finding::error(code, format!("/sections/{name}{rest}"), message));
    };
    let material = section.material.as_str();
    if !known.materials.contains(material) {
        let advice = nearest(material, known.materials.iter());
        error("unknown-material", "/material", format!("No material is called `{material}`. {advice}"));
    }
    match (&section.round, &section.rect) {
        (Some(round), None) => {
            let (od, wall) = (round.od.get(), round.wall.get());
            if wall * 2.0 >= od {
                let message =
                    format!("A wall of {wall} leaves no bore in a tube of {od}. Write a wall under {}.", od / 2.0);
                error("wall-too-thick", "/round/wall", message);
            }
        }
        (None, Some(rect)) => {
            let (wall, corner) = (rect.wall.get(), rect.corner.get());
            let least = rect.width.get().min(rect.height.get());
            if wall * 2.0 >= least {
                let message = format!(
                    "A wall of {wall} leaves no bore in a tube of {least}. Write a wall under {}.",
                    least / 2.0
                );
                error("wall-too-thick", "/rect/wall", message);
            } else if corner < wall || corner * 2.0 >= least {
                let message = format!(
                    "An outer corner radius of {corner} cannot be: it is at least the wall, {wall}, and under half the smaller side, {}. Measure it, or write twice the wall.",
                    least / 2.0
                );
                error("corner-impossible", "/rect/corner", message);
            }
        }
        _ => error("section-unclear", "", "A section is `round` or `rect`. Give the one or the other.".into()),
    }
}
