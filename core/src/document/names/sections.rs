//! Sections and stock: what they name, and sizes that make a tube.

use super::{Known, nearest, readable};
use crate::document::finding::{Finding, Findings};
use crate::document::section::{Section, Stock};
use crate::words::findings::document::DocumentFault;
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
            let fact = DocumentFault::UnknownSection { section, advice: nearest(section, known.sections.iter()) };
            findings.push(Finding::error("unknown-section", format!("/stock/{index}/section"), fact));
        }
    }
}

fn refer_section(name: &str, section: &Section, known: &Known, findings: &mut Findings) {
    let mut error = |code: &str, rest: &str, fact: DocumentFault| {
        findings.push(Finding::error(code, format!("/sections/{name}{rest}"), fact));
    };
    let material = section.material.as_str();
    if !known.materials.contains(material) {
        let advice = nearest(material, known.materials.iter());
        error("unknown-material", "/material", DocumentFault::UnknownMaterial { material, advice });
    }
    match (&section.round, &section.rect) {
        (Some(round), None) => {
            let (od, wall) = (round.od.get(), round.wall.get());
            if wall * 2.0 >= od {
                let fact = DocumentFault::NoBore { wall, od, under: od / 2.0 };
                error("wall-too-thick", "/round/wall", fact);
            }
        }
        (None, Some(rect)) => {
            let (wall, corner) = (rect.wall.get(), rect.corner.get());
            let least = rect.width.get().min(rect.height.get());
            if wall * 2.0 >= least {
                let fact = DocumentFault::NoBoreInRect { wall, least, under: least / 2.0 };
                error("wall-too-thick", "/rect/wall", fact);
            } else if corner < wall || corner * 2.0 >= least {
                let fact = DocumentFault::CornerRadius { corner, wall, under: least / 2.0 };
                error("corner-impossible", "/rect/corner", fact);
            }
        }
        _ => error("section-unclear", "", DocumentFault::SectionUnclear),
    }
}
