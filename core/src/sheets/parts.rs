//! The parts list: one row a part number, and which mirrored pairs are handed.

use super::rounded;
use crate::document::{Finding, Findings, other_hand};
use crate::frame::PartSize;
use crate::part::compare::{Hand, PlateHand, PlateTell, Shape, Tell, hand, plate_hand, same, same_plate};
use crate::part::{Made, Numbers, PartKind};
use crate::words::findings::sheets::SheetFault;
use serde::Serialize;

/// One part number.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct PartRow {
    /// The number.
    pub number: String,
    /// Tube or plate.
    pub kind: PartKind,
    /// How many a frame has.
    pub quantity: usize,
    /// Ids of the members or plates that are this part, in build order.
    pub members: Vec<String>,
    /// Section as a fitter calls it, or the plate's thickness.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: PartSize,
    /// Name of the material.
    pub material: String,
    /// Length to saw from the bar, mm; `None` for a plate, and for a part that is there already, because something was measured on it.
    pub blank: Option<f64>,
    /// Number of bends.
    pub bends: usize,
    /// Mass of one as finished, kg.
    pub mass_kg: f64,
}

/// A left and a right part.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Id of the left one, at +y.
    pub left: String,
    /// Id of the right one, at -y.
    pub right: String,
    /// Part number of the left one.
    pub left_number: String,
    /// Part number of the right one.
    pub right_number: String,
    /// True when they are two parts; false when either goes in either place.
    pub handed: bool,
    /// Most by which one differs from the other when laid on it as well as can be, mm; `None` where no way of laying compares.
    pub deviation: Option<f64>,
    /// How to know the left one from the right one on the bench; `None` when they are interchangeable.
    pub tell: Option<HandTell>,
}

/// What tells the left part of a pair from the right one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum HandTell {
    /// Of tubes.
    Tube(Tell),
    /// Of plates.
    Plate(PlateTell),
}

impl PartRow {
    /// `stands` says which members are there already.
    pub(super) fn all(made: &Made, numbers: &Numbers, stands: impl Fn(&str) -> bool) -> Vec<Self> {
        let row = |part: &crate::part::Numbered| {
            let first = part.members.first()?;
            let row = |size: PartSize, material: String, blank: Option<f64>, bends: usize, mass_kg: f64| Self {
                number: part.number.clone(),
                kind: part.kind,
                quantity: part.members.len(),
                members: part.members.clone(),
                size,
                material,
                blank,
                bends,
                mass_kg,
            };
            match part.kind {
                PartKind::Tube => {
                    let at = made.member(first)?;
                    let (member, tube) = (&made.frame.members[at], &made.parts[at]);
                    let section = made.frame.section(member);
                    let blank = tube.overall() + member.leave_long[0] + member.leave_long[1];
                    let mass = tube.volume * section.density * 1e-9;
                    Some(row(
                        PartSize::Tube(section.size()),
                        section.material.clone(),
                        (!part.members.iter().all(|id| stands(id))).then(|| rounded(blank)),
                        tube.bends.rows.len(),
                        mass,
                    ))
                }
                PartKind::Plate => {
                    let placed = &made.frame.plates[made.plate(first)?];
                    let mass = placed.volume() * placed.density * 1e-9;
                    Some(row(PartSize::Plate(placed.plate.thickness), placed.material.clone(), None, 0, mass))
                }
            }
        };
        numbers.parts.iter().filter_map(row).collect()
    }
}

impl Pair {
    /// Every pair of a left and a right part that are mirror images of each other, in build order. Adds a warning for a pair that
    /// differs by so little that one part may have been meant.
    pub(super) fn all(made: &Made, numbers: &Numbers, findings: &mut Findings) -> Vec<Self> {
        let mut pairs = Vec::new();
        for (at, member) in made.frame.members.iter().enumerate().filter(|(_, member)| member.id.ends_with(".L")) {
            let Some(other) = other_hand(&member.id).and_then(|other| made.member(&other)) else { continue };
            let (left, right) = (made.shape(at), made.shape(other));
            let pointer = format!("/members/{}", member.source);
            pairs
                .extend(of_tubes(&left, &right, member.opposite == Some(other)).map(|verdict| {
                    verdict.pair(&member.id, &made.frame.members[other].id, numbers, pointer, findings)
                }));
        }
        for (at, plate) in made.frame.plates.iter().enumerate().filter(|(_, plate)| plate.id.ends_with(".L")) {
            let Some(other) = other_hand(&plate.id).and_then(|other| made.plate(&other)) else { continue };
            let (left, right) = (made.plate_shape(at), made.plate_shape(other));
            if plate.opposite != Some(other) && same_plate(&left.mirrored(), &right).is_none() {
                continue;
            }
            let verdict = match plate_hand(&left) {
                PlateHand::Interchangeable { by } => Verdict::one_part(by.deviation),
                PlateHand::Handed { deviation, near, tell } => {
                    Verdict { handed: true, deviation, near, tell: Some(HandTell::Plate(tell)) }
                }
            };
            let pointer = format!("/plates/{}", plate.source);
            pairs.push(verdict.pair(&plate.id, &made.frame.plates[other].id, numbers, pointer, findings));
        }
        pairs
    }
}

fn of_tubes(left: &Shape, right: &Shape, is_mirrored: bool) -> Option<Verdict> {
    if !is_mirrored && same(&left.mirrored(), right).is_none() {
        return None;
    }
    Some(match hand(left) {
        Hand::Interchangeable { by } => Verdict::one_part(by.deviation),
        Hand::Handed { by, near, tell } => {
            Verdict { handed: true, deviation: by.deviation, near, tell: Some(HandTell::Tube(tell)) }
        }
    })
}

struct Verdict {
    handed: bool,
    deviation: f64,
    near: bool,
    tell: Option<HandTell>,
}

impl Verdict {
    fn one_part(deviation: f64) -> Self {
        Self { handed: false, deviation, near: false, tell: None }
    }

    fn pair(self, left: &str, right: &str, numbers: &Numbers, pointer: String, findings: &mut Findings) -> Pair {
        if self.near {
            let fact = SheetFault::NearlyInterchangeable { left, right, by: self.deviation };
            findings.push(Finding::warning("nearly-interchangeable", pointer, fact).about([left, right]));
        }
        let number = |id: &str| numbers.of(id).unwrap_or_default().to_owned();
        Pair {
            left: left.to_owned(),
            right: right.to_owned(),
            left_number: number(left),
            right_number: number(right),
            handed: self.handed,
            deviation: self.deviation.is_finite().then(|| rounded(self.deviation)),
            tell: self.tell,
        }
    }
}
