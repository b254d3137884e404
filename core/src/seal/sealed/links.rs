//! What leads from one page to another: links on pages and the outline.

use super::canonical::{entry, number, resolved, stranger};
use super::text::text;
use super::tree::{Leaf, is_blank};
use crate::words::findings::seal::SealFault;
use lopdf::{Dictionary, Document, Object, ObjectId};
use std::collections::HashSet;

/// What a link may say. `/H` and others change what is seen.
const LINK: [&str; 9] = ["Type", "Subtype", "Rect", "Border", "BS", "F", "Dest", "A", "P"];

/// What an entry of the outline may say.
const BOOKMARK: [&str; 11] = ["Title", "Parent", "Prev", "Next", "First", "Last", "Count", "Dest", "A", "C", "F"];

/// How far a saver may move a place, points.
pub(super) const NEAR: f32 = 0.01;

/// Most entries of an outline.
const MOST: usize = 1 << 16;

/// A place on a page that leads to a page.
pub(crate) struct Spot {
    /// Corners, points.
    pub(crate) rectangle: [f32; 4],
    /// Where it leads; `None` when the page is not there any more.
    pub(crate) target: Option<ObjectId>,
}

/// An entry of the outline.
pub(crate) struct Bookmark {
    pub(crate) title: String,
    pub(crate) target: Option<ObjectId>,
}

/// The links of a page; an error names what else is laid over it.
pub(crate) fn links<'a>(file: &'a Document, leaf: &Leaf<'a>) -> Result<Vec<Spot>, SealFault> {
    let Some(list) = leaf.says(file, "Annots") else { return Ok(Vec::new()) };
    let list = list.as_array().map_err(|_| SealFault::AnnotationsUnread)?;
    // All pages of what we write are of one size.
    let top = corners(file, leaf.says(file, "MediaBox")).map(|[.., top]| top);
    list.iter().map(|each| link(file, resolved(file, each), top)).collect()
}

fn link(file: &Document, object: &Object, top: Option<f32>) -> Result<Spot, SealFault> {
    let link = object.as_dict().map_err(|_| SealFault::AnnotationUnread)?;
    let name = |key| entry(file, link, key).and_then(|value| value.as_name().ok());
    if name("Subtype") != Some(b"Link") {
        let kind = name("Subtype").map(|kind| String::from_utf8_lossy(kind).into_owned());
        return Err(kind.map_or(SealFault::AnnotationOfNoKind, |kind| SealFault::Annotation { kind }));
    }
    if let Some(key) = stranger(link, &LINK) {
        return Err(SealFault::LinkHas { key });
    }
    let border = entry(file, link, "Border").and_then(|border| border.as_array().ok());
    let style = entry(file, link, "BS").and_then(|style| style.as_dict().ok());
    let is_zero = |value: &Object| is_zero(file, value);
    let unseen = match (border, style) {
        (_, Some(style)) => stranger(style, &["W"]).is_none() && style.get(b"W").is_ok_and(is_zero),
        (Some(border), None) => border.len() == 3 && border.iter().all(is_zero),
        (None, None) => false,
    };
    let flags = entry(file, link, "F").map_or(Some(0), |flags| flags.as_i64().ok());
    if !unseen || !matches!(flags, Some(0 | 4)) {
        return Err(SealFault::LinkSeen);
    }
    let rectangle = corners(file, entry(file, link, "Rect")).ok_or(SealFault::LinkNowhere)?;
    let Some(to) = destination(file, link)? else { return Ok(Spot { rectangle, target: None }) };
    if !to.shows_all(file) && !top.is_some_and(|top| to.shows_from(file, top)) {
        return Err(SealFault::LinkView);
    }
    Ok(Spot { rectangle, target: to.page })
}

fn corners(file: &Document, rectangle: Option<&Object>) -> Option<[f32; 4]> {
    let sides = rectangle?.as_array().ok()?;
    let sides: Vec<f32> = sides.iter().map(|side| resolved(file, side).as_float().ok()).collect::<Option<_>>()?;
    sides.try_into().ok()
}

/// Where a link or an entry of the outline leads (ISO 32000-1, 12.3.2.2).
struct Destination<'a> {
    /// `None` when the page is not there any more.
    page: Option<ObjectId>,
    /// What is shown of it.
    view: &'a [Object],
}

impl Destination<'_> {
    /// The whole page, as we write it in links.
    fn shows_all(&self, file: &Document) -> bool {
        matches!(self.view, [kind] if is_named(file, kind, b"Fit"))
    }

    /// The page from its top on, as large as the page before: what a saver makes of links to the whole page.
    fn shows_from(&self, file: &Document, top: f32) -> bool {
        let at = |value: &Object, wanted: f32| {
            resolved(file, value).as_float().is_ok_and(|value| (value - wanted).abs() <= NEAR)
        };
        matches!(self.view, [kind, left, upper, zoom]
            if is_named(file, kind, b"XYZ") && at(left, 0.0) && at(upper, top) && is_zero(file, zoom))
    }

    /// The page as the viewer stands, as we write it in the outline.
    fn changes_nothing(&self, file: &Document) -> bool {
        matches!(self.view, [kind, rest @ ..]
            if is_named(file, kind, b"XYZ") && rest.len() == 3 && rest.iter().all(|part| resolved(file, part).is_null()))
    }
}

