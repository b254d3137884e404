//! What a row holds, whatever the engine, and the hashes of it that go on record.

use super::Table;
use crate::hash::sha256_hex;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use sqlx::{Column, ColumnIndex, Decode, Row, Type};
use std::collections::{BTreeMap, BTreeSet};

/// A row: value by column. A column that holds NULL is left out, so that one that is added later changes no hash.
pub type Cells = BTreeMap<String, Value>;

/// So many digits of a column's hash tell which column was changed; the hash of the row proves that one was.
const HINT: usize = 8;

/// A row on record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Fact {
    /// Name of the table.
    pub table: String,
    /// Its key.
    pub key: Vec<String>,
    /// Hash of all that it holds; none when it was deleted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub row: Option<String>,
    /// The beginning of the hash of each column.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub columns: BTreeMap<String, String>,
}

impl Fact {
    /// The fact about a row that holds this.
    pub fn of(table: &Table, key: &[String], cells: Option<&Cells>, salt: &str) -> Self {
        let fact = Self { table: table.name.to_owned(), key: key.to_vec(), row: None, columns: BTreeMap::new() };
        let Some(cells) = cells else { return fact };
        let mut whole = format!("matchmark-row/1\n{salt}\n");
        let mut columns = BTreeMap::new();
        for (column, value) in cells {
            let line = format!("{column} {value}\n");
            whole.push_str(&line);
            let mut hint = sha256_hex(format!("{salt}\n{line}"));
            hint.truncate(HINT);
            columns.insert(column.clone(), hint);
        }
        Self { row: Some(sha256_hex(whole)), columns, ..fact }
    }

    /// The columns in which another fact about the same row differs.
    pub fn differences<'f>(&'f self, other: &'f Self) -> Vec<&'f str> {
        let all: BTreeSet<&str> = self.columns.keys().chain(other.columns.keys()).map(String::as_str).collect();
        all.into_iter().filter(|column| self.columns.get(*column) != other.columns.get(*column)).collect()
    }
}

/// What a row of either engine holds.
pub fn cells<R>(row: &R) -> Cells
where
    R: Row,
    usize: ColumnIndex<R>,
    for<'r> i64: Decode<'r, R::Database> + Type<R::Database>,
    for<'r> f64: Decode<'r, R::Database> + Type<R::Database>,
    for<'r> String: Decode<'r, R::Database> + Type<R::Database>,
{
    let cell = |place: usize| {
        if let Ok(whole) = row.try_get::<Option<i64>, _>(place) {
            return whole.map(Value::from);
        }
        if let Ok(real) = row.try_get::<Option<f64>, _>(place) {
            return real.map(Value::from);
        }
        // Only damage is no text either.
        row.try_get::<Option<String>, _>(place).map_or(Some(Value::Bool(false)), |text| text.map(Value::from))
    };
    let names = row.columns().iter().enumerate();
    names.filter_map(|(place, column)| Some((column.name().to_owned(), cell(place)?))).collect()
}

#[cfg(test)]
mod tests {
    use super::super::TABLES;
    use super::*;
    use serde_json::json;

    #[test]
    fn a_changed_value_shows_in_the_row_and_says_where() {
        let cells = |revision: &str| -> Cells {
            serde_json::from_value(json!({"serial": "K-1", "revision": revision, "number": 3})).unwrap()
        };
        let table = TABLES.iter().find(|table| table.name == "kits").unwrap();
        let key = table.key_of(&cells("A"));
        assert_eq!((&*key, table.chain_of(&cells("A"))), (&["K-1".to_owned()][..], "kits/K-1".to_owned()));
        let [a, b, salted, gone] = [
            Fact::of(table, &key, Some(&cells("A")), ""),
            Fact::of(table, &key, Some(&cells("B")), ""),
            Fact::of(table, &key, Some(&cells("A")), "salt"),
            Fact::of(table, &key, None, ""),
        ];
        assert_ne!(a.row, b.row);
        assert_eq!(a.differences(&b), ["revision"]);
        assert_eq!(a.differences(&salted), ["number", "revision", "serial"]);
        assert_eq!(gone.row, None);
    }
}
