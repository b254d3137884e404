//! Which of the things that an end is fitted to its wall needs: those that it comes upon before all others.

use super::cut::Cut;
use super::end::cut_of;
use super::line::CutLine;
use super::seat::TOUCHES;
use super::table::nearest_first;
use crate::frame::{Frame, Target};
use crate::geometry::least_place;
use crate::{Stop, Stopped};

/// How closely the place is found at which a target lies furthest before the others, as a part of the way to the points
/// beside it.
const RESOLVED: f64 = 1e-3;

/// What is met no sooner than something else by more than this is met where both share an edge, mm.
const SHARED: f64 = 1e-4;

/// Which of the members and plates that an end is fitted to its wall needs, in the order in which it is fitted to them. One is not
/// needed where, without it, no line of the wall would go on by more than touches. How far a line would go on is sought where that is
/// most, so that the answer does not depend on where round the tube one looks. The last is left out first, and each is judged by those
/// that are left: of two of which either would do, the first stays.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted.
pub(crate) fn targets_needed(frame: &Frame, position: usize, end: usize, stop: Stop) -> Result<Vec<Target>, Stopped> {
    let member = &frame.members[position];
    let fit = &member.ends[end];
    let wall = Wall::of(cut_of(frame, member, fit, end));
    let mut kept: Vec<usize> = (0..wall.cut.targets().len()).collect();
    for target in (0..fit.targets.len()).rev() {
        stop.check()?;
        let others: Vec<usize> = kept.iter().copied().filter(|&other| other != target).collect();
        if wall.leads(target, &others, TOUCHES).is_none() {
            kept = others;
        }
    }
    Ok(kept.into_iter().filter_map(|target| fit.targets.get(target).copied()).collect())
}

/// Adds to the targets that a wall meets, nearest to the body first, those of the first `count` that it meets only between the places of a
/// table.
pub(super) fn add_between(cut: &Cut, count: usize, met: &mut Vec<(u16, f64)>) {
    let wall = Wall::of(cut.clone());
    for target in
        (0..count).filter(|target| met.iter().all(|(met, _)| usize::from(*met) != *target)).collect::<Vec<_>>()
    {
        let others: Vec<usize> = (0..cut.targets().len()).filter(|&other| other != target).collect();
        if let (Ok(number), Some(station)) = (u16::try_from(target), wall.leads(target, &others, SHARED)) {
            met.push((number, station));
        }
    }
    nearest_first(met);
}

/// Outer surface and bore of a wall, looked at all round.
struct Wall {
    cut: Cut,
    rings: Vec<Ring>,
}

/// A line round the wall.
struct Ring {
    depth: f64,
    looks: Vec<Look>,
}

/// A place where each target is looked for.
struct Look {
    u: f64,
    stations: Vec<f64>,
}

impl Look {
    fn at(cut: &Cut, u: f64, depth: f64) -> Self {
        let round = u.rem_euclid(cut.profile().perimeter());
        Self { u, stations: cut.stations(cut.profile().spot(round, depth).at) }
    }

    /// How far before all of the others a target is met, mm; negative behind them, endless where it is not met or alone is.
    fn lead(&self, target: usize, others: &[usize]) -> f64 {
        let own = self.stations[target];
        let next = others.iter().map(|&other| self.stations[other]).fold(f64::INFINITY, f64::min);
        if own.is_finite() { next - own } else { f64::NEG_INFINITY }
    }
}

impl Wall {
    fn of(cut: Cut) -> Self {
        // The line has every place where one target takes over from another as a point of its own.
        let rings = [0.0, cut.profile().wall()].map(|depth| {
            let points = CutLine::at_depth(&cut, depth).runs.into_iter().flatten();
            Ring { depth, looks: points.map(|point| Look::at(&cut, point.u, depth)).collect() }
        });
        Self { rings: rings.into(), cut }
    }

    /// The station at a place where a target is met before all of the others by more than so much; `None` where there is none.
    fn leads(&self, target: usize, others: &[usize], more_than: f64) -> Option<f64> {
        self.rings.iter().find_map(|ring| {
            let leads: Vec<f64> = ring.looks.iter().map(|look| look.lead(target, others)).collect();
            let is_ahead = |look: &Look| look.lead(target, others) > more_than;
            let seen = ring.looks.iter().find(|look| is_ahead(look));
            let between = || {
                let peaks = (0..leads.len()).filter(|&at| may_rise(&leads, at, more_than));
                peaks.map(|at| self.peak(ring, at, target, others)).find(is_ahead)
            };
            seen.map(|look| look.stations[target]).or_else(|| between().map(|look| look.stations[target]))
        })
    }

    /// The place beside one that was looked at where a target lies furthest before the others.
    fn peak(&self, ring: &Ring, at: usize, target: usize, others: &[usize]) -> Look {
        let perimeter = self.cut.profile().perimeter();
        let count = ring.looks.len();
        let here = ring.looks[at].u;
        let apart = |from: f64, to: f64| (to - from).rem_euclid(perimeter);
        let before = apart(ring.looks[(at + count - 1) % count].u, here);
        let after = apart(here, ring.looks[(at + 1) % count].u);
        let look = |u: f64| Look::at(&self.cut, u, ring.depth);
        let behind = |u: f64| -look(u).lead(target, others);
        look(least_place(here - before, here + after, RESOLVED * (before + after), behind))
    }
}

/// True where the greatest of some leads may lie beside the one at a place: it is no less than both beside it, and goes on rising as it
/// did up to there beyond the limit.
fn may_rise(leads: &[f64], at: usize, limit: f64) -> bool {
    let own = leads[at];
    let beside = [leads[(at + leads.len() - 1) % leads.len()], leads[(at + 1) % leads.len()]];
    let rise = beside.into_iter().map(|beside| own - beside).fold(0.0, f64::max);
    own.is_finite() && beside.iter().all(|&beside| own >= beside) && own + rise > limit
}
