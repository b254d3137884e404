//! What is said of the form and the names of a document.

use super::values::{Advice, Found, Unit, Wanted};
use thiserror::Error;

/// What is wrong, or worth knowing. Its sentence is English.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum DocumentFault<'a> {
    #[error("This reader knows the format `{format}`. Write that here.")]
    UnknownFormat { format: &'a str },
    #[error("An end has one cut, or a cope with one plane. Write {wanted}.")]
    SeveralCuts { wanted: Wanted },
    #[error("This cope names no member. Name those that the end is fitted to.")]
    CopeOfNothing,
    #[error("Here stands {found}; write {wanted}.")]
    WrongKind { found: Found, wanted: Wanted },
    #[error("Here stand {found} entries; the format allows {most}. Split the design.")]
    TooMany { found: usize, most: usize },
    #[error("`{name}` is not a field of this object. {advice}")]
    UnknownField { name: &'a str, advice: Advice<'a> },
    #[error("`{field}` is missing here. Add it.")]
    MissingField { field: &'a str },
    #[error("One of these words stands here: {known}. Write one of them.")]
    NotAWord { known: &'a str },
    #[error("The document has {bytes} bytes; the format allows {most_bytes}. Split the design.")]
    TooLong { bytes: usize, most_bytes: usize },
    #[error("Line {line}, column {column}: this is not JSON ({error}). Correct the text there.")]
    NotJson { line: usize, column: usize, error: &'a str },
    #[error("`{name}` is given twice in the same object. Keep one of them.")]
    GivenTwice { name: &'a str },
    #[error("`{id}` is already the id of member {first} of the list (counted from 0). Give each its own.")]
    IdTaken { id: &'a str, first: usize },
    #[error("No option is called `{option}`. {advice}")]
    UnknownOption { option: &'a str, advice: Advice<'a> },
    #[error("`{option}` has no choice `{choice}`. {advice}")]
    UnknownChoice { option: &'a str, choice: &'a str, advice: Advice<'a> },
    #[error("No point is called `{name}`. {advice}")]
    UnknownPoint { name: &'a str, advice: Advice<'a> },
    #[error("No member or plate is called `{name}`. {advice}")]
    UnknownMemberOrPlate { name: &'a str, advice: Advice<'a> },
    #[error("No section is called `{section}`. {advice}")]
    UnknownSection { section: &'a str, advice: Advice<'a> },
    #[error("Nothing is left long at this end, so there is nothing to trim. Say how much, or leave this out.")]
    NothingLong,
    #[error(
        "A mitre is given by `with` alone or by `normal` (and `through`, where the plane passes elsewhere). Write one of them."
    )]
    MitreUnclear,
    #[error("A member cannot be fitted to itself. Name another.")]
    FittedToItself,
    #[error(
        "`{target}` comes later in the build order, so it is not there yet when `{id}` is fitted. Move `{id}` behind it, or fit `{target}` to `{id}`."
    )]
    FittedToLater { target: &'a str, id: &'a str },
    #[error("What is mirrored is named `.L` or `.R` at the end, so that its opposite hand has a name. Rename it.")]
    MirrorName,
    #[error("`{name}` is the id of a member already. Give the plate a name of its own.")]
    PlateNamedAsMember { name: &'a str },
    #[error("No material is called `{material}`. {advice}")]
    UnknownMaterial { material: &'a str, advice: Advice<'a> },
    #[error("No member is called `{member}`. {advice}")]
    UnknownMember { member: &'a str, advice: Advice<'a> },
    #[error(
        "A plate lies in space (`at`, `normal` and `along`) or on a member (`on`, `station` and `clock`). Give the one or the other."
    )]
    PlaceUnclear,
    #[error("A plate follows a member, not another plate. Name the member after which it is put in place.")]
    AfterPlate,
    #[error("`{member}` has no opposite hand, so this hole cannot be mirrored. Give both holes.")]
    HoleNotMirrored { member: &'a str },
    #[error("{nominal} does not lie between {least} and {most}. Correct the limits or the nominal value.")]
    GaugeLimits { nominal: f64, least: f64, most: f64 },
    #[error(
        "`{point}` moves with `{partner}`, mirrored, so it would move twice. Leave it out, and say of `{partner}` how far its own side moves."
    )]
    MovedTwice { point: &'a str, partner: &'a str },
    #[error("A dimension lies between two points; here are {count}. Name two.")]
    CheckPoints { count: usize },
    #[error("An option has at least two choices, each with a name of its own. Correct the list.")]
    OptionChoices,
    #[error("No check is called `{check}`. {advice}")]
    UnknownCheck { check: &'a str, advice: Advice<'a> },
    #[error("No gauge is called `{gauge}`. {advice}")]
    UnknownGauge { gauge: &'a str, advice: Advice<'a> },
    #[error("A wall of {wall} leaves no bore in a tube of {od}. Write a wall under {under}.")]
    NoBore { wall: f64, od: f64, under: f64 },
    #[error("A wall of {wall} leaves no bore in a tube of {least}. Write a wall under {under}.")]
    NoBoreInRect { wall: f64, least: f64, under: f64 },
    #[error(
        "An outer corner radius of {corner} cannot be: it is at least the wall, {wall}, and under half the smaller side, {under}. Measure it, or write twice the wall."
    )]
    CornerRadius { corner: f64, wall: f64, under: f64 },
    #[error("A section is `round` or `rect`. Give the one or the other.")]
    SectionUnclear,
    #[error(
        "{measured} was measured for `{name}`, which lies outside {least} to {most} mm. Measure again; if it stays so, the bent part goes back to the supplier."
    )]
    GaugeOutside { measured: f64, name: &'a str, least: f64, most: f64 },
    #[error("This direction has no length. Give at least one component of about 1.")]
    NoDirection,
    #[error("A straight member has no bend radius. Remove it, or give a `path`.")]
    StraightRadius,
    #[error("A path needs at least two points. Add them.")]
    ShortPath,
    #[error("`radius` is missing here: a path with corners needs the centreline radius of its bends. Add it.")]
    NoRadius,
    #[error("A member is straight (`from` and `to`) or bent (`path` and `radius`). Give the one or the other.")]
    MemberUnclear,
    #[error("A mirrored member's id ends in `.L` or `.R`, so that its opposite hand has a name. Rename it.")]
    MirroredId,
    #[error("{number} is outside {least} to {most} {unit}. Write a value within.")]
    OutOfRange { number: f64, least: f64, most: f64, unit: Unit },
    #[error(
        "`{name}` cannot be a name. Use 1 to {most_name} letters, digits, `_`, `-` and `.`, beginning with a letter or digit."
    )]
    NotAName { name: &'a str, most_name: usize },
    #[error("This text has {length} characters. Write 1 to {most_text}.")]
    TextLength { length: usize, most_text: usize },
    #[error("This text holds line breaks or other hidden characters. Write it on one line.")]
    HiddenCharacters,
    #[error(
        "This text holds the character U+{character:04X}, which nobody sees and which can make it read as another. Leave it out."
    )]
    UnseenCharacter { character: u32 },
}
