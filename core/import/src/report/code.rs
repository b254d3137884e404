//! Stable codes of findings.

use serde::Serialize;

macro_rules! codes {
    ($($(#[doc = $about:literal])+ $Name:ident = $code:literal,)+) => {
        /// What a finding is about. Codes never change their meaning.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
        pub enum Code {
            $($(#[doc = $about])+ #[serde(rename = $code)] $Name,)+
        }

        impl Code {
            /// The code as written in a report.
            #[must_use]
            pub fn as_str(self) -> &'static str {
                match self { $(Self::$Name => $code,)+ }
            }
        }
    };
}

codes! {
    /// The answers cannot be read.
    BadAnswers = "bad-answers",
    /// A field of the answers that is not asked for.
    UnknownAnswer = "unknown-answer",
    /// The file is of no format that is read.
    UnknownFormat = "unknown-format",
    /// The file ends too early.
    Truncated = "truncated",
    /// The file breaks the rules of its format.
    Malformed = "malformed",
    /// A number is none, or has no end.
    NotANumber = "not-a-number",
    /// The file is larger than what is read.
    TooLarge = "too-large",
    /// Blocks contain themselves or too much.
    BlockNesting = "block-nesting",
    /// Parts contain themselves or too much.
    PartNesting = "part-nesting",
    /// A thing refers to what is not there.
    MissingReference = "missing-reference",
    /// A formula without a value.
    FormulaWithoutValue = "formula-without-value",
    /// A row that cannot be used.
    BadRow = "bad-row",
    /// A name that two members have.
    NameTwice = "name-twice",
    /// The corner radius of a rectangular tube that was taken.
    CornerTaken = "corner-taken",
    /// A table or sheet in which no columns are known.
    NoTable = "no-table",
    /// A column that was not used.
    ColumnNotUsed = "column-not-used",
    /// The unit that was taken.
    UnitTaken = "unit-taken",
    /// The size of the frame does not suit the unit.
    UnitDoubtful = "unit-doubtful",
    /// A layer that was taken for no tubes.
    LayerNotUsed = "layer-not-used",
    /// What is drawn on sheets, hidden or for people to read.
    NotDrawn = "not-drawn",
    /// A thing that is not understood.
    NotUnderstood = "not-understood",
    /// A closed ring has no ends.
    ClosedRing = "closed-ring",
    /// A curve that is neither straight nor round.
    Freeform = "freeform",
    /// A line of no length.
    NoLength = "no-length",
    /// A line drawn twice, or in part.
    Duplicate = "duplicate",
    /// Ends that were joined across a gap.
    GapClosed = "gap-closed",
    /// Pieces in one line that were joined.
    JoinedInLine = "joined-in-line",
    /// Pieces that could be joined in more than one way.
    JoinUnclear = "join-unclear",
    /// A bend that was found in chords.
    ChordsFitted = "chords-fitted",
    /// A bend radius that was told.
    RadiusTaken = "radius-taken",
    /// A tube with two bend radii.
    TwoRadii = "two-radii",
    /// Bends that overlap, or a turn without a radius.
    BadBends = "bad-bends",
    /// The size of a section was taken from a name.
    SizeFromName = "size-from-name",
    /// A section's name was changed.
    SectionRenamed = "section-renamed",
    /// The grade of the material is not told.
    MaterialNotTold = "material-not-told",
    /// A solid that is no tube.
    SolidNotATube = "solid-not-a-tube",
    /// A hole that was not taken over.
    HoleNotRead = "hole-not-read",
    /// An end that is coped or cut at an angle, so that its length is not known.
    EndNotKnown = "end-not-known",
    /// A part without a placement.
    NoPlacement = "no-placement",
    /// Pairs that were averaged.
    PairsAveraged = "pairs-averaged",
    /// Tubes that are nearly mirrored.
    NearPair = "near-pair",
    /// Nothing in the files is a tube.
    NoTubes = "no-tubes",
    /// A member that is gone, but that something refers to.
    StillReferredTo = "still-referred-to",
    /// What went with a member that was taken out.
    RemovedWith = "removed-with",
    /// A text names a member that was taken out.
    StillNamed = "still-named",
    /// A pair whose hands are no longer mirrored.
    HandsApart = "hands-apart",
    /// A point moved that something else refers to, or its members moved away from it.
    PointMoved = "point-moved",
    /// The design breaks the rules of its format.
    DesignNotValid = "design-not-valid",
}
