//! Customers: the only table that names people, besides the notes.

use super::row::row;
use super::{Conn, StoreError, sql};
use sqlx_macros::FromRow;

row! {
    /// A customer as kept.
    #[derive(Debug, FromRow)]
    pub struct CustomerRow of "customers" {
        pub id: String,
        pub name: String,
        pub email: String,
        /// When they were erased; name and address are empty then.
        pub erased_at: Option<String>,
    }
}

/// Adds a customer under an id that says nothing about them.
pub async fn insert(conn: &mut Conn, id: &str, name: &str, email: &str) -> Result<(), StoreError> {
    sql("INSERT INTO customers (id, name, email, folded) VALUES ($1, $2, $3, $4)")
        .bind(id)
        .bind(name)
        .bind(email)
        .bind(&folded(name, email))
        .execute(conn)
        .await
}

/// Id of the customer with just this name and address.
pub async fn same(conn: &mut Conn, name: &str, email: &str) -> Result<Option<String>, StoreError> {
    sql("SELECT id FROM customers WHERE folded = $1 AND name = $2 AND email = $3 AND erased_at IS NULL ORDER BY id LIMIT 1")
        .bind(&folded(name, email))
        .bind(name)
        .bind(email)
        .optional_value(conn)
        .await
}

/// One customer.
pub async fn find(conn: &mut Conn, id: &str) -> Result<Option<CustomerRow>, StoreError> {
    CustomerRow::select("WHERE id = $1").bind(id).optional(conn).await
}

/// Customers whose name or address holds this text, in order of their id, from the one after `after`.
pub async fn list(conn: &mut Conn, part: &str, after: &str, limit: i64) -> Result<Vec<CustomerRow>, StoreError> {
    CustomerRow::select("WHERE id > $1 AND folded LIKE $2 ESCAPE '\\' ORDER BY id LIMIT $3")
        .bind(after)
        .bind(&pattern(part))
        .bind(limit)
        .all(conn)
        .await
}

/// Serials of a customer's kits.
pub async fn kits(conn: &mut Conn, id: &str) -> Result<Vec<String>, StoreError> {
    let rows: Vec<(String,)> =
        sql("SELECT serial FROM kits WHERE customer = $1 ORDER BY serial").bind(id).all(conn).await?;
    Ok(rows.into_iter().map(|(serial,)| serial).collect())
}

/// Takes name and address out, and empties the notes of their kits and the reasons of holds.
pub async fn erase(conn: &mut Conn, id: &str, at: &str) -> Result<(), StoreError> {
    sql("UPDATE customers SET name = '', email = '', folded = '', erased_at = $2 WHERE id = $1")
        .bind(id)
        .bind(at)
        .execute(conn)
        .await?;
    for emptied in [
        "UPDATE kit_notes SET text = '' WHERE kit IN (SELECT serial FROM kits WHERE customer = $1)",
        "UPDATE kit_holds SET reason = '', lift_reason = '' WHERE kit IN (SELECT serial FROM kits WHERE customer = $1)",
    ] {
        sql(emptied).bind(id).execute(conn).await?;
    }
    Ok(())
}

/// What customers are found by.
fn folded(name: &str, email: &str) -> String {
    format!("{name}\n{email}").to_lowercase()
}

/// The pattern of all text that holds this text, whatever its case.
pub fn pattern(part: &str) -> String {
    let escaped = part.to_lowercase().replace('\\', "\\\\").replace('%', "\\%").replace('_', "\\_");
    format!("%{escaped}%")
}
