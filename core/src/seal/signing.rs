//! The keys, and the signed code of a statement: its few bytes and their signature in base 32 (RFC 4648, without padding), so that a
//! small code of the alphanumeric mode of ISO/IEC 18004 holds it.

use super::PageStatement;
pub use crate::words::findings::code::SealError;
use data_encoding::BASE32_NOPAD;
use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};

/// What is signed is this and then the statement's bytes, so that a signature serves for nothing else.
const PURPOSE: &[u8] = b"matchmark page statement 1\0";

/// The same of a whole file, before the SHA-256 of its bytes.
const FILE_PURPOSE: &[u8] = b"matchmark file 1\0";

pub(crate) const SIGNATURE_BYTES: usize = 64;

/// A supplier's secret key.
#[derive(Clone, PartialEq)]
pub struct SealKey(SigningKey);

/// The public key that belongs to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PublicKey(VerifyingKey);

impl SealError {
    /// Stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::NotReadable => "code-not-readable",
            Self::Form(_) => "code-form-unknown",
            Self::Signature => "signature-does-not-fit",
            Self::TooLong(_) => "statement-too-long",
            Self::Key => "key-not-readable",
        }
    }
}

impl core::fmt::Debug for SealKey {
    fn fmt(&self, out: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        write!(out, "SealKey(of {})", self.public().hex())
    }
}

impl SealKey {
    /// The key of 32 secret bytes.
    #[must_use]
    pub fn new(secret: [u8; 32]) -> Self {
        Self(SigningKey::from_bytes(&secret))
    }

    /// Reads the secret as 64 hexadecimal digits.
    ///
    /// # Errors
    /// [`SealError::Key`].
    pub fn from_hex(text: &str) -> Result<Self, SealError> {
        Ok(Self::new(bytes_of_hex(text)?))
    }

    /// The secret as 64 hexadecimal digits, to be kept where nobody else reads it.
    #[must_use]
    pub fn secret_hex(&self) -> String {
        hex(&self.0.to_bytes())
    }

    /// The public key.
    #[must_use]
    pub fn public(&self) -> PublicKey {
        PublicKey(self.0.verifying_key())
    }

    /// The signature of a file with this SHA-256.
    pub(crate) fn sign_file(&self, sha256: &[u8]) -> [u8; SIGNATURE_BYTES] {
        self.sign_bytes(&[FILE_PURPOSE, sha256].concat())
    }

    /// The signature of bytes that begin with what they are for.
    pub(crate) fn sign_bytes(&self, bytes: &[u8]) -> [u8; SIGNATURE_BYTES] {
        self.0.sign(bytes).to_bytes()
    }

    /// The signed code of a statement.
    ///
    /// # Errors
    /// [`SealError::TooLong`] when a text of the statement is, [`SealError::NotReadable`] when its date or hash is none.
    pub fn sign(&self, statement: &PageStatement) -> Result<String, SealError> {
        let mut bytes = statement.to_bytes()?;
        let signature = self.0.sign(&signed(&bytes));
        bytes.extend_from_slice(&signature.to_bytes());
        Ok(BASE32_NOPAD.encode(&bytes))
    }
}

impl PublicKey {
    /// Reads it as 64 hexadecimal digits.
    ///
    /// # Errors
    /// [`SealError::Key`].
    pub fn from_hex(text: &str) -> Result<Self, SealError> {
        VerifyingKey::from_bytes(&bytes_of_hex(text)?).map(Self).map_err(|_| SealError::Key)
    }

    /// As 64 hexadecimal digits.
    #[must_use]
    pub fn hex(&self) -> String {
        hex(self.0.as_bytes())
    }

    /// Whether this key signed these bytes.
    pub(crate) fn signed_bytes(&self, bytes: &[u8], signature: &[u8]) -> bool {
        Signature::from_slice(signature).is_ok_and(|signature| self.0.verify_strict(bytes, &signature).is_ok())
    }

