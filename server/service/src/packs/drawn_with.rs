//! What goes into the drawing of a pack: read before it is drawn, and again in the write that records it.

use crate::rules::drawn_with::{RecordedInputs, print_of};
use crate::rules::holder_news::{self, HolderNews};
use crate::rules::lookup::known_kit;
use crate::{NewPack, ServiceError};
use matchmark_core::document::OneKit;
use matchmark_core::pack::{Notice, Print};
use matchmark_store::Conn;
use matchmark_store::kits::KitRow;
use matchmark_store::packs::{self, PackRow};

/// All that goes into the drawing of a pack, as it is on record at one moment.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct DrawnWith {
    pub design: String,
    pub revision: String,
    pub kit: OneKit,
    pub told: HolderNews,
    /// Notices whose work was done before the kit got this revision.
    pub done_before: Vec<Notice>,
    pub print: Print,
    /// Revision and number of the kit's last pack, when that is of another revision.
    pub before: Option<(String, i64)>,
}

impl DrawnWith {
    /// What a new pack of a kit would be drawn with now.
    pub async fn read(conn: &mut Conn, kit: &KitRow, new: &NewPack) -> Result<Self, ServiceError> {
        let last = packs::last(conn, &kit.serial).await?;
        let before = last.as_ref().filter(|last| last.revision != kit.revision);
        let before = before.map(|last| (last.revision.clone(), last.number));
        let done_before = match &before {
            Some((revision, _)) => holder_news::done_before(conn, kit, revision).await?,
            None => Vec::new(),
        };
        Ok(Self {
            design: kit.design.clone(),
            revision: kit.revision.clone(),
            kit: known_kit(conn, kit).await?,
            told: HolderNews::of(conn, kit).await?,
            print: new.print(last.as_ref(), &kit.revision)?,
            done_before,
            before,
        })
    }

    /// What is kept of it with the pack.
    pub fn kept(&self) -> RecordedInputs {
        RecordedInputs { measured: self.kit.measured.clone(), ..self.told.kept() }
    }

    /// Whether a pack is as one drawn with this would be.
    pub async fn is_that_of(&self, conn: &mut Conn, pack: &PackRow) -> Result<bool, ServiceError> {
        let kept = RecordedInputs::of(conn, pack).await?;
        Ok(self.revision == pack.revision && self.print == print_of(pack) && self.kept().is(&kept))
    }
}
