//! The header of a table: which column means what, and in which unit.

use super::grid::{Cell, Grid, Row};
use super::meaning::{self, Meaning};
use super::number::{self, Decimal};
use crate::answers::Answers;
use crate::report::{Code, Notes, Question, QuestionField};
use crate::unit::Unit;
use crate::words::table::{CellFact, ColumnFact, TablePlace, TableQuestion};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Rows in which a header is looked for.
const LOOKED_AT: usize = 50;
/// Widest table.
const MOST_COLUMNS: usize = 256;

/// A column whose meaning is known.
#[derive(Debug, Clone)]
pub struct Column {
    pub index: usize,
    pub unit: Option<Unit>,
    /// Decimal sign of its numbers; `None` where they cannot be told.
    pub decimal: Option<Decimal>,
}

/// A table whose columns are known.
#[derive(Debug)]
pub struct Table<'a> {
    pub grid: &'a Grid,
    pub columns: BTreeMap<Meaning, Column>,
    /// The unit that the lines above the header state.
    pub unit_above: Option<Unit>,
    /// Rows below the header that hold something in a known column.
    pub rows: Vec<&'a Row>,
}

impl<'a> Table<'a> {
    /// The table of a grid; `None` where no row is a header.
    pub fn find(grid: &'a Grid, answers: &Answers, notes: &mut Notes) -> Option<Self> {
        let told = |header: &str| {
            let columns = answers.columns.as_ref()?;
            let words = split_unit(header).0;
            let same =
                |name: &str| name.trim().to_lowercase() == header.trim().to_lowercase() || split_unit(name).0 == words;
            columns.iter().find(|(name, _)| same(name)).map(|(_, meaning)| meaning.clone())
        };
        let means = |header: &str| match told(header) {
            Some(word) => meaning::of_answer(&word),
            None => meaning::of_header(&split_unit(header).0),
        };
        let known = |row: &Row| {
            row.cells.iter().flatten().filter(|cell| matches!(cell, Cell::Text(text) if means(text).is_some())).count()
        };
        let header = grid.rows.iter().take(LOOKED_AT).position(|row| known(row) >= 2)?;
        let mut table = Self {
            grid,
            columns: BTreeMap::new(),
            unit_above: grid.rows[..header].iter().find_map(unit_in_words),
            rows: grid.rows[header + 1..].iter().collect(),
        };
        let header = &grid.rows[header];
        for (index, cell) in header.cells.iter().enumerate().take(MOST_COLUMNS) {
            let Some(Cell::Text(text)) = cell else { continue };
            let place = grid.place(header.number, index);
            if let Some(word) = told(text).filter(|word| meaning::of_answer(word).is_none()) {
                let meanings = meaning::answers();
                notes.error(Code::BadAnswers, place, ColumnFact::NoMeaning { word: &word, meanings: &meanings });
                continue;
            }
            match means(text) {
                Some(meaning) if table.columns.contains_key(&meaning) => {
                    notes.warning(Code::ColumnNotUsed, place, ColumnFact::Repeated { header: text });
                }
                Some(meaning) => {
                    table.columns.insert(meaning, Column { index, unit: split_unit(text).1, decimal: None });
                }
                None => notes.information(Code::ColumnNotUsed, place, ColumnFact::NotKnown { header: text }),
            }
        }
        let known: Vec<usize> = table.columns.values().map(|column| column.index).collect();
        table.rows.retain(|row| known.iter().any(|index| row.cell(*index).is_some()));
        table.settle_names();
        table.settle_decimals();
        Some(table)
    }

    /// A `name` is that of a point where the table is one of points, else that of a member.
    fn settle_names(&mut self) {
        let Some(column) = self.columns.remove(&Meaning::Name) else { return };
        let is_points = self.has(&[Meaning::X, Meaning::Y, Meaning::Z])
            && ![Meaning::Point, Meaning::Member, Meaning::Od, Meaning::Radius, Meaning::Order]
                .iter()
                .any(|meaning| self.columns.contains_key(meaning));
        self.columns.entry(if is_points { Meaning::Point } else { Meaning::Member }).or_insert(column);
    }

