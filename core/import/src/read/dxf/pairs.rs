//! Group codes and values, from text or binary form.

use super::Fault;
use crate::report::Code;
use crate::words::dxf::DxfFault;

/// End of the published 22 bytes that a binary DXF begins with.
const SENTINEL_END: &[u8] = b" Binary DXF\r\n\x1a\0";
const SENTINEL: usize = 22;

/// Whether this is a DXF in binary form.
pub fn is_binary(bytes: &[u8]) -> bool {
    bytes.get(SENTINEL - SENTINEL_END.len()..SENTINEL) == Some(SENTINEL_END)
}

/// Whether the first lines are a group code and what may follow it at the begin of a drawing.
pub fn begins_with_pairs(bytes: &[u8]) -> bool {
    let mut pairs = Pairs::new(bytes);
    let begins = |value: &Value<'_>| value.text() == b"SECTION";
    matches!(pairs.next(), Ok(Some(pair)) if pair.code == 999 || (pair.code == 0 && begins(&pair.value)))
}

/// A value, as its form writes it.
#[derive(Debug, Clone, Copy)]
pub enum Value<'a> {
    /// A line of text, or what is to be read as a number.
    Text(&'a [u8]),
    /// A real number of a binary file.
    Real(f64),
    /// A whole number of a binary file.
    Whole(i64),
}

impl<'a> Value<'a> {
    /// The bytes of a text; none for a number of a binary file.
    pub fn text(&self) -> &'a [u8] {
        match self {
            Self::Text(text) => text,
            _ => b"",
        }
    }

    /// A real number that has an end.
    pub fn real(&self) -> Option<f64> {
        let number = match *self {
            Self::Text(text) => str::from_utf8(text).ok()?.trim().parse().ok()?,
            Self::Real(number) => number,
            #[expect(clippy::cast_precision_loss, reason = "flags and counts")]
            Self::Whole(number) => number as f64,
        };
        Some(number).filter(|number| f64::is_finite(*number))
    }

    /// A whole number.
    pub fn whole(&self) -> Option<i64> {
        match *self {
            Self::Text(text) => str::from_utf8(text).ok()?.trim().parse().ok(),
            Self::Whole(number) => Some(number),
            Self::Real(_) => None,
        }
    }
}

/// A group code with its value.
#[derive(Debug, Clone, Copy)]
pub struct Pair<'a> {
    /// The group code.
    pub code: i32,
    /// The value.
    pub value: Value<'a>,
    /// Line of the value, from 1; in a binary file the byte, from 0.
    pub line: u64,
}

/// All pairs of a file, one after another.
pub struct Pairs<'a> {
    bytes: &'a [u8],
    at: usize,
    line: u64,
    binary: bool,
    /// Codes of binary files before 1997 are one byte; 255 is followed by two.
    short_codes: bool,
}

impl<'a> Pairs<'a> {
    pub fn new(bytes: &'a [u8]) -> Self {
        let binary = is_binary(bytes);
        let start = if binary {
            SENTINEL
        } else if bytes.starts_with(b"\xef\xbb\xbf") {
            3
        } else {
            0
        };
        // A binary file begins with code 0 and the text SECTION: the second byte tells how long codes are.
        Self { bytes, at: start, line: 0, binary, short_codes: binary && bytes.get(start + 1) != Some(&0) }
    }

    /// The line or byte that was read last.
    pub fn line(&self) -> u64 {
        if self.binary { self.at as u64 } else { self.line }
    }

    /// The next pair but comments; `None` at the end of the bytes.
    pub fn next(&mut self) -> Result<Option<Pair<'a>>, Fault> {
        loop {
            let pair = if self.binary { self.next_binary()? } else { self.next_text()? };
            match pair {
                Some(pair) if pair.code == 999 => {}
                other => return Ok(other),
            }
        }
    }

    fn next_line(&mut self) -> Option<&'a [u8]> {
        let rest = self.bytes.get(self.at..).filter(|rest| !rest.is_empty())?;
        let length = rest.iter().position(|byte| *byte == b'\n' || *byte == b'\r').unwrap_or(rest.len());
        self.at += length;
        self.at += match rest.get(length..) {
            Some([b'\r', b'\n', ..]) => 2,
            Some([_, ..]) => 1,
            _ => 0,
        };
        self.line += 1;
        Some(&rest[..length])
    }

    fn next_text(&mut self) -> Result<Option<Pair<'a>>, Fault> {
        let Some(line) = self.next_line() else { return Ok(None) };
        let Some(code) = str::from_utf8(line).ok().and_then(|text| text.trim().parse().ok()) else {
            if line.trim_ascii().is_empty() && self.bytes[self.at..].trim_ascii().is_empty() {
                return Ok(None);
            }
            return Err(self.fault(Code::Malformed, DxfFault::NoGroupCode));
        };
        let Some(value) = self.next_line() else { return Err(self.truncated()) };
        Ok(Some(Pair { code, value: Value::Text(value.trim_ascii()), line: self.line }))
    }

    fn take(&mut self, count: usize) -> Result<&'a [u8], Fault> {
        let Some(taken) = self.bytes.get(self.at..self.at.saturating_add(count)) else { return Err(self.truncated()) };
        self.at += count;
        Ok(taken)
    }

    fn number<const N: usize>(&mut self) -> Result<[u8; N], Fault> {
        let taken = self.take(N)?;
        taken.try_into().map_err(|_| self.truncated())
    }

    fn next_binary(&mut self) -> Result<Option<Pair<'a>>, Fault> {
        if self.at >= self.bytes.len() {
            return Ok(None);
        }
        let line = self.at as u64;
        let code = if self.short_codes {
            match self.take(1)? {
                [255] => i32::from(i16::from_le_bytes(self.number()?)),
                [code, ..] => i32::from(*code),
                [] => return Err(self.truncated()),
            }
        } else {
            i32::from(i16::from_le_bytes(self.number()?))
        };
        let value = match code {
            10..=59 | 110..=149 | 210..=239 | 460..=469 | 1010..=1059 => {
                Value::Real(f64::from_le_bytes(self.number()?))
            }
            60..=79 | 170..=179 | 270..=289 | 370..=389 | 400..=409 | 1060..=1070 => {
                Value::Whole(i64::from(i16::from_le_bytes(self.number()?)))
            }
            90..=99 | 420..=429 | 440..=459 | 1071 => Value::Whole(i64::from(i32::from_le_bytes(self.number()?))),
            160..=169 => Value::Whole(i64::from_le_bytes(self.number()?)),
            290..=299 => Value::Whole(i64::from(self.number::<1>()?[0])),
            310..=319 | 1004 => {
                let [length] = self.number()?;
                Value::Text(self.take(usize::from(length))?)
            }
            0..=1071 => {
                let rest = &self.bytes[self.at..];
                let Some(length) = rest.iter().position(|byte| *byte == 0) else { return Err(self.truncated()) };
                self.at += length + 1;
                Value::Text(rest[..length].trim_ascii())
            }
            _ => {
                return Err(self.fault(Code::Malformed, DxfFault::UnknownGroupCode));
            }
        };
        Ok(Some(Pair { code, value, line }))
    }

    pub fn truncated(&self) -> Fault {
        self.fault(Code::Truncated, DxfFault::Truncated)
    }

    pub fn fault(&self, code: Code, fact: DxfFault) -> Fault {
        Fault { code, line: self.line(), fact }
    }
}
