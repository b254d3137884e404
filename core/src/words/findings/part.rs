//! What is said of parts and their ends.

use super::values::And;
use thiserror::Error;

/// What is wrong, or worth knowing. Its sentence is English.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum PartFault<'a> {
    #[error(
        "`{a}` and `{b}` share space {depth:.1} mm deep at ({x:.0}, {y:.0}, {z:.0}) with no cut between them. Fit `{fitted}` to `{onto}` there, or move one of them."
    )]
    Clash { a: &'a str, b: &'a str, depth: f64, x: f64, y: f64, z: f64, fitted: &'a str, onto: &'a str },
    #[error(
        "An edge of plate `{plate}` lies {deepest:.1} mm inside the tube `{member}`. Cut the plate back to the tube's surface."
    )]
    PlateInTube { plate: &'a str, deepest: f64, member: &'a str },
    #[error("End {end_number} of `{id}` lies inside {targets} from the start. Make the member longer or move its end.")]
    StartsInside { end_number: usize, id: &'a str, targets: And<'a> },
    #[error(
        "End {end_number} of `{id}` stops {short:.1} mm away from {targets}. Move the end into it, or name another member."
    )]
    StopsShort { end_number: usize, id: &'a str, short: f64, targets: And<'a> },
    #[error("End {end_number} of `{id}` never meets {targets}, though it is fitted to it. Name those that it meets.")]
    NeverMeets { end_number: usize, id: &'a str, targets: And<'a> },
    #[error(
        "At end {end_number} of `{id}` the surfaces meet at {sharpest:.0} degrees: a root that sharp is hard to reach. Think of a gusset or a wider angle."
    )]
    SharpJoint { end_number: usize, id: &'a str, sharpest: f64 },
    #[error(
        "`{id}` is shorter than its two cuts: somewhere round the tube {least:.1} mm are left. Move its ends apart."
    )]
    ShorterThanCuts { id: &'a str, least: f64 },
    #[error(
        "Between bends {number} and {next} of `{id}` there are {straight:.1} mm of straight, but the bender needs {clamp} to hold {size}. Move the corners apart or reduce the radius."
    )]
    StraightTooShort { number: usize, next: usize, id: &'a str, straight: f64, clamp: f64, size: &'a str },
    #[error(
        "`{id}` and `{other}` are both to be part {number}, but they are not the same part. Give them two numbers."
    )]
    NumberClash { id: &'a str, other: &'a str, number: &'a str },
    #[error(
        "`{id}` is numbered {number} and `{other}` {other_number}, but they are the same part and can be put in either place. Give both one number."
    )]
    NumberedApart { id: &'a str, number: &'a str, other: &'a str, other_number: &'a str },
    #[error(
        "`{id}` is made of {section}, but the stock list has no length of `{missing}`. Add one, or choose another section."
    )]
    NoStock { id: &'a str, section: &'a str, missing: &'a str },
    #[error(
        "`{id}` takes {blank:.0} mm of {section}, but the longest stock length is {longest} mm. Join it from two members, or buy longer stock."
    )]
    TooLongForStock { id: &'a str, blank: f64, section: &'a str, longest: f64 },
    #[error(
        "`{id}` is bent to a centreline radius of {radius} mm, under {tight} times its diameter of {od} mm: without a mandrel and a trial bend it flattens (common practice). Take a larger radius."
    )]
    TightBend { id: &'a str, radius: f64, tight: f64, od: f64 },
    #[error("`{id}`: {found} ({}).", Published)]
    RollStructure { id: &'a str, found: RollFault<'a> },
    #[error(
        "The foot `{foot}` of `{member}` is {thickness} mm thick and {area:.0} cm2 large; published are at least 3 mm, not thinner than the tube's wall, and 120 cm2 ({}).",
        Published
    )]
    RollFoot { foot: &'a str, member: &'a str, thickness: f64, area: f64 },
    #[error(
        "End {number} of `{id}` meets nothing: all {outline:.1} mm of its outline pass {past}, by up to {by:.2} mm, most at {clock} degrees. {remedy}"
    )]
    MeetsNothing { number: usize, id: &'a str, outline: f64, past: Past<'a>, by: f64, clock: f64, remedy: Remedy<'a> },
    #[error(
        "At end {number} of `{id}` the wall passes {past} by up to {by:.2} mm over {outline:.1} mm of its outline, most at {clock} degrees. {remedy}"
    )]
    WallPasses { number: usize, id: &'a str, past: Past<'a>, by: f64, outline: f64, clock: f64, remedy: Remedy<'a> },
    #[error("End {number} of `{id}` goes into the open end of {onto} and touches nothing. {remedy}")]
    IntoOpenEnd { number: usize, id: &'a str, onto: Onto<'a>, remedy: Remedy<'a> },
    #[error(
        "At end {number} of `{id}` {in_bore:.1} mm of the wall's outline go into the open end of {onto}, where the cut is flush with that end. {remedy}"
    )]
    FlushInOpenEnd { number: usize, id: &'a str, in_bore: f64, onto: Onto<'a>, remedy: Remedy<'a> },
    #[error(
        "At end {number} of `{id}` {on_edge:.1} mm of the wall's outline land on the sawn edge of {onto}. See that the weld takes both edges."
    )]
    OnSawnEdge { number: usize, id: &'a str, on_edge: f64, onto: Onto<'a> },
}

