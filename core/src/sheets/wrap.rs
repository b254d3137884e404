//! Wraps: 1:1 unrolled templates of tube ends.

use super::{BendMark, BendSide, End, Facing, clock_deg, rounded};
use crate::frame::{CutKind, Frame, Member, SectionSize};
use crate::geometry::Profile;
use crate::part::{Bevel, CutLine, Part, PartEnd};
use serde::Serialize;

/// The template of one end.
///
/// Coordinates are those of the printed face, printed side out: `x` runs to the right round the tube in mm of the tube's own
/// outer circumference, 0 to `circumference`; `y` runs up along the tube in mm from the base line (`y = 0`, set to the set-out
/// mark) towards the cut. The cut is always at the top and the body of the tube below, for both ends.
/// [`Wrap::on_paper`] allows for the paper's thickness.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Wrap {
    /// Id of the member.
    pub member: String,
    /// Part number; empty until the design is numbered.
    pub part_number: String,
    /// Which end of it.
    pub end: End,
    /// Section as a fitter calls it, such as `45 x 2.5`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub size: SectionSize,
    /// Outer diameter of a round tube, mm; `None` for a rectangular one.
    pub od: Option<f64>,
    /// Wall, mm.
    pub wall: f64,
    /// The flat sides of a rectangular tube in order of `x`, a side that the seam divides being there twice; between them lie the
    /// developed corners. Empty for a round tube.
    pub flats: Vec<FlatSide>,
    /// `mitre`, `cope` or `cope and mitre`; for the trimming wrap of an end left long also `square`, `plug` or `sleeve`.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub cut: CutKind,
    /// Members this end is fitted to.
    pub fits: Vec<String>,
    /// Length round the outer outline, mm: pi x od for a round tube.
    pub circumference: f64,
    /// The outer line: runs of [x, y] in order of x; more than one run where part of the wall misses. Within 0.01 mm of the true curve.
    pub outer: Vec<Vec<[f64; 2]>>,
    /// The relief line, likewise.
    pub relief: Vec<Vec<[f64; 2]>>,
    /// Height of the template above the base line that holds both lines, mm.
    pub height: f64,
    /// Local dihedral angle at regular places of the outer line.
    pub bevels: Vec<BevelFigure>,
    /// Where the index line at 0 degrees faces in the frame, at the `from` end: `up`, `down`, `forward`, `back`, `left` or `right`,
    /// whichever is nearest.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub zero_faces: Facing,
    /// The index lines at 0, 90, 180 and 270 degrees.
    pub index_lines: Vec<IndexLine>,
    /// Where the long point of this cut lies; `None` for a square cut.
    pub long_point: Option<IndexLine>,
    /// Where the furthest point of the other end's cut lies, seen round the tube; `None` when the other end is square.
    pub other_long_point: Option<IndexLine>,
    /// Where the base line goes.
    pub set_out: SetOut,
    /// Long point to long point of the finished part, mm.
    pub overall: f64,
    /// Largest throat: the most by which the relief line lies behind the outer line, mm.
    pub largest_relief: f64,
    /// Parts of the wall that miss their target.
    pub misses: Vec<Miss>,
    /// Holes that lie on the template.
    pub holes: Vec<WrapHole>,
}

/// A flat side of a rectangular tube on its wrap.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct FlatSide {
    /// Clock angle of the side's middle, degrees.
    pub clock_deg: f64,
    /// Where it starts on the printed face, mm.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
}

/// A hole on a wrap.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct WrapHole {
    /// Name of the hole.
    pub hole: String,
    /// Its centre on the printed face, mm.
    pub at: [f64; 2],
    /// Diameter of the drill, mm.
    pub diameter: f64,
    /// Its edge on the printed face, a closed run.
    pub outline: Vec<[f64; 2]>,
}

/// A lengthwise line of the tube on the wrap.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct IndexLine {
    /// Clock angle, degrees in [0, 360), right-handed about the direction from -> to.
    pub clock_deg: f64,
    /// Its place on the printed face, mm.
    pub x: f64,
}

