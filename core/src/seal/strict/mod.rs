//! A file read strictly, so that there is one way to read it: every byte of it belongs to an object in force, a table of objects or
//! white space, no object stands in it twice, and no reader finds a beginning or an end other than these.
//!
//! A seal is worth nothing when a viewer may find other objects in the file than those that were checked. General readers forgive
//! much, each in its own way: they look for the end of a file as text, and search one that they take for broken for whatever looks
//! like an object. This one takes only what all of them must read alike, which is what savers write. A file that was added to at its
//! end (ISO 32000-1, 7.5.6) is not read: none of what it held before is sure to be out of sight.

mod marks;
mod reached;
mod sections;
mod token;
mod web;

use crate::words::findings::seal::SealFault;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use sections::{ObjectPlace, Section};
use std::collections::{BTreeMap, BTreeSet};
use thiserror::Error;
use token::Tokens;
use web::Web;

/// Most bytes that one stream may unfold to.
const MOST: usize = 64 << 20;

/// Most white space behind the end: readers look for it within the last bytes only.
const BEHIND: usize = 4;

/// Why a file is not taken.
#[derive(Debug, Clone, PartialEq, Error)]
#[error("{0}")]
pub(crate) struct Unclear(pub(crate) SealFault);

impl Unclear {
    fn at(place: usize) -> Self {
        Self(SealFault::UnreadAt { place })
    }
}

/// What was read.
pub(crate) struct Read {
    /// The objects.
    pub(crate) file: Document,
    /// The pages that the file names beside its tree, for readers on the web.
    pub(crate) pages: Option<Vec<ObjectId>>,
    /// The objects to which nothing leads.
    pub(crate) left: Vec<ObjectId>,
}

/// An object with its stream as it was found.
struct Found {
    id: ObjectId,
    object: Object,
}

/// What stands in a file, by its place.
struct Body {
    found: BTreeMap<usize, Found>,
    lengths: Vec<(usize, Length)>,
    tables: BTreeMap<usize, Section>,
    /// Where the last table stands.
    start: usize,
    web: Option<Web>,
}

/// Reads a file.
pub(crate) fn read(bytes: &[u8]) -> Result<Read, Unclear> {
    let Body { mut found, lengths, tables, start, web } = body(bytes)?;
    let (places, trailer) = sections::in_force(tables, start)?;
    let mut file = Document::new();
    file.trailer = trailer;
    let first = found.first_key_value().map(|(at, _)| *at);
    let mut containers = BTreeMap::new();
    let mut apart = BTreeSet::new();
    let mut pages = None;
    for (number, place) in &places {
        let ObjectPlace::At { offset } = place else { continue };
        let id = (*number, 0);
        let object = found.remove(offset).filter(|object| object.id == id);
        let object = object.ok_or(Unclear(SealFault::ObjectElsewhere { number: *number }))?.object;
        if is_of(&object, b"ObjStm") {
            containers.insert(*number, unpacked(&object)?);
            apart.insert(id);
        }
        if is_of(&object, b"XRef") {
            apart.insert(id);
        }
        if let Some(web) = &web {
            if web.hints() == *offset {
                pages = Some(web.pages(object.as_stream().map_err(|_| Unclear::at(*offset))?)?);
                apart.insert(id);
            } else if first == Some(*offset) {
                apart.insert(id);
            }
        }
        file.objects.insert(id, object);
    }
    // A table that is an object need not list itself.
    for other in found.into_values() {
        let number = other.id.0;
        if !is_of(&other.object, b"XRef")
            || places.get(&number).is_some_and(|place| !matches!(place, ObjectPlace::Free))
        {
            return Err(Unclear(SealFault::ObjectOutsideTable { number }));
        }
    }
    for (number, place) in &places {
        if let ObjectPlace::Within { container, index } = place {
            let object = containers.get_mut(container).and_then(|objects| objects.remove(index));
            let object = object.filter(|(found, _)| found == number).map(|(_, object)| object);
            let object = object.ok_or(Unclear(SealFault::ObjectElsewhere { number: *number }))?;
            file.objects.insert((*number, 0), object);
        }
    }
    if containers.values().any(|objects| !objects.is_empty()) {
        return Err(Unclear(SealFault::StreamOutsideTable));
    }
    must_be_as_long(&file, &lengths, bytes)?;
    if web.is_some() && pages.is_none() {
        return Err(Unclear(SealFault::WebWrong));
    }
    let left = reached::not_led_to(&file, &apart)?;
    Ok(Read { file, pages, left })
}

