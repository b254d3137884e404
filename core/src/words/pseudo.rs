//! A language that nobody speaks, by which tests find what bypasses a catalogue: «ëvërÿ phräsë 40 % longer».

use super::{TemplateSpan, pieces};

/// The language of paper.
#[cfg(test)]
pub(crate) static PSEUDO: std::sync::LazyLock<super::Words> =
    std::sync::LazyLock::new(|| super::EN.map(&|template| stretched(template).leak()));

/// A template with its letters accented, two fifths longer and between « and »; its slots stay.
///
/// ```
/// assert_eq!(matchmark_core::words::stretched("cut to {length}"), "«cüt tö {length}~~~~~~»");
/// ```
#[must_use]
pub fn stretched(template: &str) -> String {
    let words: String = pieces(template)
        .map(|piece| match piece {
            TemplateSpan::Text(text) => text.chars().map(accented).collect(),
            TemplateSpan::Slot(name) => format!("{{{name}}}"),
        })
        .collect();
    let longer = template.chars().count() * 2 / 5;
    format!("\u{ab}{words}{}\u{bb}", "~".repeat(longer))
}

fn accented(letter: char) -> char {
    match letter {
        'a' => '\u{e4}',
        'e' => '\u{eb}',
        'i' => '\u{ef}',
        'o' => '\u{f6}',
        'u' => '\u{fc}',
        'y' => '\u{ff}',
        'A' => '\u{c4}',
        'E' => '\u{cb}',
        'I' => '\u{cf}',
        'O' => '\u{d6}',
        'U' => '\u{dc}',
        'Y' => '\u{178}',
        other => other,
    }
}
