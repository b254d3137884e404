//! The signed code of each page as a matrix symbol (ISO/IEC 18004), drawn in a content stream of its own behind what it signs.

use super::content::POINTS;
use super::{Document, RenderError};
use crate::drawing::Area;
use crate::seal::sealed::{Account, Canonical, Shown, leaves, links, outline, whole};
use crate::seal::strict::Unclear;
use crate::seal::{HASH_BYTES, PageKind, PageStatement, SealKey};
use crate::words::findings::seal::SealFault;
use lopdf::{Dictionary, Object, ObjectId};
use rayon::prelude::*;
use std::collections::HashMap;

/// What every page of a document is signed with.
#[derive(Debug, Clone, PartialEq)]
pub struct Sealing {
    /// The key.
    pub key: SealKey,
    /// Before each code.
    pub address: String,
    /// What the pages belong to.
    pub kind: PageKind,
    /// Number of the pack or the notice.
    pub number: String,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision.
    pub revision: String,
    /// Serial of the kit.
    pub kit: String,
    /// Where the symbol stands on every page, its white border included.
    pub area: Area,
}

/// A page's code, how it is drawn, and the hash that it holds.
struct SealStream {
    code: String,
    signed: String,
    content: Vec<u8>,
}

/// What the pages of a file signed.
#[derive(Default)]
pub(super) struct Seals {
    /// The code of each page.
    pub(super) codes: Vec<String>,
    /// SHA-256 of what each page signed, lower-case hex.
    pub(super) signed: Vec<String>,
}

impl Sealing {
    /// Gives each page of a file that is complete but for that its code. `contents` are the SHA-256 of the pages' content, `id` is
    /// of all of them.
    pub(super) fn seal(
        &self,
        file: &mut lopdf::Document,
        document: &Document,
        contents: &[[u8; 32]],
        id: &[u8],
    ) -> Result<Seals, RenderError> {
        let pages = u16::try_from(contents.len())
            .map_err(|_| RenderError::Seal { reason: "a pack has 65 535 pages at most".to_owned() })?;
        let id = data_encoding::HEXLOWER.encode(id);
        let made = accounts(file, contents, &id).map_err(|reason| RenderError::Seal { reason })?;
        let placement = self.placement(document.stretch);
        let statement = PageStatement {
            design: self.design.clone(),
            revision: self.revision.clone(),
            kit: self.kit.clone(),
            pages,
            date: document.date.clone(),
            ..PageStatement::new(self.kind, self.number.clone())
        };
        let streams: Vec<SealStream> = made
            .par_iter()
            .zip(1..=pages)
            .map(|((_, shown, account), page)| {
                let signed = account.signed(shown, &placement, &self.address);
                let content = signed.chars().take(2 * HASH_BYTES).collect();
                let code = self.key.sign(&PageStatement { page, content, ..statement.clone() });
                let code = code.map_err(|error| RenderError::Seal { reason: error.to_string() })?;
                let content =
                    account.stream(&format!("{}{code}", self.address), &placement).map_err(|error| failed(&error))?;
                Ok(SealStream { code, signed, content })
            })
            .collect::<Result<_, RenderError>>()?;
        let ids: Vec<ObjectId> = made.iter().map(|(id, ..)| *id).collect();
        let mut seals = Seals::default();
        for (id, seal) in ids.into_iter().zip(streams) {
            // As good as random, it would not get smaller.
            let drawn = file.add_object(lopdf::Stream::new(Dictionary::new(), seal.content).with_compression(false));
            let page = file.get_dictionary_mut(id).map_err(|error| failed(&error))?;
            let content = page.get(b"Contents").cloned().map_err(|error| failed(&error))?;
            page.set("Contents", vec![content, Object::Reference(drawn)]);
            seals.codes.push(seal.code);
            seals.signed.push(seal.signed);
        }
        Ok(seals)
    }

    /// Where the symbol stands, as six numbers of a matrix.
    fn placement(&self, stretch: [f64; 2]) -> String {
        let Area { x, y, width, height } = self.area;
        let [across, up] = stretch.map(|stretch| stretch * POINTS);
        format!("{:.3} 0 0 {:.3} {:.3} {:.3}", width * across, height * up, x * across, y * up)
    }
}

/// What each page of a file signs.
fn accounts(
    file: &lopdf::Document,
    contents: &[[u8; 32]],
    id: &str,
) -> Result<Vec<(ObjectId, Shown, Account)>, String> {
    let unclear = |why: Unclear| why.to_string();
    let said = |fault: SealFault| fault.to_string();
    let leaves = leaves(file).map_err(unclear)?;
    let mut canonical = Canonical::new(file);
    let words = whole(&mut canonical, file).map_err(unclear)?.words(id);
    let number_of: HashMap<ObjectId, u16> = leaves.iter().map(|leaf| leaf.id).zip(1..).collect();
    let catalog = file.catalog().map_err(|error| error.to_string())?;
    let bookmarks =
        catalog.get(b"Outlines").map_or_else(|_| Ok(Vec::new()), |root| outline(file, root)).map_err(said)?;
    let mut titles: HashMap<ObjectId, Vec<&str>> = HashMap::new();
    for bookmark in &bookmarks {
        titles.entry(bookmark.target.unwrap_or_default()).or_default().push(&bookmark.title);
    }
    let mut made = Vec::with_capacity(leaves.len());
    for (leaf, content) in leaves.iter().zip(contents) {
        let mut account = Account::of(words.clone());
        for spot in links(file, leaf).map_err(said)? {
            let to = spot.target.and_then(|target| number_of.get(&target));
            account.link(spot.rectangle, *to.ok_or_else(|| "a link leads nowhere".to_owned())?);
        }
        titles.get(&leaf.id).into_iter().flatten().for_each(|title| account.bookmark(title));
        made.push((leaf.id, Shown::of(&mut canonical, file, leaf, vec![*content]).map_err(said)?, account));
    }
    Ok(made)
}

fn failed(error: &impl ToString) -> RenderError {
    RenderError::Seal { reason: error.to_string() }
}
