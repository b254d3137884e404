//! An import over an existing design: what moved, what is new and what went, with all that the design has beside kept.

mod hands;
mod let_go;
mod matched;
mod merged;
mod named;
mod places;

use crate::report::{Code, Notes};
use crate::words::over::{OverFact, Place};
use glam::{DVec3, dvec3};
use matched::Told;
use matchmark_core::{Stop, Stopped};
use serde::Serialize;
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// What an import changes of an existing design.
#[derive(Debug, Clone, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportComparison))]
pub struct Comparison {
    /// Ids of members that are where they were.
    pub kept: Vec<String>,
    /// Members that moved, or changed their section or bends.
    pub moved: Vec<Moved>,
    /// Ids of members that are new.
    pub added: Vec<String>,
    /// Ids of members that are no longer in the files, and were taken out.
    pub removed: Vec<String>,
    /// Ids of members that are no longer in the files, but that something else of the design refers to. They stay until that is gone.
    pub still_referred_to: Vec<String>,
}

/// A member that moved.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportMoved))]
pub struct Moved {
    /// Its id in the design.
    pub id: String,
    /// How far its ends and corners moved at most, mm; null where the number of corners changed.
    pub by_mm: Option<f64>,
    /// The section before, where it has another now.
    pub section_before: Option<String>,
}

/// A member with its points, of a pair the one that is written.
#[derive(Debug, Clone)]
struct Placed {
    index: usize,
    id: String,
    points: Vec<DVec3>,
    radius: Option<f64>,
    mirror: bool,
    section: String,
}

/// The existing design brought up to what was imported, and the comparison.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted.
pub fn over(
    existing: &Value,
    imported: &Value,
    told: &Told,
    stop: Stop<'_>,
    notes: &mut Notes,
) -> Result<(Value, Comparison), Stopped> {
    let (mut existing, mut imported) = (existing.clone(), imported.clone());
    let (mut old, mut new) = (placed(&existing), placed(&imported));
    let unread = existing["members"].as_array().map_or(0, Vec::len) - old.len();
    if unread > 0 {
        let fact = OverFact::UnreadMembers { count: unread };
        notes.warning(Code::DesignNotValid, Place::Members.to_string(), fact);
    }
    let mut matches = matched::matched(&old, &new, &existing, &imported, told, stop)?;
    let free = |count: usize, taken: fn(&matched::Match) -> usize| -> BTreeSet<usize> {
        let taken: BTreeSet<usize> = matches.iter().map(taken).collect();
        (0..count).filter(|index| !taken.contains(index)).collect()
    };
    let (old_free, new_free) = (free(old.len(), |one| one.old), free(new.len(), |one| one.new));
    let old_apart = hands::apart((&old, &old_free, &existing), (&new, &new_free, &imported), told);
    let new_apart = hands::apart((&new, &new_free, &imported), (&old, &old_free, &existing), told);
    if !(old_apart.is_empty() && new_apart.is_empty()) {
        let pairs: Vec<&Placed> = old_apart.iter().map(|index| &old[*index]).collect();
        hands::say(&pairs, notes);
        hands::write_apart(&mut existing, &pairs);
        hands::write_apart(&mut imported, &new_apart.iter().map(|index| &new[*index]).collect::<Vec<_>>());
        (old, new) = (placed(&existing), placed(&imported));
        let both: Told = told
            .iter()
            .chain(&told.iter().filter_map(|name| other_hand_of(name)).collect::<Vec<_>>())
            .cloned()
            .collect();
        matches = matched::matched(&old, &new, &existing, &imported, &both, stop)?;
    }
    Ok(merged::merged(&existing, &imported, &old, &new, &matches, notes))
}

/// The other hand of a name in small letters.
fn other_hand_of(name: &str) -> Option<String> {
    let stem = name.strip_suffix(".l").map(|stem| (stem, ".r"));
    stem.or_else(|| name.strip_suffix(".r").map(|stem| (stem, ".l"))).map(|(stem, hand)| format!("{stem}{hand}"))
}

/// Members whose points are all known.
fn placed(document: &Value) -> Vec<Placed> {
    let points = document["points"].as_object();
    let members = document["members"].as_array().map_or(&[][..], Vec::as_slice);
    let read = |(index, member): (usize, &Value)| {
        let refs: Vec<&Value> = match member["path"].as_array() {
            Some(path) => path.iter().collect(),
            None => vec![&member["from"], &member["to"]],
        };
        Some(Placed {
            index,
            id: member["id"].as_str()?.to_owned(),
            points: refs.into_iter().map(|reference| place(reference, points)).collect::<Option<_>>()?,
            radius: member["radius"].as_f64(),
            mirror: member["mirror"] == true,
            section: member["section"].as_str()?.to_owned(),
        })
    };
    members.iter().enumerate().filter_map(read).filter(|member| member.points.len() >= 2).collect()
}

/// A point by name or by its coordinates.
fn place(reference: &Value, points: Option<&Map<String, Value>>) -> Option<DVec3> {
    let coordinates = |value: &Value| {
        let [x, y, z] = value.as_array()?.as_slice() else { return None };
        Some(dvec3(x.as_f64()?, y.as_f64()?, z.as_f64()?))
    };
    let Some(name) = reference.as_str() else { return coordinates(reference) };
    let points = points?;
    points.get(name).and_then(coordinates).or_else(|| {
        let other = matchmark_core::document::other_hand(name)?;
        coordinates(points.get(&other)?).map(|at| dvec3(at.x, -at.y, at.z))
    })
}

/// The size of a section, whatever its name and material.
fn size<'a>(document: &'a Value, section: &str) -> [&'a Value; 2] {
    let section = &document["sections"][section];
    [&section["round"], &section["rect"]]
}

/// Sizes of tubes as numbers, to be compared.
fn same_size(one: [&Value; 2], other: [&Value; 2]) -> bool {
    let close = |a: &Value, b: &Value| match (a.as_object(), b.as_object()) {
        (Some(a), Some(b)) => a.iter().all(|(name, figure)| {
            let there = b.get(name).and_then(Value::as_f64);
            figure.as_f64().zip(there).is_some_and(|(a, b)| (a - b).abs() < 2e-3)
        }),
        (None, None) => true,
        _ => false,
    };
    close(one[0], other[0]) && close(one[1], other[1])
}
