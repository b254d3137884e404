//! What is signed and how it is checked, without a network (Ed25519, RFC 8032): the statement that every page of a pack carries,
//! the status of a design, and a whole file.
//!
//! [`check_seals`] checks a file against what its pages signed. Whoever writes a file signs it with the same code (`sealed`): `render`
//! uses this folder and never the other way round.

pub(crate) mod file_seal;
mod mixed;
pub(crate) mod sealed;
mod signing;
mod statement;
mod status;
pub(crate) mod strict;
mod symbol;
mod verify;

pub(crate) use signing::SIGNATURE_BYTES;
pub use signing::{PublicKey, SealError, SealKey};
pub(crate) use statement::notice_number;
pub use statement::{HASH_BYTES, PageKind, PageStatement};
pub use status::{CurrentRevision, DesignStatus, MOST_STATUS_BYTES, STATUS_FORMAT, SignedStatus, StatusError};
pub use verify::{Answer, NotAPdf, PageSeal, SealReport, check_seals};
