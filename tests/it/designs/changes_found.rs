//! What `matchmark verify` says of rows that were changed behind the service's back: it finds them, or names their table among
//! those on no record.

use crate::fixtures::{recall, two_kits};
use crate::place::{Place, Records, on_postgres};
use crate::server::{Server, run_on};
use serde_json::json;

/// What verify says, and whether it found anything wrong.
fn verify(data: &Place) -> (bool, String) {
    let done = run_on(data, &["verify"]);
    let said = format!("{}{}", String::from_utf8_lossy(&done.stdout), String::from_utf8_lossy(&done.stderr));
    (!done.status.success(), said)
}

#[tokio::test]
async fn a_changed_row_is_found_and_said_to_be_changed_where_it_was() {
    let kits = two_kits();
    let server = &kits.server;
    let text = |body: &str| json!({"text": body});
    server.post("/v1/kits/K-1/notes", &kits.support, &text("Called about the posts.")).expect(201);
    server
        .post("/v1/kits/K-2/holds", &kits.publisher, &json!({"reason": "Not paid.", "ask": "The office."}))
        .expect(201);
    recall(&kits, "A");
    server.send("POST", "/v1/kits/K-1/stop-sheets/A/acknowledgement", &kits.first, &[], None).expect(200);
    let data = kits.server.stop();
    let mut records = data.open().await;
    records.unguard().await;
    let (found, said) = verify(&data);
    assert!(!found, "{said}");
    for table in ["downloads", "sessions", "idempotency", "deliveries"] {
        assert!(said.contains(&format!("{table} (")), "{said}");
    }
    let changes = [
        ("UPDATE kits SET revision = 'B' WHERE serial = 'K-1'", "kits K-1: revision has changed since act"),
        (
            "UPDATE kits SET choices = '{\"drive\":\"right\"}' WHERE serial = 'K-1'",
            "kits K-1: choices, revision has changed since act",
        ),
        ("UPDATE tokens SET role = 'publisher' WHERE role = 'support'", "role has changed since act"),
        ("UPDATE tokens SET revoked_at = '2026-01-01' WHERE role = 'builder'", "revoked_at has changed since act"),
        ("DELETE FROM signing_keys WHERE purpose = 'pages'", "signing_keys pages 1 is missing"),
        (
            "UPDATE revisions SET numbers = replace(numbers, '1', '2') WHERE letter = 'A'",
            "revisions frame 1: numbers has changed since act",
        ),
        (
            "UPDATE revisions SET change_note = 'x' WHERE letter = 'A'",
            "revisions frame 1: change_note, numbers has changed since act",
        ),
        (
            "UPDATE draft_saves SET body = replace(body, '904', '905') WHERE number = 2",
            "draft_saves frame 2: body has changed since act",
        ),
        ("UPDATE revision_states SET hazard = 'None.'", "revision_states frame A 1: hazard has changed since act"),
        ("DELETE FROM recall_acknowledgements", "recall_acknowledgements K-1 A 1 is missing"),
        ("UPDATE kit_notes SET text = 'x'", "kit_notes K-1 1: text has changed since act"),
        ("UPDATE kit_holds SET ask = 'nobody'", "kit_holds K-2 1: ask has changed since act"),
        ("UPDATE customers SET email = 'other@example.com'", "email has changed since act"),
        ("UPDATE packs SET revision = 'B' WHERE kit = 'K-1'", "packs K-1 1: revision has changed since act"),
        ("DELETE FROM packs WHERE kit = 'K-1'", "packs K-1 1 is missing"),
        ("UPDATE row_salts SET salt = 'x' WHERE of_table = 'kit_notes'", "kit_notes K-1 1: "),
        ("DELETE FROM audit WHERE chain = 'kits/K-1'", "the acts of chain kits/K-1 are missing"),
        (
            "DELETE FROM chain_heads WHERE chain = 'kits/K-1'",
            "of chain kits/K-1, which a checkpoint covers, is missing or was changed",
        ),
        ("UPDATE checkpoints SET at = '' WHERE number = 1", "checkpoint 1 was changed"),
        ("UPDATE identity SET id = 'x'", "the packs kept there belong to another database"),
        (
            "INSERT INTO row_salts (of_table, of_row, salt) VALUES ('kits', '[\"K-1\"]', 'x')",
            "row_salts kits [\"K-1\"] belongs to no row",
        ),
        (
            "INSERT INTO row_salts (of_table, of_row, salt) VALUES ('customers', '[\"x\"]', 'x')",
            "row_salts customers [\"x\"] belongs to no row",
        ),
        (
            "UPDATE _sqlx_migrations SET description = 'x' WHERE version = 3",
            "step 3 of the schema is not recorded as it was applied",
        ),
        (
            if on_postgres() {
                "UPDATE _sqlx_migrations SET checksum = '\\x00' WHERE version = 10"
            } else {
                "UPDATE _sqlx_migrations SET checksum = x'00' WHERE version = 10"
            },
            "step 10 of the schema is not recorded as it was applied",
        ),
    ];
    for (change, fault) in changes {
        records.execute(change).await.unwrap();
        let (found, said) = verify(&data);
        assert!(found && said.contains(fault), "{change}: {said}");
    }
    let extra = "INSERT INTO designs (id, name, created_at) VALUES ('other', 'Other', '')";
    records.execute(extra).await.unwrap();
    assert!(verify(&data).1.contains("designs other is not on record"));
    records.execute("UPDATE _sqlx_migrations SET success = false WHERE version = 5").await.unwrap();
    let (found, said) = verify(&data);
    assert!(found && said.contains("step 5"), "{said}");
}

