//! Issued packs: inserted once, then only read.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A pack as kept; its bytes lie in the blobs.
    #[derive(Debug, FromRow)]
    pub struct PackRow of "packs", insert {
        pub kit: String,
        pub number: i64,
        pub design: String,
        pub revision: String,
        pub paper: String,
        pub sha256: String,
        pub size: i64,
        /// Version of the engine that drew it.
        pub engine: String,
        pub issued_at: String,
        pub issued_by: String,
        /// JSON: how it is printed.
        pub print: String,
        pub pages: i64,
        /// Hash of its account; empty for one from before there were any.
        pub manifest_sha256: String,
        /// Letter of the revision of the pack before, where it was another; else empty.
        pub since_revision: String,
        /// 1 when it holds only what changed since then.
        pub only_changes: i64,
        /// JSON: measured values, notices and recalls that it was drawn with; empty for one from before that was kept.
        pub drawn_with: String,
    }
}

/// Adds a pack whose bytes are kept already.
pub async fn insert(conn: &mut Conn, row: &PackRow) -> Result<(), StoreError> {
    row.insert(&[]).execute(conn).await
}

/// All packs of a kit, oldest first.
pub async fn list(conn: &mut Conn, kit: &str) -> Result<Vec<PackRow>, StoreError> {
    PackRow::select("WHERE kit = $1 ORDER BY number").bind(kit).all(conn).await
}

/// One pack of a kit.
pub async fn find(conn: &mut Conn, kit: &str, number: i64) -> Result<Option<PackRow>, StoreError> {
    PackRow::select("WHERE kit = $1 AND number = $2").bind(kit).bind(number).optional(conn).await
}

/// Which pack a file is of.
#[derive(Debug, FromRow)]
pub struct FileRow {
    pub kit: String,
    pub number: i64,
}

/// The first pack whose file has a hash.
pub async fn of_file(conn: &mut Conn, sha256: &str) -> Result<Option<FileRow>, StoreError> {
    sql("SELECT kit, number FROM packs WHERE sha256 = $1 ORDER BY kit, number LIMIT 1")
        .bind(sha256)
        .optional(conn)
        .await
}

/// Whether a pack refers to the blob with this hash.
pub async fn reference(conn: &mut Conn, sha256: &str) -> Result<bool, StoreError> {
    let count: i64 = sql("SELECT COUNT(*) FROM packs WHERE sha256 = $1 OR manifest_sha256 = $1")
        .bind(sha256)
        .one_value(conn)
        .await?;
    Ok(count > 0)
}

/// The hash of the file of some pack.
pub async fn any_file(conn: &mut Conn) -> Result<Option<String>, StoreError> {
    sql("SELECT sha256 FROM packs LIMIT 1").optional_value(conn).await
}

/// The last pack of a kit.
pub async fn last(conn: &mut Conn, kit: &str) -> Result<Option<PackRow>, StoreError> {
    PackRow::select("WHERE kit = $1 ORDER BY number DESC LIMIT 1").bind(kit).optional(conn).await
}
