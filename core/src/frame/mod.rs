//! From the document to what is placed: centrelines in space, index lines, plates, holes, and what each end is fitted to.

pub(crate) mod fit;
mod holes;
mod order;
mod place;
mod plate_figures;
mod plates;
mod size;
mod stand;

pub(crate) use order::hangs_on;
pub(crate) use place::locate;
pub use size::{PartSize, SectionSize};
pub(crate) use stand::Zone;

use crate::document::{Design, Findings, RollStructure};
use crate::geometry::{DVec3, HalfSpace, Path, Piece, Plate, Profile, RoundedPrism, Solid};
use serde::Serialize;

/// A tube section with its material.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// Its name in the document.
    pub name: String,
    /// Its outline. The x axis of the outline is the index line's side: clock angle 0.
    pub profile: Profile,
    /// Name of the material, as a buyer would order it.
    pub material: String,
    /// Density, kg/m3.
    pub density: f64,
    /// Tensile strength of the material, N/mm2.
    pub tensile: Option<f64>,
    /// Degrees that a bend of 90 degrees opens again.
    pub springback: Option<f64>,
    /// Shortest straight that the bender can hold, mm.
    pub clamp: Option<f64>,
    /// Stock lengths, mm, in rising order; `None` when the design lists no stock at all.
    pub stock: Option<Vec<f64>>,
    /// How its bars are sawn.
    pub sawing: Sawing,
}

/// How bars of a section are sawn, where the stock plan is not told otherwise. Lengths in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sawing {
    /// Width of the cut.
    pub kerf: f64,
    /// Cut off the first end of each bar.
    pub trim: f64,
    /// Shortest remnant worth keeping.
    pub min_remnant: f64,
}

impl Default for Sawing {
    /// A kerf within the 1.5 to 3 mm of common practice, a trim that takes off what a mill's shears left, remnants of half a metre.
    fn default() -> Self {
        Self { kerf: 2.0, trim: 5.0, min_remnant: 500.0 }
    }
}

impl Section {
    /// Outer diameter of a round tube, the larger side of a rectangular one, mm.
    #[must_use]
    pub fn breadth(&self) -> f64 {
        match self.profile {
            Profile::Round { outer, .. } => outer * 2.0,
            Profile::Rect { half_width, half_height, .. } => half_width.max(half_height) * 2.0,
        }
    }

    /// Mass per length, kg/m: M = 0.0246615 (D - T) T for a round tube of 7850 kg/m3 (EN 10220).
    #[must_use]
    pub fn mass_per_metre(&self) -> f64 {
        self.profile.area() * self.density * 1e-6
    }
}

/// How an end is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum CutKind {
    /// Square to the tube.
    Square,
    /// By a plane.
    Mitre,
    /// Fitted to members or plates.
    Cope,
    /// Fitted to members or plates and cut by a plane.
    #[serde(rename = "cope and mitre")]
    CopeAndMitre,
    /// Square, inside another tube.
    Plug,
    /// Square, over another tube.
    Sleeve,
}

impl CutKind {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::Mitre => "mitre",
            Self::Cope => "cope",
            Self::CopeAndMitre => "cope and mitre",
            Self::Plug => "plug",
            Self::Sleeve => "sleeve",
        }
    }

    /// True when a saw cuts it square and no wrap is needed.
    #[must_use]
    pub fn is_square(self) -> bool {
        matches!(self, Self::Square | Self::Plug | Self::Sleeve)
    }
}

/// Something that an end can be fitted to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Target {
    /// A member, as its position in [`Frame::members`].
    Member(usize),
    /// A plate, as its position in [`Frame::plates`].
    Plate(usize),
}

/// What an end is fitted to.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// How it is cut.
    pub kind: CutKind,
    /// True when the document names no cut and the engine found the targets.
    pub by_default: bool,
    /// What it is coped to, or the tube that a plug or sleeve shares; empty for square and plane cuts.
    pub targets: Vec<Target>,
    /// The plane of a square, mitred or combined end.
    pub plane: Option<HalfSpace>,
    /// What the plane belongs to: the partner of a mitre or the owner of a face.
    pub plane_of: Option<Target>,
}

/// A tube in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Its id; the opposite hand of a mirrored member has its own.
    pub id: String,
    /// Position of its section in [`Frame::sections`].
    pub section: usize,
    /// Position in the document's list of members.
    pub source: usize,
    /// Position in [`Frame::members`] of its opposite hand, when the document mirrors it.
    pub opposite: Option<usize>,
    /// Centreline from end to end: from its first to its last point, and past them where an end runs on.
    pub path: Path,
    /// How far the centreline runs on past the first and the last point, mm.
    pub run_on: [f64; 2],
    /// Clock angle 0 at the first leg, a unit vector square to it.
    pub index: DVec3,
    /// Root gap, mm.
    pub gap: f64,
    /// Left long at the first and last end, mm.
    pub leave_long: [f64; 2],
    /// Before which place of [`Frame::order`] what is left long at the first and last end is trimmed; the length of that order
    /// where it is trimmed last of all. Means nothing where nothing is left long.
    pub trim_before: [usize; 2],
    /// What its ends are fitted to, first end first.
    pub ends: [Fit; 2],
    /// Its holes, by name.
    pub holes: Vec<DrilledHole>,
    /// Part number that the document fixes.
    pub part_number: Option<String>,
    /// What it is in a roll structure.
    pub roll_structure: Option<RollStructure>,
    /// A word to the fitter; empty when there is none.
    pub note: String,
    /// The solid bar about its centreline.
    pub bar: Solid,
}

