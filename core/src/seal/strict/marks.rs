//! The words by which readers find their way through a file when they search it as text instead of following its tables: from the
//! end for `startxref`, or through all of it for objects and trailers when they take it for broken. Each must stand where it was
//! read as what it is, and nowhere else: not in a stream, a string or a comment.

use super::Unclear;
use super::token::is_space;
use std::collections::HashSet;

/// Readers look for the header within so many bytes, and for the last word within so many.
const SEARCHED: usize = 2048;

/// Holds every such word in a file against the places where one was read.
pub(super) fn must_be_read(bytes: &[u8], read: &HashSet<usize>) -> Result<(), Unclear> {
    // Comments between the words of a header are followed only so far in all: a file that needs more was written to be slow.
    let mut patience = bytes.len();
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
            b'0'..=b'9' if begins_number => object(rest, &mut patience)?.map(|more| at + more),
            _ => None,
        };
        if found.is_some_and(|place| !read.contains(&place)) {
            return Err(Unclear(format!("a reader that searches it may take byte {at} for a part of the file")));
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

/// Whether this is `12 0 obj`, and how far behind its start the word is.
fn object(bytes: &[u8], patience: &mut usize) -> Result<Option<usize>, Unclear> {
    let mut rest = bytes;
    for _ in 0..2 {
        let digits = rest.iter().take_while(|byte| byte.is_ascii_digit()).count();
        if digits == 0 {
            return Ok(None);
        }
        rest = past_space_and_comments(&rest[digits..], patience)?;
    }
    Ok(rest.starts_with(b"obj").then_some(bytes.len() - rest.len()))
}

fn past_space_and_comments<'a>(bytes: &'a [u8], patience: &mut usize) -> Result<&'a [u8], Unclear> {
    let mut rest = past_space(bytes);
    while rest.starts_with(b"%") {
        let end = rest.iter().position(|byte| matches!(byte, b'\r' | b'\n')).unwrap_or(rest.len());
        rest = past_space(&rest[end..]);
    }
    let slow = || Unclear::new("it is full of comments");
    *patience = patience.checked_sub(bytes.len() - rest.len()).ok_or_else(slow)?;
    Ok(rest)
}
