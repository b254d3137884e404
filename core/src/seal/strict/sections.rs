//! Where the objects of a file are (ISO 32000-1, 7.5.4 and 7.5.8). Two tables are taken only where neither changes what the other
//! says, as in a file for the web (Annex F).

use super::super::file_seal::FILE_KEY;
use super::token::Tokens;
use super::{Unclear, unfolded};
use crate::words::findings::seal::SealFault;
use lopdf::{Dictionary, Object, Stream};
use std::collections::BTreeMap;

/// Entries of a trailer; one says which file this is, and savers may keep it.
const TRAILER: [&[u8]; 12] = [
    b"Size",
    b"Root",
    b"Info",
    b"ID",
    b"Prev",
    FILE_KEY.as_bytes(),
    b"Type",
    b"W",
    b"Index",
    b"Filter",
    b"DecodeParms",
    b"Length",
];

/// Bytes of a row of a table in words (7.5.4).
const ROW: usize = 20;

/// Where an object is.
#[derive(Debug, Clone, Copy)]
pub(super) enum ObjectPlace {
    Free,
    At { offset: usize },
    Within { container: u32, index: usize },
}

/// One table of objects with its trailer.
pub(super) struct Section {
    places: Vec<(u32, ObjectPlace)>,
    trailer: Dictionary,
}

impl Section {
    /// A table in words, whose keyword was read.
    pub(super) fn of_table(tokens: &mut Tokens) -> Result<Self, Unclear> {
        let mut places = Vec::new();
        loop {
            tokens.space();
            if tokens.word("trailer") {
                let Object::Dictionary(trailer) = tokens.object()? else { return Err(tokens.unclear()) };
                return Ok(Self { places, trailer });
            }
            let first = u32::try_from(tokens.count()?).map_err(|_| tokens.unclear())?;
            tokens.space();
            let rows = tokens.count()?;
            tokens.line_end()?;
            for number in (u64::from(first)..).take(rows) {
                let row = row(tokens.rest()).ok_or_else(|| tokens.unclear())?;
                tokens.at += ROW;
                places.push((u32::try_from(number).map_err(|_| tokens.unclear())?, row));
            }
        }
    }

    /// A table in a stream.
    pub(super) fn of_stream(object: &Object) -> Result<Self, Unclear> {
        let unclear = || Unclear(SealFault::TableUnread);
        let stream = object.as_stream().map_err(|_| unclear())?;
        let numbers = |key: &[u8]| -> Result<Vec<usize>, Unclear> {
            let array = stream.dict.get(key).and_then(Object::as_array).map_err(|_| unclear())?;
            let whole = |item: &Object| item.as_i64().ok().and_then(|number| usize::try_from(number).ok());
            array.iter().map(whole).collect::<Option<_>>().ok_or_else(unclear)
        };
        let widths = numbers(b"W")?;
        let size = stream.dict.get(b"Size").and_then(Object::as_i64).ok().and_then(|size| usize::try_from(size).ok());
        let spans = if stream.dict.has(b"Index") { numbers(b"Index")? } else { vec![0, size.ok_or_else(unclear)?] };
        let content = rows(stream, widths.iter().sum())?;
        let &[kind, second, third] = widths.as_slice() else { return Err(unclear()) };
        if kind > 1 || second > 8 || third > 8 || second == 0 || spans.len() % 2 != 0 {
            return Err(unclear());
        }
        let mut rows = content.chunks_exact(kind + second + third);
        let number_of = |bytes: &[u8]| bytes.iter().fold(0_usize, |number, byte| (number << 8) | usize::from(*byte));
        let mut places = Vec::new();
        for span in spans.chunks_exact(2) {
            let first = u32::try_from(span[0]).map_err(|_| unclear())?;
            for number in (u64::from(first)..).take(span[1]) {
                let row = rows.next().ok_or_else(unclear)?;
                let (head, tail) = row.split_at(kind);
                let (second, third) = (number_of(&tail[..second]), number_of(&tail[second..]));
                let place = match if kind == 0 { 1 } else { number_of(head) } {
                    0 => ObjectPlace::Free,
                    1 if third == 0 => ObjectPlace::At { offset: second },
                    2 => ObjectPlace::Within { container: u32::try_from(second).map_err(|_| unclear())?, index: third },
                    _ => return Err(unclear()),
                };
                places.push((u32::try_from(number).map_err(|_| unclear())?, place));
            }
        }
        if rows.next().is_some() || !rows.remainder().is_empty() {
            return Err(unclear());
        }
        Ok(Self { places, trailer: stream.dict.clone() })
    }
}

