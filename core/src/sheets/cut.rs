//! The cut sheet: one row a member.

use super::rounded;
use crate::frame::{CutKind, Frame, SectionSize};
use crate::geometry::Profile;
use crate::part::{Part, PartEnd};
use serde::Serialize;

/// All members of a design with lengths, cuts and mass.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CutSheet {
    /// One row a member, in build order.
    pub rows: Vec<CutRow>,
    /// Mass of all parts as finished, kg.
    pub total_mass_kg: f64,
}

/// One member on the cut sheet. Lengths are mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CutRow {
    /// Id of the member, which is also the mark put on the part.
    pub member: String,
    /// Part number; empty until the design is numbered.
    pub part_number: String,
    /// Name of its section in the document.
    pub section: String,
    /// Section as a fitter calls it, such as `45 x 2.5`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: SectionSize,
    /// Name of the material.
    pub material: String,
    /// Long point to long point along the centreline (developed for a bent member), as finished.
    pub overall: f64,
    /// Between the stations where the cuts cross the centreline.
    pub centreline: f64,
    /// Between the points of the two cuts nearest the middle, on the outer surface.
    pub short: f64,
    /// Length to saw from the bar: `overall` plus what is left long at each end; `None` for a part that is there already, because
    /// something was measured on it.
    pub blank: Option<f64>,
    /// What is left long at the `from` and `to` end, to be trimmed at fit-up.
    pub leave_long: [f64; 2],
    /// The cut at the `from` end.
    pub from: EndSummary,
    /// The cut at the `to` end.
    pub to: EndSummary,
    /// Clock angle from the long point of the `from` cut to the long point of the `to` cut, right-handed about from -> to,
    /// degrees in (-180, 180]; `None` when an end is square and so has no long point.
    pub clock_between_ends_deg: Option<f64>,
    /// Number of bends; 0 for a straight tube.
    pub bends: usize,
    /// Mass as finished, kg.
    pub mass_kg: f64,
}

/// One end's cut in a few words and figures.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct EndSummary {
    /// `square`, `mitre`, `cope`, `cope and mitre`, `plug` or `sleeve`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub cut: CutKind,
    /// Members this end is fitted to, nearest first; empty for square and plane cuts.
    pub fits: Vec<String>,
    /// For a cut by one plane: its angle from a square cut, degrees. `None` for copes.
    pub mitre_deg: Option<f64>,
    /// Clock angle of the long point of the cut, degrees in [0, 360); `None` for a square cut.
    pub long_point_deg: Option<f64>,
}

impl CutSheet {
    /// The cut sheet of a frame's parts, of which some may be there already.
    #[must_use]
    pub fn of(frame: &Frame, parts: &[Part], stands: &impl Fn(&Part) -> bool) -> Self {
        let rows: Vec<CutRow> = parts.iter().map(|part| CutRow::of(frame, part, stands(part))).collect();
        let total_mass_kg = rows.iter().map(|row| row.mass_kg).sum();
        Self { rows, total_mass_kg }
    }
}

impl CutRow {
    fn of(frame: &Frame, part: &Part, stands: bool) -> Self {
        let member = &frame.members[part.member];
        let section = frame.section(member);
        let overall = part.overall();
        Self {
            member: member.id.clone(),
            part_number: String::new(),
            section: section.name.clone(),
            size: section.size(),
            material: section.material.clone(),
            overall: rounded(overall),
            centreline: rounded(part.centreline()),
            short: rounded(part.short()),
            blank: (!stands).then(|| rounded(overall + member.leave_long[0] + member.leave_long[1])),
            leave_long: member.leave_long,
            from: EndSummary::of(frame, &part.ends[0], section.profile),
            to: EndSummary::of(frame, &part.ends[1], section.profile),
            clock_between_ends_deg: part.clock_between_ends().map(|clock| rounded(clock.to_degrees())),
            bends: part.bends.rows.len(),
            mass_kg: part.volume * section.density * 1e-9,
        }
    }
}

impl EndSummary {
    fn of(frame: &Frame, end: &PartEnd, profile: Profile) -> Self {
        Self {
            cut: end.kind,
            fits: end.met.iter().map(|&met| frame.name(met).to_owned()).collect(),
            mitre_deg: end.mitre.map(|angle| rounded(angle.to_degrees())),
            long_point_deg: (!end.kind.is_square()).then(|| super::clock_deg(end.longest.u, profile)),
        }
    }
}
