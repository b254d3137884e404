//! Checks the seals of a written pack: that each page shows what was signed, and that all pages belong together.

use super::pdf::CODE_KEY;
use crate::seal::{HASH_BYTES, PageStatement, PublicKey, SealError};
use lopdf::{Object, ObjectId};
use serde::Serialize;
use sha2::{Digest, Sha256};
use thiserror::Error;

/// What a check of a whole file found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SealReport {
    /// True when every page is as signed and all of them make up one whole pack.
    pub genuine: bool,
    /// One line a page.
    pub pages: Vec<PageSeal>,
    /// What is wrong with the file as a whole; empty when nothing is.
    pub faults: Vec<String>,
}

/// What a check of one page found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PageSeal {
    /// Its place in the file, from 1.
    pub place: usize,
    /// What was signed; `None` when there is no signed code.
    pub statement: Option<PageStatement>,
    /// What is wrong with it; `None` when it is as signed.
    pub fault: Option<String>,
}

/// The file is no PDF that can be read.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("this is not a PDF file that can be read: {0}")]
pub struct NotAPdf(String);

/// Checks every page of a PDF against a public key.
///
/// # Errors
/// [`NotAPdf`].
pub fn check_seals(bytes: &[u8], key: &PublicKey) -> Result<SealReport, NotAPdf> {
    let file = lopdf::Document::load_mem(bytes).map_err(|error| NotAPdf(error.to_string()))?;
    let ids: Vec<ObjectId> = file.get_pages().into_values().collect();
    let pages: Vec<PageSeal> = (1..)
        .zip(&ids)
        .map(|(place, id)| match check_page_seal(&file, *id, key) {
            Ok(statement) => PageSeal { place, statement: Some(statement), fault: None },
            Err((statement, fault)) => PageSeal { place, statement: statement.map(|said| *said), fault: Some(fault) },
        })
        .collect();
    let faults = faults_of_whole(&pages);
    Ok(SealReport { genuine: faults.is_empty() && pages.iter().all(|page| page.fault.is_none()), pages, faults })
}

type Fault = (Option<Box<PageStatement>>, String);

fn check_page_seal(file: &lopdf::Document, page: ObjectId, key: &PublicKey) -> Result<PageStatement, Fault> {
    let unreadable = |_| (None, "the page cannot be read".to_owned());
    let dictionary = file.get_dictionary(page).map_err(unreadable)?;
    let code = dictionary
        .get(CODE_KEY.as_bytes())
        .and_then(Object::as_str)
        .map_err(|_| (None, "the page carries no code".to_owned()))?;
    let code = String::from_utf8_lossy(code);
    let statement = key.verify(&code).map_err(|error| match error {
        SealError::Signature => (PageStatement::claimed(&code).ok().map(Box::new), error.to_string()),
        _ => (None, error.to_string()),
    })?;
    let contents = match dictionary.get(b"Contents").map_err(unreadable)? {
        Object::Array(parts) => parts.clone(),
        one => vec![one.clone()],
    };
    let shown = contents
        .first()
        .and_then(|part| part.as_reference().ok())
        .and_then(|id| file.get_object(id).ok())
        .and_then(|object| object.as_stream().ok())
        .and_then(|stream| stream.decompressed_content().ok())
        .ok_or_else(|| (Some(Box::new(statement.clone())), "the page's content cannot be read".to_owned()))?;
    let hash = data_encoding::HEXLOWER.encode(&Sha256::digest(&shown));
    if hash.get(..2 * HASH_BYTES) != Some(statement.content.as_str()) || contents.len() != 2 {
        return Err((
            Some(Box::new(statement)),
            "what the page shows is not what was signed. Do not cut from it".to_owned(),
        ));
    }
    Ok(statement)
}

/// Pages of one pack, each once and in order.
fn faults_of_whole(pages: &[PageSeal]) -> Vec<String> {
    let mut faults = Vec::new();
    let signed: Vec<&PageStatement> = pages.iter().filter_map(|page| page.statement.as_ref()).collect();
    let Some(first) = signed.first() else {
        return vec!["no page carries a code that can be read".to_owned()];
    };
    let is_same = |other: &&PageStatement| {
        let pack =
            |page: &PageStatement| [&page.design, &page.revision, &page.kit, &page.pack, &page.date].map(String::clone);
        pack(first) == pack(other) && first.pages == other.pages
    };
    if !signed.iter().all(is_same) {
        faults.push("pages of different packs are mixed in this file".to_owned());
    }
    if usize::from(first.pages) != pages.len() {
        faults.push(format!("the pack has {} pages, this file {}", first.pages, pages.len()));
    } else if pages.iter().any(|page| page.statement.as_ref().is_some_and(|said| usize::from(said.page) != page.place))
    {
        faults.push("the pages are not in their order".to_owned());
    }
    faults
}
