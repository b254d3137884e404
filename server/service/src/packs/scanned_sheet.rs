//! What a page's code says, and whether the page is still right: for whoever holds it, without sign-in.

use crate::packs::loose_pages::loose_page;
use crate::packs::page_facts::Unknown;
use crate::rules::drawn_with::is_void;
use crate::rules::number::number as written;
use crate::rules::shown_once::maker;
use crate::rules::standing::words::{on_hold as on_hold_words, said};
use crate::rules::standing::{PackState, Standings};
use crate::words::sentences;
use crate::{Service, ServiceError};
use matchmark_core::seal::{PageKind, PageStatement, PublicKey, SealError, SealKey};
use matchmark_store::packs::{self, PackRow};
use matchmark_store::signing_keys::{self, KeyRow, Purpose};
use matchmark_store::{holds, kits};
use serde::Serialize;
use utoipa::ToSchema;

/// The supplier's key, and the address before the code of a page.
#[derive(Debug)]
pub struct Sealing {
    /// The key of pages.
    pub key: SealKey,
    /// The key of what is said of designs.
    pub status_key: SealKey,
    /// Such as `HTTPS://PACKS.EXAMPLE/P/`.
    pub address: String,
    /// The same without what follows the host, as it was configured.
    pub public: String,
}

impl Sealing {
    /// The keys of a service that is reached at `public`, such as `https://packs.example`.
    pub fn new(key: SealKey, status_key: SealKey, public: &str) -> Self {
        // Capitals make a smaller code; scheme and host mean the same in them, a path need not.
        let (scheme, rest) = public.split_once("://").unwrap_or(("https", public));
        let (host, path) = rest.split_at(rest.find('/').unwrap_or(rest.len()));
        let address =
            format!("{}://{}{}/P/", scheme.to_ascii_uppercase(), host.to_ascii_uppercase(), path.trim_end_matches('/'));
        Self { key, status_key, address, public: public.trim_end_matches('/').to_owned() }
    }
}

/// A page that we signed.
struct Signed {
    page: PageStatement,
    /// Whether the key was revoked since, so that the signature proves nothing.
    is_revoked: bool,
}

impl Signed {
    /// What a code says, when we signed it, now or before.
    fn read(code: &str, keys: &[KeyRow]) -> Result<Self, SealError> {
        let mut refused = SealError::Signature;
        for key in keys {
            match PublicKey::from_hex(&key.public_key).and_then(|public| public.verify(code)) {
                Ok(page) => return Ok(Self { page, is_revoked: key.revoked_at.is_some() }),
                Err(error) => refused = error,
            }
        }
        Err(refused)
    }
}

/// Whether a page is still right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PageState {
    /// It belongs to the last pack of its kit's revision, or to one of the other hand that goes with that, and all of it holds.
    Current,
    /// It is of the revision before, and the last pack, which holds only what changed, keeps it: whole, or but for what is crossed out. Or
    /// it is a page of a notice that is done as it shows.
    Kept,
    /// Something of its kit was measured since its pack was drawn.
    Outdated,
    /// A mandatory notice to its kit is not done, and its pack is from before the change.
    NoticeFirst,
    /// A later pack of its kit's revision was issued, or the kit was moved to another revision.
    Superseded,
    /// Its revision was withdrawn: no more kits are sold with it.
    Withdrawn,
    /// Its revision was recalled: nobody goes on with it before having read the stop sheet.
    Recalled,
    /// It is not a page of this supplier's, or it was changed, or it is of a pack that is not on record.
    Unknown,
}

impl From<PackState> for PageState {
    fn from(state: PackState) -> Self {
        match state {
            PackState::Current => Self::Current,
            PackState::Outdated => Self::Outdated,
            PackState::NoticeFirst => Self::NoticeFirst,
            PackState::Superseded => Self::Superseded,
            PackState::Withdrawn => Self::Withdrawn,
            PackState::Recalled => Self::Recalled,
        }
    }
}

/// What is said of a page. It names no customer.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PageStatus {
    /// Whether the page is still right.
    pub state: PageState,
    /// That in sentences which say what to do; those of its pack.
    pub words: String,
    /// True while a hold on its kit stands: nothing is to be cut, however its page stands.
    pub on_hold: bool,
    /// What the page says of itself, when it is signed.
    pub page: Option<PageStatement>,
    /// Letter of the design's latest revision, when it is another than the page's.
    pub latest_revision: Option<String>,
}

