//! One end of a part: its lines, its long and short points, what it meets and where it misses.

use super::cut::{Contact, Cut, TubeEnd};
use super::line::{CutLine, LinePoint};
use super::seat::{self, Missed, Seat};
use super::table::Table;
use crate::frame::fit::tip;
use crate::frame::{CutKind, Fit, Frame, Member, Target, Zone};
use crate::geometry::{DVec3, Piece, Solid, least_place};
use crate::{Stop, Stopped};

/// A cut whose lines rise and fall by less than this is a square one for the saw, mm.
const FLAT: f64 = 0.02;

/// Figures along the outer line, at equal steps from clock angle 0.
const FIGURES: usize = 16;

/// One end as it is made. Stations are mm from the end of the centreline's path, growing out of the body.
#[derive(Debug, Clone, PartialEq)]
pub struct PartEnd {
    /// How it is cut.
    pub kind: CutKind,
    /// The cut itself, to be asked for any place.
    pub cut: Cut,
    /// Outer line; `u` grows with the clock angle about the direction of travel, at both ends.
    pub outer: CutLine,
    /// Relief line.
    pub relief: CutLine,
    /// Furthest point of the outer line; of equal ones that furthest from the frame's middle plane, then the highest, then the
    /// foremost, so that mirrored ends have mirrored long points.
    pub longest: LinePoint,
    /// Station of the outer line nearest the body.
    pub least: f64,
    /// Station on the centreline.
    pub on_axis: f64,
    /// Members and plates met, the nearest to the body first; the tube that a plug or sleeve shares.
    pub met: Vec<Target>,
    /// Where the outer surface misses.
    pub missed: Vec<Missed>,
    /// How it sits on what it is fitted to.
    pub seat: Seat,
    /// Most by which the relief line lies behind the outer line, mm.
    pub largest_relief: f64,
    /// Least dihedral angle on the outer surface, radians; `None` where the end is square or nothing is met.
    pub sharpest: Option<f64>,
    /// The angle between both surfaces at equal steps of the outer line, from clock angle 0, where it meets something.
    pub bevels: Vec<Bevel>,
    /// Volume that the cut adds to a tube that ends square at the end of the path, mm3; negative when it is cut back.
    pub volume: f64,
    /// First moment of that volume, in the axes of the frame, mm4.
    pub moment: DVec3,
    /// Angle of a plane cut from a square one, radians; `None` for a cope.
    pub mitre: Option<f64>,
    /// True when the tube already lies inside a target where the search starts, so that the cut means nothing.
    pub starts_inside: bool,
}

/// The angle between both surfaces at a place of the outer line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bevel {
    /// Place round the outer outline, mm.
    pub u: f64,
    /// Station of the outer line there, mm.
    pub s: f64,
    /// Local dihedral angle, radians.
    pub dihedral: f64,
}

