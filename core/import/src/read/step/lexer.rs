//! Tokens of the clear text encoding, ISO 10303-21.

use crate::report::Code;
use crate::words::step::{Breach, StepFault};

/// Something that ends the reading of a file.
#[derive(Debug)]
pub struct Fault {
    pub code: Code,
    pub line: u64,
    pub fact: StepFault,
}

/// One token.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Token<'a> {
    /// `#12`.
    Reference(u64),
    /// A number, whole or real.
    Number(f64),
    /// The inside of a string, as it is encoded.
    Text(&'a [u8]),
    /// The inside of `.T.`.
    Enumeration(&'a [u8]),
    /// A keyword such as `LINE` or `END-ISO-10303-21`.
    Keyword(&'a [u8]),
    /// One of `( ) , ; = $ *`.
    Sign(u8),
}

/// Reads tokens one after another, over blanks and comments.
#[derive(Debug, Clone, Copy)]
pub struct Lexer<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl<'a> Lexer<'a> {
    pub fn new(bytes: &'a [u8], at: usize) -> Self {
        Self { bytes, at }
    }

    /// Where the next token is looked for.
    pub fn at(&self) -> usize {
        self.at
    }

    /// The line of a place, from 1.
    pub fn line_of(bytes: &[u8], at: usize) -> u64 {
        1 + bytes[..at.min(bytes.len())].iter().map(|byte| u64::from(*byte == b'\n')).sum::<u64>()
    }

    pub fn truncated(&self) -> Fault {
        Fault { code: Code::Truncated, line: Self::line_of(self.bytes, self.bytes.len()), fact: StepFault::Truncated }
    }

    pub fn malformed(&self, breach: Breach) -> Fault {
        Fault { code: Code::Malformed, line: Self::line_of(self.bytes, self.at), fact: StepFault::Malformed(breach) }
    }

    fn skip_blanks(&mut self) -> Result<(), Fault> {
        loop {
            match self.bytes.get(self.at) {
                Some(byte) if byte.is_ascii_whitespace() || *byte == 0 => self.at += 1,
                Some(b'/') if self.bytes.get(self.at + 1) == Some(&b'*') => {
                    let rest = &self.bytes[self.at + 2..];
                    let Some(end) = rest.windows(2).position(|pair| pair == b"*/") else {
                        return Err(self.truncated());
                    };
                    self.at += end + 4;
                }
                _ => return Ok(()),
            }
        }
    }

    fn while_true(&mut self, is_part: impl Fn(u8) -> bool) -> &'a [u8] {
        let rest = &self.bytes[self.at..];
        let length = rest.iter().position(|byte| !is_part(*byte)).unwrap_or(rest.len());
        self.at += length;
        &rest[..length]
    }

    /// The next token; `None` at the end of the bytes.
    pub fn next(&mut self) -> Result<Option<Token<'a>>, Fault> {
        self.skip_blanks()?;
        let Some(&byte) = self.bytes.get(self.at) else { return Ok(None) };
        let token = match byte {
            b'(' | b')' | b',' | b';' | b'=' | b'$' | b'*' => {
                self.at += 1;
                Token::Sign(byte)
            }
            b'#' => {
                self.at += 1;
                let digits = self.while_true(|byte| byte.is_ascii_digit());
                let number = str::from_utf8(digits).ok().and_then(|digits| digits.parse().ok());
                Token::Reference(number.ok_or_else(|| self.malformed(Breach::ReferenceWithoutNumber))?)
            }
            b'\'' => Token::Text(self.text()?),
            b'.' if self.bytes.get(self.at + 1).is_some_and(u8::is_ascii_alphabetic) => {
                self.at += 1;
                let name = self.while_true(|byte| byte.is_ascii_alphanumeric() || byte == b'_');
                if self.bytes.get(self.at) != Some(&b'.') {
                    return Err(self.malformed(Breach::OpenWord));
                }
                self.at += 1;
                Token::Enumeration(name)
            }
            b'"' => {
                self.at += 1;
                let digits = self.while_true(|byte| byte != b'"');
                self.at += 1;
                Token::Text(digits)
            }
            b'0'..=b'9' | b'+' | b'-' | b'.' => {
                let digits = self.while_true(|byte| byte.is_ascii_digit() || b"+-.eE".contains(&byte));
                let number = str::from_utf8(digits).ok().and_then(|digits| digits.parse::<f64>().ok());
                match number.filter(|number| number.is_finite()) {
                    Some(number) => Token::Number(number),
                    None => {
                        let text = String::from_utf8_lossy(&digits[..digits.len().min(40)]).into_owned();
                        let line = Self::line_of(self.bytes, self.at);
                        return Err(Fault { code: Code::NotANumber, line, fact: StepFault::NotANumber { text } });
                    }
                }
            }
            b'!' | b'_' | b'A'..=b'Z' | b'a'..=b'z' => {
                self.at += usize::from(byte == b'!');
                let word = self.while_true(|byte| byte.is_ascii_alphanumeric() || byte == b'_' || byte == b'-');
                Token::Keyword(word)
            }
            _ => return Err(self.malformed(Breach::UnknownSign)),
        };
        Ok(Some(token))
    }

    fn text(&mut self) -> Result<&'a [u8], Fault> {
        let start = self.at + 1;
        let mut at = start;
        loop {
            let Some(length) = self.bytes[at..].iter().position(|byte| *byte == b'\'') else {
                return Err(self.truncated());
            };
            at += length + 1;
            if self.bytes.get(at) != Some(&b'\'') {
                self.at = at;
                return Ok(&self.bytes[start..at - 1]);
            }
            at += 1;
        }
    }
}

