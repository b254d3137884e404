//! What use cases ask of each other. Nothing here is a use case, and nothing here knows one.

pub(crate) mod answered;
pub mod caller_address;
pub(crate) mod contact;
pub(crate) mod drawn_with;
pub(crate) mod events;
pub(crate) mod holder_news;
pub(crate) mod idempotency;
pub(crate) mod letter;
pub(crate) mod lookup;
pub(crate) mod made_already;
pub(crate) mod measured_set;
pub(crate) mod number;
pub(crate) mod outbox;
pub(crate) mod principal;
pub(crate) mod publication;
pub(crate) mod reasons;
pub(crate) mod release;
pub mod request_identity;
pub(crate) mod review;
pub(crate) mod shown_once;
pub(crate) mod standing;
pub(crate) mod states;
pub(crate) mod valid;
