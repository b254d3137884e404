//! What is said of sheets, and of choices over which not all was checked.

use super::values::And;
use std::fmt::{Display, Formatter, Result};
use thiserror::Error;

/// What is wrong, or worth knowing. Its sentence is English.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum SheetFault<'a> {
    #[error(
        "`{left}` and `{right}` differ by {by:.2} mm only. If one part is meant for both sides, make the cuts equal; if not, mark them well."
    )]
    NearlyInterchangeable { left: &'a str, right: &'a str, by: f64 },
    #[error(
        "End {end} of `{id}` is trimmed where it stands, at step {trimmed}, but by then {in_the_way} on the length that its wrap covers, so that the wrap cannot be laid. Trim it before step {first}: name in `{field}` what is put in place earlier, or set in later what stands in the way."
    )]
    TrimNotFree { end: usize, id: &'a str, trimmed: usize, in_the_way: InTheWay<'a>, first: usize, field: &'a str },
    #[error(
        "The options have {all}. {count} of them were checked: options that meet at a tube or a plate in every combination of their choices, the others with each of their choices, since they do not act on each other."
    )]
    CheckedByGroups { all: Combinations, count: usize },
    #[error(
        "The options have {all}. {acting} act on each other{meeting}, which makes more than the {most} combinations that can be checked. Let fewer options meet there, or make two designs of this one."
    )]
    TooManyChoices { all: Combinations, acting: And<'a>, meeting: Meeting<'a>, most: usize },
    #[error("With {choices}: {message}")]
    With { choices: Chosen<'a>, message: &'a str },
}

/// How many combinations of choices there are.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum Combinations {
    #[error("{0} combinations")]
    Counted(usize),
    #[error("more combinations than can be counted")]
    PastCounting,
}

/// Where options act on each other.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum Meeting<'a> {
    #[error(" at `{0}`")]
    At(&'a str),
    #[error(" where `{0}` and `{1}` meet")]
    Between(&'a str, &'a str),
    #[error("")]
    Unknown,
}

/// What stands in the way, each with the step at which it is put in place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct InTheWay<'a>(pub(crate) &'a [(&'a str, usize)]);

impl Display for InTheWay<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let named: Vec<String> = self.0.iter().map(|(id, step)| format!("`{id}` (step {step})")).collect();
        write!(f, "{} {}", named.join(", "), if named.len() == 1 { "stands" } else { "stand" })
    }
}

/// Options with the choice of each.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Chosen<'a>(pub(crate) &'a [(String, String)]);

impl Display for Chosen<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let chosen: Vec<String> = self.0.iter().map(|(option, choice)| format!("{option} {choice}")).collect();
        f.write_str(&chosen.join(", "))
    }
}