    fn settle_decimals(&mut self) {
        let quoted = self.grid.delimiter == b',';
        let mut texts: BTreeMap<Meaning, Vec<&str>> = BTreeMap::new();
        for (meaning, column) in self.columns.iter().filter(|(meaning, _)| is_number(**meaning)) {
            let all = self.rows.iter().filter_map(|row| match row.cell(column.index) {
                Some(Cell::Text(text)) => Some(text.as_str()),
                _ => None,
            });
            texts.insert(*meaning, all.collect());
        }
        let certain: Vec<Decimal> = texts.values().filter_map(|texts| number::certain(texts).ok().flatten()).collect();
        let of_file = certain.first().copied().filter(|first| certain.iter().all(|other| other == first));
        for (meaning, texts) in texts {
            if let Some(column) = self.columns.get_mut(&meaning) {
                column.decimal = number::decimal(&texts, of_file, quoted);
            }
        }
    }

    /// Whether all of these columns are there.
    pub fn has(&self, meanings: &[Meaning]) -> bool {
        meanings.iter().all(|meaning| self.columns.contains_key(meaning))
    }

    /// The words of a cell; empty where there are none.
    pub fn text(&self, row: &Row, meaning: Meaning) -> String {
        self.columns.get(&meaning).and_then(|column| row.cell(column.index)).map_or_else(String::new, Cell::text)
    }

    /// The number of a cell in its column's unit; `None` where it is empty, or wrong, which is an error of the report.
    pub fn number(&self, row: &Row, meaning: Meaning, notes: &mut Notes) -> Option<f64> {
        let column = self.columns.get(&meaning)?;
        let cell = row.cell(column.index)?;
        let place = self.grid.place(row.number, column.index);
        match cell {
            Cell::Number(number) if number.is_finite() => return Some(*number),
            Cell::NoValue(_) => notes.error(Code::FormulaWithoutValue, place, CellFact::NotCalculated),
            Cell::Text(text) => match column.decimal {
                None => notes.error(
                    Code::BadRow,
                    place,
                    CellFact::TwoReadings { text: &short(&self.doubtful(column, text)) },
                ),
                Some(decimal) => match number::read(text, decimal) {
                    Some(number) => return Some(number),
                    None => notes.error(Code::BadRow, place, CellFact::NoNumber { text: &short(text) }),
                },
            },
            Cell::Number(_) => notes.error(Code::BadRow, place, CellFact::Endless),
            Cell::Fault(text) => notes.error(Code::BadRow, place, CellFact::Fault { text: &short(text) }),
        }
        None
    }

    fn doubtful(&self, column: &Column, text: &str) -> String {
        let mut texts = self.rows.iter().filter_map(|row| row.cell(column.index)).map(Cell::text);
        texts.find(|text| text.contains(',')).unwrap_or_else(|| text.to_owned())
    }

    /// A number that must be there.
    pub fn needed(&self, row: &Row, meaning: Meaning, notes: &mut Notes) -> Option<f64> {
        let column = self.columns.get(&meaning)?;
        if row.cell(column.index).is_none() {
            notes.error(Code::BadRow, self.grid.place(row.number, column.index), CellFact::Missing);
            return None;
        }
        self.number(row, meaning, notes)
    }

    /// A row in words.
    pub fn place(&self, row: &Row) -> String {
        TablePlace::Row { table: &self.grid.name, row: row.number }.to_string()
    }
}

fn short(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_control()).take(40).collect()
}

/// Whether a column of this meaning holds numbers.
pub fn is_number(meaning: Meaning) -> bool {
    is_length(meaning) || meaning == Meaning::Order
}

/// Whether a column of this meaning holds lengths.
pub fn is_length(meaning: Meaning) -> bool {
    use Meaning::{Corner, Height, Od, Radius, Wall, Width};
    is_coordinate(meaning) || matches!(meaning, Od | Wall | Width | Height | Corner | Radius)
}

