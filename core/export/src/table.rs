//! A table of figures as it is typed once and written in several formats.

use crate::ExportError;
use crate::tables::Listed;
use crate::words::EN;

/// Sheets carry no noise of the last bits, and neither do files: figures have six decimals at most.
const DECIMALS: f64 = 1e6;

/// A table: columns with their units, and rows as wide.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Short name of lower-case words joined by hyphens, the name of its file and sheet.
    pub name: &'static str,
    /// What it is, in a few words.
    pub about: &'static str,
    /// How its figures are to be read; empty when they say it themselves.
    pub conventions: &'static str,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its rows.
    pub rows: Vec<Vec<Value>>,
}

/// A column.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// Its name in lower-case words joined by underscores.
    pub name: &'static str,
    /// Its unit; empty for words and counts.
    pub unit: &'static str,
}

/// What stands in a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Nothing.
    Empty,
    /// Words.
    Text(String),
    /// A count.
    Count(usize),
    /// A figure.
    Number(f64),
    /// Yes or no.
    Flag(bool),
}

impl Column {
    /// Its heading: name and unit.
    #[must_use]
    pub fn heading(&self) -> String {
        if self.unit.is_empty() { self.name.to_owned() } else { format!("{}_{}", self.name, self.unit) }
    }
}

impl Table {
    /// A table without rows. Columns are told as `name` or `name:unit`.
    pub(crate) fn new(listed: &Listed, columns: &[&'static str]) -> Self {
        let column = |told: &&'static str| {
            let (name, unit) = told.split_once(':').unwrap_or((told, ""));
            Column { name, unit }
        };
        let Listed { name, about, .. } = *listed;
        Self {
            name,
            about: about(&EN),
            conventions: "",
            columns: columns.iter().map(column).collect(),
            rows: Vec::new(),
        }
    }

    /// Adds a row.
    pub fn push(&mut self, row: impl IntoIterator<Item = Value>) {
        self.rows.push(row.into_iter().collect());
    }

    /// Refuses a table with a figure that is not finite.
    ///
    /// # Errors
    /// [`ExportError::NotFinite`] names table and column.
    pub fn check(&self) -> Result<(), ExportError> {
        for row in &self.rows {
            for (value, column) in row.iter().zip(&self.columns) {
                if matches!(value, Value::Number(figure) if !figure.is_finite()) {
                    return Err(ExportError::NotFinite { table: self.name.to_owned(), column: column.heading() });
                }
            }
        }
        Ok(())
    }
}

impl From<f64> for Value {
    fn from(figure: f64) -> Self {
        let rounded = (figure * DECIMALS).round() / DECIMALS;
        Self::Number(if rounded == 0.0 { 0.0 } else { rounded })
    }
}

impl From<usize> for Value {
    fn from(count: usize) -> Self {
        Self::Count(count)
    }
}

impl From<u32> for Value {
    fn from(count: u32) -> Self {
        Self::Count(count as usize)
    }
}

impl From<bool> for Value {
    fn from(flag: bool) -> Self {
        Self::Flag(flag)
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        if text.is_empty() { Self::Empty } else { Self::Text(text.to_owned()) }
    }
}

impl From<String> for Value {
    fn from(text: String) -> Self {
        Self::from(text.as_str())
    }
}

impl<T: Into<Self>> From<Option<T>> for Value {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Empty, Into::into)
    }
}
