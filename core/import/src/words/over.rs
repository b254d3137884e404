//! What is said of an existing design that an import is read over.

use thiserror::Error;

/// What became of an existing design, or is wrong with it.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum OverFact<'a> {
    #[error("The existing design is not JSON: {reason}. Correct it.")]
    NotJson { reason: &'a str },
    #[error("What was read makes no valid design: {finding}")]
    NotValid { finding: &'a str },
    #[error("{count} members of the existing design cannot be read. They stay as they are.")]
    UnreadMembers { count: usize },
    #[error(
        "The member `{id}` is not in the files any more, but a hole, step, check, cut or option of the design names it, so it stays. Look for `{id}` in the design, change what names it, then take the member out."
    )]
    StillReferredTo { id: &'a str },
    #[error(
        "`{id}` is not in the files any more and was taken out. With it went: {fields}. Give that to another member, or let it go."
    )]
    RemovedWith { id: &'a str, fields: &'a str },
    #[error(
        "End {number} of `{member}` was fitted to a tube that is not in the files any more, and is free of it now. Run `matchmark resolve`, and look at this end."
    )]
    EndLetGo { number: u8, member: &'a str },
    #[error("This text names `{id}`, which was taken out: “{text}” Correct the text.")]
    StillNamed { id: &'a str, text: &'a str },
    #[error(
        "`{id}` and `{other}` are no longer mirrored, so they are two members now. The cuts and the note of the pair were given to both; check them, and give `{other}` a part number if the pair had one."
    )]
    HandsApart { id: &'a str, other: &'a str },
    #[error(
        "The members that met at point `{name}` do not meet there any more. The point stays, as something else refers to it. Check what does."
    )]
    PointLeft { name: &'a str },
    #[error(
        "The point `{name}` moved by {by:.1} mm with its members. Something else refers to it, and moved too. Check what does."
    )]
    PointMoved { name: &'a str, by: f64 },
}

/// Where it stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum Place<'a> {
    #[error("existing design")]
    Design,
    #[error("existing design, members")]
    Members,
    #[error("existing design, member {id}")]
    Member { id: &'a str },
    #[error("existing design, point {name}")]
    Point { name: &'a str },
    #[error("existing design, {pointer}")]
    Text { pointer: &'a str },
}
