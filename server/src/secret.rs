//! Random tokens and ids.

use data_encoding::{BASE64URL_NOPAD, HEXLOWER};

/// A new bearer token of 256 random bits behind a prefix that says what it is.
pub fn token(prefix: &str) -> String {
    format!("{prefix}{}", BASE64URL_NOPAD.encode(&random::<32>()))
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
