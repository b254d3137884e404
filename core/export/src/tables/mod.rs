//! The tables of a frame, each typed once.

mod bends;
mod checks;
mod cut_sheet;
mod holes;
mod mass;
mod parts_list;
mod plates;
pub mod stock;

use crate::facts::Subject;
use crate::table::Table;
use crate::words::Words;
use matchmark_core::sheets::Sheets;

/// A table that a frame may have.
pub(crate) struct Listed {
    /// Short name of lower-case words joined by hyphens.
    pub(crate) name: &'static str,
    /// What it is, in a few words.
    pub(crate) about: fn(&Words) -> &'static str,
    /// Whether it has a row.
    is_there: fn(&Sheets) -> bool,
    table: fn(&Subject) -> Table,
}

/// The tables that a frame may have, in the order of a workbook.
const TABLES: [&Listed; 10] = [
    &parts_list::LISTED,
    &cut_sheet::LISTED,
    &bends::LISTED,
    &bends::POINTS_LISTED,
    &plates::LISTED,
    &holes::LISTED,
    &checks::LISTED,
    &mass::LISTED,
    &mass::WELDS_LISTED,
    &stock::LISTED,
];

/// The tables that a frame has.
pub(crate) fn listed(subject: &Subject) -> impl Iterator<Item = &'static Listed> {
    TABLES.into_iter().filter(|listed| (listed.is_there)(subject.sheets))
}

impl Listed {
    /// The table of a frame.
    pub(crate) fn of(&self, subject: &Subject) -> Table {
        (self.table)(subject)
    }
}