/// Reads a file from its first byte to its last.
fn body(bytes: &[u8]) -> Result<Body, Unclear> {
    let mut tokens = Tokens::new(bytes, 0);
    tokens.header()?;
    let (mut found, mut lengths, mut tables) = (BTreeMap::new(), Vec::new(), BTreeMap::new());
    let mut web = None;
    // Where readers are told to start, and how many objects and tables stand before that.
    let mut ends = Vec::new();
    loop {
        tokens.space();
        let at = tokens.at;
        if tokens.rest().is_empty() {
            break;
        }
        if tokens.word("xref") {
            tables.insert(at, Section::of_table(&mut tokens)?);
        } else if tokens.word("startxref") {
            ends.push((tokens.end()?, found.len(), tables.len(), tokens.at));
        } else {
            let (object, length) = indirect(&mut tokens)?;
            if found.is_empty() {
                web = Web::of(&object.object, bytes.len())?;
            }
            lengths.extend(length.map(|length| (at, length)));
            if is_of(&object.object, b"XRef") {
                tables.insert(at, Section::of_stream(&object.object)?);
            }
            found.insert(at, object);
        }
    }
    let mut numbers = BTreeSet::new();
    if let Some(twice) = found.values().find(|object: &&Found| !numbers.insert(object.id)) {
        return Err(Unclear(SealFault::ObjectTwice { number: twice.id.0 }));
    }
    let Some((start, objects, _, end)) = ends.pop() else { return Err(Unclear(SealFault::NoEnd)) };
    if objects != found.len() || end + BEHIND < bytes.len() {
        return Err(Unclear(SealFault::EndElsewhere));
    }
    // A file for the web has a second table behind its first object, which comes first, and an end that leads nowhere; savers
    // leave that out where the tables are streams.
    let first = tables.first_key_value().map(|(at, _)| *at);
    let is_for_the_web = || tables.len() == 2 && first == Some(start) && is_second(&found, start);
    let is_laid_out = match (ends.as_slice(), web.is_some()) {
        ([], false) => tables.len() == 1,
        ([], true) => is_for_the_web() && tables.keys().all(|at| found.contains_key(at)),
        ([(0, 1 | 2, 1, _)], true) => is_for_the_web(),
        _ => false,
    };
    if !is_laid_out {
        return Err(Unclear(SealFault::AddedTo));
    }
    marks::must_be_read(bytes, tokens.words())?;
    Ok(Body { found, lengths, tables, start, web })
}

/// Whether nothing but the first object stands before a place.
fn is_second(found: &BTreeMap<usize, Found>, place: usize) -> bool {
    found.range(..place).count() == 1
}

/// Where the length of a stream is said, and where its data begins.
struct Length {
    said: ObjectId,
    data: usize,
    up_to: usize,
}

