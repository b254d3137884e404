//! What a pack was drawn with, and whether a number can have no pack.

use crate::ServiceError;
use crate::rules::holder_news::HolderNews;
use crate::rules::measured_set::are_same;
use matchmark_core::pack::Print;
use matchmark_store::packs::PackRow;
use matchmark_store::{Conn, measurements, pack_numbers};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// How a pack is printed; one from before that was kept, as by default.
pub(crate) fn print_of(row: &PackRow) -> Print {
    serde_json::from_str(&row.print).unwrap_or_default()
}

/// Whether a number of a kit can have no pack any more.
pub(crate) async fn is_void(conn: &mut Conn, serial: &str, number: i64, now: &str) -> Result<bool, ServiceError> {
    Ok(pack_numbers::void(conn, serial, now).await?.iter().any(|row| row.number == number))
}

/// What is kept with a pack of what it was drawn with.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
pub(crate) struct RecordedInputs {
    /// Measured value by gauge, mm.
    #[serde(default)]
    pub measured: BTreeMap<String, f64>,
    /// Numbers of the notices that it prints as not done.
    #[serde(default)]
    pub notices: Vec<i64>,
    /// Numbers of those that it prints as done.
    #[serde(default)]
    pub done: Vec<i64>,
    /// The recalls that it prints, by revision and day.
    #[serde(default)]
    pub recalls: Vec<(String, String)>,
}

/// Measured values that differ by less are one, mm.
const SAME: f64 = 1e-6;

/// Whether two measured values are one.
pub(crate) fn is_same(a: f64, b: f64) -> bool {
    (a - b).abs() < SAME
}

impl RecordedInputs {
    pub fn is(&self, other: &Self) -> bool {
        are_same(&self.measured, &other.measured)
            && self.notices == other.notices
            && self.done == other.done
            && self.recalls == other.recalls
    }

    /// What a pack was drawn with; for one from before that was kept, what its kit had been told by then.
    pub async fn of(conn: &mut Conn, pack: &PackRow) -> Result<Self, ServiceError> {
        if !pack.drawn_with.is_empty() {
            return serde_json::from_str(&pack.drawn_with)
                .map_err(|_| ServiceError::Inconsistent("what a pack was drawn with cannot be read"));
        }
        let told = HolderNews::by(conn, &pack.kit, &pack.issued_at).await?;
        let measured = measurements::list(conn, &pack.kit).await?;
        let by_then = measured.into_iter().filter(|value| value.at < pack.issued_at);
        Ok(Self { measured: measurements::values(by_then), ..told })
    }
}
