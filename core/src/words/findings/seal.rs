//! What is said of a file that is checked against its seals.

use super::mixed_pages::MixedPages;
use std::fmt::{Display, Formatter, Result};
use thiserror::Error;

/// Why a file, or a page of it, is not taken as signed. Its sentence is English.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub(crate) enum SealFault {
    #[error("it cannot be read with certainty at byte {place}")]
    UnreadAt { place: usize },
    #[error("object {number} is not where its table says")]
    ObjectElsewhere { number: u32 },
    #[error("it holds object {number} more than once, or outside its table")]
    ObjectOutsideTable { number: u32 },
    #[error("an object stream holds objects that are not in its table")]
    StreamOutsideTable,
    #[error("what it says for the web is not so")]
    WebWrong,
    #[error("it holds object {number} more than once")]
    ObjectTwice { number: u32 },
    #[error("it has no end")]
    NoEnd,
    #[error("it does not end where it says")]
    EndElsewhere,
    #[error("it was added to after it was written, or says twice where it begins")]
    AddedTo,
    #[error("an object stream cannot be read")]
    ObjectStreamUnread,
    #[error("a stream is packed in a way that is not known here")]
    PackingUnknown,
    #[error("a stream cannot be unpacked")]
    NotUnpacked,
    #[error("a reader that searches it may take byte {at} for a part of the file")]
    MarkAt { at: usize },
    #[error("it refers to another generation of object {number}")]
    OtherGeneration { number: u32 },
    #[error("its table of objects cannot be read")]
    TableUnread,
    #[error("its trailer has /{key}")]
    TrailerHas { key: String },
    #[error("its trailer cannot be read")]
    TrailerUnread,
    #[error("its table of objects is not where it says")]
    TableElsewhere,
    #[error("it was added to after it was written, and says twice where object {number} is")]
    PlacedTwice { number: u32 },
    #[error("its tables do not follow each other")]
    TablesNotInOrder,
    #[error("its tables disagree on where it begins")]
    TablesDisagree,
    #[error("it holds a table of objects that is not in force")]
    IdleTable,
    #[error("it has no trailer")]
    NoTrailer,
    #[error("it does not say its size")]
    NoSize,
    #[error("it holds more objects than it says")]
    MoreObjects,
    #[error("its objects lie too deep in each other")]
    TooDeep,
    #[error("/{name} stands twice in one dictionary")]
    NameTwice { name: String },
    #[error("its metadata cannot be read")]
    MetadataUnread,
    #[error("it has no catalog")]
    NoCatalog,
    #[error("what it is called cannot be read")]
    FactsUnread,
    #[error("a newer program signed the file")]
    NewerProgram,
    #[error("the file has /{key}, which was not signed")]
    FileHas { key: String },
    #[error("the document information has /{key}, which was not signed")]
    InformationHas { key: String },
    #[error("how the file is printed or opened is not what was signed")]
    SettingsDiffer,
    #[error("nothing leads to object {number}, which was not signed")]
    NotLedTo { number: u32 },
    #[error("its list of annotations cannot be read")]
    AnnotationsUnread,
    #[error("an annotation cannot be read")]
    AnnotationUnread,
    #[error("a link on it has /{key}")]
    LinkHas { key: String },
    #[error("a link on it has a frame or flags of its own")]
    LinkSeen,
    #[error("a link on it has no place")]
    LinkNowhere,
    #[error("a link on it leads to a view of a page that was not signed")]
    LinkView,
    #[error("a link or an entry of the outline does something else than lead to a page")]
    LeadsElsewhere,
    #[error("its outline cannot be read")]
    OutlineUnread,
    #[error("its outline has /{key}")]
    OutlineHas { key: String },
    #[error("an entry of its outline has no title")]
    EntryWithoutTitle,
    #[error("the title of an entry of its outline cannot be read")]
    EntryUnread,
    #[error("the entry {title:?} of its outline has /{key}")]
    EntryHas { title: String, key: String },
    #[error("the entry {title:?} of its outline leads to a view of its page that was not signed")]
    EntryView { title: String },
    #[error("its /{key} cannot be read")]
    KeyUnread { key: String },
    #[error("the code of the page does not stand apart and last")]
    CodeNotLast,
    #[error("the page carries no code that can be read")]
    NoCode,
    #[error("the page has /{key}, which was not signed. Do not cut from it")]
    PageHas { key: String },
    #[error("the code that is drawn is not the one that was signed. Do not cut from the page")]
    OtherCode,
    #[error("the page's content cannot be read")]
    ContentUnread,
    #[error("a content stream of the page has /{key}")]
    StreamHas { key: String },
    #[error("it holds another tree of pages")]
    OtherTree,
    #[error("its tree of pages is broken")]
    TreeBroken,
    #[error("its tree of pages has one page twice")]
    PageTwice,
    #[error("its tree of pages has /{key}")]
    TreeHas { key: String },
    #[error("what it says for the web leads to other pages")]
    WebLeadsElsewhere,
    #[error("it is laid out for the web, and what its pages inherit is not read by all")]
    WebInherits,
    #[error("a page that is not among its pages was not signed with them")]
    StrangePage,
    #[error("a link on it was not signed")]
    LinkNotSigned,
    #[error("an annotation is laid over it ({kind})")]
    Annotation { kind: String },
    #[error("an annotation is laid over it (of no kind)")]
    AnnotationOfNoKind,
    #[error(
        "the entry {title:?} of its outline has a colour or letters of its own: use the issued file, or have this one saved without its outline"
    )]
    EntryLooks { title: String },
    #[error("its resources cannot be read: {why}")]
    ResourcesUnread { why: Box<SealFault> },
    #[error("the page's content cannot be read: {why}")]
    ContentUnreadAs { why: Box<SealFault> },
    #[error("{what}: not what was signed")]
    WholeDiffers { what: WholePart },
    #[error("the drawing of the page is not, byte for byte, what was signed. Do not cut from it")]
    DrawingDiffers,
    #[error("{0}")]
    PageDiffers(DifferingParts),
    #[error("{fault}. Do not cut from it")]
    DoNotCut { fault: Box<SealFault> },
    /// What the code itself is refused for, as its own error says it.
    #[error("{said}")]
    Code { said: String },
    #[error(
        "the file is not as it was issued, and other programs may read it otherwise than this one: {why}. Use the file that was issued, or have another program save it"
    )]
    NotAsIssued { why: Box<SealFault> },
    #[error(
        "no page carries a code that can be read: another program wrote the pages anew, or they were never signed. They may look right, and cannot be told from changed ones; use the file that was issued"
    )]
    DrawnAnew,
    #[error("pages with an old seal are mixed with pages of other files: check those of each in a file of their own")]
    MixedWithOld,
    #[error("{0}")]
    Mixed(MixedPages),
    #[error("the outline says {title:?} and leads nowhere: the page that signed it is not there")]
    OutlineNowhere { title: String },
    #[error("the outline says {title:?}, which was not signed")]
    OutlineSays { title: String },
    #[error("the file does not say any more how it is to be printed: print at 100 %, and measure the check bars")]
    SettingsGone,
    #[error("{here} of {whole} pages are in this file")]
    PagesMissing { here: usize, whole: u16 },
    #[error("a page is in this file more than once")]
    PageAgain,
    #[error("the pages are not in their order")]
    PagesOutOfOrder,
}

/// What a file says as a whole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub(crate) enum WholePart {
    #[error("title, author or subject of the document information")]
    Facts,
    #[error("metadata")]
    Metadata,
    #[error("what its grey means (/OutputIntents)")]
    Intents,
}

/// What a page shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub(crate) enum ShownPart {
    #[error("size")]
    Size,
    #[error("turn")]
    Turn,
    #[error("scale")]
    Scale,
    #[error("fonts or other resources")]
    Resources,
    #[error("drawing")]
    Drawing,
    #[error("drawing, fonts or size")]
    Unknown,
}

/// The parts of a page that are not what was signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct DifferingParts(pub(crate) Vec<ShownPart>);

impl Display for DifferingParts {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let parts: Vec<String> = self.0.iter().map(ToString::to_string).collect();
        let is_one = matches!(self.0.as_slice(), [part] if !matches!(part, ShownPart::Resources | ShownPart::Unknown));
        let verb = if is_one { "is" } else { "are" };
        write!(f, "the {} of the page {verb} not what was signed. Do not cut from it", parts.join(" and the "))
    }
}
