//! Kits and their customers.

use super::{Conn, StoreError, sql};
use sqlx::FromRow;

/// A kit as kept, with its customer.
#[derive(Debug, FromRow)]
pub struct KitRow {
    pub serial: String,
    pub design: String,
    pub revision: String,
    pub customer_name: String,
    pub customer_email: String,
    /// JSON object: choice by option.
    pub choices: String,
    pub created_at: String,
}

/// Which kits to list.
#[derive(Debug, Default)]
pub struct KitFilter {
    pub serial_prefix: String,
    pub design: Option<String>,
    pub revision: Option<String>,
}

/// Adds a customer under an id that says nothing about them.
pub async fn insert_customer(conn: &mut Conn, id: &str, name: &str, email: &str) -> Result<(), StoreError> {
    sql("INSERT INTO customers (id, name, email) VALUES ($1, $2, $3)")
        .bind(id)
        .bind(name)
        .bind(email)
        .execute(conn)
        .await
}

/// Adds a kit for a customer added before.
pub async fn insert(conn: &mut Conn, kit: &KitRow, customer: &str) -> Result<(), StoreError> {
    sql("INSERT INTO kits (serial, design, revision, customer, choices, created_at) VALUES ($1, $2, $3, $4, $5, $6)")
        .bind(&kit.serial)
        .bind(&kit.design)
        .bind(&kit.revision)
        .bind(customer)
        .bind(&kit.choices)
        .bind(&kit.created_at)
        .execute(conn)
        .await
}

/// One kit.
pub async fn find(conn: &mut Conn, serial: &str) -> Result<Option<KitRow>, StoreError> {
    sql("SELECT kits.serial, kits.design, kits.revision, customers.name AS customer_name, \
         customers.email AS customer_email, kits.choices, kits.created_at \
         FROM kits JOIN customers ON customers.id = kits.customer WHERE kits.serial = $1")
    .bind(serial)
    .optional(conn)
    .await
}

/// Kits in order of their serial, from the one after `after`.
pub async fn list(conn: &mut Conn, filter: &KitFilter, after: &str, limit: i64) -> Result<Vec<KitRow>, StoreError> {
    sql("SELECT kits.serial, kits.design, kits.revision, customers.name AS customer_name, \
         customers.email AS customer_email, kits.choices, kits.created_at \
         FROM kits JOIN customers ON customers.id = kits.customer \
         WHERE kits.serial > $1 AND substr(kits.serial, 1, length($2)) = $2 \
         AND ($3 IS NULL OR kits.design = $3) AND ($4 IS NULL OR kits.revision = $4) \
         ORDER BY kits.serial LIMIT $5")
    .bind(after)
    .bind(&filter.serial_prefix)
    .bind(&filter.design)
    .bind(&filter.revision)
    .bind(limit)
    .all(conn)
    .await
}
