//! What holds for the whole frame: the supplier's own words, what is chosen and measured for a kit, what it is made of, and where its
//! zero lies.

use super::{End, Height, rounded};
use crate::document::{Design, OneKit, RollStructure, Text};
use crate::frame::{Frame, SectionSize, Target, fit::tip};
use serde::Serialize;

/// What is said of the whole frame. Lengths are mm.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct About {
    /// What the frame is; empty when the document does not say.
    pub description: String,
    /// The designer's notes to the whole frame.
    pub notes: Vec<String>,
    /// What is chosen for this kit, by option.
    pub choices: Vec<ChoiceRow>,
    /// What a builder measures, by gauge.
    pub gauges: Vec<GaugeRow>,
    /// The sections in use, with what they are made of.
    pub sections: Vec<SectionRow>,
    /// The members of the roll structure as the document names them, by what they are.
    pub roll_structure: Vec<RollRow>,
    /// Where zero lies along x, y and z; empty for a frame without tubes.
    pub zero: Vec<Zero>,
    /// Height of the base plane, on which the frame is built: z, mm.
    pub base: f64,
    /// Ids of the parts that lie on the base plane; all others are held over it.
    pub on_base: Vec<String>,
}

/// A choice as it is made for a kit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ChoiceRow {
    /// Name of the option.
    pub option: String,
    /// What is chosen, in words.
    pub what: String,
    /// The choice.
    pub choice: String,
}

/// Something that a builder measures.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct GaugeRow {
    /// Name of the gauge.
    pub gauge: String,
    /// What is measured, and between which places.
    pub what: String,
    /// What it measures on a frame made to nominal size.
    pub nominal: f64,
    /// The least and the most that can be taken into account.
    pub limits: [f64; 2],
    /// What was measured on this kit; `None` when nothing was.
    pub measured: Option<f64>,
}

/// A section in use.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SectionRow {
    /// Its name in the document.
    pub section: String,
    /// Section as a fitter calls it.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: SectionSize,
    /// Name of its material.
    pub material: String,
    /// Tensile strength of the material, N/mm2; `None` when the document does not say.
    pub tensile: Option<f64>,
    /// Shortest straight that the bender must hold between bends; `None` when the document does not say.
    pub clamp: Option<f64>,
}

/// Members of a roll structure that are the same thing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct RollRow {
    /// What they are, such as `main_hoop`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub what: RollStructure,
    /// Ids of the members.
    pub members: Vec<String>,
}

/// Where zero lies along one axis: from the end of a tube's centreline.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Zero {
    /// Id of the member.
    pub member: String,
    /// The end.
    pub end: End,
    /// Its coordinate along the axis: the way from zero to it.
    pub off: f64,
    /// The opposite hand of the member, where zero lies halfway between the same ends of both.
    pub halfway_to: Option<String>,
}

/// Nearer than this to halfway between two hands is halfway, mm.
const HALFWAY: f64 = 1e-6;

impl About {
    pub(super) fn of(design: &Design, kit: &OneKit, frame: &Frame) -> Self {
        let words = |text: &Option<Text>| text.as_ref().map_or_else(String::new, |text| text.as_str().to_owned());
        let choices = design.options.iter().flatten().filter_map(|(name, option)| {
            let first = option.choices.first()?.as_str();
            let choice = kit.choices.get(name).map_or(first, String::as_str);
            let what = option.what.as_str().to_owned();
            Some(ChoiceRow { option: name.clone(), what, choice: choice.to_owned() })
        });
        let gauges = design.gauges.iter().flatten().map(|(name, gauge)| GaugeRow {
            gauge: name.clone(),
            what: gauge.what.as_str().to_owned(),
            nominal: gauge.nominal.get(),
            limits: [gauge.least.get(), gauge.most.get()],
            measured: kit.measured.get(name).copied(),
        });
        let is_used = |section: usize| frame.members.iter().any(|member| member.section == section);
        let sections =
            frame.sections.iter().enumerate().filter(|(at, _)| is_used(*at)).map(|(_, section)| SectionRow {
                section: section.name.clone(),
                size: section.size(),
                material: section.material.clone(),
                tensile: section.tensile,
                clamp: section.clamp,
            });
        Self {
            description: words(&design.description),
            notes: design.notes.iter().flatten().map(|note| note.as_str().to_owned()).collect(),
            choices: choices.collect(),
            gauges: gauges.collect(),
            sections: sections.collect(),
            roll_structure: roll_structure(frame),
            zero: [0, 1, 2].into_iter().filter_map(|axis| zero(frame, axis)).collect(),
            base: frame.base,
            on_base: on_base(frame),
        }
    }
}

/// What lies on the base plane, in build order.
fn on_base(frame: &Frame) -> Vec<String> {
    let lies = |target: &Target| {
        let height = match *target {
            Target::Member(member) => Height::of_tube(frame, &frame.members[member]),
            Target::Plate(plate) => Height::of_plate(frame, &frame.plates[plate]),
        };
        height.is_some_and(|height| height.is_on_base())
    };
    frame.order().into_iter().filter(lies).map(|target| frame.name(target).to_owned()).collect()
}

fn roll_structure(frame: &Frame) -> Vec<RollRow> {
    let kinds = [RollStructure::MainHoop, RollStructure::Hoop, RollStructure::Stay, RollStructure::Brace];
    let rows = kinds.into_iter().map(|what| {
        let members = frame.members.iter().filter(|member| member.roll_structure == Some(what));
        RollRow { what, members: members.map(|member| member.id.clone()).collect() }
    });
    rows.filter(|row| !row.members.is_empty()).collect()
}

/// The end nearest to zero along an axis, the first in build order of those that are; across the frame halfway between both hands of
/// the first tube that has two, where it is.
fn zero(frame: &Frame, axis: usize) -> Option<Zero> {
    let ends = frame.members.iter().flat_map(|member| {
        [End::From, End::To].map(|end| (member, end, tip(member, end.position()).origin.to_array()[axis]))
    });
    let of_pair = ends.clone().filter(|_| axis == 1).find_map(|(member, end, off)| {
        let other = &frame.members[member.opposite?];
        let beyond = tip(other, end.position()).origin.to_array()[axis];
        ((off + beyond).abs() < HALFWAY && off != 0.0).then(|| (member, end, off, Some(other.id.clone())))
    });
    let nearest = || {
        let nearer = |a: f64, b: f64| rounded(a.abs()) < rounded(b.abs());
        ends.clone().reduce(|best, next| if nearer(next.2, best.2) { next } else { best })
    };
    let found = of_pair.or_else(|| nearest().map(|(member, end, off)| (member, end, off, None)));
    found.map(|(member, end, off, halfway_to)| Zero { member: member.id.clone(), end, off: rounded(off), halfway_to })
}
