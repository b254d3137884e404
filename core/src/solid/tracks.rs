//! Rows at rising depth tied together: lines across the wall between the surfaces of a cut, and where such lines join or end.

use super::SolidError;
use super::row::{Row, row};
use crate::Stop;
use crate::part::Cut;

/// Rows to look at before anything is known of the cut.
const LEVELS: u32 = 8;

/// Rows nearer than this are one, as a part of the wall.
const NEAREST: f64 = 1e-7;

/// Breaks within this of each other come together where lines join, mm.
const TOGETHER: f64 = 0.04;

/// How the breaks of a row go on in the next.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Tie {
    /// Each goes on as one: its place in the next row.
    Same(Vec<usize>),
    /// Some join, end or begin; in order round the tube.
    Knots(Vec<Knot>),
}

/// Breaks of one row that go on as breaks of the next through one point, in order; one and one is a line that just goes on.
/// Between two knots the surface is the same in both rows, or a line at one depth parts them.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Knot {
    pub(super) from: Vec<usize>,
    pub(super) to: Vec<usize>,
}

/// All rows, from the outer surface to the bore, and the ties between them.
#[derive(Debug)]
pub(super) struct Web {
    pub(super) rows: Vec<Row>,
    pub(super) ties: Vec<Tie>,
}

impl Web {
    pub(super) fn of(cut: &Cut, stop: Stop) -> Result<Self, SolidError> {
        let wall = cut.end().profile.wall();
        let perimeter = cut.end().profile.perimeter();
        let mut web = Self { rows: vec![row(cut, 0.0, &[])?], ties: Vec::new() };
        for level in 1..=LEVELS {
            let depth = wall * f64::from(level) / f64::from(LEVELS);
            let hints = web.rows[web.rows.len() - 1].hints(perimeter);
            let next = row(cut, depth, &hints)?;
            web.reach(cut, next, stop)?;
        }
        Ok(web)
    }

    /// Adds rows until the last one is tied to `next`, and `next` itself.
    fn reach(&mut self, cut: &Cut, next: Row, stop: Stop) -> Result<(), SolidError> {
        stop.check()?;
        let perimeter = cut.end().profile.perimeter();
        let last = &self.rows[self.rows.len() - 1];
        let tie = match same(last, &next, perimeter) {
            Some(tie) => tie,
            None if next.depth - last.depth > NEAREST * cut.end().profile.wall() => {
                let mut hints = last.hints(perimeter);
                hints.extend(next.hints(perimeter));
                let middle = row(cut, 0.5 * (last.depth + next.depth), &hints)?;
                self.reach(cut, middle, stop)?;
                return self.reach(cut, next, stop);
            }
            None => Tie::Knots(knots(last, &next, perimeter)?),
        };
        self.ties.push(tie);
        self.rows.push(next);
        Ok(())
    }
}

fn apart(a: f64, b: f64, perimeter: f64) -> f64 {
    let gap = (a - b).rem_euclid(perimeter);
    gap.min(perimeter - gap)
}

/// The tie of two rows with the same surfaces in the same order, near each other.
fn same(row: &Row, next: &Row, perimeter: f64) -> Option<Tie> {
    let count = row.breaks.len();
    if count != next.breaks.len() || (count == 0 && row.first != next.first) {
        return None;
    }
    let shifts = (0..count.max(1)).filter_map(|shift| {
        let pairs = || row.breaks.iter().enumerate().map(|(k, here)| (here, &next.breaks[(k + shift) % count]));
        let alike = pairs().all(|(a, b)| a.before == b.before && a.after == b.after);
        let moved = pairs().map(|(a, b)| apart(a.u, b.u, perimeter)).fold(0.0, f64::max);
        (alike && moved < perimeter / 6.0).then_some((shift, moved))
    });
    let (shift, _) = shifts.min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some(Tie::Same((0..count).map(|k| (k + shift) % count).collect()))
}

/// Which breaks come together between two rows that lie all but on one another.
fn knots(row: &Row, next: &Row, perimeter: f64) -> Result<Vec<Knot>, SolidError> {
    let mut all: Vec<(f64, bool, usize)> = Vec::new();
    all.extend(row.breaks.iter().enumerate().map(|(k, here)| (here.u, true, k)));
    all.extend(next.breaks.iter().enumerate().map(|(k, here)| (here.u, false, k)));
    all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.2.cmp(&b.2)));
    let count = all.len();
    // Start where there is a gap, so that no group runs over the end of the turn.
    let start = (0..count)
        .find(|&k| (all[k].0 - all[(k + count - 1) % count].0).rem_euclid(perimeter) > TOGETHER || count == 1)
        .ok_or(SolidError::TooIntricate)?;
    let mut knots: Vec<Knot> = Vec::new();
    let mut last_u = f64::NAN;
    for k in 0..count {
        let (u, of_row, index) = all[(start + k) % count];
        if k == 0 || (u - last_u).rem_euclid(perimeter) > TOGETHER {
            knots.push(Knot::default());
        }
        last_u = u;
        if let Some(knot) = knots.last_mut() {
            if of_row { knot.from.push(index) } else { knot.to.push(index) }
        }
    }
    Ok(knots)
}

impl Knot {
    /// True when each break just goes on as one.
    pub(super) fn goes_on(&self, row: &Row, next: &Row) -> bool {
        self.from.len() == self.to.len()
            && self.from.iter().zip(&self.to).all(|(&a, &b)| {
                row.breaks[a].before == next.breaks[b].before && row.breaks[a].after == next.breaks[b].after
            })
    }
}