/// Local dihedral angle between the outer surfaces (AWS D1.1 tubular definition) at a place on the outer line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct BevelFigure {
    /// Clock angle, degrees.
    pub clock_deg: f64,
    /// Place on the printed face, mm.
    pub x: f64,
    /// Height of the outer line there, mm.
    pub y: f64,
    /// Dihedral angle, degrees.
    pub dihedral_deg: f64,
}

/// Where the base line of a wrap is set.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SetOut {
    /// From where it is measured.
    pub datum: Datum,
    /// Distance along the tube from the datum to the base line, mm: a whole number, so that a tape can set it.
    pub distance: f64,
}

/// From where a set-out is measured.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "snake_case", tag = "kind")]
pub enum Datum {
    /// The furthest point of the other end's cut (the sawn end itself when the other end is square): straight members.
    OtherEnd,
    /// The sawn other end, which is still left long when this one is cut.
    LongEnd {
        /// By so much, mm.
        by: f64,
    },
    /// The tangent mark nearest this end: bent members.
    TangentMark {
        /// Number of the bend, from 1 at the `from` end.
        bend: usize,
        /// Which of its two marks.
        side: BendSide,
        /// Where that mark is, along the straight blank from its `from` end, as on the bend sheet, mm; `None` for a part that is
        /// there already, whose blank was another.
        station: Option<f64>,
    },
}

/// Part of the wall that misses every target, so that no line is drawn there.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Miss {
    /// Clock angle where the miss begins, degrees.
    pub from_deg: f64,
    /// Clock angle where it ends, degrees, going up from `from_deg`; may exceed 360.
    pub to_deg: f64,
    /// By how much the wall passes the target at the worst place, mm.
    pub by: f64,
}

/// Least paper between the base line and the lowest point of a cut line, mm.
const FOOT: f64 = 30.0;

/// The most by which the base line stands further from the cut, so that a tape can set it, mm: a millimetre, and a tenth of an inch.
const TAPE: f64 = 1.0 + 2.54;

impl Wrap {
    /// The wrap of one end of a part that `stands` already or is still to be made; `None` for a square end with nothing left long,
    /// which a saw cuts without one.
    #[must_use]
    pub fn of(frame: &Frame, part: &Part, end: End, stands: bool) -> Option<Self> {
        let member = &frame.members[part.member];
        let section = frame.section(member);
        let profile = section.profile;
        let (made, other) = (&part.ends[end.position()], &part.ends[end.other().position()]);
        if made.kind.is_square() && member.leave_long[end.position()] == 0.0 {
            return None;
        }
        let face = PrintedEnd { circumference: profile.perimeter(), profile, end };
        let lowest = lowest(made);
        // The base line goes where the tape reads a whole millimetre.
        let (datum, to_path_end) = if member.path.arcs.is_empty() {
            match still_long(member, end) {
                0.0 => (Datum::OtherEnd, part.length + other.longest.s),
                by => (Datum::LongEnd { by }, part.length + other.longest.s + by),
            }
        } else {
            let marks = BendMark::all(member, part);
            let bend = if end == End::From { 1 } else { marks.len() };
            let [start, ends] = [marks[bend - 1].start, marks[bend - 1].end].map(|at| (!stands).then_some(at));
            match end {
                End::From => {
                    (Datum::TangentMark { bend, side: BendSide::Start, station: start }, part.bends.rows[0].feed)
                }
                End::To => (Datum::TangentMark { bend, side: BendSide::End, station: ends }, part.bends.last_straight),
            }
        };
        let distance = (to_path_end + lowest - FOOT).floor().max(0.0);
        let base = distance - to_path_end;
        let outer = face.runs(&made.outer, base);
        let relief = face.runs(&made.relief, base);
        let mut bevels: Vec<BevelFigure> = made.bevels.iter().map(|bevel| face.bevel(bevel, base)).collect();
        bevels.sort_by(|a, b| a.clock_deg.total_cmp(&b.clock_deg));
        if made.kind.is_square() {
            bevels.clear();
        }
        let height = outer.iter().chain(&relief).flatten().map(|point| point[1]).fold(0.0, f64::max);
        let misses = made.missed.iter().map(|missed| Miss {
            from_deg: clock_deg(missed.between[0], profile),
            to_deg: {
                let (from, to) = (clock_deg(missed.between[0], profile), clock_deg(missed.between[1], profile));
                if to > from { to } else { rounded(to + 360.0) }
            },
            by: rounded(missed.by),
        });
        Some(Self {
            member: member.id.clone(),
            part_number: String::new(),
            end,
            size: section.size(),
            od: super::round_od(profile),
            wall: profile.wall(),
            flats: face.flats(),
            holes: face.holes(part, base, height),
            cut: made.kind,
            fits: made.met.iter().map(|&met| frame.name(met).to_owned()).collect(),
            circumference: rounded(face.circumference),
            height,
            bevels,
            zero_faces: Facing::of(member.index),
            index_lines: (0..4)
                .map(|quarter| face.index_line(profile.place_at(core::f64::consts::FRAC_PI_2 * f64::from(quarter))))
                .collect(),
            long_point: (!made.kind.is_square()).then(|| face.index_line(made.longest.u)),
            other_long_point: (!other.kind.is_square()).then(|| face.index_line(other.longest.u)),
            set_out: SetOut { datum, distance },
            overall: rounded(part.overall()),
            largest_relief: rounded(made.largest_relief),
            misses: misses.collect(),
            outer,
            relief,
        })
    }
}

