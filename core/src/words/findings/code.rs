//! What is said of codes, keys and signed statements that cannot be read or trusted.

use thiserror::Error;

/// Why a code is not to be trusted.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum SealError {
    /// It is no code of ours.
    #[error("this is not the code of a page; scan it again, flat and in good light")]
    NotReadable,
    /// A newer program wrote it.
    #[error("the code is of form {0}, which this program does not know; use a newer one")]
    Form(u8),
    /// The signature does not belong to it.
    #[error("the signature does not fit: the code was changed, or signed with another key. Do not cut from this page")]
    Signature,
    /// A text is too long for a code.
    #[error("{0:?} is too long to be signed; 64 bytes at most")]
    TooLong(String),
    /// A key that is none.
    #[error("a key is 32 bytes, written as 64 hexadecimal digits")]
    Key,
}

/// Why a status is not to be relied on.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum StatusError {
    /// Larger than any status.
    #[error("it has {0} bytes, more than any status; fetch it again")]
    TooLarge(usize),
    /// Not UTF-8.
    #[error("it is not UTF-8 text; fetch it again")]
    NotText,
    /// It ends early.
    #[error("it ends early; fetch it again")]
    Truncated,
    /// No status.
    #[error("it is no status of a design: {0}")]
    NotReadable(String),
    /// A newer program wrote it.
    #[error("it is of form {0}, which this program does not know; use a newer one")]
    Format(String),
    /// The signature does not belong to it.
    #[error("the signature does not fit: it was changed, or signed with another key. Do not rely on it")]
    Signature,
}

/// The file is no PDF that can be read.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("this is not a PDF file")]
pub struct NotAPdf;
