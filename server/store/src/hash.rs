//! SHA-256 as lower-case hex.

use data_encoding::HEXLOWER;
use sha2::{Digest, Sha256};

/// SHA-256 of the bytes in lower-case hex.
pub fn sha256_hex(bytes: impl AsRef<[u8]>) -> String {
    HEXLOWER.encode(&Sha256::digest(bytes))
}

#[cfg(test)]
mod tests {
    #[test]
    fn agrees_with_the_published_vector() {
        // FIPS 180-4 example message "abc", as published with the standard.
        assert_eq!(super::sha256_hex("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
