//! What becomes of a tube: kept, trimmed and drilled, or scrap.

use super::{ChangeKind, Compared, PLACE, PartChange, Reason, TrimRow, TrimSetOut};
use crate::part::compare::{Change, Motion, Shape, Trim, rework};
use crate::part::{Made, Part};
use crate::sheets::{Datum, End, rounded};

/// What becomes of a tube.
pub(super) fn tube(old: Compared, before: usize, new: Compared, after: usize) -> PartChange {
    let (member, was) = (&new.made.frame.members[after], &old.made.frame.members[before]);
    let id = member.id.as_str();
    let shapes: [Shape; 2] = [old.made.shape(before), new.made.shape(after)];
    let overall = rounded(new.made.parts[after].overall() - old.made.parts[before].overall());
    let change = match rework(&shapes[0], &shapes[1]) {
        Change::Unchanged { .. } => {
            let points = |path: &crate::geometry::Path| path.points(0.2);
            let (here, there) = (points(&member.path), points(&was.path));
            let is_here = here.len() == there.len() && here.iter().zip(&there).all(|(a, b)| a.distance(*b) < PLACE);
            if is_here {
                PartChange::new(id, ChangeKind::Unchanged, old, new, None)
            } else {
                PartChange::new(id, ChangeKind::Moved, old, new, Some(Reason::TubeElsewhere))
            }
        }
        Change::Rework { motion, trims, drill, while_long } => {
            let cuts = Cuts { old, before, new, after, motion, while_long };
            let set_outs: Vec<Option<TrimSetOut>> = match trims.as_slice() {
                _ if !member.path.arcs.is_empty() => vec![None; trims.len()],
                [one] => vec![cuts.only_set_out(one)],
                several => (0..several.len()).map(|at| Some(cuts.set_out(several, at))).collect(),
            };
            let end = |number: usize| if number == 0 { End::From } else { End::To };
            let trims: Vec<TrimRow> = trims
                .into_iter()
                .zip(set_outs)
                .map(|(trim, set_out)| TrimRow {
                    set_out,
                    left_long: was.leave_long[trim.old_end],
                    while_long: while_long[trim.old_end],
                    end: end(trim.new_end),
                    old_end: end(trim.old_end),
                    most: rounded(trim.most),
                    least: rounded(trim.least),
                    wrap: new.sheets.wraps.iter().any(|wrap| wrap.member == id && wrap.end == end(trim.new_end)),
                })
                .collect();
            let drill: Vec<String> =
                drill.into_iter().filter_map(|hole| Some(member.holes.get(hole)?.id.clone())).collect();
            PartChange { trims, drill, ..PartChange::new(id, ChangeKind::Rework, old, new, None) }
        }
        Change::Replace { .. } if new.sheets.stands(id) && is_same_to_figure(old, new, id) => {
            PartChange::new(id, ChangeKind::Moved, old, new, Some(Reason::Measured))
        }
        Change::Replace { why } => PartChange::new(id, ChangeKind::Replace, old, new, Some(Reason::Tube(why))),
    };
    PartChange { overall: Some(overall), ..change }
}

/// An old part and the new one that it is trimmed to.
struct Cuts<'a> {
    old: Compared<'a>,
    before: usize,
    new: Compared<'a>,
    after: usize,
    motion: Motion,
    while_long: [bool; 2],
}

impl Cuts<'_> {
    /// Two cuts whose edges run as evenly as this are parallel, mm.
    const PARALLEL: f64 = 0.5;

    /// What the sheets say of where the cut at an end is set out, and how much longer they count the other end.
    fn on_sheet(&self, here: usize) -> (f64, f64) {
        let wrap = self.new.sheets.wraps.iter().find(|wrap| wrap.member == self.id() && wrap.end.position() == here);
        let nominal = wrap.map_or_else(|| self.new.made.parts[self.after].overall(), |wrap| wrap.set_out.distance);
        match wrap.map(|wrap| wrap.set_out.datum) {
            Some(Datum::LongEnd { by }) => (nominal, by),
            _ => (nominal, 0.0),
        }
    }

    fn left_long(&self, old_end: usize) -> f64 {
        self.old.made.frame.members[self.before].leave_long[old_end]
    }

    /// Where the only cut is set out while its sheet counts the other end as left long: nobody knows whether it is by then.
    fn only_set_out(&self, trim: &Trim) -> Option<TrimSetOut> {
        let (nominal, counted) = self.on_sheet(trim.new_end);
        (counted > 0.0).then(|| TrimSetOut {
            nominal: rounded(nominal),
            more: rounded(-counted),
            from_old_cut: false,
            old_long: self.left_long(1 - trim.old_end),
            old_clock_deg: None,
        })
    }

    /// Where the cut at `at` is set out when those before it are made.
    fn set_out(&self, trims: &[Trim], at: usize) -> TrimSetOut {
        let (is, was) = (&self.new.made.parts[self.after], &self.old.made.parts[self.before]);
        let here = trims[at].new_end;
        let (nominal, counted) = self.on_sheet(here);
        let there = trims.iter().enumerate().find(|(number, trim)| *number > at && trim.new_end != here);
        let Some((_, there)) = there else {
            return TrimSetOut {
                nominal: rounded(nominal),
                more: rounded(-counted),
                from_old_cut: false,
                old_long: 0.0,
                old_clock_deg: None,
            };
        };
        let tip = |part: &Part, end: usize| {
            let out = part.ends[end].longest.s;
            if end == 0 { -out } else { part.length + out }
        };
        let beyond = self.motion.station(tip(was, there.old_end)) - tip(is, there.new_end);
        let too_much = if there.new_end == 0 { -beyond } else { beyond };
        let (is_sawn, long) = (self.while_long[there.old_end], self.left_long(there.old_end));
        let cut = &was.ends[there.old_end];
        let is_askew = !is_sawn && there.most - there.least > Self::PARALLEL && !cut.kind.is_square();
        let clock = self.motion.clock(cut.cut.profile().clock(cut.longest.u));
        TrimSetOut {
            nominal: rounded(nominal),
            more: rounded(too_much - counted + if is_sawn { long } else { 0.0 }),
            from_old_cut: true,
            old_long: if is_sawn { 0.0 } else { long },
            old_clock_deg: is_askew.then(|| rounded(clock.to_degrees())),
        }
    }

    fn id(&self) -> &str {
        &self.new.made.frame.members[self.after].id
    }
}

/// Whether a part is one and the same in both revisions but for what was measured.
fn is_same_to_figure(old: Compared, new: Compared, id: &str) -> bool {
    let shape = |made: &Made| made.member(id).map(|at| made.shape(at));
    let both = shape(old.to_figure).zip(shape(new.to_figure));
    both.is_some_and(|(was, is)| matches!(rework(&was, &is), Change::Unchanged { .. }))
}
