//! The signed code of each page as a matrix symbol (ISO/IEC 18004), drawn in a content stream of its own behind what it signs.

use super::RenderError;
use super::content::POINTS;
use crate::drawing::Area;
use crate::seal::{HASH_BYTES, PageStatement, SealKey};
use qrcodegen::{Mask, QrCode, QrCodeEcc, QrSegment, Version};
use rayon::prelude::*;

/// Modules left white on each side (ISO/IEC 18004 asks for four).
const QUIET: i32 = 4;

/// The mask of every symbol. To try all eight and score them takes twenty times as long and gains nothing here: most of a code is
/// hash and signature, which are as good as random, and so balanced under any mask.
const MASK: u8 = 0;

/// What every page of a document is signed with.
#[derive(Debug, Clone, PartialEq)]
pub struct Sealing {
    /// The key.
    pub key: SealKey,
    /// Before each code.
    pub address: String,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision.
    pub revision: String,
    /// Serial of the kit.
    pub kit: String,
    /// Number of the pack.
    pub pack: String,
    /// Where the symbol stands on every page, its white border included.
    pub area: Area,
}

/// A page's code and how it is drawn.
pub(super) struct SealStream {
    pub(super) code: String,
    pub(super) content: Vec<u8>,
}

impl Sealing {
    /// The seals of pages with these content hashes.
    pub(super) fn seals(
        &self,
        hashes: &[String],
        date: &str,
        stretch: [f64; 2],
    ) -> Result<Vec<SealStream>, RenderError> {
        let pages = u16::try_from(hashes.len())
            .map_err(|_| RenderError::Seal { reason: "a pack has 65 535 pages at most".to_owned() })?;
        hashes
            .par_iter()
            .zip(1..=pages)
            .map(|(hash, page)| {
                let statement = PageStatement {
                    design: self.design.clone(),
                    revision: self.revision.clone(),
                    kit: self.kit.clone(),
                    pack: self.pack.clone(),
                    page,
                    pages,
                    date: date.to_owned(),
                    content: hash.chars().take(2 * HASH_BYTES).collect(),
                };
                let code =
                    self.key.sign(&statement).map_err(|error| RenderError::Seal { reason: error.to_string() })?;
                let content = self.symbol(&format!("{}{code}", self.address), stretch)?;
                Ok(SealStream { code, content })
            })
            .collect()
    }

    /// The symbol as an inline image of one bit a module (ISO 32000-1, 8.9.7).
    fn symbol(&self, text: &str, stretch: [f64; 2]) -> Result<Vec<u8>, RenderError> {
        let segments = QrSegment::make_segments(text);
        let level = QrCodeEcc::Medium;
        let code = QrCode::encode_segments_advanced(
            &segments,
            level,
            Version::MIN,
            Version::MAX,
            Some(Mask::new(MASK)),
            false,
        )
        .map_err(|error| RenderError::Seal { reason: error.to_string() })?;
        let bits = bits(&code);
        let side = code.size() + 2 * QUIET;
        let Area { x, y, width, height } = self.area;
        let [across, up] = stretch.map(|stretch| stretch * POINTS);
        let mut content = format!(
            "q\n{:.3} 0 0 {:.3} {:.3} {:.3} cm\n0 g\nBI /W {side} /H {side} /BPC 1 /IM true /D [1 0] ID ",
            width * across,
            height * up,
            x * across,
            y * up
        )
        .into_bytes();
        content.extend(bits);
        content.extend(b"\nEI\nQ\n");
        Ok(content)
    }
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
