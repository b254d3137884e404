//! Checkpoints: the heads of all chains that moved, joined in a chain of their own. Whoever keeps the hash of one can see later
//! that no chain was written anew up to there.

use super::row::row;
use super::{Conn, StoreError, record, sql};
use crate::hash::sha256_hex;
use sqlx_macros::FromRow;

/// How many heads one joins at most.
const AT_ONCE: i64 = 5_000;

row! {
    /// A checkpoint as kept.
    #[derive(Debug, FromRow)]
    pub struct CheckpointRow of "checkpoints" {
        pub number: i64,
        pub at: String,
        /// JSON: chain, place and hash of each head.
        pub heads: String,
        pub previous: String,
        pub hash: String,
    }
}

row! {
    /// Where a chain ends, and up to where a checkpoint has joined it.
    #[derive(Debug, FromRow)]
    pub struct HeadRow of "chain_heads" {
        pub chain: String,
        pub place: i64,
        pub hash: String,
        pub joined: i64,
    }
}

/// Whether a chain has moved since the last checkpoint.
pub async fn is_due(conn: &mut Conn) -> Result<bool, StoreError> {
    let open: i64 = sql("SELECT COUNT(*) FROM chain_heads WHERE joined < place").one_value(conn).await?;
    Ok(open > 0)
}

/// Joins the heads of all chains that have moved, those of this write included.
pub async fn join(conn: &mut Conn, at: &str) -> Result<(), StoreError> {
    record::flush(conn).await?;
    loop {
        let open: Vec<HeadRow> =
            HeadRow::select("WHERE joined < place ORDER BY chain LIMIT $1").bind(AT_ONCE).all(conn).await?;
        let Some(last) = open.last() else { return Ok(()) };
        let heads: Vec<_> = open.iter().map(|head| (&head.chain, head.place, &head.hash)).collect();
        let heads = serde_json::json!(heads).to_string();
        let (before, previous) = last_of(conn).await?;
        let number = before + 1;
        sql("INSERT INTO checkpoints (number, at, heads, previous, hash) VALUES ($1, $2, $3, $4, $5)")
            .bind(number)
            .bind(at)
            .bind(&heads)
            .bind(&previous)
            .bind(&link(&previous, number, at, &heads))
            .execute(conn)
            .await?;
        sql("UPDATE chain_heads SET joined = place WHERE joined < place AND chain <= $1")
            .bind(&last.chain)
            .execute(conn)
            .await?;
    }
}

/// Number and hash of the last checkpoint; before the first one, of the last act from before there were chains.
async fn last_of(conn: &mut Conn) -> Result<(i64, String), StoreError> {
    let last: Option<(i64, String)> =
        sql("SELECT number, hash FROM checkpoints ORDER BY number DESC LIMIT 1").optional(conn).await?;
    match last {
        Some(last) => Ok(last),
        None => {
            let before = sql("SELECT hash FROM audit WHERE chain = '' ORDER BY number DESC LIMIT 1");
            Ok((0, before.optional_value(conn).await?.unwrap_or_default()))
        }
    }
}

/// Checkpoints after this number, in their order.
pub async fn list(conn: &mut Conn, after: i64, limit: i64) -> Result<Vec<CheckpointRow>, StoreError> {
    CheckpointRow::select("WHERE number > $1 ORDER BY number LIMIT $2").bind(after).bind(limit).all(conn).await
}

/// The ends of all chains.
pub async fn heads(conn: &mut Conn) -> Result<Vec<HeadRow>, StoreError> {
    HeadRow::select("ORDER BY chain").all(conn).await
}

/// The hash of a checkpoint: its fields and the hash before it, one a line under a heading that names the form.
pub fn link(previous: &str, number: i64, at: &str, heads: &str) -> String {
    sha256_hex(format!("matchmark-checkpoint/1\n{previous}\n{number}\n{at}\n{heads}\n"))
}
