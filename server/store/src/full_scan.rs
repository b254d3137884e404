//! Whole tables read in their order, for those who look at all that is kept.

use super::revisions::RevisionRow;
use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// One act of the audit log as kept.
    #[derive(Debug, FromRow)]
    pub struct ActRow of "audit" {
        pub number: i64,
        pub at: String,
        pub actor: String,
        pub action: String,
        pub subject: String,
        pub previous: String,
        pub hash: String,
        /// Empty for an act from before there were several.
        pub chain: String,
        /// Place in the chain, from 1.
        pub place: i64,
        /// JSON of the rows that it left; empty when there are none.
        pub facts: String,
    }
}

/// What a pack says of its bytes.
#[derive(Debug, FromRow)]
pub struct PackBytesRow {
    pub kit: String,
    pub number: i64,
    pub sha256: String,
    pub size: i64,
    /// Empty for a pack from before there were any.
    pub manifest_sha256: String,
}

/// Acts of the one chain from before there were several, after this number, in their order.
pub async fn acts_of_before(conn: &mut Conn, after: i64, limit: i64) -> Result<Vec<ActRow>, StoreError> {
    ActRow::select("WHERE chain = '' AND number > $1 ORDER BY number LIMIT $2").bind(after).bind(limit).all(conn).await
}

/// Acts after this place of this chain, chain by chain in their order.
pub async fn acts(conn: &mut Conn, after: (&str, i64), limit: i64) -> Result<Vec<ActRow>, StoreError> {
    ActRow::select("WHERE chain <> '' AND (chain, place) > ($1, $2) ORDER BY chain, place LIMIT $3")
        .bind(after.0)
        .bind(after.1)
        .bind(limit)
        .all(conn)
        .await
}

/// All revisions, those of a design together, oldest first.
pub async fn revisions(conn: &mut Conn) -> Result<Vec<RevisionRow>, StoreError> {
    RevisionRow::select("ORDER BY design, number").all(conn).await
}

/// All packs, those of a kit together, oldest first.
pub async fn packs(conn: &mut Conn) -> Result<Vec<PackBytesRow>, StoreError> {
    sql("SELECT kit, number, sha256, size, manifest_sha256 FROM packs ORDER BY kit, number").all(conn).await
}
