//! Lines of text: where they stand, where a text is broken, and what is cut off where there is no room.

#[cfg(test)]
mod tests;

use crate::drawing::{Lettering, Weight};
use crate::render::Letters;

/// Base line of a line of text whose space begins at `top`.
pub(in crate::pack) fn baseline(top: f64, lettering: Lettering) -> f64 {
    top - 1.2 * lettering.height()
}

/// Breaks a text into lines no wider than `width`: at spaces, and within a word that is too long for a line.
pub(in crate::pack) fn break_lines(
    letters: &Letters,
    text: &str,
    lettering: Lettering,
    face: Weight,
    width: f64,
) -> Vec<String> {
    let fits = |advance: u32| Letters::length(advance, lettering) <= width;
    let space = letters.advance(" ", face);
    let mut lines = Vec::new();
    let (mut line, mut taken) = (String::new(), 0);
    for word in words(text) {
        let more = letters.advance(word, face) + if line.is_empty() { 0 } else { space };
        if fits(taken + more) {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
            taken += more;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for character in word.chars() {
            line.push(character);
            if !fits(letters.advance(&line, face)) && line.chars().count() > 1 {
                let rest = line.split_off(break_at(&line));
                lines.push(std::mem::replace(&mut line, rest));
            }
        }
        taken = letters.advance(&line, face);
    }
    lines.push(line);
    lines
}

/// The words of a text; whole inches and the fraction after them are one, which read apart would be two lengths.
fn words(text: &str) -> impl Iterator<Item = &str> {
    let is_whole = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
    let is_fraction = |word: &str| word.contains('/') && word.bytes().all(|byte| byte.is_ascii_digit() || byte == b'/');
    let mut rest = Some(text);
    std::iter::from_fn(move || {
        let text = rest?;
        let end = |from: usize| text[from..].find(' ').map_or(text.len(), |at| from + at);
        let mut at = end(0);
        if is_whole(&text[..at]) && at < text.len() && is_fraction(&text[at + 1..end(at + 1)]) {
            at = end(at + 1);
        }
        rest = text.get(at + 1..);
        Some(&text[..at])
    })
}

/// Where to break a word that no longer fits: after the last mark within it, or else before its last character. The letter of a
/// hand stays with the name before it as far as can be.
fn break_at(word: &str) -> usize {
    let last = word.char_indices().last().map_or(0, |(at, _)| at);
    let within = &word[..last];
    within.rfind(' ').or_else(|| within.rfind(['_', '-', '/'])).or_else(|| within.rfind('.')).map_or(last, |at| at + 1)
}

/// The tallest of the given letterings in which a text fits the width; when it fits in none, the smallest with the end cut off.
pub(in crate::pack) fn fit_line(
    letters: &Letters,
    text: &str,
    face: Weight,
    width: f64,
    choices: &[Lettering],
) -> (String, Lettering) {
    for lettering in choices {
        if letters.width(text, *lettering, face) <= width {
            return (text.to_owned(), *lettering);
        }
    }
    let smallest = choices.iter().copied().min().unwrap_or(Lettering::Small);
    let mut short = text.to_owned();
    while short.pop().is_some() {
        let cut = format!("{short}…");
        if letters.width(&cut, smallest, face) <= width {
            return (cut, smallest);
        }
    }
    (String::new(), smallest)
}
