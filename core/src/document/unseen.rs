//! Characters that a reader does not see, with which a text can read as another than it is.

use unicode_properties::{GeneralCategory as Category, UnicodeGeneralCategory};

/// The first character of `text` that is not seen where it stands: controls of direction, marks of byte order, spaces of no width,
/// fillers, tags, and what is no character. Controls such as line feeds are left to the caller.
///
/// What scripts and pictures need stays: a joiner between two letters of a script without capitals or between two pictures, and one
/// selector after what it selects a form of. Categories are those of the Unicode Character Database; which joiners and selectors
/// mean something follows chapter 23 of the Unicode Standard (from memory).
#[must_use]
pub fn unseen(text: &str) -> Option<char> {
    let mut before = None;
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        if !is_seen(c, before, rest.peek().copied()) {
            return Some(c);
        }
        before = Some(c);
    }
    None
}

fn is_seen(c: char, before: Option<char>, after: Option<char>) -> bool {
    match c {
        '\u{200c}' | '\u{200d}' => before.is_some_and(is_joined) && after.is_some_and(is_joined),
        _ if is_selector(c) => before.is_some_and(has_forms),
        // Signs that stand over or under the digits after them: they are drawn, though they are formats.
        '\u{600}'..='\u{605}'
        | '\u{6dd}'
        | '\u{70f}'
        | '\u{890}'
        | '\u{891}'
        | '\u{8e2}'
        | '\u{110bd}'
        | '\u{110cd}' => true,
        // Letters and signs without a shape.
        '\u{34f}' | '\u{115f}' | '\u{1160}' | '\u{17b4}' | '\u{17b5}' | '\u{2800}' | '\u{3164}' | '\u{ffa0}' => false,
        _ => !matches!(
            c.general_category(),
            Category::Format
                | Category::LineSeparator
                | Category::ParagraphSeparator
                | Category::PrivateUse
                | Category::Unassigned
        ),
    }
}

/// Picks one of several forms of the character before it.
fn is_selector(c: char) -> bool {
    matches!(c, '\u{fe00}'..='\u{fe0f}' | '\u{e0100}'..='\u{e01ef}' | '\u{180b}'..='\u{180d}' | '\u{180f}')
}

/// Whether a selector may follow: of the letters and signs of ASCII only those on a telephone's keys.
fn has_forms(c: char) -> bool {
    if c.is_ascii() {
        return c.is_ascii_digit() || matches!(c, '#' | '*');
    }
    let is_blank = matches!(
        c.general_category(),
        Category::Control
            | Category::Format
            | Category::SpaceSeparator
            | Category::LineSeparator
            | Category::ParagraphSeparator
    );
    !is_blank && !is_selector(c) && !c.is_lowercase() && !c.is_uppercase()
}

/// Whether a joiner beside it means something: a letter of a script that joins its letters, which none with capitals does, or a
/// picture.
fn is_joined(c: char) -> bool {
    let is_letter = matches!(
        c.general_category(),
        Category::OtherLetter | Category::ModifierLetter | Category::NonspacingMark | Category::SpacingMark
    );
    let is_picture = matches!(c.general_category(), Category::OtherSymbol | Category::ModifierSymbol);
    !c.is_ascii() && (is_letter || is_picture)
}

#[cfg(test)]
mod tests {
    use super::unseen;

    /// Names and words as people write them.
    #[test]
    fn what_people_write_is_seen() {
        for text in [
            "Zoë Ångström-Żółć",
            "Ελένη",
            "Дмитрий",
            "שָׁלוֹם",
            "می\u{200c}خواهم",
            "क्\u{200d}ष",
            "ශ්\u{200d}රී",
            "山田 太郎",
            "葛\u{e0100}城",
            "홍길동",
            "Fitted \u{2764}\u{fe0f}, checked \u{2714}\u{fe0f}",
            "\u{1f469}\u{1f3fd}\u{200d}\u{1f527} and \u{1f3f3}\u{fe0f}\u{200d}\u{1f308}",
            "Step 1\u{fe0f}\u{20e3}",
            "\u{601}\u{661}\u{662}",
            "line\nline",
            "",
        ] {
            assert_eq!(unseen(text), None, "{text:?}");
        }
    }

    /// Controls of direction after UAX 9, table "Directional Formatting Characters"; the rest by their names in the Unicode Character
    /// Database, from memory.
    #[test]
    fn what_hides_is_named() {
        for (text, hidden) in [
            ("a\u{202e}b", '\u{202e}'),
            ("\u{202a}a", '\u{202a}'),
            ("a\u{2066}b\u{2069}", '\u{2066}'),
            ("a\u{200f}", '\u{200f}'),
            ("a\u{61c}", '\u{61c}'),
            ("\u{feff}a", '\u{feff}'),
            ("a\u{200b}b", '\u{200b}'),
            ("a\u{2060}b", '\u{2060}'),
            ("a\u{ad}b", '\u{ad}'),
            ("a\u{e0041}\u{e007f}", '\u{e0041}'),
            ("\u{1f3f4}\u{e0067}\u{e007f}", '\u{e0067}'),
            ("a\u{200d}b", '\u{200d}'),
            ("می\u{200c}", '\u{200c}'),
            ("\u{200d}\u{1f527}", '\u{200d}'),
            ("é\u{200c}é", '\u{200c}'),
            ("a\u{fe0f}b", '\u{fe0f}'),
            ("\u{2764}\u{fe0f}\u{fe0e}", '\u{fe0e}'),
            (" \u{fe0f}", '\u{fe0f}'),
            ("\u{3164}", '\u{3164}'),
            ("a\u{2800}b", '\u{2800}'),
            ("a\u{2028}b", '\u{2028}'),
            ("a\u{e000}b", '\u{e000}'),
            ("a\u{ffff}b", '\u{ffff}'),
        ] {
            assert_eq!(unseen(text), Some(hidden), "{text:?}");
        }
    }
}
