//! The pages of a file with what they inherit (ISO 32000-1, 7.7.3).

use super::canonical::{entry, resolved, stranger};
use crate::seal::strict::Unclear;
use crate::words::findings::seal::SealFault;
use lopdf::{Dictionary, Document, Object, ObjectId};
use std::collections::HashSet;

/// How deep the tree may be.
const DEEPEST: usize = 32;

/// What pages may inherit.
const INHERITED: [&str; 4] = ["Resources", "MediaBox", "CropBox", "Rotate"];

/// What is a page, or looks like one to a reader that takes a file for broken.
const OF_PAGES: [&str; 3] = ["Contents", "MediaBox", "UserUnit"];

/// What is a catalog or a node of the tree, or looks like one.
const OF_TREES: [&str; 2] = ["Pages", "Kids"];

/// What a node of the tree may say.
const NODE: [&str; 8] = ["Type", "Kids", "Count", "Parent", "Resources", "MediaBox", "CropBox", "Rotate"];

/// What a page may say that shows nothing.
const BLANK: [&str; 10] =
    ["Type", "Parent", "MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox", "Rotate", "Resources", "Contents"];

/// One page.
#[derive(Clone, Copy)]
pub(crate) struct Leaf<'a> {
    pub(crate) id: ObjectId,
    pub(crate) page: &'a Dictionary,
    inherited: [Option<&'a Object>; 4],
}

impl<'a> Leaf<'a> {
    /// The node of the tree that it hangs from.
    fn parent(&self) -> Option<ObjectId> {
        self.page.get(b"Parent").and_then(Object::as_reference).ok()
    }

    /// True when something of it stands above it in the tree alone: what is null, or refers to nothing, is not there (ISO 32000-1, 7.3.9).
    pub(crate) fn inherits(&self, file: &Document) -> bool {
        self.inherited
            .iter()
            .zip(INHERITED)
            .any(|(above, key)| above.is_some() && entry(file, self.page, key).is_none())
    }

    /// What holds for the page under a key, its own or inherited.
    pub(crate) fn says(&self, file: &'a Document, key: &str) -> Option<&'a Object> {
        let inherited = || INHERITED.iter().zip(self.inherited).find(|(name, _)| **name == key)?.1;
        entry(file, self.page, key).or_else(inherited)
    }
}

/// All pages of a file.
pub(crate) struct Tree<'a> {
    /// Those of the tree in their order, which viewers show.
    pub(crate) leaves: Vec<Leaf<'a>>,
    /// Those that were dropped from it, but that the outline or a link still leads to.
    pub(crate) dropped: Vec<Leaf<'a>>,
}

impl<'a> Tree<'a> {
    /// Reads the one tree of a file. There must be no other catalog and no other tree in it, which a reader may come upon.
    pub(crate) fn of(file: &'a Document) -> Result<Self, Unclear> {
        let leaves = leaves(file)?;
        let root = file.trailer.get(b"Root").and_then(Object::as_reference).ok();
        let mut nodes: HashSet<ObjectId> = leaves.iter().map(|leaf| leaf.id).collect();
        let mut above: Vec<ObjectId> = leaves.iter().filter_map(Leaf::parent).collect();
        while let Some(id) = above.pop() {
            if nodes.insert(id) {
                let node = file.objects.get(&id).and_then(|node| node.as_dict().ok());
                above.extend(node.and_then(|node| node.get(b"Parent").and_then(Object::as_reference).ok()));
            }
        }
        let mut dropped = Vec::new();
        for (id, object) in &file.objects {
            let Ok(dictionary) = object.as_dict() else { continue };
            let kind = entry(file, dictionary, "Type").and_then(|kind| kind.as_name().ok());
            let has_one_of = |keys: &[&str]| keys.iter().any(|key| entry(file, dictionary, key).is_some());
            if Some(*id) == root || nodes.contains(id) {
                continue;
            }
            if matches!(kind, Some(b"Catalog" | b"Pages")) || has_one_of(&OF_TREES) {
                return Err(Unclear(SealFault::OtherTree));
            }
            if (kind == Some(b"Page") || has_one_of(&OF_PAGES)) && !is_blank(file, dictionary) {
                dropped.push(Leaf { id: *id, page: dictionary, inherited: [None; 4] });
            }
        }
        Ok(Self { leaves, dropped })
    }
}

