//! The records of a file: found once, read when asked for.

use super::lexer::{Fault, Lexer, Token, plain};
use crate::report::Code;
use crate::words::step::{Breach, StepFault};
use matchmark_core::{Stop, Stopped};
use std::collections::BTreeMap;

/// Deepest nesting of lists in a record.
const DEEPEST: usize = 24;
/// Most records of a file.
const MOST_RECORDS: usize = 4_000_000;

/// A value of a record.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// `#12`.
    Reference(u64),
    /// A number.
    Number(f64),
    /// A string.
    Text(String),
    /// A word between points.
    Word(String),
    /// A list.
    List(Vec<Value>),
    /// A typed value such as `LENGTH_MEASURE(25.4)`.
    Typed(String, Vec<Value>),
    /// `$` or `*`.
    Unset,
}

impl Value {
    /// The number of the record that is meant.
    pub fn reference(&self) -> Option<u64> {
        if let Self::Reference(id) = self { Some(*id) } else { None }
    }

    /// The number, also inside a typed value.
    pub fn number(&self) -> Option<f64> {
        match self {
            Self::Number(number) => Some(*number),
            Self::Typed(_, inside) => inside.first().and_then(Self::number),
            _ => None,
        }
    }

    /// The items of a list; none where it is no list.
    pub fn items(&self) -> &[Self] {
        if let Self::List(items) = self { items } else { &[] }
    }

    /// References among the items of a list.
    pub fn references(&self) -> Vec<u64> {
        self.items().iter().filter_map(Self::reference).collect()
    }

    /// The text.
    pub fn text(&self) -> &str {
        if let Self::Text(text) = self { text } else { "" }
    }

    /// True for `.T.`.
    pub fn is_true(&self) -> bool {
        matches!(self, Self::Word(word) if word == "T")
    }
}

/// A record: one entity, or a complex one of several.
#[derive(Debug, Clone, Default)]
pub struct Record {
    parts: Vec<(String, Vec<Value>)>,
}

impl Record {
    /// Name of a simple entity; the first of a complex one.
    pub fn name(&self) -> &str {
        self.parts.first().map_or("", |(name, _)| name)
    }

    /// Whether it is, or has among its parts, one of this name.
    pub fn is(&self, name: &str) -> bool {
        self.parts.iter().any(|(own, _)| own == name)
    }

    /// Attributes of the part of this name; none where there is no such part.
    pub fn part(&self, name: &str) -> &[Value] {
        self.parts.iter().find(|(own, _)| own == name).map_or(&[], |(_, values)| values)
    }

    /// Attributes of a simple entity.
    pub fn values(&self) -> &[Value] {
        self.parts.first().map_or(&[], |(_, values)| values)
    }

    /// One attribute of a simple entity; unset where it has fewer.
    pub fn value(&self, index: usize) -> &Value {
        self.values().get(index).unwrap_or(&Value::Unset)
    }

    /// The record that one attribute refers to.
    pub fn reference(&self, index: usize) -> Option<u64> {
        self.value(index).reference()
    }
}

/// All records of a file.
#[derive(Debug)]
pub struct Exchange<'a> {
    bytes: &'a [u8],
    /// Number of a record and where its right side begins, sorted by number.
    places: Vec<(u64, usize)>,
    /// Numbers of records by name. Complex ones stand under each name of a part.
    by_name: BTreeMap<&'a [u8], Vec<u64>>,
}

impl<'a> Exchange<'a> {
    /// Finds all records. Their insides are looked at only as far as needed to find the ends.
    pub fn index(bytes: &'a [u8], stop: Stop<'_>) -> Result<Result<Self, Fault>, Stopped> {
        let mut exchange = Self { bytes, places: Vec::new(), by_name: BTreeMap::new() };
        let read = exchange.read_all(stop);
        stop.check()?;
        Ok(read.map(|()| exchange))
    }

    fn read_all(&mut self, stop: Stop<'_>) -> Result<(), Fault> {
        let mut lexer = Lexer::new(self.bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(self.bytes), 0);
        let offset = if self.bytes.starts_with(b"\xef\xbb\xbf") { 3 } else { 0 };
        self.bytes = &self.bytes[offset..];
        let mut token = lexer.next()?;
        if token != Some(Token::Keyword(b"ISO-10303-21")) {
            return Err(if token.is_none() { lexer.truncated() } else { lexer.malformed(Breach::NoBegin) });
        }
        let mut count = 0_u32;
        loop {
            count = count.wrapping_add(1);
            if count.is_multiple_of(65_536) && stop.asked() {
                return Ok(());
            }
            token = lexer.next()?;
            match token {
                None => return Err(lexer.truncated()),
                Some(Token::Keyword(b"END-ISO-10303-21")) => break,
                Some(Token::Reference(id)) => {
                    if lexer.next()? != Some(Token::Sign(b'=')) {
                        return Err(lexer.malformed(Breach::NumberWithoutRecord));
                    }
                    if self.places.len() >= MOST_RECORDS {
                        return Err(lexer.malformed(Breach::TooManyRecords));
                    }
                    self.places.push((id, lexer.at()));
                    self.name_parts(id, &mut lexer)?;
                }
                Some(_) => {}
            }
        }
        self.places.sort_by_key(|(id, _)| *id);
        if let Some(twice) = self.places.windows(2).find(|pair| pair[0].0 == pair[1].0) {
            let line = Lexer::line_of(self.bytes, twice[1].1);
            return Err(Fault { code: Code::Malformed, line, fact: StepFault::NumberTwice { id: twice[0].0 } });
        }
        Ok(())
    }

