//! Tables of PostgreSQL as files.

use super::StoreError;
use crate::private;
use futures_util::TryStreamExt;
use serde::{Deserialize, Serialize};
use sqlx::AssertSqlSafe;
use sqlx::postgres::PgConnection;
use sqlx_macros::FromRow;
use std::collections::BTreeSet;
use std::fs::File;
use std::io::{Read, Write};
use std::path::Path;

/// A table and its columns in the order of the file.
#[derive(Debug, Serialize, Deserialize)]
pub struct Table {
    name: String,
    columns: Vec<String>,
}

impl Table {
    /// The file's path within the backup.
    pub fn file(&self) -> String {
        format!("tables/{}.copy", self.name)
    }

    fn copied(&self) -> String {
        let columns: Vec<String> = self.columns.iter().map(|column| quoted(column)).collect();
        format!("COPY {} ({})", quoted(&self.name), columns.join(", "))
    }
}

#[derive(FromRow)]
struct ColumnRow {
    table: String,
    column: String,
}

/// All tables but the migrator's own, each after those that it refers to.
pub async fn all(conn: &mut PgConnection) -> Result<Vec<Table>, StoreError> {
    let columns: Vec<ColumnRow> = sqlx::query_as(
        "SELECT c.relname::text AS \"table\", a.attname::text AS \"column\" FROM pg_class c \
         JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped \
         WHERE c.relnamespace = current_schema()::regnamespace AND c.relkind = 'r' AND c.relname <> '_sqlx_migrations' \
         ORDER BY c.relname, a.attnum",
    )
    .fetch_all(&mut *conn)
    .await?;
    let references: Vec<(String, String)> = sqlx::query_as(
        "SELECT f.relname::text, t.relname::text FROM pg_constraint k JOIN pg_class f ON f.oid = k.conrelid \
         JOIN pg_class t ON t.oid = k.confrelid WHERE k.contype = 'f' AND f.oid <> t.oid \
         AND k.connamespace = current_schema()::regnamespace",
    )
    .fetch_all(conn)
    .await?;
    let mut tables: Vec<Table> = Vec::new();
    for ColumnRow { table, column } in columns {
        match tables.last_mut().filter(|last| last.name == table) {
            Some(last) => last.columns.push(column),
            None => tables.push(Table { name: table, columns: vec![column] }),
        }
    }
    in_order(tables, &references)
}

fn in_order(mut left: Vec<Table>, references: &[(String, String)]) -> Result<Vec<Table>, StoreError> {
    let (mut done, mut names) = (Vec::new(), BTreeSet::new());
    while !left.is_empty() {
        let free = |table: &Table| references.iter().all(|(from, to)| *from != table.name || names.contains(to));
        let Some(place) = left.iter().position(free) else {
            return Err(StoreError::Circle);
        };
        let table = left.remove(place);
        names.insert(table.name.clone());
        done.push(table);
    }
    Ok(done)
}

/// Writes a table to a file.
pub async fn take_out(conn: &mut PgConnection, table: &Table, path: &Path) -> Result<(), StoreError> {
    let mut file = private::new_file(path).map_err(StoreError::Directory)?;
    let mut chunks = conn.copy_out_raw(&format!("{} TO STDOUT", table.copied())).await?;
    while let Some(chunk) = chunks.try_next().await? {
        file.write_all(&chunk).map_err(StoreError::Directory)?;
    }
    Ok(())
}

/// Takes out what the schema itself puts into a table.
pub async fn empty(conn: &mut PgConnection, table: &Table) -> Result<(), StoreError> {
    sqlx::query(AssertSqlSafe(format!("DELETE FROM {}", quoted(&table.name)))).execute(conn).await?;
    Ok(())
}

/// Fills a table from a file.
pub async fn bring_in(conn: &mut PgConnection, table: &Table, path: &Path) -> Result<(), StoreError> {
    let mut file = File::open(path).map_err(|source| StoreError::File { path: path.to_owned(), source })?;
    let mut copy = conn.copy_in_raw(&format!("{} FROM STDIN", table.copied())).await?;
    let mut buffer = vec![0; 1 << 16];
    loop {
        let read = match file.read(&mut buffer) {
            Ok(0) => break,
            Ok(read) => read,
            Err(source) => {
                copy.abort("the file cannot be read").await?;
                return Err(StoreError::File { path: path.to_owned(), source });
            }
        };
        copy.send(&buffer[..read]).await?;
    }
    copy.finish().await?;
    Ok(())
}

fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_comes_after_those_that_it_refers_to() {
        let table = |name: &str| Table { name: name.to_owned(), columns: Vec::new() };
        let refers = |from: &str, to: &str| (from.to_owned(), to.to_owned());
        let tables = || ["a", "b", "c"].map(table).into();
        let order = in_order(tables(), &[refers("a", "c"), refers("b", "a")]).unwrap();
        assert_eq!(order.iter().map(|table| &*table.name).collect::<Vec<_>>(), ["c", "a", "b"]);
        assert!(matches!(in_order(tables(), &[refers("a", "b"), refers("b", "a")]), Err(StoreError::Circle)));
    }
}
