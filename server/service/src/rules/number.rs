//! Numbers as callers write them in addresses.

/// The number that a text is: digits alone, from 1, without zeros before them, so that everything numbered has one address.
pub(crate) fn number(text: &str) -> Option<i64> {
    text.parse().ok().filter(|number: &i64| *number > 0 && number.to_string() == text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_plain_digits_are_a_number() {
        assert_eq!(number("1"), Some(1));
        assert_eq!(number("9223372036854775807"), Some(i64::MAX));
        for other in ["", "0", "+1", "-1", "01", "1 ", " 1", "1.0", "1e0", "0x1", "\u{661}", "9223372036854775808"] {
            assert_eq!(number(other), None, "{other:?}");
        }
    }
}
