//! What is said of the answers.

use thiserror::Error;

/// What is wrong with the answers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum AnswerFact<'a> {
    #[error("The answers cannot be read at `{path}`: {reason}. Correct them there.")]
    NotReadable { path: &'a str, reason: &'a str },
    #[error("`{name}` is no answer that is asked for, and was not used. See the list of answers in the handbook.")]
    NotAskedFor { name: &'a str },
    #[error("`tolerance` must be from 0 to 1 mm. Correct it.")]
    ToleranceOutside,
    #[error("`origin` must be three ordinary numbers. Correct it.")]
    OriginOutside,
    #[error(
        "The size of section `{section}` cannot be a tube's: od, width and height go from 3 to 1000 mm, the wall is less than half of the least. Correct it."
    )]
    SizeOutside { section: &'a str },
}

/// Where in the answers something is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum AnswerPlace {
    #[error("answers")]
    Anywhere,
}
