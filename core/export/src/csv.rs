//! A table as comma-separated values (RFC 4180). Lines before the headings that begin with `#` say what the table is of and how it is
//! to be read.

use crate::facts::Subject;
use crate::format::{Entry, Format};
use crate::table::{Table, Value};
use crate::tables::{self, Listed};
use crate::words::EN;
use crate::{Column, ExportError};

/// Media type of a file.
pub const MEDIA_TYPE: &str = "text/csv; charset=utf-8; header=present";

/// What a spreadsheet takes for a formula when a text begins with it.
const FORMULA: [char; 6] = ['=', '+', '-', '@', '\t', '\r'];

pub(crate) const FORMAT: Format = Format {
    id: "csv",
    folder: "tables",
    media_type: MEDIA_TYPE,
    entries: |subject| {
        let entry =
            |table: &Listed| Entry { name: format!("{}.csv", table.name), about: (table.about)(&EN).to_owned() };
        tables::listed(subject).map(entry).collect()
    },
    write: |subject, name, _| {
        let listed = tables::listed(subject).find(|listed| name.strip_suffix(".csv") == Some(listed.name));
        let table = listed.ok_or_else(|| ExportError::UnknownFile(name.to_owned()))?.of(subject);
        Ok(write(&table, &comments(subject, &table))?.into_bytes())
    },
};

/// What stands before the headings of a table.
fn comments(subject: &Subject, table: &Table) -> Vec<String> {
    let mut comments = vec![format!("{}: {}", subject.facts.title(), table.about)];
    comments.extend(subject.facts.cautions().into_iter().take(2));
    comments.push(EN.units().to_owned());
    comments.extend((!table.conventions.is_empty()).then(|| table.conventions.to_owned()));
    comments
}

/// Writes a table after comments, a line each. Text that a spreadsheet would take for a formula is marked as text by an apostrophe
/// before it.
///
/// # Errors
/// [`ExportError::NotFinite`] for a figure that is none.
pub fn write(table: &Table, comments: &[String]) -> Result<String, ExportError> {
    table.check()?;
    let mut text = String::new();
    for comment in comments {
        text.push_str(&quoted(&format!("# {}", comment.replace(['\r', '\n'], " "))));
        text.push_str("\r\n");
    }
    let headings: Vec<String> = table.columns.iter().map(Column::heading).collect();
    text.push_str(&headings.join(","));
    text.push_str("\r\n");
    for row in &table.rows {
        let fields: Vec<String> = row.iter().map(field).collect();
        text.push_str(&fields.join(","));
        text.push_str("\r\n");
    }
    Ok(text)
}

fn field(value: &Value) -> String {
    match value {
        Value::Empty => String::new(),
        Value::Text(text) if text.starts_with(FORMULA) => quoted(&format!("'{text}")),
        Value::Text(text) => quoted(text),
        Value::Count(count) => count.to_string(),
        Value::Number(figure) => figure.to_string(),
        Value::Flag(flag) => flag.to_string(),
    }
}

fn quoted(text: &str) -> String {
    if text.contains(['"', ',', '\r', '\n']) { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table(columns: &[&'static str]) -> Table {
        let columns = columns.iter().map(|told| told.split_once(':').unwrap_or((told, "")));
        let columns = columns.map(|(name, unit)| Column { name, unit }).collect();
        Table { name: "t", about: "a table", conventions: "", columns, rows: Vec::new() }
    }

    #[test]
    fn fields_are_written_as_rfc_4180_asks() {
        // RFC 4180, section 2: CRLF, fields with comma, quote or line break in double quotes, a quote doubled.
        let mut table = table(&["note", "length:mm", "count", "is_so"]);
        table.push(["a \"b\", c".into(), Value::from(-0.000_000_1), 3_usize.into(), true.into()]);
        table.push(["=1+1".into(), Value::from(-12.5), Value::Empty, false.into()]);
        let text = write(&table, &["of, it".to_owned()]).unwrap();
        assert_eq!(
            text,
            "\"# of, it\"\r\nnote,length_mm,count,is_so\r\n\"a \"\"b\"\", c\",0,3,true\r\n'=1+1,-12.5,,false\r\n"
        );
    }

    #[test]
    fn a_figure_that_is_none_is_refused() {
        let mut table = table(&["length:mm"]);
        table.push([Value::Number(f64::NAN)]);
        assert_eq!(write(&table, &[]).unwrap_err().code(), "figure-not-finite");
    }
}
