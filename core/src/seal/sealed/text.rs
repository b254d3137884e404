//! Text strings (ISO 32000-1, 7.9.2.2), read so that nothing of them vanishes.

use lopdf::{Object, decode_text_string};

/// What stands before UTF-16.
const ORDER: [u8; 2] = [0xFE, 0xFF];

/// What PDFDocEncoding has of the control characters (table D.2): tab and ends of lines.
const CONTROLS: &[u8] = b"\t\n\r";

/// The characters of a string, each that controls how others are read among them; `None` when it is no string, or holds something that
/// is no character, which viewers show each in their own way or not at all. UTF-8 is not written here and counts as what it reads
/// like without it.
pub(super) fn text(object: &Object) -> Option<String> {
    let bytes = object.as_str().ok()?;
    let Some(units) = bytes.strip_prefix(&ORDER) else {
        return bytes.iter().map(|byte| character(*byte)).collect();
    };
    let (pairs, []) = units.as_chunks() else { return None };
    String::from_utf16(&pairs.iter().map(|pair| u16::from_be_bytes(*pair)).collect::<Vec<_>>()).ok()
}

/// The character of a byte in PDFDocEncoding.
fn character(byte: u8) -> Option<char> {
    if CONTROLS.contains(&byte) {
        return Some(char::from(byte));
    }
    decode_text_string(&Object::string_literal([byte])).ok()?.chars().next()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ISO 32000-1, table D.2: what it says of each byte that is no letter of ASCII or Latin-1, and of those that it leaves undefined.
    #[test]
    fn every_byte_is_its_character_or_makes_the_string_unreadable() {
        let of = |bytes: &[u8]| text(&Object::string_literal(bytes));
        for byte in (0..0x18).chain([0x7F, 0x9F, 0xAD]).filter(|byte| !CONTROLS.contains(byte)) {
            assert_eq!(of(&[b'C', byte, b'r']), None, "{byte:#x}");
        }
        assert_eq!(of(b"a\tb\x1b\x84\xa0\xe9").as_deref(), Some("a\tb\u{2d9}\u{2014}\u{20ac}\u{e9}"));
        assert_eq!(of(b"\xef\xbb\xbfa").as_deref(), Some("\u{ef}\u{bb}\u{bf}a"));
    }

    #[test]
    fn utf_16_keeps_what_is_not_seen_and_holds_whole_characters_alone() {
        let of = |units: &[u16], more: &[u8]| {
            let mut bytes = ORDER.to_vec();
            bytes.extend(units.iter().flat_map(|unit| unit.to_be_bytes()));
            text(&Object::string_literal([bytes, more.to_vec()].concat()))
        };
        assert_eq!(of(&[0x43, 0, 0x1B, 0xFEFF], b"").as_deref(), Some("C\0\u{1b}\u{feff}"));
        assert_eq!(of(&[0xD83D, 0xDE00], b"").as_deref(), Some("\u{1F600}"));
        assert_eq!(of(&[0x43], b"\0"), None);
        assert_eq!(of(&[0x43, 0xD800], b""), None);
        assert_eq!(of(&[], b"").as_deref(), Some(""));
    }
}
