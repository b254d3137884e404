//! What leads from one page to another: links on pages and the outline.

use super::canonical::{entry, number, resolved, stranger};
use super::tree::{Leaf, is_blank};
use lopdf::{Dictionary, Document, Object, ObjectId};
use std::collections::HashSet;

/// What a link may say. `/H` and others change what is seen.
const LINK: [&str; 9] = ["Type", "Subtype", "Rect", "Border", "BS", "F", "Dest", "A", "P"];

/// What an entry of the outline may say.
const BOOKMARK: [&str; 11] = ["Title", "Parent", "Prev", "Next", "First", "Last", "Count", "Dest", "A", "C", "F"];

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
pub(crate) fn links<'a>(file: &'a Document, leaf: &Leaf<'a>) -> Result<Vec<Spot>, String> {
    let Some(list) = leaf.says(file, "Annots") else { return Ok(Vec::new()) };
    let list = list.as_array().map_err(|_| "its list of annotations cannot be read".to_owned())?;
    list.iter().map(|each| link(file, resolved(file, each))).collect()
}

fn link(file: &Document, object: &Object) -> Result<Spot, String> {
    let link = object.as_dict().map_err(|_| "an annotation cannot be read".to_owned())?;
    let name = |key| entry(file, link, key).and_then(|value| value.as_name().ok());
    if name("Subtype") != Some(b"Link") {
        let kind = String::from_utf8_lossy(name("Subtype").unwrap_or(b"of no kind")).into_owned();
        return Err(format!("an annotation is laid over it ({kind})"));
    }
    if let Some(key) = stranger(link, &LINK) {
        return Err(format!("a link on it has /{key}"));
    }
    let border = entry(file, link, "Border").and_then(|border| border.as_array().ok());
    let style = entry(file, link, "BS").and_then(|style| style.as_dict().ok());
    let is_zero = |value: &Object| number(resolved(file, value)).as_deref() == Some("0");
    let unseen = match (border, style) {
        (_, Some(style)) => stranger(style, &["W"]).is_none() && style.get(b"W").is_ok_and(is_zero),
        (Some(border), None) => border.len() == 3 && border.iter().all(is_zero),
        (None, None) => false,
    };
    let flags = entry(file, link, "F").map_or(Some(0), |flags| flags.as_i64().ok());
    if !unseen || !matches!(flags, Some(0 | 4)) {
        return Err("a link on it has a frame or flags of its own".to_owned());
    }
    let rectangle = corners(file, entry(file, link, "Rect")).ok_or_else(|| "a link on it has no place".to_owned())?;
    Ok(Spot { rectangle, target: target(file, link)? })
}

fn corners(file: &Document, rectangle: Option<&Object>) -> Option<[f32; 4]> {
    let sides = rectangle?.as_array().ok()?;
    let sides: Vec<f32> = sides.iter().map(|side| resolved(file, side).as_float().ok()).collect::<Option<_>>()?;
    sides.try_into().ok()
}

/// The page that a link or an entry of the outline leads to.
fn target(file: &Document, from: &Dictionary) -> Result<Option<ObjectId>, String> {
    let elsewhere = || "a link or an entry of the outline does something else than lead to a page".to_owned();
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
    match destination.as_array().ok().and_then(|parts| parts.first()) {
        Some(Object::Reference(page)) => {
            let is_gone = |page: &Object| page.is_null() || page.as_dict().is_ok_and(|page| is_blank(file, page));
            Ok(file.objects.get(page).filter(|page| !is_gone(page)).map(|_| *page))
        }
        Some(Object::Null) => Ok(None),
        _ => Err(elsewhere()),
    }
}

/// The entries of the outline in their order.
pub(crate) fn outline(file: &Document, root: &Object) -> Result<Vec<Bookmark>, String> {
    let broken = || "its outline cannot be read".to_owned();
    let root = resolved(file, root).as_dict().map_err(|_| broken())?;
    if let Some(key) = stranger(root, &["Type", "First", "Last", "Count"]) {
        return Err(format!("its outline has /{key}"));
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

fn bookmark(file: &Document, item: &Dictionary) -> Result<Bookmark, String> {
    if let Some(key) = stranger(item, &BOOKMARK) {
        return Err(format!("an entry of its outline has /{key}"));
    }
    let is_zero = |value: &Object| number(resolved(file, value)).as_deref() == Some("0");
    let is_black = |colour: &Object| colour.as_array().is_ok_and(|parts| parts.iter().all(is_zero));
    if entry(file, item, "F").is_some_and(|flags| !is_zero(flags))
        || entry(file, item, "C").is_some_and(|c| !is_black(c))
    {
        return Err("an entry of its outline has a look of its own".to_owned());
    }
    let title = entry(file, item, "Title").and_then(|title| lopdf::decode_text_string(title).ok());
    Ok(Bookmark {
        title: title.ok_or_else(|| "an entry of its outline has no title".to_owned())?,
        target: target(file, item)?,
    })
}

/// A rectangle as it stands in what is signed.
pub(crate) fn written(rectangle: [f32; 4]) -> String {
    let sides = rectangle.map(|side| number(&Object::Real(side)).unwrap_or_default());
    sides.join(" ")
}
