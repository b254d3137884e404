//! The audit log: one row an act, chained by its hash to the one before in the chain of the design or kit that it was done to, or
//! in that of the house. Acts from before there were several chains are in one, whose name is empty.

use super::{Conn, StoreError};
use crate::hash::sha256_hex;

/// One act.
#[derive(Debug, Clone, Copy)]
pub struct Act<'a> {
    pub at: &'a str,
    /// Id of the token that did it, or `system`.
    pub actor: &'a str,
    /// What was done, such as `publish-revision`.
    pub action: &'a str,
    /// To what, such as `designs/fenrunner-two/revisions/B`.
    pub subject: &'a str,
}

/// Adds an act; belongs in the write of the act itself, at whose end it goes into its chain with the rows that the write leaves.
pub async fn append(conn: &mut Conn, act: Act<'_>) -> Result<(), StoreError> {
    conn.pending().ok_or(StoreError::NotAWrite)?.act(act);
    Ok(())
}

/// The hash of an act: its chain, the hash before it, its fields and what it says of rows, one a line under a heading that names
/// the form.
pub fn link(chain: &str, previous: &str, place: i64, act: Act<'_>, facts: &str) -> String {
    let Act { at, actor, action, subject } = act;
    sha256_hex(format!(
        "matchmark-audit/2\n{chain}\n{previous}\n{place}\n{at}\n{actor}\n{action}\n{subject}\n{facts}\n"
    ))
}

/// The same for an act from before there were several chains.
pub fn link_of_before(previous: &str, number: i64, act: Act<'_>) -> String {
    let Act { at, actor, action, subject } = act;
    sha256_hex(format!("matchmark-audit/1\n{previous}\n{number}\n{at}\n{actor}\n{action}\n{subject}\n"))
}
