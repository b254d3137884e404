//! Random tokens and ids.

use data_encoding::{BASE64URL_NOPAD, HEXLOWER};
use hmac::{Hmac, KeyInit, Mac};
use sha2::{Digest, Sha256};

/// Makes secrets from a key that is kept elsewhere, so that one can be made again and none has to be kept.
pub struct Maker([u8; 32]);

impl Maker {
    /// One of its own key for each secret that it is made of.
    pub fn of(secret: &str) -> Self {
        Self(Sha256::digest(format!("matchmark-secrets/1\n{secret}\n")).into())
    }

    /// The secret that belongs to a text: the same for the same, and not to be guessed without the key.
    ///
    /// Formula: HMAC-SHA256 (RFC 2104).
    pub fn secret(&self, of: &str) -> [u8; 32] {
        // HMAC takes a key of any length.
        let Ok(mut mac) = Hmac::<Sha256>::new_from_slice(&self.0) else { return random() };
        mac.update(of.as_bytes());
        mac.finalize().into_bytes().into()
    }
}

/// A new bearer token of 256 random bits behind a prefix that says what it is.
pub fn token(prefix: &str) -> String {
    token_of(prefix, &random())
}

/// The bearer token that shows these bits.
pub fn token_of(prefix: &str, bits: &[u8; 32]) -> String {
    format!("{prefix}{}", BASE64URL_NOPAD.encode(bits))
}

/// Letters and digits that people do not take for each other: those of base 32 without I, L, O and U.
const SPOKEN: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// The access code that shows 80 of these bits, in four groups of four.
pub fn access_code_of(bits: &[u8; 32]) -> String {
    let mut code = String::new();
    for (index, byte) in bits[..16].iter().enumerate() {
        if index > 0 && index % 4 == 0 {
            code.push('-');
        }
        code.push(char::from(SPOKEN[usize::from(byte % 32)]));
    }
    code
}

/// A new id of 128 random bits, which grants nothing.
pub fn id() -> String {
    HEXLOWER.encode(&random::<16>())
}

/// A new secret key of 256 random bits.
pub fn key() -> [u8; 32] {
    random()
}

fn random<const N: usize>() -> [u8; N] {
    let mut bytes = [0; N];
    if let Err(error) = getrandom::fill(&mut bytes) {
        // Without randomness every token would be guessable: there is nothing safe to go on with.
        tracing::error!(%error, "the system provides no random numbers");
        std::process::abort();
    }
    bytes
}
