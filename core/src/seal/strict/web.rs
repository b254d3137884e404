//! A file that is laid out for the web (ISO 32000-1, Annex F): its first object says where its first page is and, in hints, where
//! the others are. Some readers go by that and not by the tree of pages, so it must lead to the same pages.

use super::{Unclear, unfolded};
use crate::words::findings::seal::SealFault;
use lopdf::{Object, ObjectId, Stream};

/// What its first object says.
const KEYS: [&[u8]; 7] = [b"Linearized", b"L", b"H", b"O", b"E", b"N", b"T"];

/// Bytes of the head of the hints to pages (table F.3).
const HEAD: usize = 36;

/// Where such a file says that its pages are.
pub(crate) struct Web {
    first: usize,
    pages: usize,
    hints: usize,
}

fn broken() -> Unclear {
    Unclear(SealFault::WebWrong)
}

impl Web {
    /// What the first object of a file says, if it is laid out so.
    pub(super) fn of(first: &Object, length: usize) -> Result<Option<Self>, Unclear> {
        let Some(said) = first.as_dict().ok().filter(|said| said.has(b"Linearized")) else { return Ok(None) };
        let number = |value: Option<&Object>| {
            let value = value.and_then(|value| value.as_i64().ok());
            value.and_then(|value| usize::try_from(value).ok()).ok_or_else(broken)
        };
        let hints = said.get(b"H").and_then(Object::as_array).map_err(|_| broken())?;
        let entry = |key: &[u8]| number(said.get(key).ok());
        if said.iter().any(|(key, _)| !KEYS.contains(&key.as_slice())) || hints.len() != 2 || entry(b"L")? != length {
            return Err(broken());
        }
        Ok(Some(Self { first: entry(b"O")?, pages: entry(b"N")?, hints: number(hints.first())? }))
    }

    /// Where the object with the hints stands.
    pub(super) fn hints(&self) -> usize {
        self.hints
    }

    /// The numbers of its pages in their order (Annex F.4.1): the first by itself, the others from 1 on with all that belongs to
    /// each.
    pub(super) fn pages(&self, hints: &Stream) -> Result<Vec<ObjectId>, Unclear> {
        let content = unfolded(hints)?;
        let word = |at: usize, length: usize| {
            let bytes = content.get(at..at + length).ok_or_else(broken)?;
            Ok::<_, Unclear>(bytes.iter().fold(0_u64, |number, byte| (number << 8) | u64::from(*byte)))
        };
        let (least, width) = (word(0, 4)?, usize::try_from(word(8, 2)?).map_err(|_| broken())?);
        let rows = content.get(HEAD..).ok_or_else(broken)?;
        if width > 32 || self.pages.saturating_mul(width) > rows.len().saturating_mul(8) || self.pages > 1 << 16 {
            return Err(broken());
        }
        let bit = |place: usize| u64::from(rows[place / 8] >> (7 - place % 8) & 1);
        let more = |page: usize| (page * width..(page + 1) * width).fold(0, |number, place| (number << 1) | bit(place));
        let mut next = 1;
        let mut pages = vec![u64::try_from(self.first).map_err(|_| broken())?];
        for page in 1..self.pages {
            pages.push(next);
            next += least + more(page);
        }
        let id = |number: u64| u32::try_from(number).map(|number| (number, 0)).map_err(|_| broken());
        pages.into_iter().map(id).collect()
    }
}