/// From where to where along an end its wrap covers the tube at least, mm outwards of its datum: a tape of any unit sets the base line
/// no further in.
pub(super) fn covered(end: &PartEnd) -> [f64; 2] {
    [lowest(end) - FOOT - TAPE, end.longest.s]
}

/// The lowest point of both lines, mm outwards of the end's datum.
fn lowest(end: &PartEnd) -> f64 {
    end.least.min(end.relief.least().unwrap_or(end.least))
}

/// What is still left long at the other end when one is cut, mm: of two that are trimmed at one step the first is cut first.
fn still_long(member: &Member, end: End) -> f64 {
    let (here, there) = (end.position(), end.other().position());
    let is_long = |end: usize| member.leave_long[end] > 0.0;
    let is_trimmed = is_long(here) && (member.trim_before[there], there) < (member.trim_before[here], here);
    if is_long(there) && !is_trimmed { member.leave_long[there] } else { 0.0 }
}

impl Wrap {
    /// Place on the paper of a place `x` on the tube, mm: bent round the tube, paper of some thickness takes half of it more
    /// radius in every curve, so a round wrap grows evenly by (od + paper) / od and a rectangular one in its corners only.
    #[must_use]
    pub fn on_paper(&self, x: f64, paper_thickness: f64) -> f64 {
        on_paper(&self.flats, self.circumference, x, paper_thickness)
    }
}

impl Wrap {
    /// The same wrap with its base line where the set-out is a whole multiple of `step` mm, further from the cut.
    #[must_use]
    pub fn set_to(&self, step: f64) -> Self {
        let distance = (self.set_out.distance / step + 1e-9).floor() * step;
        let down = self.set_out.distance - distance;
        let mut wrap = self.clone();
        wrap.set_out.distance = distance;
        wrap.height += down;
        let heights = wrap.outer.iter_mut().chain(&mut wrap.relief).flatten().map(|point| &mut point[1]);
        let bevels = wrap.bevels.iter_mut().map(|bevel| &mut bevel.y);
        for y in heights.chain(bevels) {
            *y += down;
        }
        for hole in &mut wrap.holes {
            hole.at[1] += down;
            for point in &mut hole.outline {
                point[1] += down;
            }
        }
        wrap
    }
}

