//! What is said of a joint described on its own.

use thiserror::Error;

/// What is wrong, or worth knowing. Its sentence is English.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum JointFault<'a> {
    #[error("`ref` must not be parallel to `dir`. Give another direction.")]
    RefParallel,
    #[error("`s_start` must lie before `s_limit`. Correct one of them.")]
    StartAfterLimit,
    #[error("{count} targets are more than {most_onto_a_case}. Leave out those that are not met.")]
    TooManyTargets { count: usize, most_onto_a_case: usize },
    #[error("The wall must be over 0 and under half the diameter. Correct it.")]
    RoundWall,
    #[error("The wall must be over 0 and under half the smaller side. Correct it.")]
    RectWall,
    #[error("The outer corner radius is at least the wall and under half the smaller side. Correct it.")]
    OuterCorner,
    #[error("The corner radius is at most half the smaller side. Correct it.")]
    CornerRadius,
    #[error("The bend radius must be over half the diameter. Correct it.")]
    BendRadius,
    #[error("A path has 2 to {most_onto_a_case} points. Correct it.")]
    PathPoints { most_onto_a_case: usize },
    #[error("This path cannot be bent: {error}. Correct it.")]
    PathCannotBeBent { error: &'a str },
    #[error("Coordinates lie within {most_length} mm. Correct this one.")]
    FarAway { most_length: f64 },
    #[error("This direction has no length. Give one that has.")]
    NoDirection,
    #[error("{value} is not a size over 0 and up to {most_length} mm. Correct it.")]
    NotASize { value: f64, most_length: f64 },
    #[error("This is not a joint in JSON ({error}). Send one case or {{\"cases\": [...]}}.")]
    NotAJoint { error: &'a str },
    #[error("{count} cases are more than the {most_cases} of one request. Send them in parts.")]
    TooManyCases { count: usize, most_cases: usize },
    #[error("{why}. Correct this case.")]
    MendCase { why: &'a str },
    #[error("The tube already lies inside a target at `s_start`. Move `s_start` back into the body.")]
    StartsInside,
    #[error("An end is fitted to 1 to {most_onto} tubes, not {count}. Name those that it meets.")]
    Onto { most_onto: usize, count: usize },
    #[error("A mitre joins two tubes. Name the one that it is to meet.")]
    MitreOfTwo,
    #[error("A tube has {known}. Leave this out.")]
    UnknownField { known: &'a str },
}
