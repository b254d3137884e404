//! Strip templates for the holes of a tube: unrolled, with both edges referenced.

use super::wrap::{PrintedEnd, on_paper};
use super::{End, FlatSide, clock_deg, rounded};
use crate::frame::{Frame, SectionSize};
use crate::part::{Part, PartHole};
use serde::Serialize;

/// A strip that is laid round a tube to mark its holes, one for each straight that has some.
///
/// Coordinates are those of the printed face, printed side out: `x` runs to the right round the tube in mm of the tube's outer
/// circumference, from the index line at 0 degrees and with growing clock angles; `y` runs up along the tube towards its `to` end
/// from the strip's lower edge.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct HoleStrip {
    /// Id of the member.
    pub member: String,
    /// Section as a fitter calls it.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: SectionSize,
    /// Outer diameter of a round tube, mm; `None` for a rectangular one.
    pub od: Option<f64>,
    /// Length round the outer outline, mm.
    pub circumference: f64,
    /// The flat sides of a rectangular tube, as on a wrap; empty for a round one.
    pub flats: Vec<FlatSide>,
    /// Height of the strip, mm.
    pub height: f64,
    /// From where its edges are measured.
    pub datum: StripDatum,
    /// Distance of the lower edge from the datum, mm: a whole number, so that a tape can set it; see [`Self::set_to`].
    pub lower: f64,
    /// Distance of the upper edge from the datum, mm.
    pub upper: f64,
    /// The holes on it.
    pub holes: Vec<StripHole>,
}

/// From where the edges of a strip are measured, along the tube.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum StripDatum {
    /// The furthest point of the cut at the `from` end.
    FromEnd,
    /// The tangent mark where a bend ends, numbered from 1 at the `from` end.
    AfterBend {
        /// Number of the bend.
        bend: usize,
    },
}

/// A hole on a strip.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct StripHole {
    /// Name of the hole.
    pub hole: String,
    /// Its centre on the printed face, mm.
    pub at: [f64; 2],
    /// Distance of its centre from the datum, mm.
    pub from_datum: f64,
    /// Clock angle, degrees.
    pub clock_deg: f64,
    /// Diameter of the drill, mm.
    pub diameter: f64,
    /// Its edge on the printed face, a closed run.
    pub outline: Vec<[f64; 2]>,
    /// What it is for; empty when nothing is said.
    pub note: String,
}

/// Paper above and below the outermost holes, mm.
const MARGIN: f64 = 15.0;

impl HoleStrip {
    /// Place on the paper of a place `x` on the tube, mm, as [`super::Wrap::on_paper`].
    #[must_use]
    pub fn on_paper(&self, x: f64, paper_thickness: f64) -> f64 {
        on_paper(&self.flats, self.circumference, x, paper_thickness)
    }

    /// The same strip with both edges further from the holes, at whole multiples of `step` mm from the datum.
    #[must_use]
    pub fn set_to(&self, step: f64) -> Self {
        let lower = (self.lower / step + 1e-9).floor() * step;
        let upper = (self.upper / step - 1e-9).ceil() * step;
        let up = self.lower - lower;
        let mut strip = Self { lower, upper, height: upper - lower, ..self.clone() };
        for hole in &mut strip.holes {
            hole.at[1] += up;
            for point in &mut hole.outline {
                point[1] += up;
            }
        }
        strip
    }

    /// The strips of a part, in order along it.
    #[must_use]
    pub fn all_of(frame: &Frame, part: &Part) -> Vec<Self> {
        let member = &frame.members[part.member];
        let on_leg = |number: usize| {
            let leg = |hole: &&PartHole| member.path.leg_at(hole.station).is_some_and(|(leg, _)| leg == number);
            let holes: Vec<&PartHole> = part.holes.iter().filter(leg).collect();
            let (_, start) = member.path.leg_at(holes.first()?.station)?;
            let (datum, zero) = match number {
                0 => (StripDatum::FromEnd, -part.ends[0].longest.s),
                bend => (StripDatum::AfterBend { bend }, start),
            };
            Some(Self::of(frame, part, &holes, datum, zero))
        };
        (0..member.path.legs.len()).filter_map(on_leg).collect()
    }

    fn of(frame: &Frame, part: &Part, holes: &[&PartHole], datum: StripDatum, zero: f64) -> Self {
        let section = frame.section(&frame.members[part.member]);
        let profile = section.profile;
        let edge = |sign: f64| holes.iter().map(move |hole| sign * (hole.station + sign * hole.diameter / 2.0 - zero));
        let lower = (-edge(-1.0).fold(f64::NEG_INFINITY, f64::max) - MARGIN).floor().max(0.0);
        let upper = (edge(1.0).fold(f64::NEG_INFINITY, f64::max) + MARGIN).ceil();
        let rows = holes.iter().flat_map(|hole| {
            hole.places(profile).map(move |u| {
                let at = [rounded(u), rounded(hole.station - zero - lower)];
                let outline = hole.outline(profile);
                let outline = outline.iter().map(|[du, ds]| [rounded(at[0] + du), rounded(at[1] + ds)]);
                StripHole {
                    hole: hole.id.clone(),
                    at,
                    from_datum: rounded(hole.station - zero),
                    clock_deg: clock_deg(u, profile),
                    diameter: hole.diameter,
                    outline: outline.collect(),
                    note: hole.note.clone(),
                }
            })
        });
        Self {
            member: frame.members[part.member].id.clone(),
            size: section.size(),
            od: super::round_od(profile),
            circumference: rounded(profile.perimeter()),
            flats: PrintedEnd { circumference: profile.perimeter(), profile, end: End::To }.flats(),
            height: upper - lower,
            datum,
            lower,
            upper,
            holes: rows.collect(),
        }
    }
}
