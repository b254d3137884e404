//! What is said of STEP files.

use thiserror::Error;

/// What ends the reading of a file.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum StepFault {
    #[error(
        "The file ends too early: it has no END-ISO-10303-21 at its end, so part of the frame may be missing. Save or send it anew."
    )]
    Truncated,
    #[error("{0} The file is damaged or no STEP file. Save it anew.")]
    Malformed(Breach),
    #[error("`{text}` is no finite number. Correct it, or save the file anew.")]
    NotANumber { text: String },
    #[error("The number #{id} is given to two records. Save the file anew.")]
    NumberTwice { id: u64 },
}

/// How a file breaks the rules of its format.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Breach {
    #[error("`ISO-10303-21;` was expected here.")]
    NoBegin,
    #[error("A number is missing after `#`, or is too long.")]
    ReferenceWithoutNumber,
    #[error("A word between points does not end.")]
    OpenWord,
    #[error("A sign stands here that the format does not have.")]
    UnknownSign,
    #[error("`=` was expected after the number of a record.")]
    NumberWithoutRecord,
    #[error("The file has more records than are read. Export only the frame.")]
    TooManyRecords,
    #[error("A bracket closes that was not opened.")]
    BracketNotOpened,
    #[error("A bracket is not closed in this record.")]
    BracketNotClosed,
}

/// What is wrong with what a file draws, or was done about it.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum StepFact<'a> {
    #[error(
        "No solid of a tube and no wireframe was found in this file. Export the tubes as solids or their centrelines as curves."
    )]
    NothingFound,
    #[error("A shape is referred to that is not in the file. Export it anew.")]
    ShapeMissing,
    #[error("An item is referred to that is not in the file or cannot be read. Export it anew.")]
    ItemMissing,
    #[error("A curve is referred to that is not in the file or cannot be read. Export it anew.")]
    CurveMissing,
    #[error("The file has more than {most} curves, or repeats them without end. Export only the frame.")]
    TooManyCurves { most: usize },
    #[error(
        "An assembly contains itself, is more than {deepest} deep, or has more than {most} parts. Export only the frame."
    )]
    AssemblyNesting { deepest: usize, most: usize },
    #[error("A shape contains itself or too much. Export only the frame.")]
    ShapeNesting,
    #[error(
        "Where the part `{product}` is placed is missing or not understood. It was read where it is drawn. Check its place."
    )]
    PartNotPlaced { product: &'a str },
    #[error("Where this shape is placed is not understood, so it was left out.")]
    ShapeNotPlaced,
    #[error("`{name}` is not understood as a tube: {why}. It was left out.")]
    SolidNotATube { name: &'a str, why: &'a NoTube },
    #[error(
        "The {end} end of `{name}` is coped. Where its centreline ends is not in the file; it was taken to the axis of what it is coped to. Check its length."
    )]
    EndCoped { end: TubeEnd, name: &'a str },
    #[error(
        "The {end} end of `{name}` is of another shape than flat or coped to a straight tube. Its centreline was taken as far as its wall goes. Check its length."
    )]
    EndOfOtherShape { end: TubeEnd, name: &'a str },
    #[error("`{name}` has a hole of {diameter:.2} mm, which was not taken over. Add it to the design.")]
    HoleNotRead { name: &'a str, diameter: f64 },
    #[error("This curve has no length and was left out.")]
    NoLength,
    #[error("A placement stretches this arc to an ellipse; it was left out.")]
    ArcStretched,
    #[error("This curve is neither straight nor an arc, so no tube was made of it. Draw it as lines and arcs.")]
    Freeform,
    #[error("What this curve is made of is missing or cannot be read, so it was left out. Export it anew.")]
    CurveIncomplete,
    #[error(
        "A {kind} is not understood here and was left out. Export tubes as solids, or their centrelines as trimmed lines and arcs."
    )]
    UnknownKind { kind: &'a str },
}

/// One of the two ends of a tube.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum TubeEnd {
    #[error("first")]
    First,
    #[error("last")]
    Last,
}

/// Why a solid is no tube.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum NoTube {
    #[error("its shell is missing")]
    ShellMissing,
    #[error("it has {count} faces")]
    FaceCount { count: usize },
    #[error("face #{id} is missing")]
    FaceMissing { id: u64 },
    #[error("a face is missing")]
    OrientedFaceMissing,
    #[error("it has faces of kind {kind}")]
    FaceKind { kind: String },
    #[error("the surface of face #{id} is missing")]
    SurfaceMissing { id: u64 },
    #[error("it has a surface that is neither flat nor part of a straight or bent round tube")]
    OtherSurface,
    #[error("its parts have more than one size")]
    SizesDiffer,
    #[error("it holds more than one tube")]
    SeveralTubes,
    #[error("it is shorter than its outside diameter: a ring, washer or bush")]
    Short,
    #[error("it has flat faces only: a plate or bracket")]
    FlatOnly,
    #[error("it has no inner surface: a solid bar")]
    NoInside,
    #[error("it is flat with holes: a plate")]
    FlatWithHoles,
    #[error("its round surfaces are not those of one tube")]
    RoundSurfacesApart,
    #[error("two round surfaces on one axis face the same way: a stepped hole or shaft")]
    Stepped,
    #[error("it has three or more radii on one axis")]
    RadiiOnAxis,
    #[error("two bent surfaces face the same way")]
    BentSurfacesFaceAlike,
    #[error("a bend has three or more radii")]
    RadiiOfBend,
    #[error("how far a bend goes round cannot be told from its edges")]
    SweepUnclear,
    #[error("its straight and bent parts do not make one tube")]
    PartsApart,
    #[error("it is a closed ring")]
    ClosedRing,
}

/// A place in a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Place<'a> {
    #[error("{file}, line {line}")]
    Line { file: &'a str, line: u64 },
    #[error("{file}, #{id} {kind}")]
    Record { file: &'a str, id: u64, kind: &'a str },
    #[error("{file}, #{id} representation")]
    Representation { file: &'a str, id: u64 },
    #[error("{file}, #{id} item")]
    Item { file: &'a str, id: u64 },
    #[error("{file}, #{id} curve")]
    Curve { file: &'a str, id: u64 },
    #[error("{file}, #{id} {kind} `{name}`")]
    Solid { file: &'a str, id: u64, kind: &'a str, name: &'a str },
}
