//! Pending acts and rows into their chains, a hundred chains in a statement.

use super::super::sql::{Sql, Value, sql_of};
use super::super::{Conn, StoreError, audit, sql};
use super::tables::chain_of_act;
use super::{Done, Fact, Noted, Pending};
use sqlx_macros::FromRow;
use std::collections::{BTreeMap, HashMap};

/// How many chains at once.
const AT_ONCE: usize = 100;

/// An act with the rows that it left.
struct Entry {
    act: Done,
    facts: Vec<Fact>,
    /// Its place among the acts of the write.
    order: usize,
}

/// An act where it goes.
struct Linked<'e> {
    entry: &'e Entry,
    chain: &'e str,
    place: i64,
    facts: String,
    previous: String,
    hash: String,
}

#[derive(FromRow)]
struct HeadRow {
    chain: String,
    place: i64,
    hash: String,
}

/// Puts what a write has done so far into the chains; at its end this is done by itself.
pub async fn flush(conn: &mut Conn) -> Result<(), StoreError> {
    let Some(pending) = conn.pending() else { return Ok(()) };
    let Pending { acts, rows, first } = std::mem::take(pending);
    pending.first.clone_from(&first);
    if acts.is_empty() && rows.is_empty() {
        return Ok(());
    }
    let (rows, salts) = parted(rows);
    let entries: Vec<(String, Vec<Entry>)> = entries(acts, rows, first).into_iter().collect();
    let before: Option<String> =
        sql("SELECT hash FROM audit WHERE chain = '' ORDER BY number DESC LIMIT 1").optional_value(conn).await?;
    let before = before.unwrap_or_default();
    for some in entries.chunks(AT_ONCE) {
        let heads = heads(conn, some).await?;
        let mut linked = Vec::new();
        for (chain, entries) in some {
            let (mut place, mut hash) = heads.get(chain).cloned().unwrap_or_else(|| (0, before.clone()));
            for entry in entries {
                place += 1;
                let facts = facts_text(&entry.facts)?;
                let made = audit::link(chain, &hash, place, entry.act.as_act(), &facts);
                linked.push(Linked {
                    entry,
                    chain,
                    place,
                    facts,
                    previous: std::mem::replace(&mut hash, made.clone()),
                    hash: made,
                });
            }
        }
        linked.sort_by_key(|linked| linked.entry.order);
        for acts in linked.chunks(AT_ONCE) {
            insert(conn, acts).await?;
        }
        move_heads(conn, &linked).await?;
    }
    for some in salts.chunks(AT_ONCE) {
        let values = some.iter().flat_map(|salt| salt.each_ref().map(|text| Value::from(&**text))).collect();
        many(
            "INSERT INTO row_salts (of_table, of_row, salt)",
            3,
            " ON CONFLICT (of_table, of_row) DO UPDATE SET salt = excluded.salt",
            values,
        )
        .execute(conn)
        .await?;
    }
    Ok(())
}

impl Done {
    fn as_act(&self) -> audit::Act<'_> {
        audit::Act { at: &self.at, actor: &self.actor, action: &self.action, subject: &self.subject }
    }
}

type Rows = BTreeMap<(&'static str, Vec<String>), Noted>;

/// The facts by chain; table, key and salt of those that have one.
fn parted(rows: Rows) -> (Vec<(String, Fact)>, Vec<[String; 3]>) {
    let (mut facts, mut salts) = (Vec::new(), Vec::new());
    for ((table, key), Noted { chain, fact, salt }) in rows {
        if let Some(salt) = salt {
            salts.push([table.to_owned(), serde_json::json!(key).to_string(), salt]);
        }
        facts.push((chain, fact));
    }
    (facts, salts)
}

/// What goes into each chain. Rows go with the first act of their chain; where none is they are an act of their own.
fn entries(
    acts: Vec<Done>,
    rows: Vec<(String, Fact)>,
    first: Option<(String, String)>,
) -> BTreeMap<String, Vec<Entry>> {
    let mut entries: BTreeMap<String, Vec<Entry>> = BTreeMap::new();
    let many = acts.len();
    for (order, act) in acts.into_iter().enumerate() {
        let chain = chain_of_act(&act.subject);
        entries.entry(chain).or_default().push(Entry { act, facts: Vec::new(), order });
    }
    let (at, actor) = first.unwrap_or_else(|| (String::new(), "system".to_owned()));
    for (chain, fact) in rows {
        let of_chain = entries.entry(chain.clone()).or_default();
        if of_chain.is_empty() {
            let act = Done { at: at.clone(), actor: actor.clone(), action: "record".to_owned(), subject: chain };
            of_chain.push(Entry { act, facts: Vec::new(), order: many });
        }
        if let Some(entry) = of_chain.first_mut() {
            entry.facts.push(fact);
        }
    }
    entries
}

fn facts_text(facts: &[Fact]) -> Result<String, StoreError> {
    if facts.is_empty() {
        return Ok(String::new());
    }
    serde_json::to_string(facts).map_err(|error| StoreError::Directory(error.into()))
}

async fn heads(conn: &mut Conn, chains: &[(String, Vec<Entry>)]) -> Result<HashMap<String, (i64, String)>, StoreError> {
    let places: Vec<String> = (1..=chains.len()).map(|place| format!("${place}")).collect();
    let text = format!("SELECT chain, place, hash FROM chain_heads WHERE chain IN ({})", places.join(", "));
    let rows: Vec<HeadRow> =
        chains.iter().fold(sql_of(text), |statement, (chain, _)| statement.bind(chain)).all(conn).await?;
    Ok(rows.into_iter().map(|row| (row.chain, (row.place, row.hash))).collect())
}

async fn insert(conn: &mut Conn, acts: &[Linked<'_>]) -> Result<(), StoreError> {
    let mut values = Vec::new();
    for Linked { entry, chain, place, facts, previous, hash } in acts {
        let Done { at, actor, action, subject } = &entry.act;
        values.extend([at, actor, action, subject, previous, hash].map(|text| Value::from(&**text)));
        values.extend([Value::from(*chain), Value::from(*place), Value::from(&**facts)]);
    }
    many("INSERT INTO audit (at, actor, action, subject, previous, hash, chain, place, facts)", 9, "", values)
        .execute(conn)
        .await
}

async fn move_heads(conn: &mut Conn, linked: &[Linked<'_>]) -> Result<(), StoreError> {
    let mut heads: BTreeMap<&str, (i64, &str)> = BTreeMap::new();
    for linked in linked {
        let head = heads.entry(linked.chain).or_default();
        if linked.place > head.0 {
            *head = (linked.place, &linked.hash);
        }
    }
    let values = heads.into_iter().flat_map(|(chain, (place, hash))| {
        [Value::from(chain), Value::from(place), Value::from(hash), Value::from(0_i64)]
    });
    many(
        "INSERT INTO chain_heads (chain, place, hash, joined)",
        4,
        " ON CONFLICT (chain) DO UPDATE SET place = excluded.place, hash = excluded.hash",
        values.collect(),
    )
    .execute(conn)
    .await
}

/// One statement for many rows of so many columns.
fn many<'v>(insert: &str, columns: usize, conflict: &str, values: Vec<Value<'v>>) -> Sql<'v> {
    let row = |first: usize| {
        let places: Vec<String> = (first..first + columns).map(|place| format!("${}", place + 1)).collect();
        format!("({})", places.join(", "))
    };
    let rows: Vec<String> = (0..values.len()).step_by(columns).map(row).collect();
    let statement = sql_of(format!("{insert} VALUES {}{conflict}", rows.join(", ")));
    values.into_iter().fold(statement, Sql::bind)
}