impl PartEnd {
    /// Cuts one end of a member.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn of(frame: &Frame, position: usize, end: usize, stop: Stop) -> Result<Self, Stopped> {
        let member = &frame.members[position];
        let fit = &member.ends[end];
        Self::cut(frame, member, cut_of(frame, member, fit, end), fit, stop)
    }

    /// Cuts the same end of the opposite hand of a member that was fitted to `there`.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn opposite(
        &self,
        there: &Fit,
        frame: &Frame,
        position: usize,
        end: usize,
        stop: Stop,
    ) -> Result<Self, Stopped> {
        let member = &frame.members[position];
        let fit = &member.ends[end];
        let cut = cut_of(frame, member, fit, end);
        match self.turned_over(there, &cut, fit) {
            Some(turned) => Ok(turned),
            None => Self::cut(frame, member, cut, fit, stop),
        }
    }

    fn cut(frame: &Frame, member: &Member, cut: Cut, fit: &Fit, stop: Stop) -> Result<Self, Stopped> {
        stop.check()?;
        let table = Table::of(&cut, cut.looked_at(), stop)?;
        let [mut outer, mut relief] = CutLine::both(&cut, &table, stop)?;
        let beyond = mean_of_run_ends(&outer, cut.profile().perimeter());
        let volume = if fit.kind.is_square() { 0.0 } else { cut.volume_over(&table, &outer, beyond, stop)? };
        stop.check()?;
        let (seat, missed) = seat::seat(frame, member, fit, &cut, &table, [&mut outer, &mut relief]);
        let met = met(&table, fit);
        let longest = longest(&outer, &cut);
        let least = outer.least().unwrap_or(0.0);
        let is_flat = !outer.runs.is_empty() && longest.s - relief.least().unwrap_or(least).min(least) < FLAT;
        let kind = if is_flat && !fit.kind.is_square() { CutKind::Square } else { fit.kind };
        let mitre = fit.plane.map(|plane| libm::acos(plane.normal.dot(cut.end().outwards).abs().min(1.0)));
        Ok(Self {
            kind,
            longest,
            least,
            on_axis: cut.axis_contact().map_or(beyond, |contact| contact.s),
            met,
            missed,
            seat,
            largest_relief: largest_relief(&cut, &table, [&outer, &relief]),
            bevels: bevels(&table),
            sharpest: table.sharpest().filter(|_| !fit.kind.is_square()),
            volume,
            moment: if fit.kind.is_square() { DVec3::ZERO } else { moment(&cut, &table, beyond, volume) },
            mitre: if kind == CutKind::Mitre { mitre } else { None },
            starts_inside: outer.least().is_some_and(|least| least <= cut.start()),
            outer,
            relief,
            cut,
        })
    }
}

/// The long point of an outer line. What decides between points that are equally far out knows no hand.
pub(super) fn longest(line: &CutLine, cut: &Cut) -> LinePoint {
    // Of points this near to each other in the frame neither is the further one, mm.
    const ALIKE: f64 = 1e-3;
    let place = |point: &LinePoint| {
        let TubeEnd { profile, datum, outwards, index, side } = *cut.end();
        let [x, y] = profile.spot(point.u, 0.0).at;
        let at = datum + index * x + side * y + outwards * point.s;
        [at.y.abs(), at.z, at.x]
    };
    let is_further = |point: &LinePoint, best: &LinePoint| {
        let by = place(point).into_iter().zip(place(best)).map(|(here, there)| here - there);
        by.into_iter().find(|by| by.abs() > ALIKE).is_some_and(|by| by > 0.0)
    };
    let furthest = line.furthest().into_iter();
    furthest
        .reduce(|best, next| if is_further(&next, &best) { next } else { best })
        .unwrap_or(LinePoint { u: 0.0, s: 0.0 })
}

fn cut_of(frame: &Frame, member: &Member, fit: &Fit, end: usize) -> Cut {
    let profile = frame.section(member).profile;
    let tip = tip(member, end);
    let travel = if end == 0 { -tip.direction } else { tip.direction };
    let index = if end == 0 { member.index } else { member.path.carried(member.index) };
    let leg = if end == 0 { member.path.first() } else { member.path.last() };
    let across = |target: &Target| match *target {
        Target::Member(other) => frame.section(&frame.members[other]).profile.reach() * 2.0,
        Target::Plate(plate) => frame.plates[plate].plate.thickness,
    };
    let largest = fit.targets.iter().map(across).fold(0.0, f64::max);
    let start = -if member.path.arcs.is_empty() { leg.length / 2.0 } else { leg.length };
    let limit = 3.0 * (2.0 * profile.reach() + largest);
    let coped = if fit.kind.is_square() { &[][..] } else { &fit.targets[..] };
    let zone = Zone { line: tip, stretch: [start, limit], reach: profile.reach(), targets: coped };
    let solids = coped.iter().map(|&target| match frame.butt(member, end, target) {
        Some(plane) => Solid::new(vec![Piece::HalfSpace(plane)]),
        None => frame.standing(target, member.gap, &zone).near(&tip, start, limit, 2.0 * profile.reach()),
    });
    let plane = fit.plane.map(|plane| Solid::new(vec![Piece::HalfSpace(plane)]));
    let end = TubeEnd { profile, datum: tip.origin, outwards: tip.direction, index, side: travel.cross(index) };
    Cut::new(end, solids.chain(plane).collect(), start, limit)
}

