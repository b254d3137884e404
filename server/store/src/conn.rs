//! A connection to either engine, to read with or inside a write.

use super::StoreError;
use super::record::{self, Pending};
use sqlx::pool::{PoolConnection, PoolConnectionMetadata};
use sqlx::{Connection, Database, Postgres, Sqlite, Transaction};
use std::ops::{Deref, DerefMut};
use std::pin::Pin;

/// What the functions of the table groups run on: a reader or a write in progress.
pub enum Conn {
    SqliteReader(PoolConnection<Sqlite>),
    SqliteWriter(Writing<Sqlite>),
    PostgresReader(PoolConnection<Postgres>),
    PostgresWriter(Writing<Postgres>),
}

impl Conn {
    /// What a write is to leave on record; a reader leaves nothing.
    pub fn pending(&mut self) -> Option<&mut Pending> {
        match self {
            Self::SqliteWriter(writing) => Some(&mut writing.pending),
            Self::PostgresWriter(writing) => Some(&mut writing.pending),
            Self::SqliteReader(_) | Self::PostgresReader(_) => None,
        }
    }
}

/// A transaction and what it is to leave on record.
pub struct Writing<D: Database> {
    transaction: Transaction<'static, D>,
    pending: Pending,
}

impl<D: Database> Writing<D> {
    async fn commit(self) -> Result<(), sqlx::Error> {
        self.transaction.commit().await
    }
}

impl<D: Database> From<Transaction<'static, D>> for Writing<D> {
    fn from(transaction: Transaction<'static, D>) -> Self {
        Self { transaction, pending: Pending::default() }
    }
}

impl<D: Database> Deref for Writing<D> {
    type Target = D::Connection;
    fn deref(&self) -> &D::Connection {
        &self.transaction
    }
}

impl<D: Database> DerefMut for Writing<D> {
    fn deref_mut(&mut self) -> &mut D::Connection {
        &mut self.transaction
    }
}

/// Whether a connection that comes back can be used again. After a COMMIT that failed, as on a full disk, it counts as within its
/// transaction for ever and would refuse the next; closing it rolls back what was left.
pub fn is_reusable<C: Connection>(
    conn: &mut C,
    _: PoolConnectionMetadata,
) -> Pin<Box<dyn Future<Output = Result<bool, sqlx::Error>> + Send + '_>> {
    Box::pin(async move {
        // Behind a rollback that is on its way.
        conn.ping().await?;
        Ok(!conn.is_in_transaction())
    })
}

/// Does the same with whichever connection it is, with the type of its arguments at hand.
macro_rules! on_connection {
    ($conn:expr, $c:ident, $arguments:ident => $do:expr) => {
        match $conn {
            $crate::Conn::SqliteReader(conn) => $crate::conn::on!(conn, Sqlite, $c, $arguments => $do),
            $crate::Conn::SqliteWriter(conn) => $crate::conn::on!(conn, Sqlite, $c, $arguments => $do),
            $crate::Conn::PostgresReader(conn) => $crate::conn::on!(conn, Postgres, $c, $arguments => $do),
            $crate::Conn::PostgresWriter(conn) => $crate::conn::on!(conn, Postgres, $c, $arguments => $do),
        }
    };
}

macro_rules! on {
    ($conn:ident, $engine:ident, $c:ident, $arguments:ident => $do:expr) => {{
        type $arguments = <sqlx::$engine as sqlx::Database>::Arguments;
        let $c = &mut **$conn;
        $do
    }};
}
pub(super) use {on, on_connection};

/// A write: alone among all writes of all processes from its start, so that what it reads stays true until it ends. Dropped
/// without [`Write::commit`], it leaves no trace. After a statement has failed nothing more can be done in it.
pub struct Write(pub(super) Conn);

impl Write {
    /// Makes it last, with what it leaves on record.
    pub async fn commit(mut self) -> Result<(), StoreError> {
        record::flush(&mut self.0).await?;
        match self.0 {
            Conn::SqliteWriter(write) => write.commit().await?,
            Conn::PostgresWriter(write) => write.commit().await?,
            Conn::SqliteReader(_) | Conn::PostgresReader(_) => {}
        }
        Ok(())
    }
}

impl Deref for Write {
    type Target = Conn;
    fn deref(&self) -> &Conn {
        &self.0
    }
}

impl DerefMut for Write {
    fn deref_mut(&mut self) -> &mut Conn {
        &mut self.0
    }
}