/// One row of a table in words, which has its own length: readers count bytes and not words.
fn row(bytes: &[u8]) -> Option<ObjectPlace> {
    let (offset, rest) = bytes.get(..ROW)?.split_at(10);
    let (generation, end) = rest.strip_prefix(b" ")?.split_at(5);
    let number = |digits: &[u8]| {
        let text = std::str::from_utf8(digits).ok().filter(|text| text.bytes().all(|byte| byte.is_ascii_digit()));
        text.and_then(|text| text.parse::<usize>().ok())
    };
    match (end, number(offset)?, number(generation)?) {
        (b" n \n" | b" n\r\n" | b" n \r", offset, 0) => Some(ObjectPlace::At { offset }),
        (b" f \n" | b" f\r\n" | b" f \r", ..) => Some(ObjectPlace::Free),
        _ => None,
    }
}

/// The rows of a table in a stream, each so many bytes, as savers pack them: plain, or with a PNG predictor before deflate.
fn rows(stream: &Stream, width: usize) -> Result<Vec<u8>, Unclear> {
    let unclear = || Unclear(SealFault::TableUnread);
    let Ok(how) = stream.dict.get(b"DecodeParms") else { return unfolded(stream) };
    let how = how.as_dict().map_err(|_| unclear())?;
    let number = |key: &[u8]| how.get(key).and_then(Object::as_i64).ok();
    let is_known = how.iter().all(|(key, _)| matches!(key.as_slice(), b"Predictor" | b"Columns"));
    let columns = number(b"Columns").and_then(|columns| usize::try_from(columns).ok());
    if !is_known || columns != Some(width) || !matches!(number(b"Predictor"), Some(10..=15)) {
        return Err(unclear());
    }
    let mut packed = stream.clone();
    packed.dict.remove(b"DecodeParms");
    // Whole and with nothing behind it.
    unfolded(&packed)?;
    stream.decompressed_content().map_err(|_| unclear())
}

/// Checks that a trailer can be read in one way.
fn must_be_clear(trailer: &Dictionary) -> Result<(), Unclear> {
    if let Some((key, _)) = trailer.iter().find(|(key, _)| !TRAILER.contains(&key.as_slice())) {
        return Err(Unclear(SealFault::TrailerHas { key: String::from_utf8_lossy(key).into_owned() }));
    }
    let is_as_usual = |(key, value): (&Vec<u8>, &Object)| match key.as_slice() {
        b"Size" | b"Prev" => value.as_i64().is_ok(),
        b"Root" | b"Info" => value.as_reference().is_ok(),
        b"ID" => value.as_array().is_ok_and(|parts| parts.iter().all(|part| part.as_str().is_ok())),
        _ => true,
    };
    if trailer.iter().all(is_as_usual) { Ok(()) } else { Err(Unclear(SealFault::TrailerUnread)) }
}

/// The tables that are in force, from the one where a reader starts: where each object is, and the trailer.
pub(super) fn in_force(
    mut tables: BTreeMap<usize, Section>,
    start: usize,
) -> Result<(BTreeMap<u32, ObjectPlace>, Dictionary), Unclear> {
    let mut places: BTreeMap<u32, ObjectPlace> = BTreeMap::new();
    let mut trailer: Option<Dictionary> = None;
    let mut next = Some(start);
    while let Some(at) = next {
        let section = tables.remove(&at).ok_or(Unclear(SealFault::TableElsewhere))?;
        must_be_clear(&section.trailer)?;
        for (number, place) in section.places {
            let before = places.insert(number, place);
            if before
                .is_some_and(|before| number != 0 || !matches!((before, place), (ObjectPlace::Free, ObjectPlace::Free)))
            {
                return Err(Unclear(SealFault::PlacedTwice { number }));
            }
        }
        let prev = section.trailer.get(b"Prev").and_then(Object::as_i64).ok();
        let unclear = |_| Unclear(SealFault::TablesNotInOrder);
        next = prev.map(usize::try_from).transpose().map_err(unclear)?;
        match &trailer {
            Some(first) => {
                let differs =
                    |key: &[u8]| section.trailer.get(key).is_ok_and(|value| first.get(key).ok() != Some(value));
                if differs(b"Root") || differs(b"Info") {
                    return Err(Unclear(SealFault::TablesDisagree));
                }
            }
            None => trailer = Some(section.trailer),
        }
    }
    if !tables.is_empty() {
        return Err(Unclear(SealFault::IdleTable));
    }
    let trailer = trailer.ok_or(Unclear(SealFault::NoTrailer))?;
    let size = trailer.get(b"Size").and_then(Object::as_i64).map_err(|_| Unclear(SealFault::NoSize))?;
    match places.last_key_value() {
        Some((last, _)) if i64::from(*last) < size => Ok((places, trailer)),
        // Readers take what is beyond the size for nothing, or not.
        _ => Err(Unclear(SealFault::MoreObjects)),
    }
}
