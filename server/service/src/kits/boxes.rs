//! The boxes that a kit is sent in, with what lies in each and what that weighs.

use crate::rules::lookup::readable_kit;
use crate::rules::valid::Checks;
use crate::words::of_problems;
use crate::{Principal, Service, ServiceError};
use matchmark_core::sheets::Sheets;
use matchmark_store::audit::{self, Act};
use matchmark_store::hash::sha256_hex;
use matchmark_store::kits;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use utoipa::ToSchema;

/// Most boxes of a kit.
const MOST: usize = 100;

/// The boxes of a kit.
#[derive(Debug, Clone, Default, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"boxes": [{"name": "1 of 2", "parts": ["main_hoop"], "packing_kg": 2.5}]}))]
pub struct NewBoxes {
    /// All of them, in order.
    pub boxes: Vec<NewBox>,
}

/// A box to be sent.
#[derive(Debug, Clone, PartialEq, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct NewBox {
    /// What is written on it.
    pub name: String,
    /// Ids of the members and plates in it.
    pub parts: Vec<String>,
    /// Mass of the box itself and of what is in it besides parts, kg.
    #[serde(default)]
    pub packing_kg: f64,
}

/// The boxes of a kit and what they weigh.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BoxesView {
    /// Serial of the kit.
    pub kit: String,
    /// The boxes.
    pub boxes: Vec<BoxView>,
    /// Parts in no box.
    pub unboxed: Vec<String>,
    /// Mass of all boxes, kg.
    pub total_kg: f64,
}

/// A box and what it weighs.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct BoxView {
    /// What is written on it.
    pub name: String,
    /// Ids of the members and plates in it.
    pub parts: Vec<String>,
    /// Mass of its parts as finished, kg.
    pub parts_kg: f64,
    /// Mass of the box itself and of what is in it besides parts, kg.
    pub packing_kg: f64,
    /// Both together, kg.
    pub mass_kg: f64,
}

impl Service {
    /// Says anew in which boxes a kit is sent, when those said now are among `meant`: their hashes, or `*` for any. Returns the
    /// hash of the new ones too.
    pub async fn put_boxes(
        &self,
        who: &Principal,
        serial: &str,
        new: &NewBoxes,
        meant: Option<&[String]>,
    ) -> Result<(BoxesView, String), ServiceError> {
        who.may_support()?;
        let masses = self.part_masses(who, serial).await?;
        let Some(meant) = meant else {
            return Err(ServiceError::BoxesTagMissing);
        };
        check(new, &masses)?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let text = serde_json::to_string(&new.boxes)
            .map_err(|_| ServiceError::Inconsistent("the boxes of a kit cannot be written"))?;
        let before = sha256_hex(readable_kit(&mut write, who, serial).await?.boxes);
        if !meant.iter().any(|tag| tag == "*" || *tag == before) {
            return Err(ServiceError::BoxesChanged);
        }
        kits::set_boxes(&mut write, serial, &text).await?;
        let subject = format!("kits/{serial}/boxes");
        let act = Act { at: stamp.at(), actor: &who.token, action: "write-boxes", subject: &subject };
        audit::append(&mut write, act).await?;
        write.commit().await?;
        Ok((view(serial, new.boxes.clone(), &masses), sha256_hex(text)))
    }

    /// The boxes of a kit, and the hash of what was said.
    pub async fn boxes(&self, who: &Principal, serial: &str) -> Result<(BoxesView, String), ServiceError> {
        let text = {
            let mut read = self.store.read().await?;
            readable_kit(&mut read, who, serial).await?.boxes
        };
        let boxes =
            serde_json::from_str(&text).map_err(|_| ServiceError::Inconsistent("the boxes of a kit cannot be read"))?;
        Ok((view(serial, boxes, &self.part_masses(who, serial).await?), sha256_hex(text)))
    }

    /// Mass of every part of a kit, kg.
    async fn part_masses(&self, who: &Principal, serial: &str) -> Result<BTreeMap<String, f64>, ServiceError> {
        let kit = {
            let mut read = self.store.read().await?;
            readable_kit(&mut read, who, serial).await?
        };
        let one_kit = self.one_kit(&kit).await?;
        let sheets = self.known_sheets(&kit.design, &kit.revision, one_kit).await?;
        let Sheets { cut_sheet, plates, .. } = sheets.sheets()?;
        let tubes = cut_sheet.rows.iter().map(|row| (row.member.clone(), row.mass_kg));
        let plates = plates.iter().map(|plate| (plate.plate.clone(), plate.mass_kg));
        Ok(tubes.chain(plates).collect())
    }
}

fn check(new: &NewBoxes, masses: &BTreeMap<String, f64>) -> Result<(), ServiceError> {
    let says = &of_problems().boxes;
    let mut checks = Checks::default();
    if new.boxes.len() > MOST {
        checks.refuse("/boxes", says.most(MOST));
    }
    let mut boxed = BTreeSet::new();
    for (index, one) in new.boxes.iter().enumerate() {
        checks.line(&format!("/boxes/{index}/name"), &one.name);
        if !(0.0..=1000.0).contains(&one.packing_kg) {
            checks.refuse(&format!("/boxes/{index}/packing_kg"), says.packing().to_owned());
        }
        for (place, part) in one.parts.iter().enumerate() {
            let pointer = format!("/boxes/{index}/parts/{place}");
            if !masses.contains_key(part) {
                checks.refuse(&pointer, says.no_part(part));
            } else if !boxed.insert(part) {
                checks.refuse(&pointer, says.twice(part));
            }
        }
    }
    checks.done()
}

/// What boxes weigh. A part that a kit no longer has, after a move to another revision, weighs nothing.
fn view(serial: &str, boxes: Vec<NewBox>, masses: &BTreeMap<String, f64>) -> BoxesView {
    let boxed: BTreeSet<&String> = boxes.iter().flat_map(|one| &one.parts).collect();
    let unboxed = masses.keys().filter(|part| !boxed.contains(part)).cloned().collect();
    let boxes: Vec<BoxView> = boxes
        .iter()
        .map(|one| {
            let parts_kg: f64 = one.parts.iter().filter_map(|part| masses.get(part)).sum();
            BoxView {
                name: one.name.clone(),
                parts: one.parts.clone(),
                parts_kg: to_the_gram(parts_kg),
                packing_kg: one.packing_kg,
                mass_kg: to_the_gram(parts_kg + one.packing_kg),
            }
        })
        .collect();
    let total_kg = to_the_gram(boxes.iter().map(|one| one.mass_kg).sum());
    BoxesView { kit: serial.to_owned(), boxes, unboxed, total_kg }
}

fn to_the_gram(kg: f64) -> f64 {
    (kg * 1000.0).round() / 1000.0
}
