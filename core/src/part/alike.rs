//! Ends that are cut alike wherever they lie: one of them is cut, and the others are that one moved along.

use super::cut::Cut;
use super::end::{PartEnd, cut_of, longest};
use crate::frame::{Fit, Frame, Target};
use crate::geometry::{Figures, Solid};
use crate::{Stop, Stopped};
use rayon::prelude::*;
use std::collections::HashMap;

/// An end of a member that is not cut yet.
struct Uncut {
    member: usize,
    end: usize,
    cut: Cut,
    /// What it is, wherever it lies; `None` where it is fitted to a plate.
    figures: Option<Vec<i64>>,
}

/// Cuts both ends of each of some members, on all processors. What is cut alike is cut once.
///
/// # Errors
/// [`Stopped`] when they are no longer wanted.
pub(crate) fn cut_all(frame: &Frame, members: &[usize], stop: Stop) -> Result<Vec<[PartEnd; 2]>, Stopped> {
    let uncut: Vec<[Uncut; 2]> = members
        .par_iter()
        .map(|&member| stop.check().map(|()| [0, 1].map(|end| Uncut::of(frame, member, end))))
        .collect::<Result<_, Stopped>>()?;
    let uncut: Vec<Uncut> = uncut.into_iter().flatten().collect();
    let mut seen: HashMap<&[i64], usize> = HashMap::new();
    let firsts: Vec<usize> = uncut
        .iter()
        .enumerate()
        .map(|(number, uncut)| {
            uncut.figures.as_deref().map_or(number, |figures| *seen.entry(figures).or_insert(number))
        })
        .collect();
    let own = |number: usize| {
        let Uncut { member, end, cut, .. } = &uncut[number];
        let member = &frame.members[*member];
        PartEnd::cut(frame, member, cut.clone(), &member.ends[*end], stop)
    };
    let cut: Vec<Option<PartEnd>> = (0..uncut.len())
        .into_par_iter()
        // One by one, so that no processor is left with several when the others are done.
        .with_max_len(1)
        .map(|number| (firsts[number] == number).then(|| own(number)).transpose())
        .collect::<Result<_, Stopped>>()?;
    let all: Vec<PartEnd> = (0..uncut.len())
        .into_par_iter()
        .map(|number| match (&cut[number], &cut[firsts[number]]) {
            (Some(end), _) => Ok(end.clone()),
            (None, first) => {
                let [there, here] = [firsts[number], number].map(|number| &uncut[number]);
                let [fit_there, fit] = [there, here].map(|uncut| &frame.members[uncut.member].ends[uncut.end]);
                first.as_ref().and_then(|first| first.moved(fit_there, &here.cut, fit)).map_or_else(|| own(number), Ok)
            }
        })
        .collect::<Result<_, Stopped>>()?;
    let mut all = all.into_iter();
    let pairs = core::iter::from_fn(|| Some([all.next()?, all.next()?]));
    Ok(pairs.collect())
}

impl Uncut {
    fn of(frame: &Frame, member: usize, end: usize) -> Self {
        let placed = &frame.members[member];
        let fit = &placed.ends[end];
        let cut = cut_of(frame, placed, fit, end);
        let figures = figures(&cut, fit);
        Self { member, end, cut, figures }
    }
}

/// All that says how an end is cut, seen from its own point; `None` where that is not known.
fn figures(cut: &Cut, fit: &Fit) -> Option<Vec<i64>> {
    let end = cut.end();
    let mut figures = Figures::seen_from(end.datum);
    figures.profile(end.profile);
    [end.outwards, end.index, end.side].into_iter().for_each(|direction| figures.direction(direction));
    [cut.start(), cut.limit()].into_iter().for_each(|length| figures.length(length));
    figures.count(fit.kind as usize);
    figures.count(usize::from(fit.by_default));
    figures.count(fit.targets.len());
    figures.count(owners(fit).position(|target| Some(target) == fit.plane_of).map_or(0, |position| position + 1));
    figures.count(usize::from(fit.plane.is_some()));
    fit.plane.iter().for_each(|plane| figures.plane(plane));
    for pieces in cut.targets().iter().map(Solid::pieces) {
        figures.count(pieces.len());
        if !pieces.iter().all(|piece| figures.piece(piece)) {
            return None;
        }
    }
    Some(figures.into_list())
}

/// What an end is fitted to, and what its plane belongs to.
fn owners(fit: &Fit) -> impl Iterator<Item = Target> + '_ {
    fit.targets.iter().copied().chain(fit.plane_of)
}

impl PartEnd {
    /// The end cut by `cut` to `fit`, taken from one that is cut alike to `fit_there`; `None` where that one does not follow from its
    /// cut alone.
    fn moved(&self, fit_there: &Fit, cut: &Cut, fit: &Fit) -> Option<Self> {
        if !self.by_cut_alone {
            return None;
        }
        let moment = self.moment + (cut.end().datum - self.cut.end().datum) * self.volume;
        let here = |met: &Target| owners(fit).nth(owners(fit_there).position(|there| there == *met)?);
        let met = self.met.iter().map(here).collect::<Option<Vec<Target>>>()?;
        Some(Self { cut: cut.clone(), longest: longest(&self.outer, cut), met, moment, ..self.clone() })
    }
}
