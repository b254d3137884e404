//! One statement for both engines: written once with `$1` placeholders, values bound in their order.

use super::conn::on_connection;
use super::record::{self, Cells, Table};
use super::{Conn, StoreError};
use sqlx::postgres::PgRow;
use sqlx::sqlite::SqliteRow;
use sqlx::{Arguments, AssertSqlSafe, Encode, FromRow, SqlSafeStr, SqlStr, Type};

/// A value to bind.
#[derive(Debug, Clone, Copy)]
pub enum Value<'v> {
    Text(Option<&'v str>),
    Whole(Option<i64>),
    Real(Option<f64>),
    Truth(bool),
}

macro_rules! value_from {
    ($($given:ty, $value:ident => $made:expr;)*) => {
        $(impl<'v> From<$given> for Value<'v> {
            fn from($value: $given) -> Self {
                $made
            }
        })*
    };
}

value_from! {
    &'v str, text => Self::Text(Some(text));
    &'v String, text => Self::Text(Some(text));
    Option<&'v str>, text => Self::Text(text);
    &'v Option<String>, text => Self::Text(text.as_deref());
    i64, whole => Self::Whole(Some(whole));
    &'v i64, whole => Self::Whole(Some(*whole));
    Option<i64>, whole => Self::Whole(whole);
    f64, real => Self::Real(Some(real));
    Option<f64>, real => Self::Real(real);
    bool, truth => Self::Truth(truth);
}

/// A row that reads the same from both engines: any struct that derives `FromRow`.
pub trait Row: Send + Unpin + for<'r> FromRow<'r, SqliteRow> + for<'r> FromRow<'r, PgRow> {}

impl<T> Row for T where T: Send + Unpin + for<'r> FromRow<'r, SqliteRow> + for<'r> FromRow<'r, PgRow> {}

/// A statement with its values.
#[derive(Debug)]
pub struct Sql<'v> {
    text: SqlStr,
    values: Vec<Value<'v>>,
}

/// A statement that both engines understand.
pub fn sql<'v>(text: &'static str) -> Sql<'v> {
    Sql { text: text.into_sql_str(), values: Vec::new() }
}

/// The same for one that was put together, of our own names alone.
pub fn sql_of<'v>(text: String) -> Sql<'v> {
    Sql { text: AssertSqlSafe(text).into_sql_str(), values: Vec::new() }
}

impl<'v> Sql<'v> {
    /// Binds the value of the next placeholder.
    pub fn bind(mut self, value: impl Into<Value<'v>>) -> Self {
        self.values.push(value.into());
        self
    }

    /// The same with more text at its end.
    pub fn then(self, text: &str) -> Self {
        let longer = sql_of(format!("{} {text}", self.text.as_str()));
        Self { values: self.values, ..longer }
    }

    /// Runs it for its effect. What it does to a table on record is noted for the chains.
    pub async fn execute(self, conn: &mut Conn) -> Result<(), StoreError> {
        if let Some(table) = record::written(self.text.as_str()) {
            return self.execute_on_record(conn, table).await;
        }
        on_connection!(conn, c, A => {
            let arguments = self.arguments::<A>()?;
            sqlx::query_with(self.text, arguments).execute(c).await.map(drop)?
        });
        Ok(())
    }

    async fn execute_on_record(self, conn: &mut Conn, table: &'static Table) -> Result<(), StoreError> {
        let gone = self.text.as_str().starts_with("DELETE");
        let returning = sql_of(format!("{} RETURNING *", self.text.as_str()));
        let rows = Sql { values: self.values, ..returning }.cells(conn).await?;
        let pending = conn.pending().ok_or(StoreError::NotAWrite)?;
        rows.iter().for_each(|cells| pending.row(table, cells, gone));
        Ok(())
    }

    /// All rows, with whatever columns they have.
    pub async fn cells(self, conn: &mut Conn) -> Result<Vec<Cells>, StoreError> {
        Ok(on_connection!(conn, c, A => {
            let arguments = self.arguments::<A>()?;
            // PostgreSQL refuses a kept plan once a step of the schema has added a column.
            let rows = sqlx::query_with(self.text, arguments).persistent(false).fetch_all(c).await?;
            rows.iter().map(record::cells).collect()
        }))
    }

    /// The one row that there must be.
    pub async fn one<T: Row>(self, conn: &mut Conn) -> Result<T, StoreError> {
        Ok(on_connection!(conn, c, A => {
            let arguments = self.arguments::<A>()?;
            sqlx::query_as_with(self.text, arguments).fetch_one(c).await?
        }))
    }

    /// The first row, if any.
    pub async fn optional<T: Row>(self, conn: &mut Conn) -> Result<Option<T>, StoreError> {
        Ok(on_connection!(conn, c, A => {
            let arguments = self.arguments::<A>()?;
            sqlx::query_as_with(self.text, arguments).fetch_optional(c).await?
        }))
    }

    /// All rows.
    pub async fn all<T: Row>(self, conn: &mut Conn) -> Result<Vec<T>, StoreError> {
        Ok(on_connection!(conn, c, A => {
            let arguments = self.arguments::<A>()?;
            sqlx::query_as_with(self.text, arguments).fetch_all(c).await?
        }))
    }

    /// The one column of the one row that there must be.
    pub async fn one_value<T>(self, conn: &mut Conn) -> Result<T, StoreError>
    where
        (T,): Row,
    {
        self.one::<(T,)>(conn).await.map(|(value,)| value)
    }

    /// The one column of the first row, if any.
    pub async fn optional_value<T>(self, conn: &mut Conn) -> Result<Option<T>, StoreError>
    where
        (T,): Row,
    {
        Ok(self.optional::<(T,)>(conn).await?.map(|(value,)| value))
    }

    fn arguments<A: Arguments>(&self) -> Result<A, StoreError>
    where
        for<'t> Option<&'t str>: Encode<'t, A::Database> + Type<A::Database>,
        for<'t> Option<i64>: Encode<'t, A::Database> + Type<A::Database>,
        for<'t> Option<f64>: Encode<'t, A::Database> + Type<A::Database>,
        for<'t> bool: Encode<'t, A::Database> + Type<A::Database>,
    {
        let mut arguments = A::default();
        for value in &self.values {
            let added = match *value {
                // PostgreSQL cannot keep it, so that it is refused on both.
                Value::Text(Some(text)) if text.contains('\0') => return Err(StoreError::NulInText),
                Value::Text(text) => arguments.add(text),
                Value::Whole(whole) => arguments.add(whole),
                Value::Real(real) => arguments.add(real),
                Value::Truth(truth) => arguments.add(truth),
            };
            added.map_err(|error| StoreError::Database(sqlx::Error::Encode(error)))?;
        }
        Ok(arguments)
    }
}
