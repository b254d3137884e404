//! What is said of a frame.

use thiserror::Error;

/// What is wrong, or worth knowing. Its sentence is English.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum FrameFault<'a> {
    #[error(
        "End {end} of `{id}` runs into no earlier member and is cut square. Write \"square\" there if that is meant."
    )]
    Unfitted { end: usize, id: &'a str },
    #[error("`{id}` and `{other}` do not lie in line: {apart:.2} mm apart over the depth. Put both on one axis.")]
    NotInLine { id: &'a str, other: &'a str, apart: f64 },
    #[error(
        "End {end} of `{id}` overlaps `{other}` by {sits:.1} mm, less than the {depth} mm wanted. Move its end further on."
    )]
    TooShortInside { end: usize, id: &'a str, other: &'a str, sits: f64, depth: f64 },
    #[error("{one} and {other} have no common shape to slide in one another. Use two round or two rectangular tubes.")]
    NoCommonShape { one: &'a str, other: &'a str },
    #[error(
        "`{id}` does not go into `{other}`: it is {by:.2} mm too large across. Choose a smaller tube or a thinner wall."
    )]
    TooLargeInside { id: &'a str, other: &'a str, by: f64 },
    #[error(
        "`{id}` sits in `{other}` with {clearance:.2} mm of play across. Choose sections that slide with less than {loose} mm."
    )]
    PlayInside { id: &'a str, other: &'a str, clearance: f64, loose: f64 },
    #[error(
        "`{name}` is left out by this choice of options, but end {end} of `{id}` is fitted to it. Give `{id}` the same `when`, or an end cut that holds for all."
    )]
    FittedToLeftOut { name: &'a str, end: usize, id: &'a str },
    #[error(
        "`{name}` is put in place after `{id}`, so it is not there yet when `{id}` is fitted. Let the plate come first (`after`), or fit something else."
    )]
    FittedToLater { name: &'a str, id: &'a str },
    #[error("This plane runs almost along the tube, so it cuts no end. Turn its normal towards the tube's axis.")]
    PlaneAlongTube,
    #[error("`{other}` has no end at this point, so there is no angle to halve. Let both end at one point.")]
    NoEndHere { other: &'a str },
    #[error("Both tubes lie on one another here, so there is no angle to halve. Move one.")]
    TubesOnOneAnother,
    #[error(
        "{one} and {other} do not meet all round on the plane that joins them: their outlines lie up to {off:.1} mm apart there. Close the step with weld or a plate, or cope the smaller onto the larger."
    )]
    MitreUnequal { one: &'a str, other: &'a str, off: f64 },
    #[error(
        "A hole of {diameter} at station {station} runs over the end of `{member}`, whose centreline is {length:.1} mm long. Move it."
    )]
    HoleOverEnd { diameter: f64, station: f64, member: &'a str, length: f64 },
    #[error("This hole lies in bend {bend} of `{member}`, where the wall stretches. Move it onto a straight.")]
    HoleInBend { bend: usize, member: &'a str },
    #[error("`offset` is for rectangular tubes. Turn the clock angle instead.")]
    OffsetOnRound,
    #[error("A hole of {diameter} does not fit into the bore of {bore}. Make it smaller.")]
    HoleTooLarge { diameter: f64, bore: f64 },
    #[error("On a rectangular tube the clock angle of a hole is 0, 90, 180 or 270. Write one of them.")]
    HoleClock,
    #[error(
        "This hole reaches {reach:.1} mm from the middle of a side that is flat for {flat:.1} mm only. Move it or make it smaller."
    )]
    HoleOffFlat { reach: f64, flat: f64 },
    #[error(
        "`{name}` is left out by this choice of options, but `{id}` is trimmed after it. Name something that is always there."
    )]
    TrimmedAfterLeftOut { name: &'a str, id: &'a str },
    #[error(
        "End {number} of `{id}` meets `{met}`, so there is no room for the {long} mm that it is left long once both stand. Trim it before that: name something earlier, or leave this out."
    )]
    NoRoomToTrim { number: usize, id: &'a str, met: &'a str, long: f64 },
    #[error(
        "`{fitted}` is fitted to end {number} of `{id}`, which is still left long by {long} mm then. Trim it before that: name something earlier, or leave this out."
    )]
    FittedToLong { fitted: &'a str, number: usize, id: &'a str, long: f64 },
    #[error(
        "`{id}` stands on its end {number}: left long by {long} mm it reaches {by:.1} mm below the plane on which the frame is built. Trim it before it is put in place: name something earlier, or leave this out."
    )]
    StandsTooLow { id: &'a str, number: usize, long: f64, by: f64 },
    #[error(
        "`{gauge}` is measured after `{after}`, when `{trimmed}` has been trimmed already, and decides where it is trimmed. Measure it earlier, or trim later."
    )]
    MeasuredTooLate { gauge: &'a str, after: &'a str, trimmed: &'a str },
    #[error("`{id}` cannot be made: {why}. Move the points apart or reduce the bend radius.")]
    CannotBeMade { id: &'a str, why: &'a str },
    #[error("`{id}` is a bent rectangular tube, which is not computed here. Make it of straight members with mitres.")]
    BentRectangular { id: &'a str },
    #[error("A bend radius of {radius} is not over half the tube's diameter. Write a larger one.")]
    BendRadius { radius: f64 },
    #[error(
        "`{point}` is mirrored, but `{partner}` is given {apart:.3} mm away from the mirror image of `{given}`. Leave `{partner}` out, or give both members."
    )]
    MirrorPoint { point: &'a str, partner: &'a str, apart: f64, given: &'a str },
    #[error("`{member}` is bent. Give this plate's place in space.")]
    PlateOnBent { member: &'a str },
    #[error("Station {station} lies beyond the end of `{member}`, which is {length:.1} mm long. Write a smaller one.")]
    StationBeyondEnd { station: f64, member: &'a str, length: f64 },
    #[error("`along` is parallel to `normal`, so the plate has no direction. Turn one of them.")]
    AlongNormal,
    #[error("An outline has at least three corners, or two with an arc. Add them.")]
    TooFewCorners,
    #[error("This corner cannot be rounded so much: its edges are too short. Reduce the radius.")]
    CornerTooTight,
    #[error("This outline crosses itself. Put its corners in order.")]
    OutlineCrosses,
    #[error("This outline encloses nothing. Correct its corners.")]
    OutlineEmpty,
    #[error("This hole runs over the edge of its plate. Move it in or make it smaller.")]
    HoleOverEdge,
    #[error("A countersink is wider than its hole. Correct one of the two diameters.")]
    CountersinkSmall,
    #[error("This hole runs into another one. Move one of them.")]
    HolesMeet,
}
