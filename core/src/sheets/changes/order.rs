//! What becomes of each step of the fit-up order.

use super::{ChangeKind, PLACE, PartChange, StepPlace, TrimStep};
use crate::sheets::{End, FitUp, FitUpEnd, FitUpStep, StepKind};
use std::collections::BTreeSet;

/// Pairs the steps of two orders: a part with itself, a thing to do with the same one after the same part. A step of a part that
/// changed, or goes to another place, is not the same.
pub(super) fn order(parts: &[PartChange], old: &[FitUpStep], new: &[FitUpStep]) -> Vec<StepPlace> {
    let is_changed = |part: &&PartChange| part.kind != ChangeKind::Unchanged || part.old_number != part.new_number;
    let changed: BTreeSet<&str> = parts.iter().filter(is_changed).map(|part| part.member.as_str()).collect();
    let stays = |step: &FitUpStep| step.kind == StepKind::Work || !changed.contains(step.member.as_str());
    let is_pair = |a: &FitUpStep, b: &FitUpStep| {
        a.member == b.member && a.kind == b.kind && (a.kind != StepKind::Work || a.note == b.note)
    };
    let places = new.iter().map(|step| {
        let before = old.iter().find(|before| is_pair(before, step));
        StepPlace {
            member: step.member.clone(),
            old: before.map(|before| before.number),
            new: Some(step.number),
            same: stays(step) && before.is_some_and(|before| is_same_step(before, step)),
        }
    });
    let gone = old.iter().filter(|before| !new.iter().any(|step| is_pair(before, step)));
    let gone = gone.map(|before| StepPlace {
        member: before.member.clone(),
        old: Some(before.number),
        new: None,
        same: false,
    });
    places.chain(gone).collect()
}

/// The ends that both orders trim, but not at the same step of both.
pub(super) fn trim_steps(old: &FitUp, new: &FitUp) -> Vec<TrimStep> {
    let trims = |order: &FitUp| -> Vec<(String, End, usize, bool)> {
        let trims = order.steps.iter().filter(|step| step.kind == StepKind::Trim);
        let of = |step: &FitUpStep| {
            let stands = order.placed_at(&step.member).is_some_and(|placed| placed < step.number);
            step.ends.iter().map(|end| (step.member.clone(), end.end, step.number, stands)).collect::<Vec<_>>()
        };
        trims.flat_map(of).collect()
    };
    let before = trims(old);
    let moved = trims(new).into_iter().filter_map(|(member, end, number, stands)| {
        let was = before.iter().find(|was| was.0 == member && was.1 == end)?;
        let moves = (was.2, was.3) != (number, stands);
        moves.then_some(TrimStep { member, end, old: was.2, new: number })
    });
    moved.collect()
}

/// Whether two steps say the same but for their number.
fn is_same_step(old: &FitUpStep, new: &FitUpStep) -> bool {
    let is_near = |a: &[f64], b: &[f64]| a.iter().zip(b).all(|(a, b)| (a - b).abs() < PLACE);
    let is_same_end =
        |(a, b): (&FitUpEnd, &FitUpEnd)| is_near(&a.at, &b.at) && FitUpEnd { at: b.at, ..a.clone() } == *b;
    old.ends.len() == new.ends.len()
        && old.ends.iter().zip(&new.ends).all(is_same_end)
        && FitUpStep { number: new.number, ends: new.ends.clone(), ..old.clone() } == *new
}
