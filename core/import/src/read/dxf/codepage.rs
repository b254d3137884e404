//! Texts of a drawing: UTF-8 from 2007 on, before that the code page of the header, with `\U+XXXX` in either.

use encoding_rs::{Encoding, UTF_8, WINDOWS_1252};

/// How the bytes of texts are to be read.
#[derive(Debug, Clone, Copy)]
pub struct Codepage(&'static Encoding);

impl Default for Codepage {
    fn default() -> Self {
        Self(WINDOWS_1252)
    }
}

impl Codepage {
    /// From `$ACADVER` and `$DWGCODEPAGE`.
    pub fn new(version: &str, page: &str) -> Self {
        if version.strip_prefix("AC").and_then(|number| number.parse::<u32>().ok()).is_some_and(|number| number >= 1021)
        {
            return Self(UTF_8);
        }
        let number: String = page.chars().filter(char::is_ascii_digit).collect();
        let label = match number.as_str() {
            "932" => "shift_jis",
            "936" => "gbk",
            "949" => "euc-kr",
            "950" => "big5",
            other => &format!("windows-{other}"),
        };
        Encoding::for_label(label.as_bytes()).map_or_else(Self::default, Self)
    }

    /// A text.
    pub fn read(self, bytes: &[u8]) -> String {
        let text = self.0.decode_without_bom_handling(bytes).0;
        let Some(first) = text.find("\\U+") else { return text.trim().to_owned() };
        let mut out = text[..first].to_owned();
        let mut rest = &text[first..];
        while let Some(at) = rest.find("\\U+") {
            out.push_str(&rest[..at]);
            rest = &rest[at + 3..];
            let code = rest.get(..4).and_then(|hex| u32::from_str_radix(hex, 16).ok()).and_then(char::from_u32);
            match code {
                Some(letter) => {
                    out.push(letter);
                    rest = &rest[4..];
                }
                None => out.push_str("\\U+"),
            }
        }
        out.push_str(rest);
        out.trim().to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::Codepage;

    #[test]
    fn texts_are_read_by_version_and_page() {
        assert_eq!(Codepage::new("AC1015", "ANSI_1252").read(b"\xd8 33"), "Ø 33");
        assert_eq!(Codepage::new("AC1032", "ANSI_1252").read("Ø 33".as_bytes()), "Ø 33");
        assert_eq!(Codepage::new("AC1009", "").read(b"\\U+00D8 3 \\U+zz"), "Ø 3 \\U+zz");
    }
}
