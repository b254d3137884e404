//! The signed code of each page as a matrix symbol (ISO/IEC 18004), drawn in a content stream of its own behind what it signs.

use super::RenderError;
use super::content::POINTS;
use crate::drawing::Area;
use crate::seal::{HASH_BYTES, PageStatement, SealKey};
use fast_qr::{ECL, QRBuilder};
use rayon::prelude::*;

/// Modules left white on each side (ISO/IEC 18004 asks for four).
const QUIET: usize = 4;

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
        let code = QRBuilder::new(text)
            .ecl(ECL::M)
            .build()
            .map_err(|error| RenderError::Seal { reason: error.to_string() })?;
        let side = code.size + 2 * QUIET;
        let row_bytes = side.div_ceil(8);
        let mut bits = vec![0_u8; row_bytes * side];
        for row in 0..code.size {
            for (column, _) in code[row].iter().enumerate().filter(|(_, module)| module.value()) {
                let (row, column) = (row + QUIET, column + QUIET);
                bits[row * row_bytes + column / 8] |= 0x80 >> (column % 8);
            }
        }
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