/// An object with its number: `12 0 obj ... endobj`.
fn indirect(tokens: &mut Tokens) -> Result<(Found, Option<Length>), Unclear> {
    let number = tokens.count()?;
    tokens.space();
    // Readers do not agree on whether a generation counts; savers write none but the first.
    if tokens.count()? != 0 {
        return Err(tokens.unclear());
    }
    tokens.space();
    tokens.must("obj")?;
    let id = (u32::try_from(number).map_err(|_| tokens.unclear())?, 0);
    let mut object = tokens.object()?;
    tokens.space();
    let mut length = None;
    if let Object::Dictionary(dictionary) = &object
        && tokens.word("stream")
    {
        let (content, later) = data(tokens, dictionary)?;
        length = later;
        object = Object::Stream(Stream::new(dictionary.clone(), content));
        tokens.space();
    }
    tokens.must("endobj")?;
    Ok((Found { id, object }, length))
}

/// The bytes of a stream whose keyword was read.
fn data(tokens: &mut Tokens, dictionary: &Dictionary) -> Result<(Vec<u8>, Option<Length>), Unclear> {
    let rest = tokens.rest();
    let line_end = if rest.starts_with(b"\r\n") { 2 } else { 1 };
    if !rest.starts_with(b"\r\n") && !rest.starts_with(b"\n") {
        return Err(tokens.unclear());
    }
    tokens.at += line_end;
    let rest = tokens.rest();
    let (content, later) = match dictionary.get(b"Length") {
        Ok(Object::Integer(length)) => {
            let length = usize::try_from(*length).map_err(|_| tokens.unclear())?;
            (rest.get(..length).ok_or_else(|| tokens.unclear())?, None)
        }
        Ok(Object::Reference(said)) => {
            let end = find(rest, b"endstream").ok_or_else(|| tokens.unclear())?;
            let before = &rest[..end];
            let content = before.strip_suffix(b"\n").unwrap_or(before);
            let content = content.strip_suffix(b"\r").unwrap_or(content);
            (content, Some(Length { said: *said, data: tokens.at, up_to: tokens.at + end }))
        }
        _ => return Err(tokens.unclear()),
    };
    tokens.at += content.len();
    let rest = tokens.rest();
    let line_end = rest.iter().take(2).take_while(|byte| matches!(byte, b'\r' | b'\n')).count();
    tokens.at += line_end;
    tokens.must("endstream")?;
    Ok((content.to_vec(), later))
}

fn find(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).position(|window| window == wanted)
}

/// Cuts streams whose length is said elsewhere to it, where that leaves nothing but an end of line.
fn must_be_as_long(file: &Document, lengths: &[(usize, Length)], bytes: &[u8]) -> Result<(), Unclear> {
    for (at, Length { said, data, up_to }) in lengths {
        let length = file.objects.get(said).and_then(|object| object.as_i64().ok());
        let end = length.and_then(|length| usize::try_from(length).ok()).and_then(|length| data.checked_add(length));
        let left = end.and_then(|end| bytes.get(end..*up_to));
        if left.is_none_or(|left| !matches!(left, b"" | b"\n" | b"\r" | b"\r\n")) {
            return Err(Unclear::at(*at));
        }
    }
    Ok(())
}

fn is_of(object: &Object, kind: &[u8]) -> bool {
    object.as_stream().is_ok_and(|stream| stream.dict.has_type(kind))
}

/// The objects of an object stream by their place in it, each with its number.
fn unpacked(object: &Object) -> Result<BTreeMap<usize, (u32, Object)>, Unclear> {
    let unclear = || Unclear(SealFault::ObjectStreamUnread);
    let stream = object.as_stream().map_err(|_| unclear())?;
    let content = unfolded(stream)?;
    let said = |key: &[u8]| {
        let value = stream.dict.get(key).and_then(Object::as_i64).ok();
        value.and_then(|value| usize::try_from(value).ok()).ok_or_else(unclear)
    };
    let (count, first) = (said(b"N")?, said(b"First")?);
    if stream.dict.iter().any(|(key, _)| !OBJECTS.contains(&key.as_slice())) || first > content.len() {
        return Err(unclear());
    }
    let mut objects = BTreeMap::new();
    let mut head = Tokens::new(&content[..first], 0);
    let mut body = Tokens::new(&content, first);
    for index in 0..count {
        head.space();
        let number = u32::try_from(head.count()?).map_err(|_| unclear())?;
        head.space();
        let offset = first.checked_add(head.count()?).ok_or_else(unclear)?;
        body.space();
        if body.at != offset {
            return Err(unclear());
        }
        objects.insert(index, (number, body.object()?));
    }
    head.space();
    body.space();
    if head.rest().is_empty() && body.rest().is_empty() { Ok(objects) } else { Err(unclear()) }
}

