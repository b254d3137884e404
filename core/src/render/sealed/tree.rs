//! The pages of a file with what they inherit (ISO 32000-1, 7.7.3).

use super::super::strict::Unclear;
use super::canonical::{entry, resolved, stranger};
use lopdf::{Dictionary, Document, Object, ObjectId};

/// How deep the tree may be.
const DEEPEST: usize = 32;

/// What pages may inherit.
const INHERITED: [&str; 4] = ["Resources", "MediaBox", "CropBox", "Rotate"];

/// What a node of the tree may say.
const NODE: [&str; 8] = ["Type", "Kids", "Count", "Parent", "Resources", "MediaBox", "CropBox", "Rotate"];

/// One page.
#[derive(Clone, Copy)]
pub(in crate::render) struct Leaf<'a> {
    pub(in crate::render) id: ObjectId,
    pub(in crate::render) page: &'a Dictionary,
    inherited: [Option<&'a Object>; 4],
}

impl<'a> Leaf<'a> {
    /// A page that is not in the tree and so inherits nothing.
    pub(in crate::render) fn alone(file: &'a Document, id: ObjectId) -> Option<Self> {
        let page = file.objects.get(&id)?.as_dict().ok()?;
        Some(Self { id, page, inherited: [None; 4] })
    }

    /// What holds for the page under a key, its own or inherited.
    pub(in crate::render) fn says(&self, file: &'a Document, key: &str) -> Option<&'a Object> {
        let inherited = || INHERITED.iter().zip(self.inherited).find(|(name, _)| **name == key)?.1;
        entry(file, self.page, key).or_else(inherited)
    }
}

/// The pages in their order.
pub(in crate::render) fn leaves(file: &Document) -> Result<Vec<Leaf<'_>>, Unclear> {
    let broken = || Unclear::new("its tree of pages is broken");
    let catalog = file.trailer.get(b"Root").ok().map(|root| resolved(file, root)).ok_or_else(broken)?;
    let root = catalog.as_dict().and_then(|catalog| catalog.get(b"Pages")).and_then(Object::as_reference);
    let mut leaves = Vec::new();
    walk(file, root.map_err(|_| broken())?, None, [None; 4], &mut leaves, DEEPEST)?;
    let mut ids: Vec<ObjectId> = leaves.iter().map(|leaf| leaf.id).collect();
    ids.sort_unstable();
    if ids.windows(2).any(|pair| pair[0] == pair[1]) {
        return Err(Unclear::new("its tree of pages has one page twice"));
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
    let broken = || Unclear::new("its tree of pages is broken");
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
                return Err(Unclear(format!("its tree of pages has /{key}")));
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