impl Service {
    /// Signs packs with a key.
    pub fn sealed_with(self, sealing: Sealing) -> Self {
        Self { maker: maker(&sealing.key), sealing: Some(sealing), ..self }
    }

    /// Whether a page is still right, by its code.
    pub async fn page_status(&self, code: &str) -> Result<PageStatus, ServiceError> {
        let unknown = |why: Unknown| PageStatus {
            state: PageState::Unknown,
            words: why.said(self.words),
            on_hold: false,
            page: None,
            latest_revision: None,
        };
        if self.sealing.is_none() {
            return Ok(unknown(Unknown::NotSigning));
        }
        let mut read = self.store.read().await?;
        let keys = signing_keys::list(&mut read, Purpose::Pages).await?;
        let Signed { page, is_revoked } = match Signed::read(code, &keys) {
            Ok(signed) => signed,
            Err(error) => return Ok(unknown(Unknown::NotSigned(error))),
        };
        if is_revoked && page.kind != PageKind::Pack {
            return Ok(unknown(Unknown::Revoked));
        }
        if let Some(found) = loose_page(&mut read, &page).await? {
            let (state, said) = (found.state(), found.said(self.words));
            let is_drawing = page.kind == PageKind::Notice && state != PageState::Unknown;
            let on_hold = is_drawing && holds::standing(&mut read, &page.kit).await?.is_some();
            let held = on_hold_words(self.words, &page.kit);
            let words = match state {
                _ if !on_hold => said,
                PageState::Recalled => sentences(&[said, held]),
                _ => sentences(&[held, said]),
            };
            let page = Some(page).filter(|_| state != PageState::Unknown);
            return Ok(PageStatus { state, words, on_hold, page, latest_revision: None });
        }
        let number = written(&page.pack);
        let issued = match number {
            Some(number) => packs::find(&mut read, &page.kit, number).await?,
            None => None,
        };
        let kit = kits::find(&mut read, &page.kit).await?;
        let of_page = |pack: &PackRow| pack.design == page.design && pack.revision == page.revision;
        let Some((pack, kit)) = issued.filter(of_page).zip(kit) else {
            if let Some(number) = number
                && is_void(&mut read, &page.kit, number, self.clock.stamp().at()).await?
            {
                return Ok(unknown(Unknown::VoidPack { serial: page.kit, pack: number }));
            }
            return Ok(unknown(if is_revoked { Unknown::Revoked } else { Unknown::NoPack }));
        };
        if is_revoked && pack.manifest_sha256.is_empty() {
            return Ok(unknown(Unknown::Revoked));
        }
        let standings = Standings::read(&mut read, kit).await?;
        let standing = standings.but_for_hold(&pack);
        let latest = matchmark_store::revisions::latest(&mut read, &page.design).await?.map(|latest| latest.letter);
        drop(read);
        if !self.is_page_of(&page, &pack).await? {
            if is_revoked {
                return Ok(unknown(Unknown::Revoked));
            }
            return Ok(unknown(Unknown::NotOfPack { serial: page.kit, pack: page.pack }));
        }
        let of_page = match self.kept_page(&page, &pack, &standings).await? {
            None => self.page_of_hand(&page, &pack, &standings).await?,
            kept => kept,
        };
        let (state, facts) = of_page.unwrap_or_else(|| (standing.state.into(), standing.facts));
        let facts = standings.held(facts, state == PageState::Recalled);
        let (words, on_hold) = (said(self.words, &facts), standings.is_on_hold());
        let latest_revision = latest.filter(|letter| *letter != page.revision);
        Ok(PageStatus { state, words, on_hold, page: Some(page), latest_revision })
    }

    /// Whether a page is one of a pack by the pack's account, not by its number alone. A pack from before there were accounts has none.
    async fn is_page_of(&self, page: &PageStatement, pack: &PackRow) -> Result<bool, ServiceError> {
        let Some(codes) = self.codes_of(pack).await? else { return Ok(true) };
        let at = usize::from(page.page).checked_sub(1).and_then(|index| codes.get(index));
        let code = at.and_then(Option::as_deref);
        Ok(code.and_then(|code| PageStatement::claimed(code).ok()).is_some_and(|said| said == *page))
    }
}
