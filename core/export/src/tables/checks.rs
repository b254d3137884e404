//! The dimensions to check.

use super::Listed;
use crate::facts::Subject;
use crate::table::{Table, Value};
use crate::words::Words;
use matchmark_core::pack::say;

const COLUMNS: [&str; 13] = [
    "name",
    "what",
    "declared",
    "from",
    "to",
    "from_x:mm",
    "from_y:mm",
    "from_z:mm",
    "to_x:mm",
    "to_y:mm",
    "to_z:mm",
    "nominal:mm",
    "tolerance:mm",
];

pub(super) const LISTED: Listed =
    Listed { name: "checks", about: Words::about_checks, is_there: |sheets| !sheets.checks.is_empty(), table };

fn table(subject: &Subject) -> Table {
    let mut table = Table::new(&LISTED, &COLUMNS);
    for row in &subject.sheets.checks {
        let mut cells: Vec<Value> = vec![
            row.name.as_str().into(),
            say::check(row).into(),
            row.declared.into(),
            say::place(&row.between[0]).into(),
            say::place(&row.between[1]).into(),
        ];
        cells.extend(row.from.into_iter().chain(row.to).map(Value::from));
        cells.extend([row.nominal.into(), row.tolerance.into()]);
        table.push(cells);
    }
    table
}
