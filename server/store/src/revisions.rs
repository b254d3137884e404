//! Published revisions: inserted once, then only read.

use super::restores::{self, Numbered};
use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A revision as kept, without its document.
    #[derive(Debug, FromRow)]
    pub struct RevisionRow of "revisions", insert {
        pub design: String,
        pub number: i64,
        pub letter: String,
        pub change_note: String,
        /// `mandatory`, `recommended` or `optional`; none for a first issue.
        pub class: Option<String>,
        /// JSON array of the warning codes that were acknowledged.
        pub acknowledged: String,
        pub document_sha256: String,
        pub previous_chain: String,
        pub chain: String,
        /// JSON of its part numbers; empty for one published before parts had numbers.
        pub numbers: String,
        pub published_at: String,
        pub published_by: String,
    }
}

/// Adds a revision with its document.
pub async fn insert(conn: &mut Conn, row: &RevisionRow, document: &str) -> Result<(), StoreError> {
    row.insert(&[("document", document.into())]).execute(conn).await
}

/// All revisions of a design, oldest first.
pub async fn list(conn: &mut Conn, design: &str) -> Result<Vec<RevisionRow>, StoreError> {
    RevisionRow::select("WHERE design = $1 ORDER BY number").bind(design).all(conn).await
}

/// The newest revision of a design.
pub async fn latest(conn: &mut Conn, design: &str) -> Result<Option<RevisionRow>, StoreError> {
    RevisionRow::select("WHERE design = $1 ORDER BY number DESC LIMIT 1").bind(design).optional(conn).await
}

/// The number that the next revision of a design gets, after those that a restore left out.
pub async fn next_number(conn: &mut Conn, design: &str) -> Result<i64, StoreError> {
    let taken: i64 =
        sql("SELECT COALESCE(MAX(number), 0) FROM revisions WHERE design = $1").bind(design).one_value(conn).await?;
    Ok(taken.max(restores::last_skipped(conn, design, Numbered::Revision).await?) + 1)
}

/// One revision.
pub async fn find(conn: &mut Conn, design: &str, letter: &str) -> Result<Option<RevisionRow>, StoreError> {
    RevisionRow::select("WHERE design = $1 AND letter = $2").bind(design).bind(letter).optional(conn).await
}

/// The document of a revision, as written.
pub async fn document(conn: &mut Conn, design: &str, letter: &str) -> Result<Option<String>, StoreError> {
    sql("SELECT document FROM revisions WHERE design = $1 AND letter = $2")
        .bind(design)
        .bind(letter)
        .optional_value(conn)
        .await
}