    /// Notes the names of a record up to its end.
    fn name_parts(&mut self, id: u64, lexer: &mut Lexer<'a>) -> Result<(), Fault> {
        let (mut depth, mut complex, mut first) = (0_usize, false, true);
        loop {
            let token = lexer.next()?.ok_or_else(|| lexer.truncated())?;
            match token {
                Token::Keyword(b"ENDSEC" | b"END-ISO-10303-21") => return Err(lexer.truncated()),
                Token::Keyword(name) if first || (complex && depth == 1) => {
                    self.by_name.entry(name).or_default().push(id)
                }
                Token::Sign(b'(') => {
                    complex |= first;
                    depth += 1;
                }
                Token::Sign(b')') => {
                    depth = depth.checked_sub(1).ok_or_else(|| lexer.malformed(Breach::BracketNotOpened))?;
                }
                Token::Sign(b';') if depth == 0 => return Ok(()),
                Token::Sign(b';') => return Err(lexer.malformed(Breach::BracketNotClosed)),
                _ => {}
            }
            first = false;
        }
    }

    /// Numbers of all records of a name, in the order of the file.
    pub fn all(&self, name: &str) -> &[u64] {
        self.by_name.get(name.as_bytes()).map_or(&[], Vec::as_slice)
    }

    /// All names, with how many records have each.
    pub fn names(&self) -> impl Iterator<Item = (&'a [u8], usize)> + '_ {
        self.by_name.iter().map(|(name, ids)| (*name, ids.len()))
    }

    fn place(&self, id: u64) -> Option<usize> {
        self.places.binary_search_by_key(&id, |(own, _)| *own).ok().map(|index| self.places[index].1)
    }

    /// The record of a number; `None` where there is none or it cannot be read.
    pub fn record(&self, id: u64) -> Option<Record> {
        let mut lexer = Lexer::new(self.bytes, self.place(id)?);
        let mut parts = Vec::new();
        match lexer.next().ok()?? {
            Token::Keyword(name) => {
                parts.push((String::from_utf8_lossy(name).into_owned(), list(&mut lexer)?));
            }
            Token::Sign(b'(') => loop {
                match lexer.next().ok()?? {
                    Token::Keyword(name) => parts.push((String::from_utf8_lossy(name).into_owned(), list(&mut lexer)?)),
                    Token::Sign(b')') => break,
                    _ => return None,
                }
            },
            _ => return None,
        }
        Some(Record { parts })
    }

    /// The record that an attribute refers to.
    pub fn of(&self, value: &Value) -> Option<Record> {
        self.record(value.reference()?)
    }
}

/// A list in brackets, with its opening bracket.
fn list(lexer: &mut Lexer<'_>) -> Option<Vec<Value>> {
    (lexer.next().ok()?? == Token::Sign(b'(')).then(|| items(lexer, 0)).flatten()
}

/// The items of a list up to its closing bracket.
fn items(lexer: &mut Lexer<'_>, depth: usize) -> Option<Vec<Value>> {
    if depth > DEEPEST {
        return None;
    }
    let mut values = Vec::new();
    loop {
        let value = match lexer.next().ok()?? {
            Token::Sign(b')') => return Some(values),
            Token::Sign(b',') => continue,
            Token::Sign(b'(') => Value::List(items(lexer, depth + 1)?),
            Token::Sign(b'$' | b'*') => Value::Unset,
            Token::Sign(_) => return None,
            Token::Reference(id) => Value::Reference(id),
            Token::Number(number) => Value::Number(number),
            Token::Text(text) => Value::Text(plain(text)),
            Token::Enumeration(word) => Value::Word(String::from_utf8_lossy(word).into_owned()),
            Token::Keyword(name) => {
                let name = String::from_utf8_lossy(name).into_owned();
                if lexer.next().ok()?? != Token::Sign(b'(') {
                    return None;
                }
                Value::Typed(name, items(lexer, depth + 1)?)
            }
        };
        values.push(value);
    }
}
