//! How high a part stands over the base plane, where something must be put under it to hold it there.

use super::{End, rounded};
use crate::frame::{Frame, Member, PlacedPlate, fit::tip};
use crate::geometry::DVec3;
use serde::Serialize;

/// Height over the base plane of what a part stands on while it is tacked.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Height {
    /// Of its underside, or of the feet named, mm; 0 for what lies on the base plane.
    pub over: f64,
    /// The ends that stand there; empty for a level part whose whole underside does.
    pub feet: Vec<End>,
}

/// What stands higher is held by other parts or by stands of its own, mm (judgement).
const PACKED: f64 = 50.0;

/// Legs that rise by less along their length are level, sine.
const LEVEL: f64 = 1e-4;

/// A foot points down by more than this, cosine of 45 degrees.
const DOWN: f64 = core::f64::consts::FRAC_1_SQRT_2;

/// Nearer to the base plane than this is on it, mm.
const ON: f64 = 0.05;

impl Height {
    /// Of a level tube, or of the free feet of one that stands; `None` where neither comes near the base plane.
    pub(super) fn of_tube(frame: &Frame, member: &Member) -> Option<Self> {
        if member.path.legs.iter().all(|leg| leg.direction.z.abs() < LEVEL) {
            let leg = member.path.first();
            let side = leg.direction.cross(member.index);
            let down = [-DVec3::Z.dot(member.index), -DVec3::Z.dot(side)];
            return Self::at(frame, leg.start.z - frame.section(member).profile.extent(down), Vec::new());
        }
        let is_foot = |end: &End| {
            let fit = &member.ends[end.position()];
            fit.targets.is_empty() && fit.plane_of.is_none() && tip(member, end.position()).direction.z < -DOWN
        };
        let feet: Vec<End> = [End::From, End::To].into_iter().filter(is_foot).collect();
        let lowest = feet.iter().map(|end| tip(member, end.position()).origin.z).fold(f64::INFINITY, f64::min);
        let stands = |end: &End| tip(member, end.position()).origin.z - lowest < ON;
        Self::at(frame, lowest, feet.into_iter().filter(stands).collect())
    }

    /// Of a level plate; `None` for one that lies on a tube, which holds it.
    pub(super) fn of_plate(frame: &Frame, placed: &PlacedPlate) -> Option<Self> {
        if placed.on.is_some() {
            return None;
        }
        let up = placed.plate.up().z;
        let under = if up > 0.0 { 0.0 } else { placed.plate.thickness };
        (up.abs() > 1.0 - LEVEL).then(|| Self::at(frame, placed.plate.origin.z - under, Vec::new())).flatten()
    }

    /// True for what lies on the base plane.
    #[must_use]
    pub fn is_on_base(&self) -> bool {
        self.over == 0.0
    }

    fn at(frame: &Frame, z: f64, feet: Vec<End>) -> Option<Self> {
        let over = z - frame.base;
        let over = if over.abs() < ON { 0.0 } else { rounded(over) };
        (0.0..=PACKED).contains(&over).then_some(Self { over, feet })
    }
}