/// Place on the paper of a place `x` on a tube with the given flat sides, mm.
pub(super) fn on_paper(flats: &[FlatSide], circumference: f64, x: f64, paper_thickness: f64) -> f64 {
    let flat_before = |x: f64| flats.iter().map(|side| (x.min(side.to) - side.from).max(0.0)).sum::<f64>();
    let curved = circumference - flat_before(circumference);
    if curved <= 0.0 {
        return x;
    }
    x + core::f64::consts::PI * paper_thickness * (x - flat_before(x)) / curved
}

/// The printed face of one end: the cut at the top, seen from outside.
pub(super) struct PrintedEnd {
    pub(super) circumference: f64,
    pub(super) profile: Profile,
    pub(super) end: End,
}

impl PrintedEnd {
    /// With the cut at the top, clock angles grow to the right at the `to` end and to the left at the `from` end.
    fn x(&self, u: f64) -> f64 {
        rounded(match self.end {
            End::To => u,
            End::From => self.circumference - u,
        })
    }

    fn index_line(&self, u: f64) -> IndexLine {
        IndexLine { clock_deg: clock_deg(u, self.profile), x: self.x(u) }
    }

    fn bevel(&self, bevel: &Bevel, base: f64) -> BevelFigure {
        let IndexLine { clock_deg, x } = self.index_line(bevel.u);
        BevelFigure { clock_deg, x, y: rounded(bevel.s - base), dihedral_deg: rounded(bevel.dihedral.to_degrees()) }
    }

    fn runs(&self, line: &CutLine, base: f64) -> Vec<Vec<[f64; 2]>> {
        let run = |points: &Vec<crate::part::LinePoint>| {
            let mut run: Vec<[f64; 2]> =
                points.iter().map(|point| [self.x(point.u), rounded(point.s - base)]).collect();
            if self.end == End::From {
                run.reverse();
            }
            run
        };
        let mut runs: Vec<_> = line.runs.iter().map(run).collect();
        if self.end == End::From {
            runs.reverse();
        }
        runs
    }

    /// The flat sides in order of `x`; none for a round tube.
    pub(super) fn flats(&self) -> Vec<FlatSide> {
        let mut flats = Vec::new();
        // From the first joint on flats and corners take turns: corner, flat, corner, ...
        let joints = self.profile.joints();
        let flat = |from: f64, to: f64| {
            let clock_deg = clock_deg(0.5 * (from + to), self.profile);
            let (from, to) = (self.x(from), self.x(to));
            FlatSide { clock_deg: (clock_deg / 90.0).round() % 4.0 * 90.0, from: from.min(to), to: from.max(to) }
        };
        if let (Some(&first), Some(&last)) = (joints.first(), joints.last()) {
            flats.push(flat(0.0, first));
            flats.extend(joints[1..].chunks_exact(2).map(|pair| flat(pair[0], pair[1])));
            flats.push(flat(last, self.circumference));
        }
        flats.sort_by(|a, b| a.from.total_cmp(&b.from));
        flats
    }

    /// Holes whose edge lies on the template, which starts `base` from the end of the path and is `height` high.
    fn holes(&self, part: &Part, base: f64, height: f64) -> Vec<WrapHole> {
        let mut found = Vec::new();
        for hole in &part.holes {
            let s = match self.end {
                End::From => -hole.station,
                End::To => hole.station - part.length,
            };
            let y = s - base;
            if y < hole.diameter / 2.0 || y > height {
                continue;
            }
            for u in hole.places(self.profile) {
                let at = [self.x(u), rounded(y)];
                let hand = if self.end == End::From { -1.0 } else { 1.0 };
                let outline = hole.outline(self.profile);
                let outline = outline.iter().map(|[du, ds]| [rounded(at[0] + hand * du), rounded(at[1] + ds)]);
                found.push(WrapHole { hole: hole.id.clone(), at, diameter: hole.diameter, outline: outline.collect() });
            }
        }
        found
    }
}
