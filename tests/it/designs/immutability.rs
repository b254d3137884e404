//! What was published, issued or recorded stays, even against someone with the database file.

use crate::fixtures::{recall, two_kits};
use crate::place::{Records, on_postgres};

const ATTACKS: &[&str] = &[
    "UPDATE revisions SET document = '{}'",
    "UPDATE revisions SET change_note = 'x' WHERE letter = 'A'",
    "DELETE FROM revisions",
    "UPDATE packs SET sha256 = '00'",
    "DELETE FROM packs WHERE kit = 'K-1'",
    "UPDATE audit SET actor = 'nobody'",
    "DELETE FROM audit WHERE number = 1",
    "UPDATE checkpoints SET heads = '[]'",
    "DELETE FROM checkpoints",
    "UPDATE draft_saves SET body = '{}'",
    "UPDATE revision_states SET state = 'reinstated'",
    "DELETE FROM revision_states",
    "UPDATE recall_acknowledgements SET at = ''",
    "DELETE FROM recall_acknowledgements",
    "UPDATE supplier_contacts SET text = 'x'",
    "DELETE FROM supplier_contacts",
];

const ATTACKS_ON_SQLITE: &[&str] = &[
    "INSERT OR REPLACE INTO revisions SELECT design, number, letter, 'x', acknowledged, document, document_sha256, previous_chain, chain, published_at, published_by, numbers, class FROM revisions",
    "INSERT OR REPLACE INTO revisions SELECT design, number + 50, letter, 'x', acknowledged, document, document_sha256, previous_chain, chain, published_at, published_by, numbers, class FROM revisions",
    "INSERT OR REPLACE INTO packs SELECT * FROM packs",
    "INSERT OR REPLACE INTO audit SELECT number, at, 'nobody', action, subject, previous, hash, chain, place, facts FROM audit",
    "INSERT OR REPLACE INTO audit SELECT number + 500, at, 'nobody', action, subject, previous, hash, chain, place, facts FROM audit",
    "INSERT OR REPLACE INTO checkpoints SELECT number, '', heads, previous, hash FROM checkpoints",
];

const ATTACKS_ON_POSTGRES: &[&str] = &[
    "INSERT INTO revisions SELECT * FROM revisions ON CONFLICT (design, number) DO UPDATE SET change_note = 'x'",
    "INSERT INTO packs SELECT * FROM packs ON CONFLICT (kit, number) DO UPDATE SET paper = 'letter'",
    "INSERT INTO audit SELECT * FROM audit ON CONFLICT (number) DO UPDATE SET actor = 'nobody'",
    "TRUNCATE revisions CASCADE",
    "TRUNCATE packs CASCADE",
    "TRUNCATE audit",
    "TRUNCATE checkpoints",
];

#[tokio::test]
async fn raw_sql_cannot_change_what_is_published() {
    let kits = two_kits();
    recall(&kits, "A");
    kits.server.send("PUT", "/v1/contact", &kits.publisher, &[], Some("{\"text\": \"kits@mail.example\"}")).expect(200);
    kits.server.send("POST", "/v1/kits/K-1/stop-sheets/A/acknowledgement", &kits.first, &[], None).expect(200);
    let data = kits.server.stop();
    let mut conn = data.open().await;
    let before = dump(&mut conn).await;
    let more = if on_postgres() { ATTACKS_ON_POSTGRES } else { ATTACKS_ON_SQLITE };
    for attack in ATTACKS.iter().chain(more) {
        let error = conn.execute(attack).await.expect_err(attack);
        assert!(error.to_string().contains("never"), "{attack}: {error}");
    }
    assert_eq!(dump(&mut conn).await, before);
}

async fn dump(conn: &mut Records) -> Vec<String> {
    let mut lines = Vec::new();
    for query in [
        "SELECT design || number || letter || change_note || document || chain AS line FROM revisions ORDER BY 1",
        "SELECT kit || number || paper || sha256 AS line FROM packs ORDER BY 1",
        "SELECT letter || number || state || hazard AS line FROM revision_states ORDER BY 1",
        "SELECT number || actor || action || hash AS line FROM audit ORDER BY 1",
    ] {
        let rows = conn.lines(query).await;
        assert!(!rows.is_empty());
        lines.extend(rows);
    }
    lines
}

#[tokio::test]
async fn the_file_is_kept_the_safe_way() {
    if on_postgres() {
        return;
    }
    let kits = two_kits();
    let data = kits.server.stop();
    let mut conn = data.open().await;
    assert_eq!(conn.lines("PRAGMA journal_mode").await, ["wal"]);
    let loose = conn
        .lines(
            "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table' AND strict = 0 \
             AND name NOT LIKE 'sqlite_%' AND name NOT LIKE '_sqlx_%'",
        )
        .await;
    assert!(loose.is_empty(), "{loose:?} should be STRICT");
}

#[tokio::test]
async fn no_token_is_kept_as_it_was_shown() {
    let kits = two_kits();
    let tokens = [&kits.publisher, &kits.support, &kits.first].map(Clone::clone);
    let data = kits.server.stop();
    let kept = if on_postgres() {
        data.open().await.lines("SELECT database_to_xml(true, true, '')::text").await.concat().into_bytes()
    } else {
        let files = std::fs::read_dir(data.path()).unwrap().map(|entry| entry.unwrap().path());
        files.filter(|path| path.is_file()).flat_map(|path| std::fs::read(path).unwrap()).collect()
    };
    assert!(kept.len() > 10_000, "the database was not where it is");
    for token in &tokens {
        assert!(!kept.windows(token.len()).any(|window| window == token.as_bytes()), "a token lies open");
    }
}
