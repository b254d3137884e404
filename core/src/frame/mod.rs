//! From the document to the members as placed: centrelines in space, index lines, and what each end is fitted to.

pub(crate) mod fit;
mod place;

use crate::document::{Design, Findings};
use crate::geometry::{DVec3, HalfSpace, Path, Solid};

/// A tube section with its material.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    /// Its name in the document.
    pub name: String,
    /// Outer diameter, mm.
    pub od: f64,
    /// Wall, mm.
    pub wall: f64,
    /// Name of the material, as a buyer would order it.
    pub material: String,
    /// Density, kg/m3.
    pub density: f64,
    /// Degrees that a bend of 90 degrees opens again.
    pub springback: Option<f64>,
    /// Shortest straight that the bender can hold, mm.
    pub clamp: Option<f64>,
}

impl Tube {
    /// The section as a fitter calls it, such as `45 x 2.5`.
    #[must_use]
    pub fn size(&self) -> String {
        format!("{} x {}", self.od, self.wall)
    }

    /// Area of the wall's section, mm2: pi (od - wall) wall.
    #[must_use]
    pub fn area(&self) -> f64 {
        core::f64::consts::PI * (self.od - self.wall) * self.wall
    }

    /// Mass per length, kg/m: M = 0.0246615 (D - T) T for 7850 kg/m3 (EN 10220).
    #[must_use]
    pub fn mass_per_metre(&self) -> f64 {
        self.area() * self.density * 1e-6
    }
}

/// How an end is cut.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutKind {
    /// Square to the tube.
    Square,
    /// By a plane.
    Mitre,
    /// Fitted to other members.
    Cope,
}

impl CutKind {
    /// The word for it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Square => "square",
            Self::Mitre => "mitre",
            Self::Cope => "cope",
        }
    }
}

/// What an end is fitted to.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// How it is cut.
    pub kind: CutKind,
    /// True when the document names no cut and the engine found the targets.
    pub by_default: bool,
    /// Members it is fitted to, as positions in [`Frame::members`]; empty unless it is coped.
    pub targets: Vec<usize>,
    /// The plane of a square or mitred end.
    pub plane: Option<HalfSpace>,
}

/// A tube in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// Its id; the opposite hand of a mirrored member has its own.
    pub id: String,
    /// Position of its section in [`Frame::tubes`].
    pub tube: usize,
    /// Position in the document's list of members.
    pub source: usize,
    /// Centreline from its first to its last point.
    pub path: Path,
    /// Clock angle 0 at the first leg, a unit vector square to it.
    pub index: DVec3,
    /// Root gap, mm.
    pub gap: f64,
    /// Left long at the first and last end, mm.
    pub leave_long: [f64; 2],
    /// What its ends are fitted to, first end first.
    pub ends: [Fit; 2],
    /// A word to the fitter; empty when there is none.
    pub note: String,
    /// The solid bar about its centreline.
    pub bar: Solid,
}

/// A frame: everything placed, in build order.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Frame {
    /// Sections in use.
    pub tubes: Vec<Tube>,
    /// Members in build order, each opposite hand right after its first.
    pub members: Vec<Member>,
}

impl Frame {
    /// Places every member of a design whose names have been checked, and finds what their ends are fitted to.
    /// What cannot be placed is left out and becomes an error among the findings.
    #[must_use]
    pub fn of(design: &Design, findings: &mut Findings) -> Self {
        let mut frame = place::place(design, findings);
        fit::fit(design, &mut frame, findings);
        frame
    }

    /// Section of a member.
    #[must_use]
    pub fn tube(&self, member: &Member) -> &Tube {
        &self.tubes[member.tube]
    }
}
