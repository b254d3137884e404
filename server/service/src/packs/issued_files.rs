//! Whether a file is one that was issued, byte for byte, by its hash: for whoever holds it, without sign-in.

use crate::words::sentences;
use crate::{PageStatus, Service, ServiceError};
use matchmark_store::packs;
use serde::{Deserialize, Serialize};
use std::iter;
use utoipa::ToSchema;

/// What is said of a file. It names no customer.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct FileStatus {
    /// True when it is the file of a pack, byte for byte as it was issued.
    pub issued: bool,
    /// That in a sentence.
    pub words: String,
    /// Serial of the kit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kit: Option<String>,
    /// Number of the pack within the kit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack: Option<i64>,
    /// What is said of the first page of the pack, such as whether it is still right; absent for a pack that is not signed.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub first_page: Option<PageStatus>,
}

/// The codes that the account of a pack lists.
#[derive(Deserialize)]
struct Account {
    pages: Vec<AccountPage>,
}

#[derive(Deserialize)]
struct AccountPage {
    code: Option<String>,
}

impl Service {
    /// Whether a pack's file has this SHA-256, 64 hexadecimal digits.
    pub async fn issued_file(&self, sha256: &str) -> Result<FileStatus, ServiceError> {
        let is_hash = sha256.trim().len() == 64 && sha256.trim().bytes().all(|byte| byte.is_ascii_hexdigit());
        let nothing = |words: &str| FileStatus {
            issued: false,
            words: words.to_owned(),
            kit: None,
            pack: None,
            first_page: None,
        };
        if !is_hash {
            return Ok(nothing(self.words.file.no_hash()));
        }
        let found = {
            let mut read = self.store.read().await?;
            match packs::of_file(&mut read, &sha256.trim().to_ascii_lowercase()).await? {
                Some(file) => packs::find(&mut read, &file.kit, file.number).await?,
                None => None,
            }
        };
        let Some(pack) = found else {
            return Ok(nothing(self.words.file.not_issued()));
        };
        let first_page = match self.codes_of(&pack).await?.and_then(|codes| codes.into_iter().next().flatten()) {
            Some(code) => Some(self.page_status(&code).await?),
            None => None,
        };
        let day = pack.issued_at.get(..10).unwrap_or_default();
        let issued = self.words.file.issued(pack.number, &pack.kit, &pack.revision, day);
        let said: Vec<String> = iter::once(issued).chain(first_page.as_ref().map(|page| page.words.clone())).collect();
        Ok(FileStatus {
            issued: true,
            words: sentences(&said),
            kit: Some(pack.kit),
            pack: Some(pack.number),
            first_page,
        })
    }

    /// The codes that the account of a pack lists, a page each; `None` for a pack from before there were accounts.
    pub(crate) async fn codes_of(&self, pack: &packs::PackRow) -> Result<Option<Vec<Option<String>>>, ServiceError> {
        if pack.manifest_sha256.is_empty() {
            return Ok(None);
        }
        let bytes = self.store.blobs().read(&pack.manifest_sha256).await?;
        let account: Account = serde_json::from_slice(&bytes)
            .map_err(|_| ServiceError::Inconsistent("the account of a pack cannot be read"))?;
        Ok(Some(account.pages.into_iter().map(|page| page.code).collect()))
    }
}
