//! Rows as they stand: read page by page, and put on record where they are not yet.

use super::super::audit::{self, Act};
use super::super::sql::{Sql, Value, sql_of};
use super::super::{Conn, Store, StoreError, sql};
use super::{Cells, TABLES, Table, flush};
use std::collections::BTreeSet;

/// How many rows at once; some hold whole documents.
const AT_ONCE: usize = 200;

/// How many rows are noted before they go into the chains.
const NOTED: usize = 2_000;

/// Rows of a table in the order of their keys, after this one.
pub async fn page(conn: &mut Conn, table: &Table, after: Option<&Cells>) -> Result<Vec<Cells>, StoreError> {
    let keys = table.key.join(", ");
    let places: Vec<String> = (1..=table.key.len()).map(|place| format!("${place}")).collect();
    let beyond = after.map(|_| format!(" WHERE ({keys}) > ({})", places.join(", "))).unwrap_or_default();
    let text = format!("SELECT * FROM {}{beyond} ORDER BY {keys} LIMIT {AT_ONCE}", table.name);
    let key = after.into_iter().flat_map(|cells| table.key.iter().map(|column| cells.get(*column)));
    let key = key.map(|value| match value {
        Some(serde_json::Value::String(text)) => Value::from(text),
        Some(number) => Value::from(number.as_i64()),
        None => Value::Text(None),
    });
    key.fold(sql_of(text), Sql::bind).cells(conn).await
}

/// What the hashes of a row that may name people are mixed with; empty when there is nothing.
pub async fn salt(conn: &mut Conn, table: &Table, key: &[String]) -> Result<String, StoreError> {
    let found: Option<String> = sql("SELECT salt FROM row_salts WHERE of_table = $1 AND of_row = $2")
        .bind(table.name)
        .bind(&serde_json::json!(key).to_string())
        .optional_value(conn)
        .await?;
    Ok(found.unwrap_or_default())
}

/// What is kept to be mixed with the hashes of rows that are not there.
pub async fn strange_salts(conn: &mut Conn) -> Result<Vec<String>, StoreError> {
    let salts: Vec<(String, String)> =
        sql("SELECT of_table, of_row FROM row_salts ORDER BY of_table, of_row").all(conn).await?;
    let mut left: BTreeSet<(String, String)> = salts.into_iter().collect();
    for table in TABLES.iter().filter(|table| table.names_people) {
        let mut after: Option<Cells> = None;
        loop {
            let mut rows = page(conn, table, after.as_ref()).await?;
            for cells in &rows {
                left.remove(&(table.name.to_owned(), serde_json::json!(table.key_of(cells)).to_string()));
            }
            let Some(last) = rows.pop() else { break };
            after = Some(last);
        }
    }
    Ok(left.into_iter().map(|(table, row)| format!("row_salts {table} {row} belongs to no row")).collect())
}

/// The tables whose rows are not on record yet.
pub async fn unrecorded(conn: &mut Conn) -> Result<Vec<&'static Table>, StoreError> {
    let there: Vec<(String,)> = sql("SELECT name FROM recorded_tables").all(conn).await?;
    let there: BTreeSet<String> = there.into_iter().map(|(name,)| name).collect();
    Ok(TABLES.iter().filter(|table| !there.contains(table.name)).collect())
}

/// Puts the rows of tables on record that are not yet: those from before there were chains, and those that a step of the schema
/// has changed.
pub async fn put_on_record(store: &Store, at: &str) -> Result<(), StoreError> {
    if unrecorded(&mut store.read().await?).await?.is_empty() {
        return Ok(());
    }
    let mut write = store.write().await?;
    let tables = unrecorded(&mut write).await?;
    let mut subject = "tables".to_owned();
    for table in &tables {
        if !page(&mut write, table, None).await?.is_empty() {
            subject.push('/');
            subject.push_str(table.name);
        }
    }
    audit::append(&mut write, Act { at, actor: "system", action: "record-tables", subject: &subject }).await?;
    for table in tables {
        let mut after: Option<Cells> = None;
        loop {
            let rows = page(&mut write, table, after.as_ref()).await?;
            let Some(last) = rows.last() else { break };
            let pending = write.pending().ok_or(StoreError::NotAWrite)?;
            rows.iter().for_each(|cells| pending.row(table, cells, false));
            if pending.rows() > NOTED {
                flush(&mut write).await?;
            }
            after = Some(last.clone());
        }
        sql("INSERT INTO recorded_tables (name, at) VALUES ($1, $2)")
            .bind(table.name)
            .bind(at)
            .execute(&mut write)
            .await?;
    }
    write.commit().await
}