/// A string as it is meant: doubled quotes, `\X2\...\X0\`, `\X4\...\X0\`, `\X\..` and `\S\.` resolved, line ends dropped.
pub fn plain(bytes: &[u8]) -> String {
    let text: String = String::from_utf8_lossy(bytes).chars().filter(|letter| !letter.is_control()).collect();
    let text = text.replace("''", "'");
    let mut out = String::new();
    let mut rest = text.as_str();
    while let Some(at) = rest.find('\\') {
        out.push_str(&rest[..at]);
        rest = &rest[at..];
        rest = special(rest, &mut out);
    }
    out.push_str(rest);
    out
}

/// Resolves what a backslash begins, and returns what comes after it.
fn special<'a>(rest: &'a str, out: &mut String) -> &'a str {
    for (mark, width) in [("\\X2\\", 4), ("\\X4\\", 8)] {
        if let Some(inside) = rest.strip_prefix(mark) {
            let (codes, after) = inside.split_once("\\X0\\").unwrap_or((inside, ""));
            let units: Vec<u32> = (0..codes.len() / width)
                .filter_map(|index| u32::from_str_radix(codes.get(index * width..(index + 1) * width)?, 16).ok())
                .collect();
            if width == 4 {
                #[expect(clippy::cast_possible_truncation, reason = "four hex digits")]
                let units: Vec<u16> = units.iter().map(|unit| *unit as u16).collect();
                out.push_str(&String::from_utf16_lossy(&units));
            } else {
                out.extend(units.into_iter().filter_map(char::from_u32));
            }
            return after;
        }
    }
    if let Some(inside) = rest.strip_prefix("\\X\\")
        && let Some(code) = inside.get(..2).and_then(|hex| u8::from_str_radix(hex, 16).ok())
    {
        out.push(char::from(code));
        return &inside[2..];
    }
    if let Some(inside) = rest.strip_prefix("\\S\\")
        && let Some(letter) = inside.chars().next().filter(char::is_ascii)
    {
        out.push(char::from(letter as u8 | 0x80));
        return &inside[1..];
    }
    let rest = &rest[1..];
    out.push('\\');
    rest.strip_prefix('\\').unwrap_or(rest)
}

#[cfg(test)]
mod tests {
    use super::{Lexer, Token, plain};

    #[test]
    fn strings_are_decoded_after_part_21() {
        // ISO 10303-21, 6.4.3 (from memory): X2 holds UTF-16, X one byte of ISO 8859-1, S adds 128.
        assert_eq!(plain(b"\\X2\\00D833AB\\X0\\ 5"), "\u{d8}\u{33ab} 5");
        assert_eq!(plain(b"it''s \\X\\D8 \\S\\X a\\\\b"), "it's \u{d8} \u{d8} a\\b");
        assert_eq!(plain(b"\\X2\\00D"), "");
    }

    #[test]
    fn tokens_are_told_apart() {
        let mut lexer = Lexer::new(b"/* 'c' */ #12 = LINE('a''b', -1.E-3 , .T., $);", 0);
        let mut tokens = Vec::new();
        while let Some(token) = lexer.next().unwrap() {
            tokens.push(token);
        }
        assert_eq!(tokens[0], Token::Reference(12));
        assert_eq!(tokens[4], Token::Text(b"a''b"));
        assert_eq!(tokens[6], Token::Number(-0.001));
        assert_eq!(tokens[8], Token::Enumeration(b"T"));
        assert!(Lexer::new(b"'open", 0).next().is_err());
        assert!(Lexer::new(b"/* open", 0).next().is_err());
        assert!(Lexer::new(b"1.E999", 0).next().is_err());
    }
}
