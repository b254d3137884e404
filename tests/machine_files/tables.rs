//! Tables read back as a spreadsheet reads them: CSV by Python's csv module, the workbook by openpyxl.

use crate::readers::{figure, python};
use crate::written::{BENCH, DEMO, Frame};
use serde_json::Value;

fn read(frame: &Frame) -> Value {
    python("read_tables.py", &frame.written(&["csv", "xlsx"]).0)
}

/// The cells of a column.
fn column<'a>(table: &'a Value, heading: &str) -> Vec<&'a Value> {
    let headings = table["headings"].as_array().unwrap();
    let at = headings.iter().position(|known| known == heading).unwrap_or_else(|| panic!("no column {heading}"));
    table["rows"].as_array().unwrap().iter().map(|row| &row[at]).collect()
}

/// A cell of CSV as a spreadsheet takes it.
fn taken(cell: &Value) -> Value {
    let text = cell.as_str().unwrap();
    let text = text.strip_prefix('\'').unwrap_or(text);
    match (text, text.parse::<f64>()) {
        ("", _) => Value::Null,
        ("true" | "false", _) => Value::Bool(text == "true"),
        (_, Ok(number)) => number.into(),
        _ => text.into(),
    }
}

#[test]
fn both_kinds_of_tables_say_the_same_in_every_cell() {
    for frame in [&DEMO, &BENCH] {
        let read = read(frame);
        let tables = read["csv"].as_object().unwrap();
        assert!(tables.len() >= 9, "{:?}", tables.keys());
        assert_eq!(read["xlsx"].as_object().unwrap().len(), tables.len() + 1);
        assert_eq!(read["made"], "2026-11-25T00:00:00");
        for (name, table) in tables {
            let sheet = &read["xlsx"][name];
            assert_eq!(table["line_ends"], true, "{name}: CRLF alone (RFC 4180)");
            assert_eq!(sheet["formulas"], false, "{name}");
            assert_eq!(sheet["headings"], table["headings"], "{name}");
            assert!(
                table["comments"][0].as_str().unwrap().contains("revision B of 2026-11-25, kit QF-0101"),
                "{table}"
            );
            let (rows, others) = (table["rows"].as_array().unwrap(), sheet["rows"].as_array().unwrap());
            assert_eq!(rows.len(), others.len(), "{name}");
            for (row, other) in rows.iter().zip(others) {
                for (at, cell) in row.as_array().unwrap().iter().enumerate() {
                    let (cell, other) = (taken(cell), &other[at]);
                    let is_same = match (cell.as_f64(), other.as_f64()) {
                        (Some(one), Some(other)) => one == other,
                        // Names that look like numbers are text in a workbook.
                        (Some(one), None) => other.as_str().and_then(|text| text.parse().ok()) == Some(one),
                        _ => cell == *other,
                    };
                    assert!(is_same, "{name}, {}: {cell} and {other}", table["headings"][at]);
                }
            }
        }
    }
}

#[test]
fn tables_hold_the_figures_of_the_sheets() {
    let read = read(&DEMO);
    let subject = DEMO.subject();
    let sheets = subject.sheets;
    let cut = &read["xlsx"]["cut-sheet"];
    let by_row = |heading: &str, of: &dyn Fn(usize) -> Value| {
        for (row, cell) in column(cut, heading).into_iter().enumerate() {
            let wanted = of(row);
            let is_same = match (cell.as_f64(), wanted.as_f64()) {
                (Some(one), Some(other)) => (one - other).abs() < 1e-6,
                _ => *cell == wanted,
            };
            assert!(is_same, "{heading}, row {row}: {cell} and {wanted}");
        }
    };
    let rows = &sheets.cut_sheet.rows;
    assert_eq!(column(cut, "member").len(), rows.len());
    by_row("member", &|row| rows[row].member.clone().into());
    by_row("part_number", &|row| rows[row].part_number.clone().into());
    by_row("overall_mm", &|row| rows[row].overall.into());
    by_row("blank_mm", &|row| rows[row].blank.into());
    by_row("end_1_mitre_deg", &|row| rows[row].from.mitre_deg.into());
    by_row("end_2_long_point_deg", &|row| rows[row].to.long_point_deg.into());
    by_row("mass_kg", &|row| rows[row].mass_kg.into());
    let parts = &read["xlsx"]["parts-list"];
    let quantity: f64 = column(parts, "quantity").into_iter().map(figure).sum();
    assert_eq!(quantity as usize, rows.len() + sheets.plates.len());
    let mass: f64 = column(parts, "quantity")
        .iter()
        .zip(column(parts, "mass_each_kg"))
        .map(|(count, each)| figure(count) * figure(each))
        .sum();
    assert!((mass - sheets.mass.mass_kg).abs() < 0.01, "{mass} and {}", sheets.mass.mass_kg);
    assert!((figure(column(&read["xlsx"]["mass"], "value")[0]) - sheets.mass.mass_kg).abs() < 1e-9);
    let bends: usize = sheets.bend_sheets.iter().map(|sheet| sheet.rows.len()).sum();
    assert_eq!(column(&read["xlsx"]["bends"], "feed_mm").len(), bends);
    let holes: usize = sheets.strips.iter().map(|strip| strip.holes.len()).sum::<usize>()
        + sheets.plates.iter().map(|plate| plate.holes.len()).sum::<usize>();
    assert_eq!(column(&read["xlsx"]["holes"], "diameter_mm").len(), holes);
    assert_eq!(column(&read["xlsx"]["checks"], "nominal_mm").len(), sheets.checks.len());
}

#[test]
fn the_stock_plan_saws_each_blank_as_often_as_the_parts_list_wants_it() {
    let read = read(&DEMO);
    let (stock, parts) = (&read["xlsx"]["stock-plan"], &read["xlsx"]["parts-list"]);
    let count = |number: &Value| -> f64 {
        let sawn = column(stock, "part_off").into_iter().zip(column(stock, "bars"));
        sawn.filter(|(part, _)| *part == number).map(|(_, bars)| figure(bars)).sum()
    };
    let mut seen = 0;
    let rows = column(parts, "part_number").into_iter().zip(column(parts, "quantity")).zip(column(parts, "blank_mm"));
    for ((number, quantity), blank) in rows.filter(|(_, blank)| !blank.is_null()) {
        assert_eq!(count(number), figure(quantity), "{number}");
        let lengths = column(stock, "part_off").into_iter().zip(column(stock, "part_off_length_mm"));
        for (_, length) in lengths.filter(|(part, _)| *part == number) {
            assert!((figure(length) - figure(blank)).abs() < 1e-6, "{number}");
        }
        seen += 1;
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn no_text_becomes_a_formula() {
    let read = read(&BENCH);
    // What a spreadsheet runs begins with one of = + - @ or a tab (OWASP, CSV injection; from memory).
    let material = &column(&read["csv"]["cut-sheet"], "material")[0];
    assert_eq!(**material, "'=Cold drawn, \"seamless\"");
    assert_eq!(*column(&read["xlsx"]["cut-sheet"], "material")[0], "=Cold drawn, \"seamless\"");
}
