//! The signature of a whole file, by which it is known byte for byte without a network. It stands in the trailer and is over the
//! SHA-256 of the file with zeros in its own place.

use crate::seal::{PublicKey, SIGNATURE_BYTES, SealKey};
use lopdf::{Object, StringFormat};
use sha2::{Digest, Sha256};
use std::ops::Range;

/// Entry of the trailer that holds it.
pub(crate) const FILE_KEY: &str = "MatchmarkFile";

/// The trailer lies within so many bytes of the end.
const TAIL: usize = 2048;

/// What stands in its place before the file is signed.
pub(crate) fn placeholder() -> Object {
    Object::String(vec![0; SIGNATURE_BYTES], StringFormat::Hexadecimal)
}

/// Signs a file that has the placeholder in its trailer; `None` when it has not.
pub(crate) fn sign(bytes: &mut [u8], key: &SealKey) -> Option<()> {
    let place = place(bytes)?;
    let signature = key.sign_file(&digest(bytes, &place));
    let digits = data_encoding::HEXLOWER.encode(&signature);
    bytes[place].copy_from_slice(digits.as_bytes());
    Some(())
}

/// Whether the key signed these very bytes.
pub(crate) fn is_signed(bytes: &[u8], key: &PublicKey) -> bool {
    place(bytes).is_some_and(|place| {
        let signature = data_encoding::HEXLOWER.decode(&bytes[place.clone()]).unwrap_or_default();
        key.signed_file(&digest(bytes, &place), &signature)
    })
}

/// The digits of the signature.
fn place(bytes: &[u8]) -> Option<Range<usize>> {
    let head = [b"/", FILE_KEY.as_bytes(), b"<"].concat();
    let tail = bytes.len().saturating_sub(TAIL);
    let found = bytes[tail..].windows(head.len()).rposition(|window| window == head)?;
    let start = tail + found + head.len();
    let place = start..start + 2 * SIGNATURE_BYTES;
    (bytes.get(place.end) == Some(&b'>')).then_some(place)
}

fn digest(bytes: &[u8], place: &Range<usize>) -> [u8; 32] {
    let mut hash = Sha256::new();
    hash.update(&bytes[..place.start]);
    hash.update([b'0'; 2 * SIGNATURE_BYTES]);
    hash.update(&bytes[place.end..]);
    hash.finalize().into()
}
