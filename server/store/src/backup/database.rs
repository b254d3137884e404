//! The database of a backup: for SQLite a file of its own making, for PostgreSQL a file a table in the form of COPY.

use super::folder::{self, Digested, Folder};
use super::tables::{self, Table};
use super::{Account, Storage, StoreError};
use crate::conn::Conn;
use crate::{postgres, sql, sqlite};
use serde::{Deserialize, Serialize};
use sqlx::postgres::{PgConnectOptions, PgConnection};
use sqlx::{ConnectOptions, Connection};
use std::path::Path;
use std::str::FromStr;

/// What a database is kept by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Engine {
    Sqlite,
    Postgres,
}

/// Writes out what the snapshot sees.
pub async fn take_out(
    conn: &mut Conn,
    folder: &Folder,
    files: &mut Vec<Digested>,
) -> Result<(Engine, Vec<Table>), StoreError> {
    match conn {
        Conn::SqliteReader(_) | Conn::SqliteWriter(_) => {
            let path = folder.file(sqlite::FILE)?;
            sql("VACUUM INTO $1").bind(&path.to_string_lossy().into_owned()).execute(conn).await?;
            files.push(folder.adopt(sqlite::FILE)?);
            // From here on the copy is what is looked at: the original moves on.
            *conn = Conn::SqliteReader(sqlite::beside(&path).await?);
            Ok((Engine::Sqlite, Vec::new()))
        }
        Conn::PostgresReader(conn) => Ok((Engine::Postgres, tables_out(conn, folder, files).await?)),
        Conn::PostgresWriter(conn) => Ok((Engine::Postgres, tables_out(conn, folder, files).await?)),
    }
}

async fn tables_out(
    conn: &mut PgConnection,
    folder: &Folder,
    files: &mut Vec<Digested>,
) -> Result<Vec<Table>, StoreError> {
    let tables = tables::all(conn).await?;
    for table in &tables {
        let file = table.file();
        tables::take_out(conn, table, &folder.path(&file)?).await?;
        files.push(folder.adopt(&file)?);
    }
    Ok(tables)
}

/// Refuses a place where a database is already, or one for the other engine.
pub async fn must_be_empty(kept: Storage<'_>, engine: Engine) -> Result<(), StoreError> {
    match (engine, kept.address) {
        (Engine::Sqlite, None) => {
            let file = kept.directory.join(sqlite::FILE);
            if file.exists() { Err(StoreError::InTheWay(file)) } else { Ok(()) }
        }
        (Engine::Postgres, Some(address)) => {
            let mut conn = connect(address).await?;
            let empty = tables::all(&mut conn).await?.is_empty();
            conn.close().await?;
            if empty { Ok(()) } else { Err(StoreError::DatabaseInTheWay) }
        }
        (Engine::Sqlite, Some(_)) => Err(StoreError::OtherEngine("SQLite; leave out database")),
        (Engine::Postgres, None) => Err(StoreError::OtherEngine("PostgreSQL; name one that is empty with database")),
    }
}

/// Fills an empty place.
pub async fn bring_in(kept: Storage<'_>, account: &Account, from: &Path) -> Result<(), StoreError> {
    let Some(address) = kept.address else {
        return folder::install(&from.join(sqlite::FILE), &kept.directory.join(sqlite::FILE));
    };
    let mut conn = connect(address).await?;
    postgres::migrate_to(&mut conn, &account.schema).await?;
    let mut write = conn.begin().await?;
    for table in account.tables.iter().rev() {
        tables::empty(&mut write, table).await?;
    }
    for table in &account.tables {
        tables::bring_in(&mut write, table, &from.join(table.file())).await?;
    }
    // Acts that come now are numbered after those of the backup; before step 51 they number themselves.
    let numbered: Option<String> =
        sqlx::query_scalar("SELECT pg_get_serial_sequence('audit', 'number')").fetch_one(&mut *write).await?;
    if let Some(numbered) = numbered {
        sqlx::query("SELECT setval($1::regclass, (SELECT COALESCE(MAX(number), 0) + 1 FROM audit), false)")
            .bind(numbered)
            .execute(&mut *write)
            .await?;
    }
    write.commit().await?;
    conn.close().await?;
    Ok(())
}

async fn connect(address: &str) -> Result<PgConnection, StoreError> {
    Ok(PgConnectOptions::from_str(address)?.application_name("matchmark-restore").connect().await?)
}
