//! The facts of one issue of a pack, given by the caller: what it is, whose, when, signed by whom.

use super::Print;
use crate::seal::SealKey;
use crate::sheets::Changes;

/// What is printed on every page besides its content.
#[derive(Debug, Clone, PartialEq)]
pub struct Issue {
    /// The supplier who issues the pack.
    pub supplier: String,
    /// Name of the design.
    pub design: String,
    /// Revision letter; empty for a draft.
    pub revision: String,
    /// Date of issue, `YYYY-MM-DD`.
    pub date: String,
    /// Serial of the kit; empty when the pack is for no kit.
    pub kit: String,
    /// What sets the kit apart, a line each: its choices and measured values.
    pub kit_facts: Vec<String>,
    /// Number of the pack; empty when it was not issued.
    pub pack_number: String,
    /// What the pack may be used for.
    pub status: Status,
    /// How it is printed.
    pub print: Print,
    /// What it is signed with; a pack without it has no codes.
    pub seal: Option<Seal>,
    /// What changed since the pack that the kit had before; `None` when there was none or nothing is known of it.
    pub since: Option<Since>,
    /// SHA-256 of the canonical design document, lower-case hex.
    pub design_sha256: String,
}

/// What a pack may be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// A preview of a draft: not for cutting, and marked so on every page.
    Draft,
    /// A published revision.
    Issued,
}

/// What changed since the pack before.
#[derive(Debug, Clone, PartialEq)]
pub struct Since {
    /// Letter of the revision before.
    pub revision: String,
    /// Number of the pack before; empty when there was none.
    pub pack_number: String,
    /// What changed.
    pub changes: Changes,
    /// True for a pack that holds only what changed, to go with the pack before.
    pub only: bool,
}

/// The supplier's key, and where the status of a page is answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Seal {
    /// The key.
    pub key: SealKey,
    /// Id by which the design is known there.
    pub design_id: String,
    /// Address before a page's code, such as `HTTPS://PACKS.EXAMPLE/P/`; empty when the code stands alone. Capitals, digits and
    /// the signs `$%*+-./:` make the smallest code.
    pub address: String,
}
