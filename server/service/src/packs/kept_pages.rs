//! Pages of the revision before that go on beside a pack of what changed, by the account of that pack.

use crate::rules::standing::facts::Fact;
use crate::rules::standing::{PackStanding, Standings};
use crate::{PackState, PageState, Service, ServiceError};
use matchmark_core::seal::PageStatement;
use matchmark_store::packs::PackRow;
use serde::Deserialize;

/// What is read of the account of a pack of what changed.
#[derive(Deserialize)]
struct Account {
    #[serde(default)]
    before: Vec<KeptPages>,
}

#[derive(Deserialize)]
struct KeptPages {
    pack: String,
    whole: Vec<usize>,
    in_part: Vec<KeptInPart>,
}

#[derive(Deserialize)]
struct KeptInPart {
    pages: Vec<usize>,
    cross_out: String,
}

impl Service {
    /// How a page of a pack of the revision before stands beside a pack of what changed; `None` where there is none, where that names no pages of the pack,
    /// or was drawn before accounts said which stay.
    pub(crate) async fn kept_page(
        &self,
        page: &PageStatement,
        pack: &PackRow,
        standings: &Standings,
    ) -> Result<Option<(PageState, Vec<Fact>)>, ServiceError> {
        let is_superseded = standings.of_pack(pack).state == PackState::Superseded;
        let beside = standings.beside(pack).filter(|beside| is_superseded && !beside.manifest_sha256.is_empty());
        let Some(beside) = beside else { return Ok(None) };
        let account = self.store.blobs().read(&beside.manifest_sha256).await?;
        let account: Account = serde_json::from_slice(&account)
            .map_err(|_| ServiceError::Inconsistent("the account of a pack cannot be read"))?;
        let Some(kept) = account.before.into_iter().find(|before| before.pack == page.pack) else { return Ok(None) };
        let number = usize::from(page.page);
        let in_part = kept.in_part.iter().find(|part| part.pages.contains(&number));
        if in_part.is_none() && !kept.whole.contains(&number) {
            let (beside, revision) = (beside.number, beside.revision.clone());
            let not_kept = Fact::NotKept { page: page.page, pack: pack.number, beside, revision };
            return Ok(Some((PageState::Superseded, vec![not_kept])));
        }
        let PackStanding { state, mut facts } = standings.but_for_hold(beside);
        let is_right = state == PackState::Current;
        let kept = Fact::Kept {
            page: page.page,
            pack: pack.number,
            beside: beside.number,
            revision: beside.revision.clone(),
            cross_out: in_part.map(|part| part.cross_out.clone()),
            is_right,
        };
        facts.insert(if is_right { 0 } else { facts.len() }, kept);
        Ok(Some((if is_right { PageState::Kept } else { state.into() }, facts)))
    }
}
