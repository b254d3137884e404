//! What goes into the drawing of a pack: read before it is drawn, and again in the write that records it.

use super::measurements::known_kit;
use super::packs::print_of;
use super::told::Told;
use super::{NewPack, ServiceError};
use matchmark_core::document::OneKit;
use matchmark_core::pack::Print;
use matchmark_store::kits::KitRow;
use matchmark_store::packs::{self, PackRow};
use matchmark_store::{Conn, measurements};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// All that goes into the drawing of a pack, as it is on record at one moment.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct DrawnWith {
    pub design: String,
    pub revision: String,
    pub kit: OneKit,
    pub told: Told,
    pub print: Print,
    /// Revision and number of the kit's last pack, when that is of another revision.
    pub before: Option<(String, i64)>,
}

/// What is kept of it with the pack.
#[derive(Debug, Clone, Default, Serialize, Deserialize)]
pub(super) struct Kept {
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

impl DrawnWith {
    /// What a new pack of a kit would be drawn with now.
    pub async fn read(conn: &mut Conn, kit: &KitRow, new: &NewPack) -> Result<Self, ServiceError> {
        let last = packs::last(conn, &kit.serial).await?;
        Ok(Self {
            design: kit.design.clone(),
            revision: kit.revision.clone(),
            kit: known_kit(conn, kit).await?,
            told: Told::of(conn, kit).await?,
            print: new.print(last.as_ref(), &kit.revision)?,
            before: last.filter(|last| last.revision != kit.revision).map(|last| (last.revision, last.number)),
        })
    }

    /// What is kept of it with the pack.
    pub fn kept(&self) -> Kept {
        Kept { measured: self.kit.measured.clone(), ..self.told.kept() }
    }

    /// Whether a pack is as one drawn with this would be.
    pub async fn is_that_of(&self, conn: &mut Conn, pack: &PackRow) -> Result<bool, ServiceError> {
        let kept = Kept::of(conn, pack).await?;
        Ok(self.revision == pack.revision && self.print == print_of(pack) && self.kept().is(&kept))
    }
}

/// Measured values that differ by less are one, mm.
const SAME: f64 = 1e-6;

/// Whether two measured values are one.
pub(super) fn is_same(a: f64, b: f64) -> bool {
    (a - b).abs() < SAME
}

impl Kept {
    fn is(&self, other: &Self) -> bool {
        let (ours, theirs) = (&self.measured, &other.measured);
        let measured =
            ours.len() == theirs.len() && ours.iter().zip(theirs).all(|((a, x), (b, y))| a == b && is_same(*x, *y));
        measured && self.notices == other.notices && self.done == other.done && self.recalls == other.recalls
    }

    /// What a pack was drawn with; for one from before that was kept, what its kit had been told by then.
    pub async fn of(conn: &mut Conn, pack: &PackRow) -> Result<Self, ServiceError> {
        if !pack.drawn_with.is_empty() {
            return serde_json::from_str(&pack.drawn_with)
                .map_err(|_| ServiceError::Inconsistent("what a pack was drawn with cannot be read"));
        }
        let told = Told::by(conn, &pack.kit, &pack.issued_at).await?;
        let measured = measurements::list(conn, &pack.kit).await?;
        let by_then = measured.into_iter().filter(|value| value.at < pack.issued_at);
        Ok(Self { measured: by_then.map(|value| (value.gauge, value.value)).collect(), ..told })
    }
}
