//! When what is left long is cut off: the one place that says so, for every sheet.

use super::furniture::Furniture;
use super::step_names::StepNames;
use crate::sheets::{End, Sheets};

/// An end that is left long.
#[derive(Clone, Copy)]
pub(in crate::pack) struct Trimmed {
    /// By so much, mm.
    by: f64,
    /// The step of the fit-up order at which it is trimmed.
    step: usize,
    /// True when that is before the part is put in place.
    on_the_bench: bool,
}

impl Trimmed {
    /// What is known of an end; `None` where nothing is left long.
    pub(in crate::pack) fn of(sheets: &Sheets, member: &str, end: End) -> Option<Self> {
        let row = sheets.cut_sheet.rows.iter().find(|row| row.member == member)?;
        let step = sheets.fit_up.trimmed_at(member, end)?;
        let on_the_bench = sheets.fit_up.placed_at(member).is_some_and(|placed| step < placed);
        Some(Self { by: row.leave_long[end.position()], step, on_the_bench })
    }

    /// A sentence to whoever holds the wrap of that end.
    pub(in crate::pack) fn words(self, furniture: Furniture) -> String {
        furniture.words.left_long.cut_it(furniture.figures().short_length(self.by), self.when(furniture))
    }

    /// A sentence to whoever measures from that end while it is long.
    pub(in crate::pack) fn until(self, furniture: Furniture) -> String {
        let step = StepNames::of(furniture).name(self.step);
        furniture.words.left_long.until(furniture.figures().short_length(self.by), step)
    }

    fn when(self, furniture: Furniture) -> String {
        let (step, say) = (StepNames::of(furniture).name(self.step), &furniture.words.left_long);
        if self.on_the_bench { say.on_the_bench(step) } else { say.in_place(step) }
    }
}

/// What is left long at both ends of a member, and at which steps of the fit-up order it is trimmed; `None` where nothing is.
pub(in crate::pack) fn both_ends(
    sheets: &Sheets,
    member: &str,
    leave_long: [f64; 2],
    furniture: Furniture,
) -> Option<String> {
    let (figures, say) = (furniture.figures(), &furniture.words.left_long);
    let long = figures.left_long(leave_long)?;
    let ends: Vec<(End, Trimmed)> =
        [End::From, End::To].into_iter().filter_map(|end| Some((end, Trimmed::of(sheets, member, end)?))).collect();
    Some(match ends.as_slice() {
        [] => long,
        [(end, one), (other_end, other), ..] if one.step != other.step => say.trimmed_apart(
            long,
            figures.end(*end),
            one.when(furniture),
            figures.end(*other_end),
            other.when(furniture),
        ),
        [(_, one), ..] => say.trimmed(long, one.when(furniture)),
    })
}
