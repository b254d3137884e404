//! What is said of a part that cannot be written as a solid.

use thiserror::Error;

/// Why a part cannot be written as a solid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum SolidError {
    /// The document has errors.
    #[error("The design has errors. Correct what its findings name first.")]
    DesignHasErrors,
    /// No member has this id.
    #[error("There is no member of this id. The cut sheet lists all members.")]
    UnknownMember,
    /// No plate has this name.
    #[error("There is no plate of this name. The list of plates has all of them.")]
    UnknownPlate,
    /// Part of the wall misses what it is fitted to.
    #[error(
        "Part of the wall misses what this end is fitted to, so that the solid has no end there. Correct the joint first."
    )]
    Misses,
    /// The cut steps from a near surface to a far one.
    #[error(
        "This end's cut steps from one member down to another behind it. Move the axes together, or fit the end to one of them."
    )]
    Step,
    /// The tube lies inside its target from the start.
    #[error("An end lies inside its target from the start. Make the member longer or move its end.")]
    StartsInside,
    /// Too little of a leg is left.
    #[error("The cuts leave nothing of a straight leg. Make the member longer.")]
    TooShort,
    /// A rectangular tube has bends.
    #[error("A rectangular tube with bends cannot be written as a solid yet; use its sheets.")]
    BentRectangle,
    /// A hole runs into a cut or another hole.
    #[error("A hole runs into a cut or another hole, so that its edge is no closed ring. Move the hole.")]
    HoleCut,
    /// The surfaces of a cut meet in a way that is not followed.
    #[error(
        "The surfaces that an end is fitted to meet inside its wall in a way that cannot be written as a solid. Use its wrap."
    )]
    TooIntricate,
    /// A hit lies on no known surface of its target.
    #[error("An end meets a target where no single surface could be named. Move the end a little, or use its wrap.")]
    Unresolved,
    /// The shell did not close.
    #[error("The solid of this part did not close and is not written. Use its wraps, and tell the service's operator.")]
    Open,
    /// It is no longer wanted.
    #[error("The solid was given up before its end.")]
    Stopped,
}

/// What a file of the whole frame says of a part that it leaves out.
#[derive(Debug, Error)]
#[error("NOT IN THIS FILE: {part}. {why}")]
pub(crate) struct NotInThisFile<'a> {
    pub part: &'a str,
    pub why: SolidError,
}
