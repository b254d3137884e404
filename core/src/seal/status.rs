//! The signed status of a design: which revision is in force, which were withdrawn or recalled, and how long that
//! holds. A page's signature proves where the page comes from and never expires; this says what is current, and does expire.
//!
//! After the idea of The Update Framework's timestamp role: a version that only grows, and an end. It names no kit and no customer.

use crate::document::Canonical;
use crate::seal::{PublicKey, SealKey};
pub use crate::words::findings::code::StatusError;
use data_encoding::HEXLOWER;
use serde::{Deserialize, Serialize};

/// Form of the document.
pub const STATUS_FORMAT: &str = "matchmark-status/1";

/// No status is larger, bytes.
pub const MOST_STATUS_BYTES: usize = 65_536;

/// What is signed is this and then the canonical JSON, so that a signature serves for nothing else.
const PURPOSE: &[u8] = b"matchmark design status 1\0";

/// What a supplier says of a design.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct DesignStatus {
    /// `matchmark-status/1`.
    pub format: String,
    /// Id of the design.
    pub design: String,
    /// Grows by one with every revision that is published, withdrawn, recalled or reinstated.
    pub version: u32,
    /// When it was said, RFC 3339 in UTC.
    pub issued: String,
    /// Until when it holds, RFC 3339 in UTC; seven days after `issued`.
    pub expires: String,
    /// The newest revision in force; null when there is none.
    pub current: Option<CurrentRevision>,
    /// Letters of the revisions that no kits are sold with any more, oldest first.
    pub withdrawn: Vec<String>,
    /// Letters of the revisions that nobody goes on with before having read the stop sheet, oldest first.
    pub recalled: Vec<String>,
}

/// A revision in force.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct CurrentRevision {
    /// Letter.
    pub letter: String,
    /// SHA-256 of its canonical document (RFC 8785).
    pub document_sha256: String,
}

/// A status with its signature.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct SignedStatus {
    /// What is said.
    pub signed: DesignStatus,
    /// Ed25519 (RFC 8032) over `matchmark design status 1`, a zero byte and the canonical JSON of `signed`; 128 hexadecimal digits.
    pub signature: String,
}

impl StatusError {
    /// Stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::TooLarge(_) => "status-too-large",
            Self::NotText => "status-not-text",
            Self::Truncated => "status-truncated",
            Self::NotReadable(_) => "status-not-readable",
            Self::Format(_) => "status-form-unknown",
            Self::Signature => "status-signature-does-not-fit",
        }
    }
}

impl DesignStatus {
    /// What is signed; `None` never happens, as every part has a canonical form.
    fn bytes(&self) -> Option<Vec<u8>> {
        let canonical = Canonical::of(&serde_json::to_value(self).ok()?)?;
        Some([PURPOSE, canonical.text.as_bytes()].concat())
    }

    /// SHA-256 of what is said, whenever it was said: two of one version must agree.
    #[must_use]
    pub fn said_sha256(&self) -> String {
        let timeless = Self { issued: String::new(), expires: String::new(), ..self.clone() };
        let canonical = serde_json::to_value(timeless).ok().and_then(|value| Canonical::of(&value));
        canonical.map(|canonical| canonical.sha256).unwrap_or_default()
    }
}

impl SignedStatus {
    /// Signs a status.
    #[must_use]
    pub fn by(key: &SealKey, signed: DesignStatus) -> Self {
        let signature = key.sign_bytes(&signed.bytes().unwrap_or_default());
        Self { signature: HEXLOWER.encode(&signature), signed }
    }

    /// What a file says, when this key signed it. Whether it has expired is not looked at.
    ///
    /// # Errors
    /// [`StatusError`]; nothing of the file is to be believed then.
    pub fn read(bytes: &[u8], key: &PublicKey) -> Result<DesignStatus, StatusError> {
        if bytes.len() > MOST_STATUS_BYTES {
            return Err(StatusError::TooLarge(bytes.len()));
        }
        let text = std::str::from_utf8(bytes).map_err(|_| StatusError::NotText)?;
        let read: Self = serde_json::from_str(text).map_err(|error| {
            if error.is_eof() { StatusError::Truncated } else { StatusError::NotReadable(error.to_string()) }
        })?;
        if read.signed.format != STATUS_FORMAT {
            return Err(StatusError::Format(read.signed.format));
        }
        let signature = HEXLOWER.decode(read.signature.as_bytes()).map_err(|_| StatusError::Signature)?;
        let signed = read.signed.bytes().ok_or(StatusError::Signature)?;
        if key.signed_bytes(&signed, &signature) { Ok(read.signed) } else { Err(StatusError::Signature) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn status() -> DesignStatus {
        DesignStatus {
            format: STATUS_FORMAT.to_owned(),
            design: "frame".to_owned(),
            version: 3,
            issued: "2026-11-25T10:00:00.000Z".to_owned(),
            expires: "2026-12-02T10:00:00.000Z".to_owned(),
            current: Some(CurrentRevision { letter: "B".to_owned(), document_sha256: "00".repeat(32) }),
            withdrawn: Vec::new(),
            recalled: vec!["A".to_owned()],
        }
    }

    #[test]
    fn is_read_back_in_any_dress_and_no_character_of_it_may_change() {
        let key = SealKey::new([7; 32]);
        let signed = SignedStatus::by(&key, status());
        let text = serde_json::to_string(&signed).unwrap();
        let read = |text: &str| SignedStatus::read(text.as_bytes(), &key.public());
        assert_eq!(read(&text), Ok(status()));
        assert_eq!(read(&serde_json::to_string_pretty(&signed).unwrap()), Ok(status()));
        let other = SignedStatus::read(text.as_bytes(), &SealKey::new([8; 32]).public());
        assert_eq!(other, Err(StatusError::Signature));
        for place in 0..text.len() {
            let mut bytes = text.clone().into_bytes();
            bytes[place] ^= 1;
            assert!(SignedStatus::read(&bytes, &key.public()).is_err(), "place {place}");
            assert!(SignedStatus::read(&text.as_bytes()[..place], &key.public()).is_err(), "{place} bytes");
        }
        assert!(read(&text.replacen("\"version\":3", "\"version\":3,\"version\":4", 1)).is_err(), "a name twice");
    }

    #[test]
    fn what_it_says_does_not_hang_on_when_it_was_said() {
        let later = DesignStatus { issued: "2026-11-26T10:00:00.000Z".to_owned(), ..status() };
        assert_eq!(later.said_sha256(), status().said_sha256());
        let other = DesignStatus { recalled: Vec::new(), ..status() };
        assert_ne!(other.said_sha256(), status().said_sha256());
    }
}
