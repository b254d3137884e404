//! Mass, centre of gravity, surface to paint and weld length.

use super::{End, rounded};
use crate::frame::Frame;
use crate::geometry::DVec3;
use crate::part::Part;
use serde::Serialize;

/// What the frame weighs and takes.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MassSheet {
    /// Mass of all tubes and plates as finished, without weld, kg.
    pub mass_kg: f64,
    /// Centre of gravity: x forward, y left, z up, mm.
    pub centre_of_gravity: [f64; 3],
    /// Outside of all tubes and both faces and edges of all plates, m2; what welds cover is not taken off.
    pub painted_m2: f64,
    /// Length of all welds, mm.
    pub weld_length: f64,
    /// One row a joint.
    pub joints: Vec<JointRow>,
}

/// The weld at one end.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct JointRow {
    /// Id of the member.
    pub member: String,
    /// Which end of it.
    pub end: End,
    /// What it is welded to.
    pub to: Vec<String>,
    /// Length of the outer line, mm.
    pub weld_length: f64,
}

impl MassSheet {
    /// The sums over a frame's parts and plates.
    #[must_use]
    pub fn of(frame: &Frame, parts: &[Part]) -> Self {
        let (mut mass, mut moment, mut painted) = (0.0, DVec3::ZERO, 0.0);
        let mut joints = Vec::new();
        for part in parts {
            let member = &frame.members[part.member];
            let section = frame.section(member);
            let kg = part.volume * section.density * 1e-9;
            mass += kg;
            moment += part.centre(member) * kg;
            painted += part.outside() * 1e-6;
            joints.extend([End::From, End::To].into_iter().filter_map(|end| joint(frame, part, end)));
        }
        for placed in &frame.plates {
            let kg = placed.volume() * placed.density * 1e-9;
            mass += kg;
            moment += placed.centre() * kg;
            painted += placed.surface() * 1e-6;
        }
        Self {
            mass_kg: rounded(mass),
            centre_of_gravity: (moment / mass.max(1e-12)).to_array().map(rounded),
            painted_m2: rounded(painted),
            weld_length: rounded(joints.iter().map(|joint| joint.weld_length).sum()),
            joints,
        }
    }
}

fn joint(frame: &Frame, part: &Part, end: End) -> Option<JointRow> {
    let made = &part.ends[end.position()];
    if made.met.is_empty() {
        return None;
    }
    let fit = &frame.members[part.member].ends[end.position()];
    // A mitre that two members share is one weld: it belongs to the later one.
    if let Some(crate::frame::Target::Member(partner)) = fit.plane_of
        && fit.targets.is_empty()
        && partner > part.member
    {
        return None;
    }
    Some(JointRow {
        member: frame.members[part.member].id.clone(),
        end,
        to: made.met.iter().map(|&met| frame.name(met).to_owned()).collect(),
        weld_length: rounded(made.outer.length()),
    })
}
