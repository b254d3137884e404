//! What is referred to in a file: an object to which nothing leads is looked at by no check, and yet found by a reader that searches.

use super::Unclear;
use lopdf::{Dictionary, Document, Object, ObjectId};
use std::collections::BTreeSet;

/// Checks that the trailer leads to each object but those `apart`, which say how the file is laid out.
pub(super) fn must_be(file: &Document, apart: &BTreeSet<ObjectId>) -> Result<(), Unclear> {
    let mut reached = BTreeSet::new();
    let mut open: Vec<&Object> = values(&file.trailer).collect();
    let streams = apart.iter().filter_map(|id| file.objects.get(id)?.as_stream().ok());
    open.extend(streams.filter_map(|stream| stream.dict.get(b"Length").ok()));
    while let Some(object) = open.pop() {
        match object {
            Object::Array(items) => open.extend(items),
            Object::Dictionary(dictionary) => open.extend(values(dictionary)),
            Object::Stream(stream) => open.extend(values(&stream.dict)),
            // Readers do not agree on whether a generation counts.
            Object::Reference((number, 1..)) => {
                return Err(Unclear(format!("it refers to another generation of object {number}")));
            }
            Object::Reference(id) if reached.insert(*id) => open.extend(file.objects.get(id)),
            _ => {}
        }
    }
    match file.objects.keys().find(|id| !reached.contains(id) && !apart.contains(id)) {
        Some((number, _)) => Err(Unclear(format!("nothing leads to object {number}"))),
        None => Ok(()),
    }
}

fn values(dictionary: &Dictionary) -> impl Iterator<Item = &Object> {
    dictionary.iter().map(|(_, value)| value)
}
