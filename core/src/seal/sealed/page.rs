//! One page held against its code.

use super::account::{Account, CodeStream};
use super::canonical::{Canonical, Hash, entry, number, resolved, stranger};
use super::tree::Leaf;
use crate::seal::strict::unfolded;
use crate::seal::{HASH_BYTES, PageStatement, PublicKey, SealError};
use crate::words::findings::seal::SealFault;
use lopdf::{Document, Object, Stream};
use sha2::{Digest, Sha256};

/// Entry of a page that held its code in the first form of the seal.
const CODE_KEY: &str = "MatchmarkCode";

/// What a page may say. All of it is signed, but `/Type` and `/Parent`.
const PAGE: [&str; 12] = [
    "Type",
    "Parent",
    "MediaBox",
    "CropBox",
    "BleedBox",
    "TrimBox",
    "ArtBox",
    "Rotate",
    "UserUnit",
    "Resources",
    "Contents",
    "Annots",
];

/// What a page shows.
pub(crate) struct Shown {
    /// SHA-256 of each content stream, that of the code left out.
    pub(super) streams: Vec<Hash>,
    pub(super) frame: Frame,
    pub(super) resources: Hash,
}

/// The boxes of a page, its turn and its unit (ISO 32000-1, 7.7.3.3 and 14.11.2).
#[derive(Clone, PartialEq)]
pub(super) struct Frame {
    /// Media, crop, bleed, trim and art box, each as four numbers, with what holds where one is absent.
    pub(super) sides: [String; 5],
    pub(super) turn: String,
    pub(super) unit: String,
}

/// A page that is as signed.
pub(crate) struct CheckedPage {
    pub(crate) statement: PageStatement,
    /// `None` with a seal of the first form.
    pub(crate) account: Option<Account>,
}

/// What is wrong with a page, and what it claims to be.
pub(crate) struct PageFault {
    pub(crate) statement: Option<Box<PageStatement>>,
    pub(crate) fault: SealFault,
    /// False when nothing on it is a code, genuine or not.
    pub(crate) has_code: bool,
    /// True when its code is genuine and something that it signed is another: what, is found with the other pages.
    pub(crate) differs: bool,
}

impl PageFault {
    pub(crate) fn of(statement: Option<&PageStatement>, fault: SealFault) -> Self {
        Self { statement: statement.cloned().map(Box::new), fault, has_code: true, differs: false }
    }
}

impl Shown {
    /// What a page shows whose content streams have these hashes.
    pub(crate) fn of<'a>(
        canonical: &mut Canonical<'a>,
        file: &'a Document,
        leaf: &Leaf<'a>,
        streams: Vec<Hash>,
    ) -> Result<Self, SealFault> {
        let resources = leaf.says(file, "Resources").unwrap_or(&Object::Null);
        let resources = canonical.hash(resources).map_err(|why| SealFault::ResourcesUnread { why: Box::new(why.0) })?;
        Ok(Self { streams, frame: Frame::of(file, leaf)?, resources })
    }
}

impl Frame {
    fn of(file: &Document, leaf: &Leaf) -> Result<Self, SealFault> {
        let unclear = |key: &str| SealFault::KeyUnread { key: key.to_owned() };
        let sides = |key: &str| {
            let Some(value) = leaf.says(file, key) else { return Ok(None) };
            let sides = value.as_array().map_err(|_| unclear(key))?;
            let sides: Option<Vec<String>> = sides.iter().map(|side| number(resolved(file, side))).collect();
            sides.filter(|sides| sides.len() == 4).map(|sides| Some(sides.join(" "))).ok_or_else(|| unclear(key))
        };
        let single = |key: &str, otherwise: &str| match leaf.says(file, key) {
            Some(value) => number(value).ok_or_else(|| unclear(key)),
            None => Ok(otherwise.to_owned()),
        };
        let media = sides("MediaBox")?.ok_or_else(|| unclear("MediaBox"))?;
        let crop = sides("CropBox")?.unwrap_or_else(|| media.clone());
        let [bleed, trim, art] = ["BleedBox", "TrimBox", "ArtBox"].map(sides);
        let or_crop = |sides: Option<String>| sides.unwrap_or_else(|| crop.clone());
        let [bleed, trim, art] = [or_crop(bleed?), or_crop(trim?), or_crop(art?)];
        let sides = [media, crop, bleed, trim, art];
        Ok(Self { sides, turn: single("Rotate", "0")?, unit: single("UserUnit", "1")? })
    }

    /// One size for all boxes, no turn and no scale, as we write every page.
    pub(super) fn plain(sides: &str) -> Self {
        Self { sides: [0; 5].map(|_| sides.to_owned()), turn: "0".to_owned(), unit: "1".to_owned() }
    }

    /// As it stands in what is signed.
    pub(super) fn words(&self) -> String {
        format!("boxes {} turn {} unit {}", self.sides.join(" "), self.turn, self.unit)
    }
}

