//! Kits.

use super::sql::{Sql, sql_of};
use super::{Conn, StoreError, customers, restores, sql};
use sqlx_macros::FromRow;

/// A kit as kept, with its customer.
#[derive(Debug, Clone, FromRow)]
pub struct KitRow {
    pub serial: String,
    pub design: String,
    pub revision: String,
    /// Id of the customer.
    pub customer: String,
    pub customer_name: String,
    pub customer_email: String,
    /// Empty when it is not known.
    pub order_number: String,
    /// JSON object: choice by option.
    pub choices: String,
    /// JSON array of boxes.
    pub boxes: String,
    pub created_at: String,
}

/// Which kits to list.
#[derive(Debug, Default)]
pub struct KitFilter {
    pub serial_prefix: String,
    pub design: Option<String>,
    pub revision: Option<String>,
    /// Part of the customer's name or address.
    pub customer: Option<String>,
    pub order_number: Option<String>,
    /// JSON object: choice by option, as it is kept.
    pub choices: Option<String>,
}

/// Adds a kit for a customer added before; their name and address in the row are not looked at.
pub async fn insert(conn: &mut Conn, kit: &KitRow) -> Result<(), StoreError> {
    sql("INSERT INTO kits (serial, design, revision, customer, order_number, choices, boxes, created_at) \
         VALUES ($1, $2, $3, $4, $5, $6, $7, $8)")
    .bind(&kit.serial)
    .bind(&kit.design)
    .bind(&kit.revision)
    .bind(&kit.customer)
    .bind(&kit.order_number)
    .bind(&kit.choices)
    .bind(&kit.boxes)
    .bind(&kit.created_at)
    .execute(conn)
    .await?;
    restores::skip_packs_of(conn, &kit.serial).await
}

/// Kits with their customers; `rest` says which.
fn selected<'v>(rest: &str) -> Sql<'v> {
    sql_of(format!(
        "SELECT kits.serial, kits.design, kits.revision, kits.customer, customers.name AS customer_name, \
         customers.email AS customer_email, kits.order_number, kits.choices, kits.boxes, kits.created_at \
         FROM kits JOIN customers ON customers.id = kits.customer {rest}"
    ))
}

/// One kit.
pub async fn find(conn: &mut Conn, serial: &str) -> Result<Option<KitRow>, StoreError> {
    selected("WHERE kits.serial = $1").bind(serial).optional(conn).await
}

/// Kits in order of their serial, from the one after `after`.
pub async fn list(conn: &mut Conn, filter: &KitFilter, after: &str, limit: i64) -> Result<Vec<KitRow>, StoreError> {
    let customer = filter.customer.as_deref().map(customers::pattern);
    selected(
        "WHERE kits.serial > $1 AND substr(kits.serial, 1, length($2)) = $2 \
         AND ($3 IS NULL OR kits.design = $3) AND ($4 IS NULL OR kits.revision = $4) \
         AND ($5 IS NULL OR customers.folded LIKE $5 ESCAPE '\\') AND ($6 IS NULL OR kits.order_number = $6) \
         AND ($7 IS NULL OR kits.choices = $7) ORDER BY kits.serial LIMIT $8",
    )
    .bind(after)
    .bind(&filter.serial_prefix)
    .bind(&filter.design)
    .bind(&filter.revision)
    .bind(&customer)
    .bind(&filter.order_number)
    .bind(&filter.choices)
    .bind(limit)
    .all(conn)
    .await
}

/// Says anew in which boxes a kit is sent.
pub async fn set_boxes(conn: &mut Conn, serial: &str, boxes: &str) -> Result<(), StoreError> {
    sql("UPDATE kits SET boxes = $2 WHERE serial = $1").bind(serial).bind(boxes).execute(conn).await
}

/// The hash of a kit's access code, when it has one.
pub async fn access(conn: &mut Conn, serial: &str) -> Result<Option<String>, StoreError> {
    let found: Option<Option<String>> =
        sql("SELECT access_sha256 FROM kits WHERE serial = $1").bind(serial).optional_value(conn).await?;
    Ok(found.flatten())
}

/// Gives a kit another access code, by its hash.
pub async fn set_access(conn: &mut Conn, serial: &str, sha256: &str) -> Result<(), StoreError> {
    sql("UPDATE kits SET access_sha256 = $2 WHERE serial = $1").bind(serial).bind(sha256).execute(conn).await
}

/// Kits of one revision with the same choices.
#[derive(Debug, FromRow)]
pub struct KitGroup {
    pub revision: String,
    /// JSON object: choice by option.
    pub choices: String,
    pub kits: i64,
}

/// The kits of a design by revision and choices.
pub async fn groups(conn: &mut Conn, design: &str) -> Result<Vec<KitGroup>, StoreError> {
    sql("SELECT revision, choices, COUNT(*) AS kits FROM kits WHERE design = $1 \
         GROUP BY revision, choices ORDER BY revision, choices")
    .bind(design)
    .all(conn)
    .await
}

/// Serials of the kits of a group, in order.
pub async fn serials(conn: &mut Conn, design: &str, group: &KitGroup, limit: i64) -> Result<Vec<String>, StoreError> {
    let rows: Vec<(String,)> =
        sql("SELECT serial FROM kits WHERE design = $1 AND revision = $2 AND choices = $3 ORDER BY serial LIMIT $4")
            .bind(design)
            .bind(&group.revision)
            .bind(&group.choices)
            .bind(limit)
            .all(conn)
            .await?;
    Ok(rows.into_iter().map(|(serial,)| serial).collect())
}