/// What a part of a roll structure has under the published figures.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum RollFault<'a> {
    #[error("{size} is under the published least size of 45 x 2.5 or 50 x 2.0 for a main rollbar")]
    MainTubeTooSmall { size: &'a str },
    #[error("{size} is under the published least size of 38 x 2.5 or 40 x 2.0 for other members")]
    OtherTubeTooSmall { size: &'a str },
    #[error("bend {bend} has a centreline radius of {radius} mm, under the published least of 3 diameters, {least} mm")]
    BendTooTight { bend: usize, radius: f64, least: f64 },
    #[error("the material's tensile strength is under the published 350 N/mm2")]
    MaterialWeak,
    #[error("a stay is published as straight, and this one is bent")]
    StayBent,
    #[error("it stands {upright:.0} degrees from the vertical, under the published least of 30 for a backstay")]
    BackstayUpright { upright: f64 },
}

/// Where the published figures come from.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error(
    "FIA Appendix J, Art. 253-8, figures from memory as of 2025, for information only: read the text in force and have the structure inspected by a competent person"
)]
struct Published;

/// What an end is fitted to.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum Onto<'a> {
    #[error("`{0}`")]
    Named(&'a str),
    #[error("its plane")]
    Plane,
}

/// Where a wall passes what it is fitted to.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum Past<'a> {
    #[error("beside {0}")]
    Beside(Onto<'a>),
    #[error("beyond the end of {0}")]
    BeyondEnd(Onto<'a>),
}

/// What to do about an end that does not sit well.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum Remedy<'a> {
    #[error("The weld closes that.")]
    WeldCloses,
    #[error("Let {onto} run on by {run_on:.2} mm.")]
    LetRunOn { onto: Onto<'a>, run_on: f64 },
    #[error("Move the end into it, or name another member.")]
    MoveIn,
    #[error("Make {onto} larger there, or move the end further onto it.")]
    MakeLarger { onto: Onto<'a> },
    #[error("Make `{id}` no larger than {onto}, or fit {onto} to it.")]
    MakeSmaller { id: &'a str, onto: Onto<'a> },
    #[error("Move the axes together.")]
    MoveAxes,
    #[error("Use a plug or sleeve.")]
    UsePlug,
    #[error("Let {onto} run on by {run_on:.2} mm, or use a plug or sleeve.")]
    LetRunOnOrUsePlug { onto: Onto<'a>, run_on: f64 },
}
