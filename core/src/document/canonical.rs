//! The one form of a document's bytes, and its hash.

use serde_json::Value;
use sha2::{Digest, Sha256};

/// A document in the form of RFC 8785, with its SHA-256.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Canonical {
    /// Canonical JSON.
    pub text: String,
    /// SHA-256 of its bytes, lower-case hex.
    pub sha256: String,
}

impl Canonical {
    /// The canonical form of a parsed value; `None` when a number in it has no canonical form.
    #[must_use]
    pub fn of(value: &Value) -> Option<Self> {
        let text = serde_json_canonicalizer::to_string(value).ok()?;
        let sha256 = hex(&Sha256::digest(text.as_bytes()));
        Some(Self { text, sha256 })
    }
}

fn hex(bytes: &[u8]) -> String {
    use std::fmt::Write;
    bytes.iter().fold(String::with_capacity(bytes.len() * 2), |mut text, byte| {
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::Canonical;

    fn canonical(text: &str) -> String {
        Canonical::of(&serde_json::from_str(text).unwrap()).unwrap().text
    }

    #[test]
    fn numbers_and_names_follow_rfc_8785() {
        // RFC 8785, 3.2.2 (numbers) and 3.2.3 (sorting by UTF-16 code units); from memory.
        assert_eq!(
            canonical("[1e21, 333333333.33333329, 4.50, 2e-3, 0.000000000000000000000000001]"),
            "[1e+21,333333333.3333333,4.5,0.002,1e-27]"
        );
        assert_eq!(canonical(r#"{"b": 1, "a": {"z": null, "y": true}}"#), r#"{"a":{"y":true,"z":null},"b":1}"#);
    }

    #[test]
    fn hash_is_that_of_the_canonical_bytes() {
        // FIPS 180-4 test value of SHA-256 for the two bytes `{}` by coreutils' sha256sum.
        let empty = Canonical::of(&serde_json::json!({})).unwrap();
        assert_eq!(empty.sha256, "44136fa355b3678a1146ad16f7e8649e94fb4fc21fe77e8310c060f61caaff8a");
    }
}