fn is_named(file: &Document, object: &Object, name: &[u8]) -> bool {
    resolved(file, object).as_name().is_ok_and(|named| named == name)
}

fn is_zero(file: &Document, object: &Object) -> bool {
    number(resolved(file, object)).as_deref() == Some("0")
}

/// Where a link or an entry of the outline leads; `None` when it leads nowhere.
fn destination<'a>(file: &'a Document, from: &'a Dictionary) -> Result<Option<Destination<'a>>, SealFault> {
    let elsewhere = || SealFault::LeadsElsewhere;
    let destination = match (entry(file, from, "Dest"), entry(file, from, "A")) {
        (Some(destination), None) => destination,
        (None, Some(action)) => {
            let action = action.as_dict().map_err(|_| elsewhere())?;
            let is_jump = entry(file, action, "S").and_then(|kind| kind.as_name().ok()) == Some(b"GoTo");
            if !is_jump || stranger(action, &["Type", "S", "D"]).is_some() {
                return Err(elsewhere());
            }
            entry(file, action, "D").ok_or_else(elsewhere)?
        }
        (None, None) => return Ok(None),
        (Some(_), Some(_)) => return Err(elsewhere()),
    };
    let (page, view) = destination.as_array().ok().and_then(|parts| parts.split_first()).ok_or_else(elsewhere)?;
    let page = match page {
        Object::Reference(page) => {
            let is_gone = |page: &Object| page.is_null() || page.as_dict().is_ok_and(|page| is_blank(file, page));
            file.objects.get(page).filter(|page| !is_gone(page)).map(|_| *page)
        }
        Object::Null => None,
        _ => return Err(elsewhere()),
    };
    Ok(Some(Destination { page, view }))
}

/// The entries of the outline in their order.
pub(crate) fn outline(file: &Document, root: &Object) -> Result<Vec<Bookmark>, SealFault> {
    let broken = || SealFault::OutlineUnread;
    let root = resolved(file, root).as_dict().map_err(|_| broken())?;
    if let Some(key) = stranger(root, &["Type", "First", "Last", "Count"]) {
        return Err(SealFault::OutlineHas { key });
    }
    let mut bookmarks = Vec::new();
    let mut seen = HashSet::new();
    let mut open: Vec<&Object> = root.get(b"First").into_iter().collect();
    while let Some(next) = open.pop() {
        let id = next.as_reference().map_err(|_| broken())?;
        if !seen.insert(id) || seen.len() > MOST {
            return Err(broken());
        }
        let item = resolved(file, next).as_dict().map_err(|_| broken())?;
        bookmarks.push(bookmark(file, item)?);
        open.extend(item.get(b"Next"));
        open.extend(item.get(b"First"));
    }
    Ok(bookmarks)
}

fn bookmark(file: &Document, item: &Dictionary) -> Result<Bookmark, SealFault> {
    let title = entry(file, item, "Title").ok_or(SealFault::EntryWithoutTitle)?;
    let title = text(title).ok_or(SealFault::EntryUnread)?;
    if let Some(key) = stranger(item, &BOOKMARK) {
        return Err(SealFault::EntryHas { title, key });
    }
    let to = destination(file, item)?;
    if !to.as_ref().is_none_or(|to| to.changes_nothing(file)) {
        return Err(SealFault::EntryView { title });
    }
    let target = to.and_then(|to| to.page);
    let looks = |colour: &Object| {
        let parts = colour.as_array().map(Vec::as_slice).unwrap_or_default();
        let parts: Vec<Option<String>> = parts.iter().map(|part| number(resolved(file, part))).collect();
        // A saver greys what leads nowhere since it took the page out.
        let is_like_first = |part: &Option<String>| part.is_some() && *part == parts[0];
        parts.len() == 3 && parts.iter().all(is_like_first) && (target.is_none() || parts[0].as_deref() == Some("0"))
    };
    if entry(file, item, "F").is_some_and(|flags| !is_zero(file, flags))
        || entry(file, item, "C").is_some_and(|colour| !looks(colour))
    {
        return Err(SealFault::EntryLooks { title });
    }
    Ok(Bookmark { title, target })
}

/// A rectangle as it stands in what is signed.
pub(crate) fn written(rectangle: [f32; 4]) -> String {
    let sides = rectangle.map(|side| number(&Object::Real(side)).unwrap_or_default());
    sides.join(" ")
}
