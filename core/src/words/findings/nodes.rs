//! What is said of nodes: findings, and one sentence each of what was decided.

use super::values::And;
use thiserror::Error;

/// What is wrong at a node, or worth knowing. Its sentence is English.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum NodeFault<'a> {
    #[error(
        "`{a}` and `{b}` go on as one and have one section. Better draw them as one tube, so that nothing is welded here."
    )]
    OneTube { a: &'a str, b: &'a str },
    #[error(
        "The axes of `{a}` and `{b}` pass each other by {by:.2} mm where they are mitred. Draw both ends at one point."
    )]
    AxesApart { a: &'a str, b: &'a str, by: f64 },
    #[error(
        "End {number} of `{id}` is larger than `{onto}`, which goes through: its wall would pass by {by:.2} mm on both sides. Split `{onto}` there, or make it the larger one."
    )]
    LargerOntoSmaller { number: usize, id: &'a str, onto: &'a str, by: f64 },
    #[error(
        "End {number} of `{id}` meets `{onto}` at {angle:.1} degrees, which is too sharp to fit. Use a plate, or move one of them apart."
    )]
    TooSharp { number: usize, id: &'a str, onto: &'a str, angle: f64 },
    #[error(
        "End {number} of `{id}` goes on from the larger `{onto}` at {angle:.1} degrees and finds no wall there. Use a plug, a sleeve or an end plate."
    )]
    InLineUnequal { number: usize, id: &'a str, onto: &'a str, angle: f64 },
    #[error(
        "End {number} of `{id}` would have to run on by {by:.1} mm for all others to seat on it. Use a plug, a sleeve or a plate, or move one of them."
    )]
    RunOnTooLong { number: usize, id: &'a str, by: f64 },
    #[error(
        "{listed} would be fitted to one another in a circle. Give one of them an end cut of its own, or list the larger ones first."
    )]
    InACircle { listed: And<'a> },
    #[error(
        "The usual choice would fit {listed} to one another in a circle, so plain build order decides where they meet. Write an end cut of your own where you want it otherwise."
    )]
    ByBuildOrder { listed: And<'a> },
    #[error(
        "`{id}` is fitted to `{after}` and now comes after it in the build order. List them so if nothing else decides."
    )]
    OrderOfPlacing { id: &'a str, after: &'a str },
    #[error(
        "End {number} of `{id}` stops {by:.1} mm short of `{of}` and is cut square. Move its point onto `{of}`, or leave it so if that is meant."
    )]
    StopsShort { number: usize, id: &'a str, of: &'a str, by: f64 },
    #[error(
        "{listed} meet here under different choices of options, so no one cut holds for all. Write their end cuts."
    )]
    ChoicesMeet { listed: And<'a> },
    #[error(
        "End {number} of `{id}` and its opposite hand would be cut differently, since what stands there is not the same. Write its cut, or leave out `mirror` and draw both."
    )]
    HandsDiffer { number: usize, id: &'a str },
}

/// What was decided at a node. Its sentence is English, parts of it joined by [`NodeDecision::JOIN`].
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum NodeDecision<'a> {
    #[error("Nothing was decided here. {why}")]
    Refused { why: NodeFault<'a> },
    #[error("Nothing was decided here: its ends keep what the document says.")]
    Kept,
    #[error("{parts}.")]
    Decided { parts: &'a str },
    #[error("{listed} goes through")]
    GoesThrough { listed: And<'a> },
    #[error("{listed} go through")]
    GoThrough { listed: And<'a> },
    #[error("`{id}` stays square")]
    Square { id: &'a str },
    #[error("`{id}` runs on by {by:.2} mm")]
    RunsOn { id: &'a str, by: f64 },
    #[error("`{a}` and `{b}` are mitred to each other")]
    Mitred { a: &'a str, b: &'a str },
    #[error("`{id}` is fitted to {onto}")]
    Fitted { id: &'a str, onto: And<'a> },
    #[error("`{id}` is fitted to {onto} and closes on the middle plane with `{partner}`")]
    FittedOnMiddle { id: &'a str, onto: And<'a>, partner: &'a str },
    #[error("`{id}` closes on the middle plane with `{partner}`")]
    OnMiddle { id: &'a str, partner: &'a str },
}

impl NodeDecision<'_> {
    /// Between the parts of a sentence.
    pub(crate) const JOIN: &'static str = "; ";
}
