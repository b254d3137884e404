//! The document: sections, points and members.

mod names;
mod points;
mod roll;

use crate::answers::Size;
use crate::curve::Tube;
use crate::pairs::Hand;
use crate::report::{Code, Counts, Notes};
use crate::words::write::{DefaultName, Place, WriteFact};
use matchmark_core::document::FORMAT;
pub use names::words;
use names::{Taken, allowed, without_hand};
use points::Points;
pub use points::rounded;
pub use roll::stood_up;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// Density that is taken for carbon steel, kg/m3 (EN 10220).
const STEEL: f64 = 7850.0;

/// Longest name of a design or material, in letters.
pub const MOST_NAME: usize = 200;
/// Most letters of a note.
const MOST_NOTE: usize = 400;

/// A section of the design.
#[derive(Debug, Clone, PartialEq)]
struct Section {
    layer: String,
    size: Size,
    material: Option<String>,
    name: String,
}

/// The sections of a design, and which of them each tube has.
#[derive(Debug, Default)]
pub struct Sections {
    all: Vec<Section>,
    /// Number of each tube's section.
    pub of_tube: Vec<usize>,
}

impl Sections {
    /// Tubes of one layer, size and material have one section. It is named after the layer, or else after the size.
    pub fn of(tubes: &[Tube], notes: &mut Notes) -> Self {
        let mut sections = Self::default();
        let mut taken = Taken::default();
        for tube in tubes {
            let Some(size) = tube.size.map(even) else { continue };
            let known = sections.all.iter().position(|section| {
                section.layer == tube.layer && same(section.size, size) && section.material == tube.material
            });
            let index = known.unwrap_or_else(|| {
                let own = allowed(&tube.layer);
                let name = taken.take(&own.clone().unwrap_or_else(|| by_size(size)));
                if !tube.layer.is_empty() && name != tube.layer {
                    let fact = WriteFact::SectionRenamed { layer: &tube.layer, name: &name };
                    notes.information(Code::SectionRenamed, tube.place.as_str(), fact);
                }
                sections.all.push(Section { layer: tube.layer.clone(), size, material: tube.material.clone(), name });
                sections.all.len() - 1
            });
            sections.of_tube.push(index);
        }
        sections
    }
}

/// Sizes as a buyer would order them: rounding of other units gone.
fn even(size: Size) -> Size {
    let even = |length: f64| {
        let near = (length * 1e3).round() / 1e3;
        if (near - length).abs() < 1e-5 { near } else { rounded(length) }
    };
    match size {
        Size::Round { od, wall } => Size::Round { od: even(od), wall: even(wall) },
        Size::Rect { width, height, wall, corner } => {
            Size::Rect { width: even(width), height: even(height), wall: even(wall), corner: even(corner) }
        }
    }
}

fn same(one: Size, other: Size) -> bool {
    let figures = |size| match size {
        Size::Round { od, wall } => [od, wall, 0.0, 0.0],
        Size::Rect { width, height, wall, corner } => [width, height, wall, corner],
    };
    let kind = matches!(one, Size::Round { .. }) == matches!(other, Size::Round { .. });
    kind && figures(one).iter().zip(figures(other)).all(|(a, b)| (a - b).abs() < 2e-3)
}

fn by_size(size: Size) -> String {
    match size {
        Size::Round { od, wall } => format!("round-{od}x{wall}"),
        Size::Rect { width, height, wall, .. } => format!("rect-{width}x{height}x{wall}"),
    }
}

/// What is written.
#[derive(Debug)]
pub struct Written {
    /// The document.
    pub design: Value,
    /// What is in it.
    pub counts: Counts,
    /// Ids of members that the files tell, in small letters: no other member has the name.
    pub told: BTreeSet<String>,
}

