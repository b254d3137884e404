//! The words by which readers find their way through a file when they search it as text instead of following its tables: from the
//! end for `startxref`, or through all of it for objects and trailers when they take it for broken. Each must stand where it was
//! read as what it is, and nowhere else: not in a stream, a string or a comment.

use super::Unclear;
use super::token::is_space;
use crate::words::findings::seal::SealFault;
use std::collections::HashSet;
use std::ops::Range;

/// Readers look for the header within so many bytes, and for the last word within so many.
const SEARCHED: usize = 2048;

/// Holds every such word in a file against the places where one was read.
pub(super) fn must_be_read(bytes: &[u8], read: &HashSet<usize>) -> Result<(), Unclear> {
    let mut comments = Comments { bytes, last: 0..0 };
    for at in 0..bytes.len() {
        let (before, rest) = bytes.split_at(at);
        let begins_line = before.last().is_none_or(|byte| matches!(byte, b'\r' | b'\n'));
        let begins_number = rest[0].is_ascii_digit() && !before.last().is_some_and(u8::is_ascii_digit);
        let found = match rest[0] {
            b's' => rest.starts_with(b"startxref").then_some(at),
            b'e' => (rest.starts_with(b"endobj") || rest.starts_with(b"endstream")).then_some(at),
            b't' => is_trailer(rest).then_some(at),
            b'x' => (!before.ends_with(b"start") && is_table(rest)).then_some(at),
            b'%' => (rest.starts_with(b"%%EOF") && begins_line || is_header(rest, at, begins_line)).then_some(at),
            b'0'..=b'9' if begins_number => comments.object(at),
            _ => None,
        };
        if found.is_some_and(|place| !read.contains(&place)) {
            return Err(Unclear(SealFault::MarkAt { at }));
        }
    }
    Ok(())
}

fn past_space(bytes: &[u8]) -> &[u8] {
    let end = bytes.iter().position(|byte| !is_space(*byte)).unwrap_or(bytes.len());
    &bytes[end..]
}

/// Past a number and at least one space; `None` when there is none.
fn past_number(bytes: &[u8]) -> Option<&[u8]> {
    let digits = bytes.iter().take_while(|byte| byte.is_ascii_digit()).count();
    let rest = past_space(&bytes[digits..]);
    (digits > 0 && rest.len() < bytes.len() - digits).then_some(rest)
}

fn is_trailer(bytes: &[u8]) -> bool {
    let rest = bytes.strip_prefix(b"trailer").map(past_space);
    rest.is_some_and(|rest| rest.starts_with(b"<") || rest.starts_with(b"%"))
}

fn is_table(bytes: &[u8]) -> bool {
    bytes.strip_prefix(b"xref").map(past_space).is_some_and(|rest| {
        rest.starts_with(b"trailer")
            || rest.starts_with(b"%")
            || past_number(rest).is_some_and(|rest| rest.first().is_some_and(u8::is_ascii_digit))
    })
}

fn is_header(bytes: &[u8], at: usize, begins_line: bool) -> bool {
    at > 0 && bytes.starts_with(b"%PDF-") && (begins_line || at < SEARCHED)
}

/// What stands between the words of a header.
struct Comments<'a> {
    bytes: &'a [u8],
    /// The comments that were passed last. Whoever enters them again leaves them at their end: so none is read twice, however many
    /// numbers stand in them.
    last: Range<usize>,
}

impl Comments<'_> {
    /// The place of the word, where `12 0 obj` begins here.
    fn object(&mut self, at: usize) -> Option<usize> {
        let mut at = at;
        for _ in 0..2 {
            let digits = self.bytes[at..].iter().take_while(|byte| byte.is_ascii_digit()).count();
            if digits == 0 {
                return None;
            }
            at = self.past(at + digits);
        }
        self.bytes[at..].starts_with(b"obj").then_some(at)
    }

    /// Past white space and comments.
    fn past(&mut self, at: usize) -> usize {
        let space = |at: usize| self.bytes.len() - past_space(&self.bytes[at..]).len();
        let start = space(at);
        if self.last.contains(&start) {
            return if self.bytes[start] == b'%' { self.last.end } else { start };
        }
        let mut end = start;
        while self.bytes.get(end) == Some(&b'%') {
            let rest = &self.bytes[end..];
            let line = rest.iter().position(|byte| matches!(byte, b'\r' | b'\n')).unwrap_or(rest.len());
            end = space(end + line);
        }
        if end > start {
            self.last = start..end;
        }
        end
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_header_is_found_through_comments_and_many_comments_are_no_reason_to_refuse_a_file() {
        for (text, is_header) in
            [("5 % 6 0 obj\n7 0 obj", true), ("5 % 6\n%7 8\n 0 % 9\nobj", true), ("5 % 6 0\n%7\n<<>>", false)]
        {
            let afresh = || Comments { bytes: text.as_bytes(), last: 0..0 };
            let mut comments = afresh();
            let numbers: Vec<usize> = (0..text.len()).filter(|at| text.as_bytes()[*at].is_ascii_digit()).collect();
            let found: Vec<Option<usize>> = numbers.iter().map(|at| comments.object(*at)).collect();
            assert_eq!(found, numbers.iter().map(|at| afresh().object(*at)).collect::<Vec<_>>(), "{text}");
            assert_eq!(found.iter().any(Option::is_some), is_header, "{text}");
        }
        // Each number is followed by all comments below it.
        let lines = "%link 1 2 3 4\n".repeat(5_000);
        assert!(must_be_read(lines.as_bytes(), &HashSet::new()).is_ok());
    }
}
