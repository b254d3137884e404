//! What a saver left in a file although nothing leads to it any more: readers that search a file for objects still find it. It is
//! taken where each piece was signed by itself: pages, facts about the file and metadata as they were, and what belongs to such a page.

use super::canonical::stranger;
use super::document::{is_signed_information, is_signed_metadata};
use crate::seal::strict::Unclear;
use crate::words::findings::seal::SealFault;
use lopdf::{Document, Object, ObjectId};
use std::collections::HashSet;

/// What a saver writes in place of metadata that it took away.
const DELETED: &[u8] = b"deleted";

/// Checks all objects to which nothing leads. `pages` are those among them that are as signed, `signed` is what the files of its
/// pages said as a whole when they were signed; empty when no page tells.
pub(crate) fn must_be_signed(
    file: &Document,
    left: &[ObjectId],
    pages: &HashSet<ObjectId>,
    signed: &[String],
) -> Result<(), Unclear> {
    let mut open: Vec<ObjectId> = left.iter().copied().filter(|id| pages.contains(id)).collect();
    let mut known: HashSet<ObjectId> = open.iter().copied().collect();
    while let Some(id) = open.pop() {
        let mut inner: Vec<&Object> = file.objects.get(&id).into_iter().collect();
        while let Some(object) = inner.pop() {
            match object {
                Object::Array(items) => inner.extend(items),
                // What stands above a page in a tree is no part of it.
                Object::Dictionary(dictionary) => {
                    inner.extend(dictionary.iter().filter(|(key, _)| *key != b"Parent").map(|(_, value)| value));
                }
                Object::Stream(stream) => inner.extend(stream.dict.iter().map(|(_, value)| value)),
                Object::Reference(id) if known.insert(*id) => open.push(*id),
                _ => {}
            }
        }
    }
    let is_signed = |object: &Object| match object {
        Object::Null => true,
        Object::Dictionary(facts) => signed.iter().any(|signed| is_signed_information(file, facts, signed)),
        Object::Stream(stream) if stream.content == DELETED => stranger(&stream.dict, &["Length"]).is_none(),
        Object::Stream(packet) => signed.iter().any(|signed| is_signed_metadata(packet, signed)),
        _ => false,
    };
    match left.iter().find(|id| !known.contains(id) && !file.objects.get(id).is_none_or(is_signed)) {
        Some((number, _)) => Err(Unclear(SealFault::NotLedTo { number: *number })),
        None => Ok(()),
    }
}