/// Entries of a stream by which readers unpack it otherwise, or take it from elsewhere (7.3.8.2); short names of inline images, which
/// some take in any stream, among them (table 93).
const PACKED_OTHERWISE: [&[u8]; 5] = [b"DecodeParms", b"DP", b"F", b"FFilter", b"FDecodeParms"];

/// Entries of an object stream (7.5.7).
const OBJECTS: [&[u8]; 5] = [b"Type", b"N", b"First", b"Length", b"Filter"];

/// The content of a stream that is plain or deflated once (RFC 1950), whole and with nothing behind it.
pub(crate) fn unfolded(stream: &Stream) -> Result<Vec<u8>, Unclear> {
    if PACKED_OTHERWISE.iter().any(|key| stream.dict.has(key)) {
        return Err(Unclear(SealFault::PackingUnknown));
    }
    let filter = match stream.dict.get(b"Filter") {
        Err(_) | Ok(Object::Null) => return Ok(stream.content.clone()),
        Ok(Object::Array(filters)) if filters.is_empty() => return Ok(stream.content.clone()),
        Ok(Object::Array(filters)) if filters.len() == 1 => filters[0].as_name(),
        Ok(one) => one.as_name(),
    };
    if filter.ok() != Some(b"FlateDecode") {
        return Err(Unclear(SealFault::PackingUnknown));
    }
    inflate(&stream.content).ok_or(Unclear(SealFault::NotUnpacked))
}

fn inflate(packed: &[u8]) -> Option<Vec<u8>> {
    let mut inflater = flate2::Decompress::new(true);
    let mut content = Vec::with_capacity(packed.len().saturating_mul(4).clamp(1024, MOST));
    loop {
        let used = usize::try_from(inflater.total_in()).ok()?;
        let before = content.len();
        let status = inflater.decompress_vec(packed.get(used..)?, &mut content, flate2::FlushDecompress::None).ok()?;
        let used_now = usize::try_from(inflater.total_in()).ok()?;
        match status {
            flate2::Status::StreamEnd => {
                let is_blank = |byte: &u8| byte.is_ascii_whitespace();
                return packed.get(used_now..)?.iter().all(is_blank).then_some(content);
            }
            _ if content.len() > MOST => return None,
            _ if content.len() == content.capacity() => content.reserve(content.len().max(1024)),
            _ if used == used_now && before == content.len() => return None,
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use lopdf::dictionary;

    /// An object stream with object 7, the number 42, and one more entry.
    fn stream(key: &str, value: impl Into<Object>) -> Object {
        let mut dictionary = dictionary! { "Type" => "ObjStm", "N" => 1, "First" => 4 };
        dictionary.set(key, value);
        Stream::new(dictionary, b"7 0 42".to_vec()).into()
    }

    #[test]
    fn an_object_stream_says_in_one_way_how_it_is_packed() {
        let read = unpacked(&stream("N", 1)).unwrap();
        assert_eq!(read[&0].0, 7);
        // Some readers take the short names of inline images here too.
        let how = || dictionary! { "Predictor" => 12, "Columns" => 3 };
        for key in ["DP", "DecodeParms", "FDecodeParms"] {
            assert!(unpacked(&stream(key, how())).is_err(), "{key}");
        }
        for key in ["F", "FFilter", "Extends", "Anything"] {
            assert!(unpacked(&stream(key, "FlateDecode")).is_err(), "{key}");
        }
    }
}
