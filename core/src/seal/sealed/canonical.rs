//! Objects in one form that does not depend on how a file is laid out: what is referred to stands in its place, streams count by
//! what they unfold to, and the order of a dictionary's entries says nothing.

use crate::seal::strict::{Unclear, unfolded};
use crate::words::findings::seal::SealFault;
use lopdf::{Dictionary, Document, Object, ObjectId};
use sha2::{Digest, Sha256};
use std::collections::HashMap;

/// How deep objects may refer to each other.
const DEEPEST: usize = 32;

/// SHA-256 of something.
pub(super) type Hash = [u8; 32];

/// Entries of a stream that say how it is packed.
const PACKING: [&[u8]; 3] = [b"Length", b"Filter", b"DecodeParms"];

/// Hashes objects of a file, those that are shared once.
pub(crate) struct Canonical<'a> {
    file: &'a Document,
    known: HashMap<ObjectId, Vec<u8>>,
}

impl<'a> Canonical<'a> {
    pub(crate) fn new(file: &'a Document) -> Self {
        Self { file, known: HashMap::new() }
    }

    /// The hash of an object.
    pub(super) fn hash(&mut self, object: &Object) -> Result<Hash, Unclear> {
        let mut form = Vec::new();
        self.put(object, &mut form, DEEPEST)?;
        Ok(Sha256::digest(form).into())
    }

    fn put(&mut self, object: &Object, form: &mut Vec<u8>, left: usize) -> Result<(), Unclear> {
        let left = left.checked_sub(1).ok_or(Unclear(SealFault::TooDeep))?;
        match object {
            Object::Null => form.push(b'n'),
            Object::Boolean(value) => form.extend([b'b', u8::from(*value)]),
            Object::Integer(_) | Object::Real(_) => text(b'#', number(object).unwrap_or_default().as_bytes(), form),
            Object::Name(name) => text(b'/', name, form),
            Object::String(bytes, _) => text(b'(', bytes, form),
            Object::Array(items) => {
                let mut inner = Vec::new();
                items.iter().try_for_each(|item| self.put(item, &mut inner, left))?;
                contained(b'[', &inner, form);
            }
            Object::Dictionary(dictionary) => {
                let inner = self.entries(dictionary, &[], left)?;
                contained(b'<', &inner, form);
            }
            Object::Stream(stream) => {
                let mut inner = self.entries(&stream.dict, &PACKING, left)?;
                inner.extend(Sha256::digest(unfolded(stream)?));
                contained(b's', &inner, form);
            }
            Object::Reference(id) => {
                if let Some(known) = self.known.get(id) {
                    form.extend(known);
                    return Ok(());
                }
                let file = self.file;
                let mut whole = Vec::new();
                self.put(file.objects.get(id).unwrap_or(&Object::Null), &mut whole, left)?;
                form.extend(&whole);
                self.known.insert(*id, whole);
            }
        }
        Ok(())
    }

    fn entries(&mut self, dictionary: &Dictionary, but: &[&[u8]], left: usize) -> Result<Vec<u8>, Unclear> {
        let mut entries: Vec<_> = dictionary.iter().filter(|(key, _)| !but.contains(&key.as_slice())).collect();
        entries.sort_by_key(|(key, _)| *key);
        let mut inner = Vec::new();
        for (key, value) in entries {
            let mut form = Vec::new();
            self.put(value, &mut form, left)?;
            // An entry without a value is none.
            if form != b"n" {
                text(b'/', key, &mut inner);
                inner.extend(form);
            }
        }
        Ok(inner)
    }
}

fn text(kind: u8, bytes: &[u8], form: &mut Vec<u8>) {
    form.push(kind);
    form.extend(bytes.len().to_be_bytes());
    form.extend(bytes);
}

fn contained(kind: u8, inner: &[u8], form: &mut Vec<u8>) {
    form.push(kind);
    form.extend(Sha256::digest(inner));
}

/// What an object stands for: behind references, or itself.
pub(super) fn resolved<'a>(file: &'a Document, object: &'a Object) -> &'a Object {
    let mut object = object;
    for _ in 0..DEEPEST {
        match object {
            Object::Reference(id) => object = file.objects.get(id).unwrap_or(&Object::Null),
            _ => return object,
        }
    }
    &Object::Null
}

/// The value of a dictionary's entry; `None` when it is absent or null.
pub(super) fn entry<'a>(file: &'a Document, dictionary: &'a Dictionary, key: &str) -> Option<&'a Object> {
    dictionary.get(key.as_bytes()).ok().map(|value| resolved(file, value)).filter(|value| !value.is_null())
}

/// A number as it is written shortest.
#[allow(clippy::cast_possible_truncation)]
pub(super) fn number(object: &Object) -> Option<String> {
    match object {
        Object::Integer(number) => Some(number.to_string()),
        Object::Real(number) if number.fract() == 0.0 && number.abs() < 1e9 => Some((*number as i64).to_string()),
        Object::Real(number) => Some(number.to_string()),
        _ => None,
    }
}

/// The first entry that a list does not know.
pub(super) fn stranger(dictionary: &Dictionary, known: &[&str]) -> Option<String> {
    let is_known = |key: &[u8]| known.iter().any(|known| known.as_bytes() == key);
    dictionary
        .iter()
        .find(|(key, value)| !is_known(key) && !value.is_null())
        .map(|(key, _)| String::from_utf8_lossy(key).into_owned())
}
