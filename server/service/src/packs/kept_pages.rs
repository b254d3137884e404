//! Pages of the revision before that go on beside a pack of what changed, by the account of that pack.

use crate::rules::standing::{PackStanding, Standings, words};
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
    ) -> Result<Option<(PageState, String)>, ServiceError> {
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
            return Ok(Some((PageState::Superseded, words::not_kept(page.page, pack.number, beside))));
        }
        let PackStanding { state, words: standing } = standings.but_for_hold(beside);
        let cross_out = in_part.map(|part| part.cross_out.as_str());
        let words = words::kept(page.page, pack.number, beside, cross_out, &standing, state == PackState::Current);
        let state = if state == PackState::Current { PageState::Kept } else { state.into() };
        Ok(Some((state, words)))
    }
}
