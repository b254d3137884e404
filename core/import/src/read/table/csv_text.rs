//! Text tables after RFC 4180 and its dialects: delimiter, encoding, comment lines.

use super::grid::{Cell, Grid, MOST_CELLS, Row};
use crate::read::SourceFile;
use crate::report::{Code, Notes};
use crate::words::table::TableFact;
use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

const DELIMITERS: [u8; 4] = [b',', b';', b'\t', b'|'];
/// Rows by which the delimiter is chosen.
const LOOKED_AT: usize = 200;

/// Most bytes of a text table.
const MOST_BYTES: usize = 16 << 20;

/// Reads one table; nothing when there is none, which is said.
pub fn read(file: &SourceFile, notes: &mut Notes) -> Option<Grid> {
    let too_large = |notes: &mut Notes| {
        let fact = TableFact::TooLarge { cells: MOST_CELLS, megabytes: MOST_BYTES >> 20 };
        notes.error(Code::TooLarge, file.name.as_str(), fact);
        None
    };
    if file.bytes.len() > MOST_BYTES {
        return too_large(notes);
    }
    let text = decoded(&file.bytes);
    let Some(delimiter) = delimiter(&text) else {
        notes.error(Code::UnknownFormat, file.name.as_str(), TableFact::NoColumns { file: &file.name });
        return None;
    };
    let (rows, cells) = rows(&text, delimiter, usize::MAX);
    if cells > MOST_CELLS {
        return too_large(notes);
    }
    Some(Grid { name: file.name.clone(), is_workbook: false, delimiter, rows })
}

/// By byte-order mark, else UTF-8 where that is valid, else the Western code page.
fn decoded(bytes: &[u8]) -> String {
    let encoding = Encoding::for_bom(bytes)
        .map_or_else(|| if str::from_utf8(bytes).is_ok() { UTF_8 } else { WINDOWS_1252 }, |(encoding, _)| encoding);
    encoding.decode(bytes).0.into_owned()
}

/// Rows that are not empty, and how many cells there are, empty ones among them. Reading ends with the row that has too many.
fn rows(text: &str, delimiter: u8, most: usize) -> (Vec<Row>, usize) {
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).delimiter(delimiter).from_reader(text.as_bytes());
    let bytes = text.as_bytes();
    let line_ends = |from: usize, to: usize| {
        let part = bytes.get(from..to).unwrap_or_default();
        part.iter().filter(|byte| **byte == b'\n').count()
    };
    // Lines up to the row that is read. A row may go over several lines inside quotes; a spreadsheet counts it once.
    let (mut counted, mut line, mut extra) = (0, 1, 0);
    let mut rows = Vec::new();
    let mut count = 0;
    for record in reader.records().take(most).map_while(Result::ok) {
        let mut start = record.position().map_or(0, |position| usize::try_from(position.byte()).unwrap_or(0));
        // Empty lines before a row are counted with it by the reader.
        start += bytes.get(start..).unwrap_or_default().iter().take_while(|byte| b"\r\n".contains(byte)).count();
        line += line_ends(counted, start);
        counted = start;
        let cells: Vec<Option<Cell>> = record
            .iter()
            .map(|cell| cell.trim_matches(|letter: char| letter.is_whitespace() && letter != '\t'))
            .map(|cell| (!cell.trim().is_empty()).then(|| Cell::Text(cell.to_owned())))
            .collect();
        let number = line - extra;
        extra += record.iter().map(|cell| cell.matches('\n').count()).sum::<usize>();
        count += cells.len();
        if cells.iter().any(Option::is_some) {
            rows.push(Row { number, cells });
        }
        if count > MOST_CELLS {
            break;
        }
    }
    (rows, count)
}

/// The delimiter that gives most rows the same count of cells above 1.
fn delimiter(text: &str) -> Option<u8> {
    let agreement = |delimiter: u8| {
        let (rows, _) = rows(text, delimiter, LOOKED_AT);
        let counts: Vec<usize> = rows.iter().map(|row| row.cells.len()).filter(|count| *count > 1).collect();
        counts.iter().map(|count| (counts.iter().filter(|other| *other == count).count(), *count)).max()
    };
    DELIMITERS
        .into_iter()
        .rev()
        .filter_map(|delimiter| Some((agreement(delimiter)?, delimiter)))
        .max_by_key(|(agreement, _)| *agreement)
        .map(|(_, delimiter)| delimiter)
}

#[cfg(test)]
mod tests {
    use super::{decoded, delimiter, rows};

    #[test]
    fn a_decimal_comma_does_not_divide() {
        assert_eq!(delimiter("a;b;c\n1,5;2,5;3\n4;5,25;6\n"), Some(b';'));
        assert_eq!(delimiter("a,b\n\"1,5\",2\n"), Some(b','));
        assert_eq!(delimiter("a\tb\tc\n1\t2\t3\n"), Some(b'\t'));
        assert_eq!(delimiter("just words\nand more\n"), None);
    }

    #[test]
    fn encodings_are_told_by_mark_or_by_trial() {
        assert_eq!(decoded(b"\xff\xfea\0;\0"), "a;");
        assert_eq!(decoded(b"\xfe\xff\0a\0;"), "a;");
        assert_eq!(decoded(b"\xef\xbb\xbfa"), "a");
        assert_eq!(decoded(b"\xd8"), "Ø");
    }

    #[test]
    fn rows_are_counted_as_a_spreadsheet_does() {
        let (rows, _) = rows("a,b\n\n\"x\ny\",1\nz,2\n", b',', 9);
        assert_eq!(rows.iter().map(|row| row.number).collect::<Vec<_>>(), [1, 3, 4]);
    }
}
