//! What is sawn from bars, by section: the request of a stock plan without its bars.

use super::rounded;
use crate::frame::{CutKind, Sawing, SectionSize};
use crate::geometry::Profile;
use crate::part::{Made, Numbers, PartKind};
use crate::stock::{Mitre, RectSize, Request, RoundSize, STEEPEST_MITRE, Size, Stock, WantedPart};
use serde::Serialize;

/// The tubes of one section.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StockSection {
    /// Name of the section in the document.
    pub section: String,
    /// Section as a fitter calls it.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: SectionSize,
    /// Name of the material.
    pub material: String,
    /// Outside of the tube.
    pub outside: Size,
    /// Lengths in which it is bought, mm, in rising order; empty when the document names none.
    pub lengths: Vec<f64>,
    /// Width of the saw's cut, mm.
    pub kerf: f64,
    /// Cut off the first end of each bar, mm.
    pub trim: f64,
    /// Shortest remnant worth keeping, mm.
    pub min_remnant: f64,
    /// One entry a part number.
    pub parts: Vec<StockPart>,
}

/// Equal parts of one frame.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StockPart {
    /// Part number.
    pub number: String,
    /// Length to saw from the bar, mm.
    pub length: f64,
    /// How many are sawn for a frame: those that are there already are not.
    pub quantity: u32,
    /// The mitre that the saw gives its first end; absent where it saws square.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub from: Option<Mitre>,
    /// The mitre that the saw gives its other end.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub to: Option<Mitre>,
}

impl StockSection {
    /// `stands` says which members are there already.
    pub(super) fn all(made: &Made, numbers: &Numbers, stands: impl Fn(&str) -> bool) -> Vec<Self> {
        let frame = &made.frame;
        let mut parts: Vec<Vec<StockPart>> = vec![Vec::new(); frame.sections.len()];
        for part in numbers.parts.iter().filter(|part| part.kind == PartKind::Tube) {
            let sawn: Vec<&String> = part.members.iter().filter(|id| !stands(id)).collect();
            let Some(at) = sawn.first().and_then(|first| made.member(first)) else { continue };
            let (member, tube) = (&frame.members[at], &made.parts[at]);
            let [from, to] = [0, 1].map(|end| mitre(made, at, end));
            parts[member.section].push(StockPart {
                number: part.number.clone(),
                length: rounded(tube.overall() + member.leave_long[0] + member.leave_long[1]),
                quantity: u32::try_from(sawn.len()).unwrap_or(u32::MAX),
                from,
                to,
            });
        }
        let sections = frame.sections.iter().zip(parts).filter(|(_, parts)| !parts.is_empty());
        sections
            .map(|(section, parts)| {
                let Sawing { kerf, trim, min_remnant } = section.sawing;
                Self {
                    section: section.name.clone(),
                    size: section.size(),
                    material: section.material.clone(),
                    outside: outside(section.profile),
                    lengths: section.stock.clone().unwrap_or_default(),
                    kerf,
                    trim,
                    min_remnant,
                    parts,
                }
            })
            .collect()
    }

    /// What a plan is asked for one frame from bars of the document's lengths; `None` where it names none.
    #[must_use]
    pub fn request(&self) -> Option<Request> {
        let stock: Vec<Stock> = self.lengths.iter().map(|&length| Stock { length, price: None, count: None }).collect();
        let parts = self.parts.iter().map(|part| WantedPart {
            id: part.number.clone(),
            length: part.length,
            count: part.quantity,
            from: part.from,
            to: part.to,
        });
        (!stock.is_empty()).then(|| Request {
            kerf: self.kerf,
            trim: self.trim,
            section: Some(self.outside),
            min_remnant: Some(self.min_remnant),
            bundle: None,
            stock,
            parts: parts.collect(),
            time_limit_s: None,
        })
    }
}

/// The mitre that is sawn at an end: of a straight tube that is not left long there.
fn mitre(made: &Made, member: usize, end: usize) -> Option<Mitre> {
    let (placed, part) = (&made.frame.members[member], &made.parts[member]);
    let made_end = &part.ends[end];
    if !part.bends.rows.is_empty() || placed.leave_long[end] > 0.0 || made_end.kind != CutKind::Mitre {
        return None;
    }
    let angle = Some(made_end.mitre?.to_degrees()).filter(|&angle| angle <= STEEPEST_MITRE)?;
    let tube = made_end.cut.end();
    let normal = placed.ends[end].plane?.normal;
    // Outwards along the tube the plane lies furthest on the side that its outward normal leans away from.
    let out = if normal.dot(tube.outwards) < 0.0 { -normal } else { normal };
    let clock = libm::atan2(-out.dot(tube.side), -out.dot(tube.index)).to_degrees();
    let clock = rounded(clock.rem_euclid(360.0));
    Some(Mitre { mitre_deg: rounded(angle), long_side_deg: if clock >= 360.0 { 0.0 } else { clock } })
}

fn outside(profile: Profile) -> Size {
    match profile {
        Profile::Round { outer, .. } => Size::Round(RoundSize { od: outer * 2.0 }),
        Profile::Rect { half_width, half_height, corner, .. } => {
            Size::Rect(RectSize { width: half_height * 2.0, height: half_width * 2.0, corner })
        }
    }
}
