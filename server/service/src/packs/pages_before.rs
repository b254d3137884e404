//! What the holder of a kit has from the revision before: the pages of its packs, of which a pack of what changed says which stay valid,
//! and the values that those were drawn with.

use crate::rules::drawn_with::print_of;
use crate::rules::standing::hands::{other_hand_of, with_other_hand};
use crate::{Service, ServiceError};
use matchmark_core::document::OneKit;
use matchmark_core::pack::{Hands, ListedPage, OnPage, PageBefore};
use matchmark_store::measurements;
use matchmark_store::packs::PackRow;
use serde::Deserialize;

/// What is read of the account of a pack.
#[derive(Deserialize)]
struct Account {
    pages: Vec<ListedPage>,
}

/// Where the templates are that a pack of one hand does not have.
pub(crate) enum OtherHand {
    /// It has those of both hands.
    Here,
    /// In a pack of that hand alone.
    In,
    /// In an earlier pack of both hands, whose templates of this hand were replaced.
    AmongBoth,
    /// In no pack of the revision.
    Nowhere,
}

impl OtherHand {
    /// Of a pack among all packs of its kit.
    pub(crate) fn of(pack: &PackRow, packs: &[PackRow]) -> Self {
        if print_of(pack).hands == Hands::Both {
            return Self::Here;
        }
        match other_hand_of(pack, packs.iter().filter(|one| one.number < pack.number)) {
            Some(one) if print_of(one).hands == Hands::Both => Self::AmongBoth,
            Some(_) => Self::In,
            None => Self::Nowhere,
        }
    }
}

impl Service {
    /// The pages of a pack, and where it is of one hand those with the templates of the other; none where they are not known, or where
    /// one of those packs itself holds only what changed and so goes with another.
    pub(crate) async fn pages_before(
        &self,
        before: &PackRow,
        packs: &[PackRow],
    ) -> Result<Vec<PageBefore>, ServiceError> {
        let other = print_of(before).hands.other();
        let mut pages = Vec::new();
        for pack in with_other_hand(before, packs) {
            if pack.only_changes != 0 || pack.manifest_sha256.is_empty() {
                return Ok(Vec::new());
            }
            let is_of_both = pack.number != before.number && print_of(pack).hands == Hands::Both;
            let account = self.store.blobs().read(&pack.manifest_sha256).await?;
            let account: Account = serde_json::from_slice(&account)
                .map_err(|_| ServiceError::Inconsistent("the account of a pack cannot be read"))?;
            pages.extend(account.pages.into_iter().map(|listed| {
                let holds = listed.holds();
                let is_replaced = |one: &&OnPage| is_of_both && !one.is_template_of(other);
                PageBefore {
                    pack: pack.number.to_string(),
                    page: listed.page,
                    replaced: holds.iter().filter(is_replaced).cloned().collect(),
                    holds,
                    title: listed.title,
                }
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
