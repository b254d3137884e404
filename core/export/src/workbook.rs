//! All tables of a frame in one workbook for spreadsheets (ISO/IEC 29500).

use crate::facts::Subject;
use crate::format::{Entry, Format};
use crate::table::{Column, Table, Value};
use crate::words::EN;
use crate::{ExportError, tables};
use rust_xlsxwriter::{DocProperties, ExcelDateTime, Format as Style, FormatAlign, Workbook, Worksheet, XlsxError};

/// Its name.
const NAME: &str = "tables.xlsx";

/// Widest column, in characters.
const WIDEST: usize = 48;

/// The sheet that says what the workbook is of.
const ABOUT: &str = "about";

pub(crate) const FORMAT: Format = Format {
    id: "xlsx",
    folder: "tables",
    media_type: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
    entries: |_| vec![Entry { name: NAME.to_owned(), about: EN.about_workbook().to_owned() }],
    write: |subject, _, _| {
        let tables: Vec<Table> = tables::listed(subject).map(|listed| listed.of(subject)).collect();
        tables.iter().try_for_each(Table::check)?;
        written(subject, &tables).map_err(|error| ExportError::Failed(error.to_string()))
    },
};

fn written(subject: &Subject, tables: &[Table]) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    let facts = subject.facts;
    // The time of making is that of the revision, so that the same figures give the same bytes.
    let made = ExcelDateTime::parse_from_str(&facts.date).or_else(|_| ExcelDateTime::from_ymd(2000, 1, 1))?;
    let properties = DocProperties::new().set_title(facts.title()).set_author(&facts.supplier);
    workbook.set_properties(&properties.set_creation_datetime(&made));
    about(workbook.add_worksheet(), subject, tables)?;
    for table in tables {
        sheet(workbook.add_worksheet(), table)?;
    }
    workbook.save_to_buffer()
}

/// What the workbook is of, and how its figures are to be read.
fn about(sheet: &mut Worksheet, subject: &Subject, tables: &[Table]) -> Result<(), XlsxError> {
    let (bold, wrapped) = (Style::new().set_bold(), Style::new().set_text_wrap().set_align(FormatAlign::Top));
    let facts = subject.facts;
    sheet.set_name(ABOUT)?.set_column_width(0, 24)?.set_column_width(1, 100)?;
    let mut lines: Vec<(&str, String)> = vec![
        ("design", facts.design.clone()),
        ("revision", if facts.revision.is_empty() { "draft".to_owned() } else { facts.revision.clone() }),
        ("date", facts.date.clone()),
        ("kit", facts.kit.clone()),
        (EN.kit_differs_by(), facts.kit_facts.join(", ")),
        ("supplier", facts.supplier.clone()),
        (EN.design_sha256(), facts.design_sha256.clone()),
    ];
    lines.retain(|(_, said)| !said.is_empty());
    lines.extend(facts.cautions().into_iter().map(|caution| ("caution", caution)));
    lines.push(("units", EN.units().to_owned()));
    for table in tables {
        lines.push((table.name, [table.about, table.conventions].join(". ")));
    }
    for (row, (what, said)) in (0..).zip(lines) {
        sheet.write_string_with_format(row, 0, what, &bold)?;
        sheet.write_string_with_format(row, 1, said, &wrapped)?;
    }
    Ok(())
}

/// A table as a sheet: headings in its first row, which stays in sight.
fn sheet(sheet: &mut Worksheet, table: &Table) -> Result<(), XlsxError> {
    let heading = Style::new().set_bold().set_text_wrap().set_align(FormatAlign::Top);
    let words = Style::new();
    sheet.set_name(table.name)?.set_freeze_panes(1, 0)?;
    for (column, told) in (0..).zip(&table.columns) {
        sheet.write_string_with_format(0, column, told.heading(), &heading)?;
        let figures = Style::new().set_num_format(shown(told));
        let mut width = told.heading().split('_').map(str::len).max().unwrap_or(0) + 1;
        for (row, cells) in (1..).zip(&table.rows) {
            match cells.get(usize::from(column)) {
                Some(Value::Text(text)) => {
                    width = width.max(text.chars().count() + 1);
                    sheet.write_string_with_format(row, column, text, &words)?;
                }
                Some(Value::Count(count)) => {
                    #[allow(clippy::cast_precision_loss, reason = "counts of parts are far below 2^53")]
                    sheet.write_number(row, column, *count as f64)?;
                }
                Some(Value::Number(figure)) => {
                    width = width.max(10);
                    sheet.write_number_with_format(row, column, *figure, &figures)?;
                }
                Some(Value::Flag(flag)) => {
                    sheet.write_boolean(row, column, *flag)?;
                }
                Some(Value::Empty) | None => {}
            }
        }
        #[allow(clippy::cast_precision_loss, reason = "a width of at most 48")]
        sheet.set_column_width(column, width.clamp(8, WIDEST) as f64)?;
    }
    if let (Ok(last_row), Ok(columns)) = (u32::try_from(table.rows.len()), u16::try_from(table.columns.len())) {
        sheet.autofilter(0, 0, last_row, columns.saturating_sub(1))?;
    }
    Ok(())
}

/// How figures of a column are shown; the cell holds all their decimals.
fn shown(column: &Column) -> &'static str {
    match column.unit {
        "kg" => "0.000",
        "mm" | "deg" => "0.00",
        _ => "0.###",
    }
}
