//! The signed code of a page as a matrix symbol (ISO/IEC 18004).

use qrcodegen::{DataTooLong, Mask, QrCode, QrCodeEcc, QrSegment, Version};

/// Modules left white on each side (ISO/IEC 18004 asks for four).
const QUIET: i32 = 4;

/// The mask of every symbol. To try all eight and score them takes twenty times as long and gains nothing here: most of a code is
/// hash and signature, which are as good as random, and so balanced under any mask.
const MASK: u8 = 0;

/// The symbol of a text as an inline image of one bit a module (ISO 32000-1, 8.9.7).
pub(super) fn symbol(text: &str, placement: &str) -> Result<Vec<u8>, DataTooLong> {
    let segments = QrSegment::make_segments(text);
    let level = QrCodeEcc::Medium;
    let code =
        QrCode::encode_segments_advanced(&segments, level, Version::MIN, Version::MAX, Some(Mask::new(MASK)), false)?;
    let side = code.size() + 2 * QUIET;
    let mut content =
        format!("q\n{placement} cm\n0 g\nBI /W {side} /H {side} /BPC 1 /IM true /D [1 0] ID ").into_bytes();
    content.extend(bits(&code));
    content.extend(b"\nEI\nQ\n");
    Ok(content)
}

/// Rows of one bit a module with their white border, each filled up to whole bytes.
fn bits(code: &QrCode) -> Vec<u8> {
    let mut bits = Vec::new();
    for row in -QUIET..code.size() + QUIET {
        let columns: Vec<i32> = (-QUIET..code.size() + QUIET).collect();
        bits.extend(columns.chunks(8).map(|columns| {
            let places = columns.iter().zip([0x80_u8, 0x40, 0x20, 0x10, 0x08, 0x04, 0x02, 0x01]);
            places.filter(|(column, _)| code.get_module(**column, row)).fold(0, |byte, (_, place)| byte | place)
        }));
    }
    bits
}