fn bevels(table: &Table) -> Vec<Bevel> {
    let figures = table.rows.iter().step_by(table.rows.len() / FIGURES);
    figures.filter_map(|row| Some(Bevel { u: row.u, s: row.outer?.contact.s, dihedral: row.dihedral()? })).collect()
}

/// First moment of the `volume` of steel between the datum and the cut, negative where the cut lies before the datum; generators that
/// miss count as ending at `missed`.
///
/// Formula: along a generator that is `s` long the centre lies at `s / 2`; over the wall the mean of both its sides. That mean is about
/// the datum only: how much steel there is comes with `volume`, or the lever from the origin would carry what the mean is off by.
fn moment(cut: &Cut, table: &Table, missed: f64, volume: f64) -> DVec3 {
    let (end, wall) = (cut.end(), cut.profile().wall());
    let (mut across, mut along) = ([0.0; 2], 0.0);
    for (row, spot) in table.rows.iter().zip(&table.ring) {
        let station = |contact: Option<Contact>| contact.map_or(missed, |contact| contact.s);
        let (outer, inner) = (station(row.outer.map(|outer| outer.contact)), station(row.inner));
        let bore = inner * (1.0 - wall * spot.curvature).max(0.0);
        let ([x, y], [inner_x, inner_y]) = (spot.at, spot.inwards(wall));
        across = [across[0] + outer * x + bore * inner_x, across[1] + outer * y + bore * inner_y];
        along += 0.5 * (outer * outer + bore * inner);
    }
    let places = table.rows.iter().fold(0.0, |places, _| places + 1.0);
    let about_datum = end.index * across[0] + end.side * across[1] + end.outwards * along;
    end.datum * volume + about_datum * (cut.profile().perimeter() / places * wall / 2.0)
}

fn met(table: &Table, fit: &Fit) -> Vec<Target> {
    if fit.kind.is_square() || fit.targets.is_empty() {
        return fit.targets.iter().copied().chain(fit.plane_of).collect();
    }
    let owner = |target: usize| fit.targets.get(target).copied().or(fit.plane_of);
    table.met().into_iter().filter_map(|(target, _)| owner(usize::from(target))).collect()
}

/// Mean of the stations at which the line stops at a miss. Where it only passes the seam it does not stop.
fn mean_of_run_ends(line: &CutLine, perimeter: f64) -> f64 {
    let stops = |u: f64| line.breaks(perimeter).iter().flatten().any(|at| (at - u).rem_euclid(perimeter) < 1e-9);
    let ends = line.runs.iter().flat_map(|run| [run[0], run[run.len() - 1]]).filter(|end| stops(end.u));
    let (count, sum) = ends.fold((0.0, 0.0), |(count, sum), end| (count + 1.0, sum + end.s));
    if count == 0.0 { 0.0 } else { sum / count }
}

/// The largest throat: the largest at equal steps, where either line bends or stops, and next to the largest of these.
fn largest_relief(cut: &Cut, table: &Table, lines: [&CutLine; 2]) -> f64 {
    let perimeter = cut.profile().perimeter();
    let step = perimeter / 72.0;
    let throat = |u: f64| Some(cut.contact(u, 0.0)?.s - cut.relief(u)?);
    let rows = table.rows.iter().filter_map(|row| Some((row.u, row.outer?.contact.s - row.relief?.contact.s)));
    let edges = lines.into_iter().flat_map(|line| line.edges(perimeter));
    let edges = edges.filter_map(|u| Some((u, throat(u)?)));
    let Some((u, most)) = rows.chain(edges).reduce(|best, next| if next.1 > best.1 { next } else { best }) else {
        return 0.0;
    };
    let place =
        least_place(u - step, u + step, 1e-3 * step, |u| throat(u.rem_euclid(perimeter)).map_or(0.0, |throat| -throat));
    throat(place.rem_euclid(perimeter)).unwrap_or(0.0).max(most).max(0.0)
}