/// Whether a column of this meaning holds coordinates.
pub fn is_coordinate(meaning: Meaning) -> bool {
    use Meaning::{X, X1, X2, Y, Y1, Y2, Z, Z1, Z2};
    matches!(meaning, X | Y | Z | X1 | Y1 | Z1 | X2 | Y2 | Z2)
}

/// The words of a header, and the unit that it states as `[mm]`, `(in)`, `/mm`, `in mm` or last word.
fn split_unit(header: &str) -> (String, Option<Unit>) {
    let header = header.trim();
    for (open, close) in [('[', ']'), ('(', ')'), ('<', '>')] {
        if let Some((words, rest)) = header.split_once(open)
            && let Some((inside, _)) = rest.split_once(close)
        {
            return (words.trim().to_lowercase(), Unit::of_word(inside.trim().trim_start_matches("in ")));
        }
    }
    for sign in ['/', ',', '_', ' '] {
        if let Some((words, last)) = header.rsplit_once(sign)
            && let Some(unit) = Unit::of_word(last.trim())
            && !words.trim().is_empty()
        {
            let words = words.trim().to_lowercase();
            return (words.strip_suffix(" in").unwrap_or(&words).trim().to_owned(), Some(unit));
        }
    }
    (header.to_lowercase(), None)
}

/// The unit that a line above the header states: a word that can mean nothing else, or one after `unit` or `in`.
fn unit_in_words(row: &Row) -> Option<Unit> {
    let text = row.cells.iter().flatten().map(Cell::text).collect::<Vec<_>>().join(" ").to_lowercase();
    let words: Vec<&str> =
        text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    words.iter().enumerate().find_map(|(index, word)| {
        let unit = Unit::of_word(word)?;
        let before = index.checked_sub(1).map_or("", |before| words[before]);
        let is_led = ["unit", "units", "in", "einheit", "einheiten", "unité", "unités", "en"].contains(&before);
        (!["m", "in", "ft", "po", "fuss", "pied", "foot", "feet", "yard", "yards", "yd", "metri"].contains(word)
            || is_led)
            .then_some(unit)
    })
}

/// Asks what columns mean where no table was found.
pub fn ask(grids: &[Grid], notes: &mut Notes) {
    let headers: Vec<Value> = grids
        .iter()
        .filter_map(|grid| {
            let row = grid.rows.iter().take(LOOKED_AT).max_by_key(|row| row.cells.iter().flatten().count())?;
            let cells: Vec<String> =
                row.cells.iter().flatten().take(MOST_COLUMNS).map(|cell| short(&cell.text())).collect();
            Some(json!({"table": grid.name, "row": row.number, "cells": cells}))
        })
        .collect();
    notes.ask(Question {
        field: QuestionField::Columns,
        stops: true,
        text: TableQuestion::Columns { meanings: &meaning::answers() }.to_string(),
        default: Value::Null,
        figures: Value::Array(headers),
    });
}

#[cfg(test)]
mod tests {
    use super::super::grid::{Cell, Row};
    use super::{split_unit, unit_in_words};
    use crate::unit::Unit;

    #[test]
    fn headers_state_units_in_many_ways() {
        for header in ["x [mm]", "X (mm)", "x/mm", "x mm", "X in mm", "x_mm", "x, mm"] {
            assert_eq!(split_unit(header), ("x".to_owned(), Some(Unit::Millimetre)), "{header}");
        }
        assert_eq!(split_unit("OD/in"), ("od".to_owned(), Some(Unit::Inch)));
        assert_eq!(split_unit("bend radius"), ("bend radius".to_owned(), None));
    }

    #[test]
    fn lines_above_state_units_only_where_they_mean_them() {
        let row = |text: &str| Row { number: 1, cells: vec![Some(Cell::Text(text.to_owned()))] };
        assert_eq!(unit_in_words(&row("# bending list, lengths in mm")), Some(Unit::Millimetre));
        assert_eq!(unit_in_words(&row("all lengths in in")), Some(Unit::Inch));
        assert_eq!(unit_in_words(&row("drawn in May, part m")), None);
    }
}
