//! What is said of parts and their ends.

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
    #[error("End {end_number} of `{id}` lies inside {listed} from the start. Make the member longer or move its end.")]
    StartsInside { end_number: usize, id: &'a str, listed: &'a str },
    #[error(
        "End {end_number} of `{id}` stops {short:.1} mm away from {listed}. Move the end into it, or name another member."
    )]
    StopsShort { end_number: usize, id: &'a str, short: f64, listed: &'a str },
    #[error("End {end_number} of `{id}` never meets `{target}`, though it is fitted to it. Name those that it meets.")]
    NeverMeets { end_number: usize, id: &'a str, target: &'a str },
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
    #[error("`{id}`: {found} ({after}).")]
    RollStructure { id: &'a str, found: &'a str, after: &'a str },
    #[error("{size} is under the published least size of {words}")]
    RollTubeTooSmall { size: &'a str, words: &'a str },
    #[error("bend {bend} has a centreline radius of {radius} mm, under the published least of 3 diameters, {least} mm")]
    RollBendTooTight { bend: usize, radius: f64, least: f64 },
    #[error("the material's tensile strength is under the published 350 N/mm2")]
    RollMaterialWeak,
    #[error("a stay is published as straight, and this one is bent")]
    RollStayBent,
    #[error("it stands {upright:.0} degrees from the vertical, under the published least of 30 for a backstay")]
    RollBackstayUpright { upright: f64 },
    #[error(
        "The foot `{foot}` of `{member}` is {thickness} mm thick and {area:.0} cm2 large; published are at least 3 mm, not thinner than the tube's wall, and 120 cm2 ({after})."
    )]
    RollFoot { foot: &'a str, member: &'a str, thickness: f64, area: f64, after: &'a str },
    #[error("beside {onto}")]
    Beside { onto: &'a str },
    #[error("beyond the end of {onto}")]
    BeyondEnd { onto: &'a str },
    #[error("The weld closes that.")]
    WeldCloses,
    #[error("Let {onto} run on by {run_on:.2} mm.")]
    LetRunOn { onto: &'a str, run_on: f64 },
    #[error("Move the end into it, or name another member.")]
    MoveIn,
    #[error(
        "{end} meets nothing: all {outline:.1} mm of its outline pass {past}, by up to {by:.2} mm, most at {clock} degrees. {remedy}"
    )]
    MeetsNothing { end: &'a str, outline: f64, past: &'a str, by: f64, clock: f64, remedy: &'a str },
    #[error(
        "At {end} the wall passes {past} by up to {by:.2} mm over {outline:.1} mm of its outline, most at {clock} degrees. {remedy}"
    )]
    WallPasses { end: &'a str, past: &'a str, by: f64, outline: f64, clock: f64, remedy: &'a str },
    #[error("Make {onto} larger there, or move the end further onto it.")]
    MakeLarger { onto: &'a str },
    #[error("Make `{id}` no larger than {onto}, or fit {onto} to it.")]
    MakeSmaller { id: &'a str, onto: &'a str },
    #[error("Move the axes together.")]
    MoveAxes,
    #[error("Let {onto} run on by {run_on:.2} mm, or use")]
    LetRunOnOr { onto: &'a str, run_on: f64 },
    #[error("{end} goes into the open end of {onto} and touches nothing. {use_plug} a plug or sleeve.")]
    IntoOpenEnd { end: &'a str, onto: &'a str, use_plug: &'a str },
    #[error(
        "At {end} {in_bore:.1} mm of the wall's outline go into the open end of {onto}, where the cut is flush with that end. {use_plug} a plug or sleeve."
    )]
    FlushInOpenEnd { end: &'a str, in_bore: f64, onto: &'a str, use_plug: &'a str },
    #[error(
        "At {end} {on_edge:.1} mm of the wall's outline land on the sawn edge of {onto}. See that the weld takes both edges."
    )]
    OnSawnEdge { end: &'a str, on_edge: f64, onto: &'a str },
    #[error("end {number} of `{id}`")]
    End { number: usize, id: &'a str },
}
