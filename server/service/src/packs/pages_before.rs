//! What the holder of a kit has from the revision before: the pages of its packs, of which a pack of what changed says which stay valid,
//! and the values that those were drawn with.

use crate::rules::drawn_with::print_of;
use crate::{Service, ServiceError};
use matchmark_core::document::OneKit;
use matchmark_core::pack::{Hands, ListedPage, PageBefore};
use matchmark_store::measurements;
use matchmark_store::packs::PackRow;
use serde::Deserialize;

/// What is read of the account of a pack.
#[derive(Deserialize)]
struct Account {
    pages: Vec<ListedPage>,
}

impl Service {
    /// The pages of a pack, and of the one of the other hand where it is of one hand; none where they are not known, or where the pack
    /// itself holds only what changed and so goes with another.
    pub(crate) async fn pages_before(
        &self,
        before: &PackRow,
        packs: &[PackRow],
    ) -> Result<Vec<PageBefore>, ServiceError> {
        let hands = print_of(before).hands;
        let beside = packs.iter().rev().find(|pack| {
            let other = print_of(pack).hands;
            hands != Hands::Both
                && other == hands.other()
                && pack.revision == before.revision
                && pack.number < before.number
        });
        let mut pages = Vec::new();
        for pack in beside.into_iter().chain([before]) {
            if pack.only_changes != 0 || pack.manifest_sha256.is_empty() {
                return Ok(Vec::new());
            }
            let account = self.store.blobs().read(&pack.manifest_sha256).await?;
            let account: Account = serde_json::from_slice(&account)
                .map_err(|_| ServiceError::Inconsistent("the account of a pack cannot be read"))?;
            pages.extend(account.pages.into_iter().map(|listed| PageBefore {
                pack: pack.number.to_string(),
                page: listed.page,
                holds: listed.holds(),
                title: listed.title,
            }));
        }
        Ok(pages)
    }

    /// The kit with the values that were measured when a pack of it was issued.
    pub(crate) async fn kit_at(&self, pack: &PackRow, kit: OneKit) -> Result<OneKit, ServiceError> {
        let mut read = self.store.read().await?;
        let known = measurements::list(&mut read, &pack.kit).await?.into_iter();
        Ok(OneKit { measured: measurements::values(known.filter(|row| row.at < pack.issued_at)), ..kit })
    }
}