    /// Whether this key signed the file with this SHA-256.
    pub(crate) fn signed_file(&self, sha256: &[u8], signature: &[u8]) -> bool {
        self.signed_bytes(&[FILE_PURPOSE, sha256].concat(), signature)
    }

    /// What a code says, when this key signed it. `text` is the code alone or with the address before it.
    ///
    /// # Errors
    /// [`SealError`] when it is not readable or not signed by this key.
    pub fn verify(&self, text: &str) -> Result<PageStatement, SealError> {
        let (statement, bytes, signature) = split(text)?;
        self.0.verify_strict(&signed(&bytes), &signature).map_err(|_| SealError::Signature)?;
        Ok(statement)
    }
}

impl PageStatement {
    /// What a code claims, whoever signed it: good for nothing but to say whom to ask.
    ///
    /// # Errors
    /// [`SealError`] when it is not readable.
    pub fn claimed(text: &str) -> Result<Self, SealError> {
        split(text).map(|(statement, _, _)| statement)
    }
}

fn signed(bytes: &[u8]) -> Vec<u8> {
    [PURPOSE, bytes].concat()
}

fn split(text: &str) -> Result<(PageStatement, Vec<u8>, Signature), SealError> {
    let code = text.trim().rsplit('/').next().unwrap_or_default().to_ascii_uppercase();
    let mut bytes = BASE32_NOPAD.decode(code.as_bytes()).map_err(|_| SealError::NotReadable)?;
    let end = bytes.len().checked_sub(SIGNATURE_BYTES).filter(|end| *end > 0).ok_or(SealError::NotReadable)?;
    let signature = Signature::from_slice(&bytes.split_off(end)).map_err(|_| SealError::NotReadable)?;
    Ok((PageStatement::of_bytes(&bytes)?, bytes, signature))
}

pub(super) fn hex(bytes: &[u8]) -> String {
    data_encoding::HEXLOWER.encode(bytes)
}

pub(super) fn bytes_of_hex<const COUNT: usize>(text: &str) -> Result<[u8; COUNT], SealError> {
    let bytes = data_encoding::HEXLOWER_PERMISSIVE.decode(text.trim().as_bytes()).map_err(|_| SealError::Key)?;
    bytes.try_into().map_err(|_| SealError::Key)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seal::PageKind;

    fn statement() -> PageStatement {
        PageStatement {
            design: "fenrunner-two".to_owned(),
            revision: "B".to_owned(),
            kit: "FT2-0017".to_owned(),
            page: 41,
            pages: 118,
            date: "2026-11-25".to_owned(),
            content: "0123456789abcdef".repeat(2),
            ..PageStatement::new(PageKind::Pack, "3".to_owned())
        }
    }

    /// RFC 8032, 7.1, test 1.
    #[test]
    fn a_public_key_is_that_of_the_standard() {
        let secret = "9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60";
        let key = SealKey::from_hex(secret).unwrap();
        assert_eq!(key.public().hex(), "d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a");
        assert!(!format!("{key:?}").contains(&secret[..16]));
    }

    #[test]
    fn a_code_says_what_was_signed_and_nothing_else() {
        let key = SealKey::new([7; 32]);
        let code = key.sign(&statement()).unwrap();
        assert_eq!(key.public().verify(&code), Ok(statement()));
        assert_eq!(key.public().verify(&format!("HTTPS://PACKS.EXAMPLE/P/{}", code.to_lowercase())), Ok(statement()));
        assert_eq!(SealKey::new([8; 32]).public().verify(&code), Err(SealError::Signature));
        for place in 2..code.len() - 2 {
            let mut other: Vec<char> = code.chars().collect();
            other[place] = if other[place] == 'A' { 'B' } else { 'A' };
            let other: String = other.into_iter().collect();
            assert!(key.public().verify(&other).is_err(), "place {place}");
        }
        assert_eq!(key.public().verify("HTTPS://PACKS.EXAMPLE/P/"), Err(SealError::NotReadable));
    }
}
