//! What a file says as a whole: how it is printed and opened, what it is called, what its grey means.

use super::canonical::{Canonical, Hash, entry, resolved, stranger};
use super::links::outline;
use super::metadata;
use super::text::text;
use crate::seal::strict::{Unclear, unfolded};
use crate::words::findings::seal::{SealFault, WholePart};
use lopdf::{Dictionary, Document, Object, Stream};
use sha2::{Digest, Sha256};

/// What a catalog may say. Viewers take no notice of `/Version` beyond what they can do, nor of `/Info`, which a saver puts there.
const CATALOG: [&str; 11] = [
    "Type",
    "Pages",
    "Outlines",
    "Metadata",
    "OutputIntents",
    "ViewerPreferences",
    "PageMode",
    "PageLayout",
    "Lang",
    "Version",
    "Info",
];

/// What a file is called; signed together.
const FACTS: [&str; 3] = ["Title", "Author", "Subject"];

/// What else the document information may say: savers write it, viewers only list it.
const SAVERS_FACTS: [&str; 5] = ["Creator", "Producer", "CreationDate", "ModDate", "Trapped"];

/// How the file is printed and opened; signed together.
const SETTINGS: [&str; 4] = ["ViewerPreferences", "PageMode", "PageLayout", "Lang"];

/// Ways to open a file that hide nothing, for files without the settings that were signed.
const MODES: [&str; 2] = ["UseNone", "UseOutlines"];
const LAYOUTS: [&str; 6] =
    ["SinglePage", "OneColumn", "TwoColumnLeft", "TwoColumnRight", "TwoPageLeft", "TwoPageRight"];

/// Stands for what is not there.
const NONE: &str = "-";

/// What a file says as a whole, each as a hash.
pub(crate) struct Whole {
    facts: String,
    metadata: String,
    intents: String,
    settings: String,
    /// Titles of the whole outline in their order; `None` where the pages that are led to each sign their own alone, as they did
    /// before this was signed.
    titles: Option<String>,
}

/// What a file kept of what was signed of it as a whole.
pub(crate) struct KeptOfWhole {
    /// False when it does not say any more how it is printed.
    pub(crate) settings: bool,
    /// Whether the outline says what it said, entries to pages that are not there any more among them; `None` when only those pages
    /// can tell.
    pub(crate) titles: Option<bool>,
}

impl Whole {
    /// In words, after `id`, which is of the contents of all pages.
    pub(crate) fn words(&self, id: &str) -> String {
        let Self { facts, metadata, intents, settings, titles } = self;
        let titles = titles.iter().map(|titles| format!(" {titles}")).collect::<String>();
        format!("{id} {facts} {metadata} {intents} {settings}{titles}")
    }

    fn read(words: &str) -> Option<Self> {
        let words: Vec<&str> = words.split(' ').collect();
        let (&[_, facts, metadata, intents, settings], titles) = words.split_first_chunk()?;
        let [facts, metadata, intents, settings] = [facts, metadata, intents, settings].map(str::to_owned);
        let titles = match titles {
            [] => None,
            [titles] => Some((*titles).to_owned()),
            _ => return None,
        };
        Some(Self { facts, metadata, intents, settings, titles })
    }
}

/// What a file says as a whole.
pub(crate) fn whole<'a>(canonical: &mut Canonical<'a>, file: &'a Document) -> Result<Whole, Unclear> {
    let catalog = catalog(file)?;
    let metadata = match entry(file, catalog, "Metadata") {
        Some(Object::Stream(packet)) => metadata_hash(packet)?,
        Some(_) => return Err(Unclear(SealFault::MetadataUnread)),
        None => NONE.to_owned(),
    };
    let intents = match entry(file, catalog, "OutputIntents") {
        Some(intents) => short(canonical.hash(intents)?),
        None => NONE.to_owned(),
    };
    let mut settings = Dictionary::new();
    for key in SETTINGS {
        if let Some(value) = entry(file, catalog, key) {
            settings.set(key, value.clone());
        }
    }
    let settings =
        if settings.is_empty() { NONE.to_owned() } else { short(canonical.hash(&Object::Dictionary(settings))?) };
    Ok(Whole { facts: facts(file)?, metadata, intents, settings, titles: Some(titles(file)?) })
}

fn titles(file: &Document) -> Result<String, Unclear> {
    let Some(root) = entry(file, catalog(file)?, "Outlines") else { return Ok(NONE.to_owned()) };
    let mut hash = Sha256::new();
    for bookmark in outline(file, root).map_err(Unclear)? {
        hash.update(bookmark.title.len().to_be_bytes());
        hash.update(bookmark.title);
    }
    Ok(short(hash.finalize().into()))
}

