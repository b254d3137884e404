//! Points by name, each place once. Where both sides are used, `x.L` stands for both.

use super::names::{Taken, allowed, without_hand};
use crate::curve::Tube;
use crate::pairs::Hand;
use glam::{DVec3, dvec3};
use serde_json::{Map, Value, json};
use std::collections::HashMap;

/// Places nearer than this are one point, mm.
const SAME: f64 = 0.001;

/// A place, turned to the left side.
#[derive(Debug)]
struct Folded {
    place: DVec3,
    left: bool,
    right: bool,
    /// Its name in the source; empty where it has none.
    source: String,
    name: String,
}

/// All points of a design.
#[derive(Debug, Default)]
pub struct Points {
    all: Vec<Folded>,
    at: HashMap<[i64; 3], Vec<usize>>,
}

#[expect(clippy::cast_possible_truncation, reason = "frames are some metres long")]
fn key(place: DVec3) -> [i64; 3] {
    (place / SAME).floor().to_array().map(|number| number as i64)
}

fn folded(place: DVec3) -> DVec3 {
    dvec3(place.x, place.y.abs(), place.z)
}

fn is_middle(place: DVec3) -> bool {
    place.y.abs() < SAME / 2.0
}

impl Points {
    /// Points of all tubes that are written: of a pair the left one.
    pub fn of(tubes: &[Tube], hands: &[Hand]) -> Self {
        let mut points = Self::default();
        for (tube, hand) in tubes.iter().zip(hands).filter(|(_, hand)| **hand != Hand::Right) {
            for (index, place) in tube.points.iter().enumerate() {
                let at = points.find_or_add(*place);
                let known = &mut points.all[at];
                let both = matches!(hand, Hand::Left(_));
                known.left |= both || place.y > 0.0;
                known.right |= both || place.y < 0.0;
                if let Some(name) =
                    tube.point_names.get(index).filter(|name| !name.is_empty() && known.source.is_empty())
                {
                    known.source.clone_from(name);
                }
            }
        }
        points.name_all();
        points
    }

    fn find(&self, place: DVec3) -> Option<usize> {
        let place = folded(place);
        let [x, y, z] = key(place);
        let near =
            (0..27).flat_map(|step| self.at.get(&[x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1])).flatten();
        near.copied().filter(|&index| self.all[index].place.distance(place) < SAME).min()
    }

    fn find_or_add(&mut self, place: DVec3) -> usize {
        self.find(place).unwrap_or_else(|| {
            let place = folded(place);
            self.all.push(Folded { place, left: false, right: false, source: String::new(), name: String::new() });
            self.at.entry(key(place)).or_default().push(self.all.len() - 1);
            self.all.len() - 1
        })
    }

    fn name_all(&mut self) {
        let mut taken = Taken::default();
        for (index, point) in self.all.iter_mut().enumerate() {
            let own = allowed(&point.source).map(|name| without_hand(&name).to_owned());
            point.name = taken.take(&own.unwrap_or_else(|| format!("p{}", index + 1)));
        }
    }

    /// The name of the point at a place.
    pub fn name(&self, place: DVec3) -> Option<String> {
        let point = &self.all[self.find(place)?];
        Some(match (point.left && point.right && !is_middle(point.place), place.y > 0.0) {
            (false, _) => point.name.clone(),
            (true, true) => format!("{}.L", point.name),
            (true, false) => format!("{}.R", point.name),
        })
    }

    /// The document's `points`.
    pub fn document(&self) -> Value {
        let mut points = Map::new();
        for point in &self.all {
            let place = point.place;
            if is_middle(place) {
                points.insert(point.name.clone(), coordinates(place));
            } else if point.left && point.right {
                points.insert(format!("{}.L", point.name), coordinates(place));
            } else {
                let side = if point.left { 1.0 } else { -1.0 };
                points.insert(point.name.clone(), coordinates(dvec3(place.x, place.y * side, place.z)));
            }
        }
        Value::Object(points)
    }
}

/// Coordinates to a ten-thousandth of a mm.
fn coordinates(place: DVec3) -> Value {
    json!(place.to_array().map(rounded))
}

/// A length to a ten-thousandth of a mm.
pub fn rounded(length: f64) -> f64 {
    let rounded = (length * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}
