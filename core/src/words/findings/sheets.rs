//! What is said of sheets, and of choices over which not all was checked.

use thiserror::Error;

/// What is wrong, or worth knowing. Its sentence is English.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum SheetFault<'a> {
    #[error(
        "`{left}` and `{right}` differ by {by:.2} mm only. If one part is meant for both sides, make the cuts equal; if not, mark them well."
    )]
    NearlyInterchangeable { left: &'a str, right: &'a str, by: f64 },
    #[error(
        "End {end} of `{id}` is trimmed where it stands, at step {trimmed}, but by then {named} {verb} on the length that its wrap covers, so that the wrap cannot be laid. Trim it before step {first}: name in `{field}` what is put in place earlier, or set in later what stands in the way."
    )]
    TrimNotFree { end: usize, id: &'a str, trimmed: usize, named: &'a str, verb: &'a str, first: usize, field: &'a str },
    #[error(
        "The options have {all}. {count} of them were checked: options that meet at a tube or a plate in every combination of their choices, the others with each of their choices, since they do not act on each other."
    )]
    CheckedByGroups { all: &'a str, count: usize },
    #[error(
        "The options have {all}. {listed} act on each other{example}, which makes more than the {most} combinations that can be checked. Let fewer options meet there, or make two designs of this one."
    )]
    TooManyChoices { all: &'a str, listed: &'a str, example: &'a str, most: usize },
}
