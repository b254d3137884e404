//! The stream of a page's code: its account in comments, then the symbol.

use super::links::{Bookmark, NEAR, Spot, written};
use super::page::Shown;
use crate::seal::symbol::symbol;
use qrcodegen::DataTooLong;
use sha2::{Digest, Sha256};

/// First line of the stream.
const HEAD: &str = "%matchmark page 2";

/// What a page signs of what may be missing from a file.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Account {
    /// What the file says as a whole, in words divided by spaces.
    pub(crate) document: String,
    /// Links: four corners, points, and the number of the page to which each leads.
    links: Vec<([f32; 4], u16)>,
    /// A hash of the title of each entry of the outline that leads to the page.
    bookmarks: Vec<String>,
}

/// The stream of a code, read.
pub(super) struct CodeStream<'a> {
    /// What the symbol says: address and code.
    pub(super) text: &'a str,
    pub(super) account: Account,
    /// Where the symbol stands: six numbers.
    placement: &'a str,
}

impl Account {
    /// Of a page of a file that says this as a whole.
    pub(crate) fn of(document: String) -> Self {
        Self { document, ..Self::default() }
    }

    pub(crate) fn link(&mut self, rectangle: [f32; 4], page: u16) {
        self.links.push((rectangle, page));
    }

    pub(crate) fn bookmark(&mut self, title: &str) {
        self.bookmarks.push(title_hash(title));
    }

    /// Whether a link was signed; `page` is the number of the page that it leads to, `None` when that is not in the file.
    pub(crate) fn has_link(&self, spot: &Spot, page: Option<u16>) -> bool {
        self.links.iter().any(|(rectangle, to)| {
            let is_near = rectangle.iter().zip(spot.rectangle).all(|(a, b)| (a - b).abs() <= NEAR);
            is_near && page.is_none_or(|page| page == *to)
        })
    }

    /// Whether an entry of the outline was signed.
    pub(crate) fn has_bookmark(&self, bookmark: &Bookmark) -> bool {
        self.bookmarks.contains(&title_hash(&bookmark.title))
    }

    fn lines(&self) -> String {
        let mut lines = format!("%document {}\n", self.document);
        for (rectangle, page) in &self.links {
            lines.push_str(&format!("%link {} {page}\n", written(*rectangle)));
        }
        for bookmark in &self.bookmarks {
            lines.push_str(&format!("%bookmark {bookmark}\n"));
        }
        lines
    }

    fn read(lines: &[&str]) -> Option<Self> {
        let mut account = Self::default();
        for line in lines {
            match line.split_once(' ')? {
                ("%document", document) => account.document = document.to_owned(),
                ("%link", link) => {
                    let (rectangle, page) = link.rsplit_once(' ')?;
                    let sides: Vec<f32> = rectangle.split(' ').map(str::parse).collect::<Result<_, _>>().ok()?;
                    account.links.push((sides.try_into().ok()?, page.parse().ok()?));
                }
                ("%bookmark", hash) => account.bookmarks.push(hash.to_owned()),
                _ => return None,
            }
        }
        Some(account)
    }

    /// The hash that a page's code holds. `address` is what stands before the code.
    pub(crate) fn signed(&self, shown: &Shown, placement: &str, address: &str) -> String {
        let mut list = format!("matchmark page 2\n{address}\n{placement}\n{}{}\n", self.lines(), shown.frame.words());
        list.push_str(&format!("resources {}\n", hex(&shown.resources)));
        for stream in &shown.streams {
            list.push_str(&format!("stream {}\n", hex(stream)));
        }
        hex(&Sha256::digest(list))
    }

    /// The stream that draws a code.
    pub(crate) fn stream(&self, text: &str, placement: &str) -> Result<Vec<u8>, DataTooLong> {
        let mut stream = format!("{HEAD}\n%{text}\n{}", self.lines()).into_bytes();
        stream.extend(symbol(text, placement)?);
        Ok(stream)
    }
}

impl<'a> CodeStream<'a> {
    /// Whether one begins somewhere in these bytes.
    pub(super) fn is_within(bytes: &[u8]) -> bool {
        bytes.windows(HEAD.len()).any(|window| window == HEAD.as_bytes())
    }

    /// Reads the stream of a code; `None` when it is none.
    pub(super) fn read(bytes: &'a [u8]) -> Option<Self> {
        let head = bytes.windows(3).position(|window| window == b"\nq\n")?;
        let mut lines: Vec<&str> = std::str::from_utf8(bytes.get(..head)?).ok()?.split('\n').collect();
        let drawn = bytes.get(head + 3..)?;
        let end = drawn.iter().position(|byte| *byte == b'\n')?;
        let placement = std::str::from_utf8(drawn.get(..end)?).ok()?.strip_suffix(" cm")?;
        if lines.len() < 2 || lines.remove(0) != HEAD {
            return None;
        }
        let text = lines.remove(0).strip_prefix('%')?;
        Some(Self { text, account: Account::read(&lines)?, placement })
    }

    /// What stands before the code.
    fn address(&self) -> &'a str {
        self.text.rfind('/').and_then(|slash| self.text.get(..=slash)).unwrap_or_default()
    }

    /// The hash that its code must hold on a page that shows this.
    pub(super) fn signed(&self, shown: &Shown) -> String {
        self.account.signed(shown, self.placement, self.address())
    }

    /// Whether these bytes are what is written for what was read of them.
    pub(super) fn is(&self, bytes: &[u8]) -> bool {
        self.account.stream(self.text, self.placement).is_ok_and(|stream| stream == bytes)
    }
}

fn title_hash(title: &str) -> String {
    let mut hash = hex(&Sha256::digest(title));
    hash.truncate(32);
    hash
}

fn hex(bytes: &[u8]) -> String {
    data_encoding::HEXLOWER.encode(bytes)
}
