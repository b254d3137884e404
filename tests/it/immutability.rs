//! What was published, issued or recorded stays, even against someone with the database file.

use crate::fixtures::two_kits;
use sqlx::sqlite::{SqliteConnectOptions, SqliteConnection};
use sqlx::{Connection, Row};
use std::path::Path;

/// A connection like any other program's, with foreign keys off as SQLite has it by default.
async fn open(data: &Path) -> SqliteConnection {
    let options = SqliteConnectOptions::new().filename(data.join("matchmark.db")).foreign_keys(false);
    SqliteConnection::connect_with(&options).await.unwrap()
}

const ATTACKS: &[&str] = &[
    "UPDATE revisions SET document = '{}'",
    "UPDATE revisions SET change_note = 'x' WHERE letter = 'A'",
    "DELETE FROM revisions",
    "INSERT OR REPLACE INTO revisions SELECT design, number, letter, 'x', acknowledged, document, document_sha256, previous_chain, chain, published_at, published_by, numbers FROM revisions",
    "INSERT OR REPLACE INTO revisions SELECT design, number + 50, letter, 'x', acknowledged, document, document_sha256, previous_chain, chain, published_at, published_by, numbers FROM revisions",
    "UPDATE packs SET sha256 = '00'",
    "DELETE FROM packs WHERE kit = 'K-1'",
    "INSERT OR REPLACE INTO packs SELECT kit, number, design, revision, 'letter', sha256, size, engine, issued_at, issued_by FROM packs",
    "UPDATE audit SET actor = 'nobody'",
    "DELETE FROM audit WHERE number = 1",
    "INSERT OR REPLACE INTO audit SELECT number, at, 'nobody', action, subject, previous, hash FROM audit",
];

#[tokio::test]
async fn raw_sql_cannot_change_what_is_published() {
    let kits = two_kits();
    let data = kits.server.stop();
    let mut conn = open(data.path()).await;
    let before = dump(&mut conn).await;
    for attack in ATTACKS {
        let error = sqlx::query(*attack).execute(&mut conn).await.expect_err(attack);
        assert!(error.to_string().contains("never"), "{attack}: {error}");
    }
    assert_eq!(dump(&mut conn).await, before);
}

async fn dump(conn: &mut SqliteConnection) -> Vec<String> {
    let mut lines = Vec::new();
    for query in [
        "SELECT design || number || letter || change_note || document || chain AS line FROM revisions ORDER BY 1",
        "SELECT kit || number || paper || sha256 AS line FROM packs ORDER BY 1",
        "SELECT number || actor || action || hash AS line FROM audit ORDER BY 1",
    ] {
        let rows = sqlx::query(query).fetch_all(&mut *conn).await.unwrap();
        assert!(!rows.is_empty());
        lines.extend(rows.iter().map(|row| row.get::<String, _>("line")));
    }
    lines
}

#[tokio::test]
async fn the_file_is_kept_the_safe_way() {
    let kits = two_kits();
    let data = kits.server.stop();
    let mut conn = open(data.path()).await;
    let mode: String = sqlx::query_scalar("PRAGMA journal_mode").fetch_one(&mut conn).await.unwrap();
    assert_eq!(mode, "wal");
    let loose: Vec<String> = sqlx::query_scalar(
        "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0 \
         AND name NOT LIKE 'sqlite_%' AND name NOT LIKE '_sqlx_%'",
    )
    .fetch_all(&mut conn)
    .await
    .unwrap();
    assert!(loose.is_empty(), "{loose:?} should be STRICT");
}

#[tokio::test]
async fn no_token_is_kept_as_it_was_shown() {
    let kits = two_kits();
    let tokens = [&kits.publisher, &kits.support, &kits.first].map(Clone::clone);
    let data = kits.server.stop();
    let mut checked = 0;
    for entry in std::fs::read_dir(data.path()).unwrap() {
        let path = entry.unwrap().path();
        if !path.is_file() {
            continue;
        }
        let bytes = std::fs::read(&path).unwrap();
        for token in &tokens {
            let found = bytes.windows(token.len()).any(|window| window == token.as_bytes());
            assert!(!found, "a token lies open in {}", path.display());
        }
        checked += bytes.len();
    }
    assert!(checked > 10_000, "the database was not where it is");
}
