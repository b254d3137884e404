//! A table as cells, with the rows and columns that a spreadsheet counts.

use crate::words::table::TablePlace;

/// Most cells of all rows of a table.
pub const MOST_CELLS: usize = 1_000_000;

/// What a cell holds.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Words, or a number written as such.
    Text(String),
    /// A number of a workbook.
    Number(f64),
    /// An error of a workbook, such as `#REF!`.
    Fault(String),
    /// A formula whose value is not in the file.
    NoValue(String),
}

impl Cell {
    /// The words.
    pub fn text(&self) -> String {
        match self {
            Self::Text(text) | Self::Fault(text) | Self::NoValue(text) => text.trim().to_owned(),
            Self::Number(number) => number.to_string(),
        }
    }
}

/// A row: its number from 1, and its cells by column from 0; `None` where there is nothing.
#[derive(Debug, Clone)]
pub struct Row {
    pub number: usize,
    pub cells: Vec<Option<Cell>>,
}

impl Row {
    /// A cell that holds something.
    pub fn cell(&self, column: usize) -> Option<&Cell> {
        self.cells.get(column)?.as_ref()
    }
}

/// A table: a file, or a sheet of a workbook.
#[derive(Debug, Clone)]
pub struct Grid {
    /// File and sheet.
    pub name: String,
    /// True for a workbook, whose cells are named as `B3`.
    pub is_workbook: bool,
    /// What separates the cells of a text.
    pub delimiter: u8,
    /// Rows that hold something.
    pub rows: Vec<Row>,
}

impl Grid {
    /// A cell in words, as the spreadsheet counts.
    pub fn place(&self, row: usize, column: usize) -> String {
        let (table, letters) = (self.name.as_str(), letters(column));
        if self.is_workbook {
            TablePlace::CellOfSheet { table, row, letters: &letters }.to_string()
        } else {
            TablePlace::CellOfText { table, row, column: column + 1, letters: &letters }.to_string()
        }
    }
}

/// Letters of a column: A, B, ... Z, AA.
fn letters(column: usize) -> String {
    let (mut rest, mut letters) = (column + 1, Vec::new());
    while rest > 0 {
        rest -= 1;
        letters.push(b'A' + u8::try_from(rest % 26).unwrap_or(0));
        rest /= 26;
    }
    letters.iter().rev().map(|letter| char::from(*letter)).collect()
}

#[cfg(test)]
mod tests {
    use super::letters;

    #[test]
    fn columns_are_lettered_as_spreadsheets_do() {
        assert_eq!([0, 25, 26, 701, 702].map(letters), ["A", "Z", "AA", "ZZ", "AAA"]);
    }
}
