//! The audit log: one row an act, each chained to the one before by its hash.

use super::{Conn, StoreError, sql};
use crate::hash::sha256_hex;
use sqlx_macros::FromRow;

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

#[derive(FromRow)]
struct Head {
    number: i64,
    hash: String,
}

/// Adds an act; belongs in the transaction of the act itself.
pub async fn append(conn: &mut Conn, act: Act<'_>) -> Result<(), StoreError> {
    let head: Option<Head> = sql("SELECT number, hash FROM audit ORDER BY number DESC LIMIT 1").optional(conn).await?;
    let head = head.unwrap_or(Head { number: 0, hash: String::new() });
    let number = head.number + 1;
    let hash = link(&head.hash, number, act);
    sql("INSERT INTO audit (number, at, actor, action, subject, previous, hash) \
         VALUES ($1, $2, $3, $4, $5, $6, $7)")
    .bind(number)
    .bind(act.at)
    .bind(act.actor)
    .bind(act.action)
    .bind(act.subject)
    .bind(&head.hash)
    .bind(&hash)
    .execute(conn)
    .await
}

/// The hash of an act: its fields and the hash before it, one a line under a heading that names the form.
pub fn link(previous: &str, number: i64, act: Act<'_>) -> String {
    let Act { at, actor, action, subject } = act;
    sha256_hex(format!("matchmark-audit/1\n{previous}\n{number}\n{at}\n{actor}\n{action}\n{subject}\n"))
}
