//! What a page's code says, and whether the page is still right: for whoever holds it, without sign-in.

use super::packs::{PackState, measured_at, print_of, superseded_by};
use super::states;
use super::{Service, ServiceError};
use crate::store::{kits, packs};
use matchmark_core::pack::{Hands, Seal};
use matchmark_core::seal::{PageStatement, PublicKey, SealError, SealKey};
use serde::Serialize;
use utoipa::ToSchema;

/// The supplier's key, and the address before the code of a page.
#[derive(Debug)]
pub struct Sealing {
    /// The key of pages.
    pub key: SealKey,
    /// Keys of pages from before, newest first: what they signed stays known.
    pub former: Vec<PublicKey>,
    /// The key of what is said of designs.
    pub status_key: SealKey,
    /// Such as `HTTPS://PACKS.EXAMPLE/P/`.
    pub address: String,
    /// The same without what follows the host, as it was configured.
    pub public: String,
}

impl Sealing {
    /// The keys of a service that is reached at `public`, such as `https://packs.example`.
    pub fn new(key: SealKey, former: Vec<PublicKey>, status_key: SealKey, public: &str) -> Self {
        // Capitals make a smaller code; scheme and host mean the same in them, a path need not.
        let (scheme, rest) = public.split_once("://").unwrap_or(("https", public));
        let (host, path) = rest.split_at(rest.find('/').unwrap_or(rest.len()));
        let address =
            format!("{}://{}{}/P/", scheme.to_ascii_uppercase(), host.to_ascii_uppercase(), path.trim_end_matches('/'));
        Self { key, former, status_key, address, public: public.trim_end_matches('/').to_owned() }
    }

    /// What a code says, when we signed it, now or before.
    fn read(&self, code: &str) -> Result<PageStatement, SealError> {
        let now = self.key.public().verify(code);
        match &now {
            Err(SealError::Signature) => self.former.iter().find_map(|key| key.verify(code).ok()).map_or(now, Ok),
            _ => now,
        }
    }
}

/// Whether a page is still right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum PageState {
    /// It belongs to the last pack issued for its kit, or to one of the other hand that goes with that.
    Current,
    /// A later pack was issued for its kit, or the kit was moved to another revision.
    Superseded,
    /// Its revision was withdrawn: no more kits are sold with it.
    Withdrawn,
    /// Its revision was recalled: nobody goes on with it before having read the stop sheet.
    Recalled,
    /// It is not a page of this supplier's, or it was changed.
    Unknown,
}

/// What is said of a page. It names no customer.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct PageStatus {
    /// Whether the page is still right.
    pub state: PageState,
    /// That in a sentence which says what to do.
    pub words: String,
    /// What the page says of itself, when it is signed.
    pub page: Option<PageStatement>,
    /// Letter of the design's latest revision, when it is another than the page's.
    pub latest_revision: Option<String>,
}

impl Service {
    /// Signs packs with a key.
    pub fn sealed_with(self, sealing: Sealing) -> Self {
        Self { sealing: Some(sealing), ..self }
    }

    /// What packs of a design are signed with.
    pub(super) fn seal(&self, design: &str) -> Option<Seal> {
        self.sealing.as_ref().map(|sealing| Seal {
            key: sealing.key.clone(),
            design_id: design.to_owned(),
            address: sealing.address.clone(),
            notice: None,
        })
    }

    /// The public key with which pages can be checked offline.
    pub fn public_key(&self) -> Option<String> {
        self.sealing.as_ref().map(|sealing| sealing.key.public().hex())
    }

    /// The public keys that pages were signed with before, newest first.
    pub fn former_public_keys(&self) -> Vec<String> {
        self.sealing.iter().flat_map(|sealing| &sealing.former).map(PublicKey::hex).collect()
    }

    /// The public key with which the status of a design can be checked offline.
    pub fn status_public_key(&self) -> Option<String> {
        self.sealing.as_ref().map(|sealing| sealing.status_key.public().hex())
    }

    /// Whether a page is still right, by its code.
    pub async fn page_status(&self, code: &str) -> Result<PageStatus, ServiceError> {
        let unknown = |why: &str| PageStatus {
            state: PageState::Unknown,
            words: format!("{why} Do not cut from this page; ask the supplier."),
            page: None,
            latest_revision: None,
        };
        let Some(sealing) = &self.sealing else {
            return Ok(unknown("This service signs no pages, so it cannot tell one."));
        };
        let page = match sealing.read(code) {
            Ok(page) => page,
            Err(error) => return Ok(unknown(&format!("Not known here: {error}."))),
        };
        if let Some((state, words)) = self.loose_page(&page).await? {
            let page = Some(page).filter(|_| state != PageState::Unknown);
            return Ok(PageStatus { state, words, page, latest_revision: None });
        }
        let mut read = self.store.read().await?;
        let issued = match page.pack.parse() {
            Ok(number) => packs::find(&mut read, &page.kit, number).await?,
            Err(_) => None,
        };
        let Some(pack) = issued.filter(|pack| pack.design == page.design && pack.revision == page.revision) else {
            return Ok(unknown("The signature is ours, but no such pack is on record."));
        };
        let measured_at = measured_at(&mut read, &page.kit).await?;
        let successor = superseded_by(&pack, &packs::list(&mut read, &page.kit).await?, &measured_at);
        let latest = crate::store::revisions::latest(&mut read, &page.design).await?.map(|latest| latest.letter);
        let latest_revision = latest.filter(|letter| *letter != page.revision);
        let stands = states::of_design(&mut read, &page.design).await?.of(&page.revision);
        let moved = kits::find(&mut read, &page.kit).await?.is_some_and(|kit| kit.revision != page.revision);
        let (state, words) = match (PackState::of(stands, moved || successor.is_some()), successor) {
            (PackState::Recalled, _) => (
                PageState::Recalled,
                format!(
                    "Recalled: stop. Revision {} was recalled by the supplier. Read the stop sheet for kit {} before you cut, weld or use anything.",
                    page.revision, page.kit
                ),
            ),
            (PackState::Superseded, Some(last)) if !moved => (
                PageState::Superseded,
                format!(
                    "Superseded: pack {last} was issued for kit {} after this page of pack {}. Use that one, and cross this page out.",
                    page.kit, page.pack
                ),
            ),
            (PackState::Superseded, _) => (
                PageState::Superseded,
                format!(
                    "Superseded: kit {} was moved to another revision. Ask for its new pack, and cross this page out.",
                    page.kit
                ),
            ),
            (PackState::Withdrawn, _) => (
                PageState::Withdrawn,
                format!(
                    "Withdrawn: no more kits are sold with revision {}. Kit {} may go on with it; ask the supplier why before you cut.",
                    page.revision, page.kit
                ),
            ),
            (PackState::Current, _) => (
                PageState::Current,
                format!(
                    "Current: page {} of {} of the last pack {}issued for kit {}, revision {}, {}.{}",
                    page.page,
                    page.pages,
                    match print_of(&pack).hands {
                        Hands::Both => String::new(),
                        hands => format!("with {}-hand templates ", hands.name()),
                    },
                    page.kit,
                    page.revision,
                    page.date,
                    if latest_revision.is_some() {
                        " The design has a later revision; a kit keeps its own until the supplier moves it. Never mix pages of both."
                    } else {
                        ""
                    }
                ),
            ),
        };
        Ok(PageStatus { state, words, page: Some(page), latest_revision })
    }
}
