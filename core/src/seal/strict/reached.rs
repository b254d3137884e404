//! What is referred to in a file: an object to which nothing leads is shown by no reader but one that searches for objects.

use super::Unclear;
use crate::words::findings::seal::SealFault;
use lopdf::{Dictionary, Document, Object, ObjectId};
use std::collections::BTreeSet;

/// The objects to which the trailer does not lead, but those `apart`, which say how the file is laid out.
pub(super) fn not_led_to(file: &Document, apart: &BTreeSet<ObjectId>) -> Result<Vec<ObjectId>, Unclear> {
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
                return Err(Unclear(SealFault::OtherGeneration { number: *number }));
            }
            Object::Reference(id) if reached.insert(*id) => open.extend(file.objects.get(id)),
            _ => {}
        }
    }
    Ok(file.objects.keys().filter(|id| !reached.contains(id) && !apart.contains(id)).copied().collect())
}

fn values(dictionary: &Dictionary) -> impl Iterator<Item = &Object> {
    dictionary.iter().map(|(_, value)| value)
}
