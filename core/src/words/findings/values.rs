//! What stands in the sentences of findings: kinds of values, advice and lists.

use std::fmt::{Display, Formatter, Result};
use thiserror::Error;

/// A kind of JSON value that was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub(crate) enum Found {
    #[error("null")]
    Null,
    #[error("true or false")]
    Flag,
    #[error("a number")]
    Number,
    #[error("a text")]
    Text,
    #[error("a list")]
    List,
    #[error("an object")]
    Object,
}

/// What is to be written instead.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub(crate) enum Wanted {
    #[error("true or false")]
    Flag,
    #[error("a number in {0}")]
    Number(Unit),
    #[error("a name in quotes")]
    Name,
    #[error("words in quotes")]
    Words,
    #[error("a list in brackets")]
    List,
    #[error("an object in braces")]
    Object,
    #[error("an object of named entries")]
    Entries,
    #[error("three coordinates [x, y, z] in mm")]
    Point,
    #[error("three components [x, y, z]")]
    Direction,
    #[error("two coordinates [x, y] in mm")]
    FlatPoint,
    #[error("the name of a point or [x, y, z]")]
    PointRef,
    #[error("[x, y], {{\"at\": [x, y], \"round\": r}} or {{\"to\": [x, y], \"through\": [x, y]}}")]
    Corner,
    #[error(
        "\"square\", {{\"cope\": [...]}}, {{\"mitre\": ...}}, {{\"face\": ...}}, {{\"plug\": ...}} or {{\"sleeve\": ...}}"
    )]
    EndCut,
}

/// What a number of the document counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub(crate) enum Unit {
    #[error("mm")]
    Mm,
    #[error("degrees")]
    Degrees,
    #[error("N/mm2")]
    NewtonsPerMm2,
    #[error("kg/m3")]
    KgPerM3,
    #[error("any one unit")]
    AnyOne,
}

/// What to do about a name that is not known.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub(crate) enum Advice<'a> {
    #[error("Did you mean `{nearest}`?")]
    DidYouMean { nearest: &'a str },
    #[error("Known here: {}.", .known.join(", "))]
    Known { known: &'a [&'a str] },
    #[error("Define it, or write another.")]
    DefineIt,
    #[error("None is defined yet: define it.")]
    NoneDefined,
    #[error("Leave it out, or write another.")]
    LeaveItOut,
    #[error("The design has none: leave it out.")]
    NoneInDesign,
}

/// Names in a row, such as "`a`, `b` and `c`".
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct And<'a>(pub(crate) &'a [&'a str]);

impl Display for And<'_> {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        for (index, name) in self.0.iter().enumerate() {
            let before = match index {
                0 => "",
                _ if index + 1 == self.0.len() => " and ",
                _ => ", ",
            };
            write!(f, "{before}`{name}`")?;
        }
        Ok(())
    }
}