/// What a page shows, and the stream of its code behind that.
pub(super) fn shown<'a>(
    canonical: &mut Canonical<'a>,
    file: &'a Document,
    leaf: &Leaf<'a>,
) -> Result<(Shown, Vec<u8>), SealFault> {
    let mut streams = content(file, leaf)?;
    let code = streams.pop().unwrap_or_default();
    let streams = streams.iter().map(|stream| Sha256::digest(stream).into()).collect();
    Ok((Shown::of(canonical, file, leaf, streams)?, code))
}

/// Checks a page against its code.
pub(crate) fn check_page<'a>(
    canonical: &mut Canonical<'a>,
    file: &'a Document,
    leaf: &Leaf<'a>,
    key: &PublicKey,
) -> Result<CheckedPage, PageFault> {
    let streams = content(file, leaf)
        .map_err(|why| PageFault { has_code: carries_code(file, leaf), ..PageFault::of(None, why) })?;
    let last = streams.last().map(Vec::as_slice).unwrap_or_default();
    let Some(code) = CodeStream::read(last) else {
        return match entry(file, leaf.page, CODE_KEY).and_then(|code| code.as_str().ok()) {
            Some(code) => first_form(&String::from_utf8_lossy(code), &streams, key),
            None if carries_code(file, leaf) => Err(PageFault::of(None, SealFault::CodeNotLast)),
            None => Err(PageFault { has_code: false, ..PageFault::of(None, SealFault::NoCode) }),
        };
    };
    let statement = statement_of(code.text, key)?;
    let fault = |why: SealFault| PageFault::of(Some(&statement), why);
    if let Some(key) = stranger(leaf.page, &PAGE) {
        return Err(fault(SealFault::PageHas { key }));
    }
    if !code.is(last) {
        return Err(fault(SealFault::OtherCode));
    }
    let shown = &streams[..streams.len() - 1];
    let shown = Shown::of(canonical, file, leaf, shown.iter().map(|stream| Sha256::digest(stream).into()).collect());
    let shown = shown.map_err(fault)?;
    if code.signed(&shown).get(..2 * HASH_BYTES) != Some(statement.content.as_str()) || statement.form == 1 {
        return Err(PageFault { differs: true, ..fault(SealFault::DrawingDiffers) });
    }
    Ok(CheckedPage { statement, account: Some(code.account) })
}

fn statement_of(code: &str, key: &PublicKey) -> Result<PageStatement, PageFault> {
    key.verify(code).map_err(|error| {
        let claimed = PageStatement::claimed(code).ok().filter(|_| error == SealError::Signature);
        PageFault::of(claimed.as_ref(), SealFault::Code { said: error.to_string() })
    })
}

/// A page of the first form: its code says which drawing is in the first of two streams, and nothing of fonts, boxes and the rest.
fn first_form(code: &str, streams: &[Vec<u8>], key: &PublicKey) -> Result<CheckedPage, PageFault> {
    let statement = statement_of(code, key)?;
    let hash = streams.first().map(|drawing| data_encoding::HEXLOWER.encode(&Sha256::digest(drawing)));
    let is_drawn = hash.is_some_and(|hash| hash.starts_with(&statement.content)) && streams.len() == 2;
    if statement.form == 1 && is_drawn {
        Ok(CheckedPage { statement, account: None })
    } else {
        Err(PageFault::of(Some(&statement), SealFault::DrawingDiffers))
    }
}

/// Whether a code's stream, whole or not, is somewhere among those that a page draws. Where there is one stream alone, a program made
/// it of all that there were.
fn carries_code(file: &Document, leaf: &Leaf) -> bool {
    let parts = parts(file, leaf);
    let streams = parts.iter().filter(|_| parts.len() > 1).filter_map(|part| part.as_stream().ok());
    streams.filter_map(|stream| unfolded(stream).ok()).any(|content| CodeStream::is_within(&content))
}

fn parts<'a>(file: &'a Document, leaf: &Leaf<'a>) -> Vec<&'a Object> {
    match leaf.says(file, "Contents") {
        Some(Object::Array(parts)) => parts.iter().map(|part| resolved(file, part)).collect(),
        one => one.into_iter().collect(),
    }
}

/// The content streams of a page, unfolded.
fn content(file: &Document, leaf: &Leaf) -> Result<Vec<Vec<u8>>, SealFault> {
    let unclear = || SealFault::ContentUnread;
    if leaf.says(file, "Contents").is_none() {
        return Err(unclear());
    }
    parts(file, leaf).into_iter().map(|part| plain(part.as_stream().map_err(|_| unclear())?)).collect()
}

fn plain(stream: &Stream) -> Result<Vec<u8>, SealFault> {
    match stranger(&stream.dict, &["Length", "Filter", "DecodeParms"]) {
        Some(key) => Err(SealFault::StreamHas { key }),
        None => unfolded(stream).map_err(|why| SealFault::ContentUnreadAs { why: Box::new(why.0) }),
    }
}