/// A small generator of numbers that are the same each time (constants of the MMIX generator, D. Knuth, The Art of Computer
/// Programming, volume 2, section 3.3.4).
struct Dice(u64);

impl Dice {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from((self.0 >> 33) % end as u64).unwrap()
    }
}

/// Another value in place of one, as a literal.
fn flipped(dice: &mut Dice, value: Option<&str>, whole: bool) -> String {
    match value {
        None if whole => "1".to_owned(),
        None => "'x'".to_owned(),
        Some(number) if whole => format!("{number} + 1"),
        Some("") => "'x'".to_owned(),
        Some(text) => {
            let mut signs: Vec<char> = text.chars().collect();
            let place = dice.below(signs.len());
            signs[place] = if signs[place] == 'e' { 'f' } else { 'e' };
            quoted(Some(&signs.into_iter().collect::<String>()), false)
        }
    }
}

fn quoted(value: Option<&str>, bare: bool) -> String {
    match value {
        None => "NULL".to_owned(),
        Some(number) if bare => number.to_owned(),
        Some(text) => format!("'{}'", text.replace('\'', "''")),
    }
}

/// Every column of every table: table, column, and whether it holds numbers.
async fn columns(records: &mut Records) -> Vec<(String, String, bool)> {
    let query = if on_postgres() {
        "SELECT table_name || ' ' || column_name || ' ' || data_type FROM information_schema.columns \
         WHERE table_schema = 'public' AND table_name NOT LIKE '\\_sqlx%' ORDER BY 1"
    } else {
        "SELECT t.name || ' ' || c.name || ' ' || c.type FROM pragma_table_list AS t JOIN pragma_table_info(t.name) AS c \
         WHERE t.schema = 'main' AND t.type = 'table' AND t.name NOT LIKE 'sqlite_%' AND t.name NOT LIKE '_sqlx%' ORDER BY 1"
    };
    let split = |line: &String| {
        let mut words = line.splitn(3, ' ').map(str::to_owned);
        let (table, column, kind) = (words.next().unwrap(), words.next().unwrap(), words.next().unwrap());
        (table, column, !kind.eq_ignore_ascii_case("text"))
    };
    records.lines(query).await.iter().map(split).collect()
}

#[tokio::test(flavor = "multi_thread")]
async fn sixty_changes_at_random_in_the_demo_are_found_or_their_table_is_named() {
    const FLIPS: usize = 60;
    let server = Server::demo();
    let data = server.stop();
    let (found, said) = verify(&data);
    assert!(!found, "{said}");
    let named = |table: &str, column: &str| {
        said.contains(&format!("{table} (")) || said.contains(&format!("{table}.{column} ("))
    };
    let mut records = data.open().await;
    records.unguard().await;
    let columns = columns(&mut records).await;
    let row_id = if on_postgres() { "ctid::text" } else { "CAST(rowid AS TEXT)" };
    let (mut dice, mut done, mut missed) = (Dice(15), 0, Vec::new());
    while done < FLIPS {
        let (table, column, whole) = &columns[dice.below(columns.len())];
        let rows = records.values(format!("SELECT {row_id} FROM {table} ORDER BY 1")).await;
        if rows.is_empty() {
            continue;
        }
        let row = rows[dice.below(rows.len())].clone().unwrap();
        let at = |row: &str| format!("{row_id} = '{row}'");
        let before =
            records.values(format!("SELECT CAST({column} AS TEXT) FROM {table} WHERE {}", at(&row))).await.remove(0);
        let after = flipped(&mut dice, before.as_deref(), *whole);
        let set = |value: &str, row: &str| format!("UPDATE {table} SET {column} = {value} WHERE {}", at(row));
        // One that breaks a rule of the database itself cannot be made.
        let taken = records.run(set(&after, &row)).await.is_ok();
        if !taken {
            continue;
        }
        done += 1;
        let (found, _) = verify(&data);
        if !found && !named(table, column) {
            missed.push(format!("{table}.{column}: {before:?} to {after}"));
        }
        let now = records.values(format!("SELECT {row_id} FROM {table} ORDER BY 1")).await;
        let moved = now.iter().find(|id| !rows.contains(id)).cloned().flatten().unwrap_or(row);
        records.run(set(&quoted(before.as_deref(), *whole), &moved)).await.unwrap();
    }
    assert!(missed.is_empty(), "{} of {FLIPS} missed:\n{}", missed.len(), missed.join("\n"));
    let (found, said) = verify(&data);
    assert!(!found, "all is as it was: {said}");
}

/// Whoever is erased must not be guessed from what was put on record about them.
#[tokio::test]
async fn what_the_hashes_of_an_erased_person_were_mixed_with_is_gone() {
    let kits = two_kits();
    let id = kits.server.get("/v1/kits/K-1", &kits.publisher).json()["customer_id"].as_str().unwrap().to_owned();
    let salt = format!("SELECT salt FROM row_salts WHERE of_table = 'customers' AND of_row = '[\"{id}\"]'");
    let mut records = kits.server.data.open().await;
    let before = records.values(salt.clone()).await;
    kits.server.post(&format!("/v1/customers/{id}/erasure"), &kits.publisher, &json!({})).expect(200);
    let after = records.values(salt).await;
    assert_eq!((before.len(), after.len()), (1, 1));
    assert_ne!(before, after);
    let (found, said) = verify(&kits.server.data);
    assert!(!found, "{said}");
}
