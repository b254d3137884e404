//! XLSX workbooks. Their sizes are looked at before they are opened.

use super::grid::{Cell, Grid, MOST_CELLS, Row};
use crate::read::SourceFile;
use crate::report::{Code, Notes};
use crate::words::table::{CellText, SheetFact, TablePlace, WorkbookFact};
use calamine::{DataRef, Reader, SheetType, SheetVisible, Xlsx};
use matchmark_core::{Stop, Stopped};
use std::collections::BTreeMap;
use std::io::{Cursor, Read};

/// Most bytes of all parts of a workbook together, unpacked.
const MOST_UNPACKED: u64 = 64 << 20;
/// Most bytes of all words in cells: many cells may show one text.
const MOST_TEXT: usize = 16 << 20;
const MOST_PARTS: usize = 2_000;
/// Widest column that is read.
const MOST_COLUMNS: u32 = 256;

/// Reads every sheet that is to be seen.
pub fn read(file: &SourceFile, stop: Stop<'_>, notes: &mut Notes) -> Result<Vec<Grid>, Stopped> {
    let of_file = file.name.as_str();
    let refuse = |notes: &mut Notes, code, fact: WorkbookFact<'_>| {
        notes.error(code, of_file, fact);
        Ok(Vec::new())
    };
    match fits(&file.bytes, stop)? {
        None => return refuse(notes, Code::Truncated, WorkbookFact::ArchiveDamaged { file: of_file }),
        Some(false) => {
            let fact = WorkbookFact::TooLarge { file: of_file, megabytes: MOST_UNPACKED >> 20 };
            return refuse(notes, Code::TooLarge, fact);
        }
        Some(true) => {}
    }
    let Ok(mut workbook) = Xlsx::new(Cursor::new(&file.bytes)) else {
        return refuse(notes, Code::Malformed, WorkbookFact::NotReadable { file: of_file });
    };
    let sheets = workbook.sheets_metadata().to_vec();
    let mut grids = Vec::new();
    for sheet in sheets.into_iter().filter(|sheet| sheet.typ == SheetType::WorkSheet) {
        stop.check()?;
        let name = TablePlace::Sheet { file: of_file, sheet: &sheet.name }.to_string();
        if sheet.visible != SheetVisible::Visible {
            notes.information(Code::NotDrawn, name, SheetFact::Hidden);
            continue;
        }
        match rows(&mut workbook, &sheet.name, stop)? {
            Ok(rows) => grids.push(Grid { name, is_workbook: true, delimiter: b'\t', rows }),
            Err(fact) => notes.error(Code::Malformed, name, fact),
        }
    }
    Ok(grids)
}

/// Whether all parts unpack to no more than is read; `None` where the archive is damaged. What a directory says of sizes may be
/// wrong, so the parts are unpacked for counting.
fn fits(bytes: &[u8], stop: Stop<'_>) -> Result<Option<bool>, Stopped> {
    let Ok(mut archive) = zip::ZipArchive::new(Cursor::new(bytes)) else { return Ok(None) };
    if archive.len() > MOST_PARTS {
        return Ok(Some(false));
    }
    let mut left = MOST_UNPACKED;
    for index in 0..archive.len() {
        stop.check()?;
        let Ok(part) = archive.by_index(index) else { return Ok(None) };
        if part.size() > left {
            return Ok(Some(false));
        }
        let mut limited = part.take(left);
        let Ok(unpacked) = std::io::copy(&mut limited, &mut std::io::sink()) else { return Ok(None) };
        left -= unpacked.min(left);
        if left == 0 {
            return Ok(Some(false));
        }
    }
    Ok(Some(true))
}

type Rows = Result<Vec<Row>, SheetFact>;

fn rows(workbook: &mut Xlsx<Cursor<&Vec<u8>>>, sheet: &str, stop: Stop<'_>) -> Result<Rows, Stopped> {
    let Ok(mut cells) = workbook.worksheet_cells_reader(sheet) else { return Ok(Err(SheetFact::Damaged)) };
    let mut rows: BTreeMap<u32, Vec<Option<Cell>>> = BTreeMap::new();
    let (mut count, mut text) = (0_usize, 0_usize);
    loop {
        let Ok(cell) = cells.next_cell_with_formula() else { return Ok(Err(SheetFact::Damaged)) };
        let Some(cell) = cell else { break };
        let (row, column) = cell.pos;
        count += 1;
        if count % 1024 < 2 {
            stop.check()?;
        }
        if count > MOST_CELLS {
            return Ok(Err(SheetFact::TooManyCells { most: MOST_CELLS }));
        }
        let has_formula = cell.formula.is_some();
        let Some(value) = value(&cell.value, has_formula) else { continue };
        if column >= MOST_COLUMNS {
            continue;
        }
        if let Cell::Text(words) = &value {
            text += words.len();
        }
        if text > MOST_TEXT {
            return Ok(Err(SheetFact::TooMuchText { megabytes: MOST_TEXT >> 20 }));
        }
        let row = rows.entry(row).or_default();
        let column = column as usize;
        if row.len() <= column {
            // Blanks before a cell take their room too.
            count += column - row.len();
            row.resize(column + 1, None);
        }
        row[column] = Some(value);
    }
    Ok(Ok(rows.into_iter().map(|(row, cells)| Row { number: row as usize + 1, cells }).collect()))
}

fn value(value: &DataRef<'_>, has_formula: bool) -> Option<Cell> {
    let text = match value {
        #[expect(clippy::cast_precision_loss, reason = "a length in mm")]
        DataRef::Int(number) => return Some(Cell::Number(*number as f64)),
        DataRef::Float(number) => return Some(Cell::Number(*number)),
        DataRef::Error(error) => return Some(Cell::Fault(error.to_string())),
        DataRef::Empty => String::new(),
        DataRef::String(text) => text.clone(),
        DataRef::SharedString(text) => (*text).to_owned(),
        DataRef::Bool(is) => is.to_string(),
        DataRef::DateTime(_) => CellText::Date.to_string(),
        DataRef::DateTimeIso(text) | DataRef::DurationIso(text) => text.clone(),
    };
    if text.trim().is_empty() {
        has_formula.then(|| Cell::NoValue(CellText::Formula.to_string()))
    } else {
        Some(Cell::Text(text))
    }
}
