//! The objects of a file as they are written (ISO 32000-1, 7.2 and 7.3), and nothing that two readers could take differently.

use super::Unclear;
use crate::words::findings::seal::SealFault;
use lopdf::{Dictionary, Object, StringFormat};
use std::collections::HashSet;

/// How deep arrays and dictionaries may lie in each other.
const DEEPEST: usize = 32;

/// Reads on through some bytes.
pub(super) struct Tokens<'a> {
    bytes: &'a [u8],
    /// Where it reads next.
    pub(super) at: usize,
    /// Where words were read.
    words: HashSet<usize>,
}

type Read<T> = Result<T, Unclear>;

impl<'a> Tokens<'a> {
    pub(super) fn new(bytes: &'a [u8], at: usize) -> Self {
        Self { bytes, at, words: HashSet::new() }
    }

    /// Where words were read.
    pub(super) fn words(&self) -> &HashSet<usize> {
        &self.words
    }

    pub(super) fn rest(&self) -> &'a [u8] {
        self.bytes.get(self.at..).unwrap_or_default()
    }

    fn next(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    /// Past white space. Comments are none: a reader that searches a file finds words in them.
    pub(super) fn space(&mut self) {
        self.at += self.rest().iter().take_while(|byte| is_space(**byte)).count();
    }

    /// Past the header and the comments below it, by which programs say that the file is binary and who wrote it.
    pub(super) fn header(&mut self) -> Read<()> {
        if !matches!(self.rest(), [b'%', b'P', b'D', b'F', b'-', b'1' | b'2', b'.', b'0'..=b'9', b'\r' | b'\n', ..]) {
            return Err(self.unclear());
        }
        while self.next() == Some(b'%') {
            self.at += self.rest().iter().take_while(|byte| !matches!(byte, b'\r' | b'\n')).count();
            self.space();
        }
        Ok(())
    }

    /// The number behind the last word of a file, and the mark of its end, which savers put on lines of their own.
    pub(super) fn end(&mut self) -> Read<usize> {
        self.line_end()?;
        let start = self.count()?;
        self.line_end()?;
        self.must("%%EOF")?;
        Ok(start)
    }

    /// Past the end of a line.
    pub(super) fn line_end(&mut self) -> Read<()> {
        let ends: [&[u8]; 6] = [b" \r\n", b" \n", b" \r", b"\r\n", b"\n", b"\r"];
        let end = ends.into_iter().find(|end| self.rest().starts_with(end)).ok_or_else(|| self.unclear())?;
        self.at += end.len();
        Ok(())
    }

    /// Past a word, if that is what comes next.
    pub(super) fn word(&mut self, word: &str) -> bool {
        let rest = self.rest();
        let ends = rest.get(word.len()).is_none_or(|byte| !is_regular(*byte));
        let is_there = rest.starts_with(word.as_bytes()) && ends;
        if is_there {
            self.words.insert(self.at);
            self.at += word.len();
        }
        is_there
    }

    pub(super) fn must(&mut self, word: &str) -> Read<()> {
        if self.word(word) { Ok(()) } else { Err(self.unclear()) }
    }

    /// A whole number without a sign.
    pub(super) fn count(&mut self) -> Read<usize> {
        let digits: &[u8] = self.regular();
        let number = std::str::from_utf8(digits).ok().filter(|text| text.bytes().all(|byte| byte.is_ascii_digit()));
        let number = number.and_then(|text| text.parse().ok()).ok_or_else(|| self.unclear())?;
        self.at += digits.len();
        Ok(number)
    }

    /// What stands up to the next space or delimiter.
    fn regular(&self) -> &'a [u8] {
        let rest = self.rest();
        let end = rest.iter().position(|byte| !is_regular(*byte)).unwrap_or(rest.len());
        &rest[..end]
    }

    pub(super) fn object(&mut self) -> Read<Object> {
        self.deeper(DEEPEST)
    }

    fn deeper(&mut self, left: usize) -> Read<Object> {
        if left == 0 {
            return Err(Unclear(SealFault::TooDeep));
        }
        self.space();
        match self.next() {
            Some(b'/') => self.name().map(Object::Name),
            Some(b'(') => self.literal(),
            Some(b'<') if self.rest().starts_with(b"<<") => self.dictionary(left).map(Object::Dictionary),
            Some(b'<') => self.hexadecimal(),
            Some(b'[') => self.array(left),
            Some(b'0'..=b'9' | b'+' | b'-' | b'.') => self.number(),
            _ if self.word("true") => Ok(Object::Boolean(true)),
            _ if self.word("false") => Ok(Object::Boolean(false)),
            _ if self.word("null") => Ok(Object::Null),
            _ => Err(self.unclear()),
        }
    }

    fn name(&mut self) -> Read<Vec<u8>> {
        self.at += 1;
        let written = self.regular();
        let mut name = Vec::with_capacity(written.len());
        let mut bytes = written.iter();
        while let Some(byte) = bytes.next() {
            name.push(match byte {
                b'#' => {
                    let digits = [bytes.next().copied(), bytes.next().copied()].map(Option::unwrap_or_default);
                    let code = data_encoding::HEXLOWER_PERMISSIVE.decode(&digits).map_err(|_| self.unclear())?;
                    code.first().copied().ok_or_else(|| self.unclear())?
                }
                byte => *byte,
            });
        }
        self.at += written.len();
        Ok(name)
    }

    fn literal(&mut self) -> Read<Object> {
        let mut text = Vec::new();
        let mut open = 0_usize;
        loop {
            let byte = self.next().ok_or_else(|| self.unclear())?;
            self.at += 1;
            match byte {
                b'(' => {
                    open += 1;
                    if open > 1 {
                        text.push(byte);
                    }
                }
                b')' => {
                    open -= 1;
                    if open == 0 {
                        return Ok(Object::String(text, StringFormat::Literal));
                    }
                    text.push(byte);
                }
                b'\r' => {
                    self.line_feed();
                    text.push(b'\n');
                }
                b'\\' => text.extend(self.escape()?),
                byte => text.push(byte),
            }
        }
    }

    /// Past the line feed of an end of line that a carriage return began.
    fn line_feed(&mut self) {
        if self.next() == Some(b'\n') {
            self.at += 1;
        }
    }

    fn escape(&mut self) -> Read<Option<u8>> {
        let byte = self.next().ok_or_else(|| self.unclear())?;
        self.at += 1;
        Ok(Some(match byte {
            b'n' => b'\n',
            b'r' => b'\r',
            b't' => b'\t',
            b'b' => 8,
            b'f' => 12,
            b'\n' => return Ok(None),
            b'\r' => {
                self.line_feed();
                return Ok(None);
            }
            b'0'..=b'7' => {
                let digits = self.rest().iter().take(2).take_while(|byte| matches!(byte, b'0'..=b'7')).count();
                let code = self.bytes[self.at - 1..self.at + digits]
                    .iter()
                    .fold(0_u32, |code, digit| 8 * code + u32::from(digit - b'0'));
                self.at += digits;
                u8::try_from(code).map_err(|_| self.unclear())?
            }
            byte => byte,
        }))
    }

    fn hexadecimal(&mut self) -> Read<Object> {
        let end = self.rest().iter().position(|byte| *byte == b'>').ok_or_else(|| self.unclear())?;
        let mut digits: Vec<u8> = self.rest()[1..end].iter().copied().filter(|byte| !is_space(*byte)).collect();
        if digits.len() % 2 == 1 {
            digits.push(b'0');
        }
        let bytes = data_encoding::HEXLOWER_PERMISSIVE.decode(&digits).map_err(|_| self.unclear())?;
        self.at += end + 1;
        Ok(Object::String(bytes, StringFormat::Hexadecimal))
    }

    fn array(&mut self, left: usize) -> Read<Object> {
        self.at += 1;
        let mut items = Vec::new();
        loop {
            self.space();
            if self.next() == Some(b']') {
                self.at += 1;
                return Ok(Object::Array(items));
            }
            items.push(self.deeper(left - 1)?);
        }
    }

    fn dictionary(&mut self, left: usize) -> Read<Dictionary> {
        self.at += 2;
        let mut dictionary = Dictionary::new();
        loop {
            self.space();
            if self.rest().starts_with(b">>") {
                self.at += 2;
                return Ok(dictionary);
            }
            if self.next() != Some(b'/') {
                return Err(self.unclear());
            }
            let name = self.name()?;
            let value = self.deeper(left - 1)?;
            if dictionary.has(&name) {
                let name = String::from_utf8_lossy(&name).into_owned();
                return Err(Unclear(SealFault::NameTwice { name }));
            }
            dictionary.set(name, value);
        }
    }

    /// A number, or a reference that begins with one.
    fn number(&mut self) -> Read<Object> {
        let written = self.regular();
        let text = std::str::from_utf8(written).map_err(|_| self.unclear())?;
        let digits = text.strip_prefix(['+', '-']).unwrap_or(text);
        let is_number = digits.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.')
            && digits.bytes().any(|byte| byte.is_ascii_digit())
            && digits.bytes().filter(|byte| *byte == b'.').count() < 2;
        if !is_number {
            return Err(self.unclear());
        }
        let start = self.at;
        self.at += written.len();
        if text.contains('.') {
            return text.parse().map(Object::Real).map_err(|_| Unclear::at(start));
        }
        let number: i64 = text.parse().map_err(|_| Unclear::at(start))?;
        Ok(self.reference(number).unwrap_or(Object::Integer(number)))
    }

    /// The rest of a reference whose first number was read.
    fn reference(&mut self, number: i64) -> Option<Object> {
        let mut ahead = Self::new(self.bytes, self.at);
        ahead.space();
        let generation = ahead.count().ok()?;
        ahead.space();
        if !ahead.word("R") {
            return None;
        }
        let id = (u32::try_from(number).ok()?, u16::try_from(generation).ok()?);
        self.at = ahead.at;
        Some(Object::Reference(id))
    }

    pub(super) fn unclear(&self) -> Unclear {
        Unclear::at(self.at)
    }
}

pub(super) fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | b'\t' | b'\n' | 12 | b'\r' | b' ')
}

fn is_regular(byte: u8) -> bool {
    !is_space(byte) && !b"()<>[]{}/%".contains(&byte)
}
