//! Named points of the design, where they are and where they go.

use super::matched::{Match, SAME};
use super::{Placed, place};
use crate::report::{Code, Notes};
use crate::words::over::{OverFact, Place};
use glam::DVec3;
use matchmark_core::document::other_hand;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet, HashMap};

/// Points nearer than this are one, mm.
const ONE: f64 = 1e-3;

/// Points by name, found by place.
#[derive(Debug, Default)]
pub struct Places {
    points: Map<String, Value>,
    near: HashMap<[i64; 3], Vec<String>>,
    next: usize,
}

/// Where the members that end at a named point want it.
#[derive(Debug, Default)]
struct Wanted {
    /// By its own name.
    own: Vec<DVec3>,
    /// By the name of its other hand, mirrored.
    other: Vec<DVec3>,
}

#[expect(clippy::cast_possible_truncation, reason = "frames are some metres long")]
fn key(at: DVec3) -> [i64; 3] {
    (at / (2.0 * ONE)).floor().to_array().map(|number| number as i64)
}

fn mirrored(at: DVec3) -> DVec3 {
    DVec3::new(at.x, -at.y, at.z)
}

fn all_near(places: &[DVec3]) -> bool {
    places.iter().all(|place| place.distance(places[0]) < SAME)
}

impl Places {
    /// The points of a design.
    pub fn of(design: &Value) -> Self {
        let points = design["points"].as_object().cloned().unwrap_or_default();
        let mut places = Self { points: Map::new(), next: 1, ..Self::default() };
        for (name, at) in points {
            places.put(&name, at);
        }
        places
    }

    /// As the document has them.
    pub fn into_document(self) -> Value {
        Value::Object(self.points)
    }

    fn put(&mut self, name: &str, at: Value) {
        self.points.insert(name.to_owned(), at);
        for name in [Some(name.to_owned()), other_hand(name)].into_iter().flatten() {
            if let Some(at) = self.at(&json!(name)) {
                self.near.entry(key(at)).or_default().push(name);
            }
        }
    }

    /// Where something is that names a point or has coordinates.
    pub fn at(&self, reference: &Value) -> Option<DVec3> {
        place(reference, Some(&self.points))
    }

    /// A point at a place: one of the design, or a new one.
    pub fn take(&mut self, at: DVec3) -> String {
        let [x, y, z] = key(at);
        let cells = (0..27).map(|step| [x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1]);
        let known = cells.filter_map(|cell| self.near.get(&cell)).flatten();
        let here = |name: &&String| self.at(&json!(name)).is_some_and(|there| there.distance(at) < ONE);
        if let Some(known) = known.filter(here).min() {
            return known.clone();
        }
        let name = loop {
            let name = format!("i{}", self.next);
            self.next += 1;
            if !self.points.contains_key(&name) {
                break name;
            }
        };
        self.put(&name, super::merged::coordinates(at));
        name
    }

    /// Moves named points that all members which end there agree about. Where they do not, the members get points of their own. What
    /// else refers to such a point is said.
    pub fn bring_up(
        &mut self,
        existing: &Value,
        (old, new): (&[Placed], &[Placed]),
        matches: &[Match],
        referred_to: &BTreeSet<&str>,
        notes: &mut Notes,
    ) {
        let mut wanted: BTreeMap<String, Wanted> = BTreeMap::new();
        for one in matches.iter().filter(|one| one.off.is_some()) {
            let names = super::merged::references(&existing["members"][old[one.old].index]);
            let now = super::merged::now(&new[one.new], one.turned);
            for (name, at) in names.iter().filter_map(Value::as_str).zip(now) {
                if self.points.contains_key(name) {
                    wanted.entry(name.to_owned()).or_default().own.push(at);
                } else if let Some(own) = other_hand(name) {
                    wanted.entry(own).or_default().other.push(mirrored(at));
                }
            }
        }
        let of_pairs: BTreeSet<String> = old
            .iter()
            .filter(|placed| placed.mirror)
            .flat_map(|placed| super::merged::references(&existing["members"][placed.index]))
            .filter_map(|name| name.as_str().map(str::to_owned))
            .collect();
        for (name, Wanted { own, other }) in wanted {
            let Some(before) = self.at(&json!(name)) else { continue };
            let both: Vec<DVec3> = own.iter().chain(&other).copied().collect();
            let hand = other_hand(&name).unwrap_or_default();
            let has_else = referred_to.contains(name.as_str()) || referred_to.contains(hand.as_str());
            let moves = |at: DVec3| before.distance(at) > 1e-4;
            let mut moved = None;
            if all_near(&both) {
                moved = both.first().copied().filter(|at| moves(*at));
                if let Some(at) = moved {
                    self.put(&name, super::merged::coordinates(at));
                }
            } else if all_near(&own) && all_near(&other) && !of_pairs.contains(&name) && !of_pairs.contains(&hand) {
                // Each hand has a place of its own now, and keeps its name.
                if let ([at, ..], [there, ..]) = (&own[..], &other[..]) {
                    self.put(&name, super::merged::coordinates(*at));
                    self.put(&hand, super::merged::coordinates(mirrored(*there)));
                    moved = Some(if moves(*at) { *at } else { *there });
                }
            } else if has_else {
                let fact = OverFact::PointLeft { name: &name };
                notes.warning(Code::PointMoved, Place::Point { name: &name }.to_string(), fact);
            }
            if let Some(at) = moved.filter(|_| has_else) {
                let fact = OverFact::PointMoved { name: &name, by: before.distance(at) };
                notes.information(Code::PointMoved, Place::Point { name: &name }.to_string(), fact);
            }
        }
    }
}
