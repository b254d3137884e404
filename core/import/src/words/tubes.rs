//! What is said of tubes, their bends and their other hands.

use thiserror::Error;

/// What is wrong with a tube, or was done about it.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum TubeFact<'a> {
    #[error("Nothing in the files is a tube. See the findings for what was left out.")]
    NoTubes,
    #[error(
        "This is {length:.2} mm long, too short for a tube, and was left out. Take it out of the drawing, or draw it longer."
    )]
    TooShort { length: f64 },
    #[error("This tube has {corners} corners, more than a member can have, and was left out. Draw its bends as arcs.")]
    TooManyCorners { corners: usize },
    #[error("This tube has two corners or ends at one place, and was left out. Correct it.")]
    CornersAtOnePlace,
    #[error("This tube turns back on itself in one corner, which no bend does, and was left out. Correct it.")]
    TurnsBack,
    #[error(
        "The bends of this tube overlap: the straight between two corners is too short for the radius. Correct the radius or the corners."
    )]
    BendsOverlap,
    #[error("This tube lies where another does ({other}), and was left out.")]
    Twin { other: &'a str },
    #[error("{corners} sharp corners were read as bends of radius {radius} mm, as was answered.")]
    RadiusTaken { corners: usize, radius: f64 },
    #[error("Each piece between sharp corners was made a tube of its own, as was answered by a bend radius of 0.")]
    SplitAtCorners,
    #[error(
        "{tubes} tubes have sharp corners. What is the bend radius of each? Answer 0 where each piece is a tube of its own."
    )]
    WhichRadius { tubes: usize },
    #[error(
        "This tube has bends of two radii, {radius:.3} and {other:.3} mm. A member has one, so the tube was left out. Draw it with one radius, or as two tubes."
    )]
    TwoRadii { radius: f64, other: f64 },
}

/// What is said of tubes that are mirrored across the middle plane.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum PairFact<'a> {
    #[error(
        "This tube and the other hand ({other}) are nearly mirrored across y = 0, but differ by {off:.3} mm, so they are two members."
    )]
    NearPair { other: &'a str, off: f64 },
    #[error("Hands of pairs differ by up to {largest:.4} mm. Both were made the mean of the two.")]
    Averaged { largest: f64 },
    #[error(
        "Where is the middle plane? {count} tubes would be mirrored across y = {plane} mm of the design, {paired} are across y = 0. Answer `origin` so that the middle plane comes to y = 0."
    )]
    WhichPlane { count: usize, plane: f64, paired: usize },
}

/// Where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Place {
    #[error("pairs across y = 0")]
    Pairs,
}