/// The design document and what is in it.
pub fn document(name: &str, tubes: &[Tube], hands: &[Hand], sections: &Sections, notes: &mut Notes) -> Written {
    let points = Points::of(tubes, hands);
    let mut materials = Map::new();
    let mut written = Map::new();
    let mut untold = false;
    let mut material_names: BTreeMap<Option<String>, String> = BTreeMap::new();
    let mut taken = Taken::default();
    for section in &sections.all {
        let key = material_names.entry(section.material.clone()).or_insert_with(|| {
            let grade = section.material.as_deref();
            untold |= grade.is_none();
            let key = taken.take(&grade.and_then(allowed).unwrap_or_else(|| "steel".to_owned()));
            let name = grade.map_or_else(String::new, |grade| words(grade, MOST_NAME));
            let name = if name.is_empty() { DefaultName::Material.to_string() } else { name };
            materials.insert(key.clone(), json!({"name": name, "density": STEEL}));
            key
        });
        let mut value = match section.size {
            Size::Round { od, wall } => json!({"round": {"od": od, "wall": wall}}),
            Size::Rect { width, height, wall, corner } => {
                json!({"rect": {"width": width, "height": height, "wall": wall, "corner": corner}})
            }
        };
        value["material"] = json!(key);
        written.insert(section.name.clone(), value);
    }
    let fact =
        if untold { WriteFact::GradeNotTold { density: STEEL } } else { WriteFact::DensityNotTold { density: STEEL } };
    notes.warning(Code::MaterialNotTold, Place::Materials.to_string(), fact);
    let (members, told) = members(tubes, hands, sections, &points);
    let both = |hand: &Hand| matches!(hand, Hand::Left(_));
    let counts = Counts {
        tubes: tubes.len(),
        bent: tubes.iter().filter(|tube| tube.points.len() > 2).count(),
        pairs: hands.iter().filter(|hand| both(hand)).count(),
        sections: sections.all.len(),
    };
    let design = json!({
        "format": FORMAT,
        "name": name,
        "materials": materials,
        "sections": written,
        "points": points.document(),
        "members": members,
    });
    Written { design, counts, told }
}

/// The members in the order of the source. Ends carry no cut: those are decided from the whole design.
fn members(tubes: &[Tube], hands: &[Hand], sections: &Sections, points: &Points) -> (Vec<Value>, BTreeSet<String>) {
    let written = || tubes.iter().zip(hands).enumerate().filter(|(_, (_, hand))| **hand != Hand::Right);
    let mut of_name: BTreeMap<String, usize> = BTreeMap::new();
    for (_, (tube, _)) in written() {
        *of_name.entry(tube.name.to_lowercase()).or_default() += 1;
    }
    let (mut taken, mut told) = (Taken::default(), BTreeSet::new());
    let mut numbers: BTreeMap<String, usize> = BTreeMap::new();
    let mut members = Vec::new();
    for (index, (tube, hand)) in written() {
        let section = &sections.all[sections.of_tube[index]];
        let is_pair = matches!(hand, Hand::Left(_));
        let own = allowed(&tube.name);
        let is_told = own.is_some() && of_name.get(&tube.name.to_lowercase()) == Some(&1);
        let base = own.unwrap_or_else(|| {
            let number = numbers.entry(section.name.clone()).or_default();
            *number += 1;
            format!("{}-{number}", section.name.to_lowercase())
        });
        let id = if is_pair { taken.take_pair(without_hand(&base)) } else { taken.take(&base) };
        if is_told {
            told.insert(id.to_lowercase());
        }
        let mut member = Map::new();
        member.insert("id".into(), json!(id));
        member.insert("section".into(), json!(section.name));
        let names: Vec<String> = tube.points.iter().filter_map(|place| points.name(*place)).collect();
        if let [from, to] = &names[..] {
            member.insert("from".into(), json!(from));
            member.insert("to".into(), json!(to));
        } else {
            member.insert("path".into(), json!(names));
            if let Some(radius) = tube.radii.first().copied().flatten() {
                member.insert("radius".into(), json!(rounded(radius)));
            }
        }
        if let Some(roll) = roll::roll(tube) {
            member.insert("roll".into(), json!(roll));
        }
        if is_pair {
            member.insert("mirror".into(), json!(true));
        }
        let other = if let Hand::Left(other) = hand { tubes[*other].note.as_str() } else { "" };
        if let Some(note) = note(&tube.note, other) {
            member.insert("note".into(), json!(note));
        }
        members.push(Value::Object(member));
    }
    (members, told)
}

/// The note of a member, or those of both hands where they differ.
fn note(own: &str, other: &str) -> Option<String> {
    let mut notes = vec![words(own, MOST_NOTE), words(other, MOST_NOTE)];
    notes.dedup();
    let note = notes.into_iter().filter(|note| !note.is_empty()).collect::<Vec<_>>().join(" / ");
    (!note.is_empty()).then(|| note.chars().take(MOST_NOTE).collect())
}
