//! Where the objects of a file are (ISO 32000-1, 7.5.4 and 7.5.8). Several tables are taken only where none changes what another
//! says, as in a file for the web (Annex F).

use super::super::file_seal::FILE_KEY;
use super::Unclear;
use super::token::Tokens;
use lopdf::{Dictionary, Object};
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

/// Where an object is.
#[derive(Debug, Clone, Copy)]
pub(super) enum Place {
    Free,
    At { offset: usize, generation: u16 },
    Within { container: u32, index: usize },
}

/// One table of objects with its trailer.
pub(super) struct Section {
    places: Vec<(u32, Place)>,
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
            for number in (u64::from(first)..).take(tokens.count()?) {
                tokens.space();
                let offset = tokens.count()?;
                tokens.space();
                let generation = tokens.count()?;
                tokens.space();
                let place = if tokens.word("n") {
                    Place::At { offset, generation: u16::try_from(generation).map_err(|_| tokens.unclear())? }
                } else {
                    tokens.must("f")?;
                    Place::Free
                };
                places.push((u32::try_from(number).map_err(|_| tokens.unclear())?, place));
            }
        }
    }

    /// A table in a stream.
    pub(super) fn of_stream(object: &Object) -> Result<Self, Unclear> {
        let unclear = || Unclear::new("its table of objects cannot be read");
        let stream = object.as_stream().map_err(|_| unclear())?;
        let content = stream.decompressed_content().map_err(|_| unclear())?;
        let numbers = |key: &[u8]| -> Result<Vec<usize>, Unclear> {
            let array = stream.dict.get(key).and_then(Object::as_array).map_err(|_| unclear())?;
            let whole = |item: &Object| item.as_i64().ok().and_then(|number| usize::try_from(number).ok());
            array.iter().map(whole).collect::<Option<_>>().ok_or_else(unclear)
        };
        let widths = numbers(b"W")?;
        let size = stream.dict.get(b"Size").and_then(Object::as_i64).ok().and_then(|size| usize::try_from(size).ok());
        let spans = if stream.dict.has(b"Index") { numbers(b"Index")? } else { vec![0, size.ok_or_else(unclear)?] };
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
                    0 => Place::Free,
                    1 => Place::At { offset: second, generation: u16::try_from(third).map_err(|_| unclear())? },
                    2 => Place::Within { container: u32::try_from(second).map_err(|_| unclear())?, index: third },
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

/// The tables that are in force, from the one where a reader starts: where each object is, and the trailer.
pub(super) fn in_force(
    mut tables: BTreeMap<usize, Section>,
    start: usize,
) -> Result<(BTreeMap<u32, Place>, Dictionary), Unclear> {
    let mut places: BTreeMap<u32, Place> = BTreeMap::new();
    let mut trailer: Option<Dictionary> = None;
    let mut next = Some(start);
    while let Some(at) = next {
        let section = tables.remove(&at).ok_or_else(|| Unclear::new("its table of objects is not where it says"))?;
        if let Some((key, _)) = section.trailer.iter().find(|(key, _)| !TRAILER.contains(&key.as_slice())) {
            return Err(Unclear(format!("its trailer has /{}", String::from_utf8_lossy(key))));
        }
        for (number, place) in section.places {
            let before = places.insert(number, place);
            if before.is_some_and(|before| number != 0 || !matches!((before, place), (Place::Free, Place::Free))) {
                return Err(Unclear(format!(
                    "it was added to after it was written, and says twice where object {number} is"
                )));
            }
        }
        let prev = section.trailer.get(b"Prev").and_then(Object::as_i64).ok();
        let unclear = |_| Unclear::new("its tables do not follow each other");
        next = prev.map(usize::try_from).transpose().map_err(unclear)?;
        match &trailer {
            Some(first) if section.trailer.get(b"Root").is_ok_and(|root| first.get(b"Root").ok() != Some(root)) => {
                return Err(Unclear::new("its tables disagree on where it begins"));
            }
            Some(_) => {}
            None => trailer = Some(section.trailer),
        }
    }
    if !tables.is_empty() {
        return Err(Unclear::new("it holds a table of objects that is not in force"));
    }
    trailer.map(|trailer| (places, trailer)).ok_or_else(|| Unclear::new("it has no trailer"))
}
