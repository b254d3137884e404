//! The account of a pack: every page with the hash of its content and all that is printed on it.

use super::kinds::changes::{KeptPages, kept};
use super::layout::furniture::Furniture;
use super::layout::numbering::PageFacts;
use super::{OnPage, Print, Status};
use crate::render::{Document, Written};
use serde::Serialize;
use sha2::{Digest, Sha256};

/// What stands in a pack, for a machine to check.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Manifest {
    /// Form of this account: `matchmark-manifest/2`; an account of a pack drawn before `holds` was kept has `/1`.
    pub format: &'static str,
    /// Name of the design.
    pub design: String,
    /// Letter of the revision; empty for a draft.
    pub revision: String,
    /// Date of issue.
    pub date: String,
    /// Serial of the kit; empty when the pack is for none.
    pub kit: String,
    /// Number of the pack; empty when it was not issued.
    pub pack_number: String,
    /// True for a preview that is not for cutting.
    pub draft: bool,
    /// How it is printed.
    pub print: Print,
    /// SHA-256 of the canonical design document.
    pub design_sha256: String,
    /// SHA-256 of the PDF file.
    pub file_sha256: String,
    /// Public key whose signature the codes carry, 64 hexadecimal digits; `None` when the pack is not signed.
    pub public_key: Option<String>,
    /// The pages.
    pub pages: Vec<ManifestPage>,
    /// Of a pack that holds only what changed: what becomes of the pages of the packs before.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub before: Vec<KeptPages>,
}

/// One page.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ManifestPage {
    /// Its number, from 1.
    pub page: usize,
    /// Its title: those of what it holds, with a semicolon between.
    pub title: String,
    /// What stands on it, for a machine: kinds, and the parts that they are of. Not there where `format` ends in `/1`.
    #[cfg_attr(feature = "openapi", schema(required = false))]
    pub holds: Vec<OnPage>,
    /// True when it is laid on metal: both its check bars measure 100 mm.
    pub true_scale: bool,
    /// SHA-256 of its content stream as written, before compression.
    pub content_sha256: String,
    /// SHA-256 of what its code signs; the code holds the first 16 bytes of it. `None` when it is not signed.
    pub signed_sha256: Option<String>,
    /// Its signed code.
    pub code: Option<String>,
    /// Every line of text on it with all figures, in the order in which it is written.
    pub texts: Vec<String>,
}

impl Manifest {
    pub(super) fn of(furniture: Furniture, document: &Document, facts: Vec<PageFacts>, written: &Written) -> Self {
        let (issue, words) = (furniture.issue, furniture.words);
        let pages = document.pages.iter().zip(facts).zip(&written.contents).enumerate();
        Self {
            format: "matchmark-manifest/2",
            design: issue.design.clone(),
            revision: issue.revision.clone(),
            date: issue.date.clone(),
            kit: issue.kit.clone(),
            pack_number: issue.pack_number.clone(),
            draft: issue.status == Status::Draft,
            print: issue.print,
            design_sha256: issue.design_sha256.clone(),
            file_sha256: data_encoding::HEXLOWER.encode(&Sha256::digest(&written.bytes)),
            public_key: issue.seal.as_ref().map(|seal| seal.key.public().hex()),
            pages: pages
                .map(|(index, ((page, facts), content))| ManifestPage {
                    page: index + 1,
                    title: page.title.clone(),
                    holds: facts.holds,
                    true_scale: facts.is_template,
                    content_sha256: content.clone(),
                    signed_sha256: written.signed.get(index).cloned(),
                    code: written.codes.get(index).cloned(),
                    texts: page.drawing.texts().map(|text| text.content.clone()).collect(),
                })
                .collect(),
            before: issue.since.as_ref().filter(|since| since.only).map(|since| kept(since, words)).unwrap_or_default(),
        }
    }
}