/// A plate in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedPlate {
    /// Its name; the opposite hand of a mirrored plate has its own.
    pub id: String,
    /// Name in the document.
    pub source: String,
    /// Position in [`Frame::plates`] of its opposite hand, when the document mirrors it.
    pub opposite: Option<usize>,
    /// Outline, thickness and place.
    pub plate: Plate,
    /// Its holes.
    pub holes: Vec<PlacedHole>,
    /// Name of its material.
    pub material: String,
    /// Density, kg/m3.
    pub density: f64,
    /// The member on which it lies, as its position in [`Frame::members`].
    pub on: Option<usize>,
    /// How many members are in place before it.
    pub before: usize,
    /// Part number that the document fixes.
    pub part_number: Option<String>,
    /// A word to the fitter; empty when there is none.
    pub note: String,
}

/// A hole through a plate, in the coordinates of its outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlacedHole {
    /// Centre, mm.
    pub at: [f64; 2],
    /// Diameter, mm.
    pub diameter: f64,
    /// Diameter of a countersink on the face that the normal points out of, mm.
    pub countersink: Option<f64>,
}

/// A hole drilled into a member.
#[derive(Debug, Clone, PartialEq)]
pub struct DrilledHole {
    /// Its name; the opposite hand of a mirrored hole has its own.
    pub id: String,
    /// Name in the document.
    pub source: String,
    /// Station of its centre, mm along the centreline from its first end.
    pub station: f64,
    /// Clock angle of its centre, radians.
    pub clock: f64,
    /// Place of its centre round the outer outline, mm.
    pub u: f64,
    /// Diameter, mm.
    pub diameter: f64,
    /// True when it goes through both walls.
    pub both_walls: bool,
    /// What it is for; empty when nothing is said.
    pub note: String,
}

/// A frame: everything placed, in build order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Frame {
    /// Sections in use.
    pub sections: Vec<Section>,
    /// Members in build order, each opposite hand right after its first.
    pub members: Vec<Member>,
    /// Plates by name, each opposite hand right after its first.
    pub plates: Vec<PlacedPlate>,
    /// Height of the plane on which the frame is built, mm.
    pub base: f64,
}

impl Frame {
    /// Places everything of a design whose names have been checked, and finds what the ends are fitted to. `there` says for each
    /// member of the document's list whether it is to be placed. What cannot be placed is left out and becomes an error among
    /// the findings.
    #[must_use]
    pub fn of(design: &Design, there: &[bool], findings: &mut Findings) -> Self {
        let mut frame = place::place(design, there, findings);
        frame.base = design.base.map_or(0.0, crate::document::Coordinate::get);
        plates::place(design, &mut frame, findings);
        holes::drill(design, &mut frame, findings);
        fit::fit(design, &mut frame, findings);
        order::trim(design, &mut frame, findings);
        frame
    }

    /// Everything in the order in which it is put in place, plates before the members that follow them.
    #[must_use]
    pub fn order(&self) -> Vec<Target> {
        order::of(self)
    }

    /// Section of a member.
    #[must_use]
    pub fn section(&self, member: &Member) -> &Section {
        &self.sections[member.section]
    }

    /// Name of a member or plate.
    #[must_use]
    pub fn name(&self, target: Target) -> &str {
        match target {
            Target::Member(member) => &self.members[member].id,
            Target::Plate(plate) => &self.plates[plate].id,
        }
    }

    /// Lets a member run on past one of its ends by so many mm more.
    pub(crate) fn let_run_on(&mut self, position: usize, end: usize, by: f64) {
        let profile = self.section(&self.members[position]).profile;
        let member = &mut self.members[position];
        let legs = &mut member.path.legs;
        let last = legs.len() - 1;
        let leg = &mut legs[if end == 0 { 0 } else { last }];
        leg.length += by;
        if end == 0 {
            leg.start -= leg.direction * by;
        }
        member.run_on[end] += by;
        member.bar = bar(&member.path, profile, member.index, 0.0);
    }

    /// The outside of a member or plate, grown by `gap` mm where it is a member.
    #[must_use]
    pub fn solid(&self, target: Target, gap: f64) -> Solid {
        match target {
            Target::Member(member) => {
                let member = &self.members[member];
                if gap == 0.0 {
                    member.bar.clone()
                } else {
                    bar(&member.path, self.section(member).profile, member.index, gap)
                }
            }
            Target::Plate(plate) => Solid::new(vec![Piece::Plate(self.plates[plate].plate.clone())]),
        }
    }
}

/// The solid bar about a centreline, grown by `gap` mm all round.
fn bar(path: &Path, profile: Profile, index: DVec3, gap: f64) -> Solid {
    match profile {
        Profile::Round { outer, .. } => path.bar(outer + gap, 0.0),
        Profile::Rect { half_width, half_height, corner, .. } => {
            let leg = path.first();
            Solid::new(vec![Piece::Prism(RoundedPrism {
                point: leg.start,
                axis: leg.direction,
                across: index,
                half: [half_width + gap, half_height + gap],
                corner: corner + gap,
                length: Some(leg.length),
            })])
        }
    }
}
