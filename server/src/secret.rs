//! Random tokens and ids.

use data_encoding::{BASE64URL_NOPAD, HEXLOWER};
use sha2::{Digest, Sha256};

/// A new bearer token of 256 random bits behind a prefix that says what it is.
pub fn token(prefix: &str) -> String {
    format!("{prefix}{}", BASE64URL_NOPAD.encode(&random::<32>()))
}

/// Letters and digits that people do not take for each other: those of base 32 without I, L, O and U.
const SPOKEN: &[u8; 32] = b"0123456789ABCDEFGHJKMNPQRSTVWXYZ";

/// A new access code of 80 random bits, in four groups of four.
pub fn access_code() -> String {
    spoken(&random::<16>())
}

/// The access code that belongs to a secret: the same for the same, and as hard to guess.
pub fn access_code_of(secret: &str) -> String {
    spoken(&Sha256::digest(format!("matchmark-access-code/1\n{secret}\n"))[..16])
}

fn spoken(bytes: &[u8]) -> String {
    let mut code = String::new();
    for (index, byte) in bytes.iter().enumerate() {
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
        tracing::error!(%error, "the system gives no randomness");
        std::process::abort();
    }
    bytes
}
