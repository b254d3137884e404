//! A pack to issue, as it is asked for.

use crate::rules::drawn_with::print_of;
use crate::words::of_problems;
use crate::{FieldError, ServiceError};
use matchmark_core::pack::{CheckBars, Hands, Paper, Print, Units};
use matchmark_store::packs::PackRow;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A pack to issue. What is absent is as in the kit's last pack; in its first pack A4, common office paper, true check bars.
#[derive(Debug, Clone, Default, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"paper": "letter", "check_bars": {"across": 99.2, "up": 99.6}}))]
pub struct NewPack {
    /// Paper that the builder prints on.
    #[serde(default)]
    pub paper: Option<Paper>,
    /// Thickness of the paper that wraps are printed on, mm, 0 to 0.5.
    #[serde(default)]
    pub paper_thickness: Option<f64>,
    /// What the two check bars of an earlier print measured: in a pack in millimetres each 90 to 110, in one in inches 3.6 to 4.4.
    #[serde(default)]
    pub check_bars: Option<CheckBars>,
    /// In which unit lengths are written: `mm`, `inch` or `inch-fraction`.
    #[serde(default)]
    pub units: Option<Units>,
    /// Whose wraps, plates and hole strips are printed: `both`, `left` or `right`; those of parts of neither hand always are. The
    /// first pack of another revision has both again when nothing is said.
    #[serde(default)]
    pub hands: Option<Hands>,
    /// Only what changed since the kit's last pack, to go with that one. The kit must have been moved to another revision since.
    #[serde(default)]
    pub only_changes: bool,
}

impl NewPack {
    /// How it is printed for a kit of a revision, after the print of the kit's last pack.
    pub(crate) fn print(&self, last: Option<&PackRow>, revision: &str) -> Result<Print, ServiceError> {
        let before = last.map(print_of).unwrap_or_default();
        // Of another revision nobody has the other hand yet.
        let known_hands = last.filter(|last| last.revision == revision).map(|_| before.hands);
        let units = self.units.unwrap_or(before.units);
        // Bars measured in another unit say nothing here.
        let known_bars = before.check_bars.filter(|_| before.units.true_bar() == units.true_bar());
        if self.only_changes && self.hands.is_some_and(|hands| hands != Hands::Both) {
            return Err(ServiceError::Invalid(vec![FieldError {
                pointer: "/hands".to_owned(),
                detail: of_problems().new_pack.both_hands().to_owned(),
            }]));
        }
        let hands = match self.hands {
            _ if self.only_changes => Hands::Both,
            hands => hands.or(known_hands).unwrap_or_default(),
        };
        let changes = last.filter(|last| last.revision == revision && last.only_changes != 0);
        if let Some(last) = changes.filter(|_| hands != Hands::Both) {
            return Err(ServiceError::Invalid(vec![FieldError {
                pointer: "/hands".to_owned(),
                detail: of_problems().new_pack.one_hand_beside_changes(last.number),
            }]));
        }
        let print = Print {
            units,
            paper: self.paper.unwrap_or(before.paper),
            paper_thickness: self.paper_thickness.unwrap_or(before.paper_thickness),
            check_bars: self.check_bars.or(known_bars),
            hands,
        };
        print.check().map_err(|error| {
            ServiceError::Invalid(vec![FieldError { pointer: error.pointer().to_owned(), detail: error.to_string() }])
        })?;
        Ok(print)
    }
}