/// Whether a page shows nothing at all: some savers leave that much of a page that was dropped.
pub(super) fn is_blank(file: &Document, page: &Dictionary) -> bool {
    let is_empty = match entry(file, page, "Contents") {
        None => true,
        Some(Object::Array(parts)) => parts.iter().all(|part| resolved(file, part).is_null()),
        Some(_) => false,
    };
    is_empty && page.has_type(b"Page") && stranger(page, &BLANK).is_none()
}

/// The pages in their order.
pub(crate) fn leaves(file: &Document) -> Result<Vec<Leaf<'_>>, Unclear> {
    let broken = || Unclear(SealFault::TreeBroken);
    let catalog = file.trailer.get(b"Root").ok().map(|root| resolved(file, root)).ok_or_else(broken)?;
    let root = catalog.as_dict().and_then(|catalog| catalog.get(b"Pages")).and_then(Object::as_reference);
    let mut leaves = Vec::new();
    walk(file, root.map_err(|_| broken())?, None, [None; 4], &mut leaves, DEEPEST)?;
    let mut ids: Vec<ObjectId> = leaves.iter().map(|leaf| leaf.id).collect();
    ids.sort_unstable();
    if ids.windows(2).any(|pair| pair[0] == pair[1]) {
        return Err(Unclear(SealFault::PageTwice));
    }
    Ok(leaves)
}

fn walk<'a>(
    file: &'a Document,
    id: ObjectId,
    parent: Option<ObjectId>,
    above: [Option<&'a Object>; 4],
    leaves: &mut Vec<Leaf<'a>>,
    left: usize,
) -> Result<(), Unclear> {
    let broken = || Unclear(SealFault::TreeBroken);
    let left = left.checked_sub(1).ok_or_else(broken)?;
    let node = file.objects.get(&id).and_then(|node| node.as_dict().ok()).ok_or_else(broken)?;
    // Readers take what a page inherits from above or by way of its parent: both must be the same.
    if node.get(b"Parent").and_then(Object::as_reference).ok() != parent {
        return Err(broken());
    }
    match entry(file, node, "Type").and_then(|kind| kind.as_name().ok()) {
        Some(b"Page") => {
            leaves.push(Leaf { id, page: node, inherited: above });
            Ok(())
        }
        Some(b"Pages") => {
            if let Some(key) = stranger(node, &NODE) {
                return Err(Unclear(SealFault::TreeHas { key }));
            }
            let mut here = above;
            for (place, key) in here.iter_mut().zip(INHERITED) {
                *place = entry(file, node, key).or(*place);
            }
            let before = leaves.len();
            let kids = entry(file, node, "Kids").and_then(|kids| kids.as_array().ok()).ok_or_else(broken)?;
            for kid in kids {
                walk(file, kid.as_reference().map_err(|_| broken())?, Some(id), here, leaves, left)?;
            }
            let count = entry(file, node, "Count").and_then(|count| count.as_i64().ok());
            if count.and_then(|count| usize::try_from(count).ok()) == Some(leaves.len() - before) {
                Ok(())
            } else {
                Err(broken())
            }
        }
        _ => Err(broken()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lopdf::dictionary;

    #[test]
    fn what_stands_above_a_page_alone_is_inherited() {
        let mut file = Document::new();
        let sides = || vec![0.into(), 0.into(), 595.into(), 842.into()];
        let page = |own: Option<Object>| {
            let mut page = dictionary! { "Type" => "Page", "Parent" => (2, 0) };
            if let Some(own) = own {
                page.set("MediaBox", own);
            }
            Object::Dictionary(page)
        };
        let tree = |above: bool| {
            let kids: Vec<Object> = vec![Object::Reference((3, 0)), Object::Reference((4, 0))];
            let mut tree = dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => 2 };
            if above {
                tree.set("MediaBox", sides());
            }
            Object::Dictionary(tree)
        };
        file.objects.insert((1, 0), dictionary! { "Type" => "Catalog", "Pages" => (2, 0) }.into());
        file.trailer.set("Root", (1, 0));
        let box_of = || Some(Object::Array(sides()));
        let cases = [
            (true, None, true),
            (true, Some(Object::Null), true),
            (true, Some(Object::Reference((999, 0))), true),
            (true, box_of(), false),
            (false, box_of(), false),
        ];
        for (above, own, inherits) in cases {
            file.objects.insert((2, 0), tree(above));
            file.objects.insert((3, 0), page(own.clone()));
            file.objects.insert((4, 0), page(box_of()));
            let leaves = leaves(&file).unwrap();
            assert_eq!(
                leaves.iter().map(|leaf| leaf.inherits(&file)).collect::<Vec<_>>(),
                [inherits, false],
                "{above} {own:?}"
            );
        }
    }
}