fn metadata_hash(packet: &Stream) -> Result<String, Unclear> {
    let form = metadata::form(&unfolded(packet)?).ok_or(Unclear(SealFault::MetadataUnread))?;
    Ok(short(Sha256::digest(form).into()))
}

fn short(hash: Hash) -> String {
    data_encoding::HEXLOWER.encode(&hash[..16])
}

fn catalog(file: &Document) -> Result<&Dictionary, Unclear> {
    let root = file.trailer.get(b"Root").ok().and_then(|root| resolved(file, root).as_dict().ok());
    root.filter(|catalog| catalog.has_type(b"Catalog")).ok_or(Unclear(SealFault::NoCatalog))
}

fn information(file: &Document) -> Option<&Dictionary> {
    file.trailer.get(b"Info").ok().and_then(|information| resolved(file, information).as_dict().ok())
}

fn facts(file: &Document) -> Result<String, Unclear> {
    information(file).map_or_else(|| Ok(NONE.to_owned()), |information| facts_of(file, information))
}

fn facts_of(file: &Document, information: &Dictionary) -> Result<String, Unclear> {
    let said = FACTS.map(|key| entry(file, information, key));
    if said.iter().all(Option::is_none) {
        return Ok(NONE.to_owned());
    }
    let mut hash = Sha256::new();
    for value in said {
        let unread = || Unclear(SealFault::FactsUnread);
        let text = value.map_or_else(|| Some(String::new()), text).ok_or_else(unread)?;
        hash.update(text.len().to_be_bytes());
        hash.update(text);
    }
    Ok(short(hash.finalize().into()))
}

/// Holds what a file says as a whole against what its pages signed; an error says what else it holds.
pub(crate) fn kept<'a>(
    canonical: &mut Canonical<'a>,
    file: &'a Document,
    signed: &str,
) -> Result<KeptOfWhole, SealFault> {
    let signed = Whole::read(signed).ok_or(SealFault::NewerProgram)?;
    let catalog = catalog(file).map_err(|why| why.0)?;
    if let Some(key) = stranger(catalog, &CATALOG) {
        return Err(SealFault::FileHas { key });
    }
    if let Some(key) = information(file).and_then(strange_fact) {
        return Err(SealFault::InformationHas { key });
    }
    let whole = whole(canonical, file).map_err(|why| why.0)?;
    for (what, now, then) in [
        (WholePart::Facts, &whole.facts, &signed.facts),
        (WholePart::Metadata, &whole.metadata, &signed.metadata),
        (WholePart::Intents, &whole.intents, &signed.intents),
    ] {
        if now != then && now != NONE {
            return Err(SealFault::WholeDiffers { what });
        }
    }
    let settings = whole.settings == signed.settings;
    if !settings && !is_harmless(file, catalog) {
        return Err(SealFault::SettingsDiffer);
    }
    Ok(KeptOfWhole { settings, titles: signed.titles.map(|titles| whole.titles == Some(titles)) })
}

fn strange_fact(information: &Dictionary) -> Option<String> {
    let known: Vec<&str> = FACTS.into_iter().chain(SAVERS_FACTS).collect();
    stranger(information, &known)
}

/// Whether these are facts about a file as they were signed, and nothing else.
pub(super) fn is_signed_information(file: &Document, information: &Dictionary, signed: &str) -> bool {
    let is_plain = information.iter().all(|(_, value)| matches!(value, Object::String(..) | Object::Name(_)));
    let is_as_signed = |signed: Whole| facts_of(file, information).is_ok_and(|facts| facts == signed.facts);
    is_plain && strange_fact(information).is_none() && Whole::read(signed).is_some_and(is_as_signed)
}

/// Whether this is the metadata of a file as it was signed, and nothing else.
pub(super) fn is_signed_metadata(packet: &Stream, signed: &str) -> bool {
    let is_as_signed = |signed: Whole| metadata_hash(packet).is_ok_and(|hash| hash == signed.metadata);
    stranger(&packet.dict, &["Type", "Subtype", "Length", "Filter"]).is_none()
        && packet.dict.has_type(b"Metadata")
        && Whole::read(signed).is_some_and(is_as_signed)
}

/// Whether settings other than those signed hide nothing and change no scale.
fn is_harmless(file: &Document, catalog: &Dictionary) -> bool {
    let is_one_of = |key: &str, known: &[&str]| {
        entry(file, catalog, key)
            .is_none_or(|value| value.as_name().is_ok_and(|name| known.iter().any(|known| known.as_bytes() == name)))
    };
    is_one_of("PageMode", &MODES)
        && is_one_of("PageLayout", &LAYOUTS)
        && entry(file, catalog, "ViewerPreferences").is_none()
        && entry(file, catalog, "Lang").is_none()
}
