//! What makes the file fit for keeping (ISO 19005-2, level B): metadata in XMP and the meaning of its one colour, black.
//!
//! The fonts are embedded, nothing is encrypted and nothing refers outside the file. Whole packs are held against the clauses by
//! `tests/paper/check_archive.py`; no validator has been run over them.

use super::text_string::{parted, xml};
use super::{Document, RenderError};
use lopdf::{Object, Stream, dictionary};

/// Adds metadata and output intent to the catalog.
pub(super) fn describe(file: &mut lopdf::Document, document: &Document) -> Result<(), RenderError> {
    let metadata = dictionary! { "Type" => "Metadata", "Subtype" => "XML" };
    let metadata = file.add_object(Stream::new(metadata, packet(document).into_bytes()));
    let profile = file.add_object(Stream::new(dictionary! { "N" => 1 }, grey_profile()));
    let intent = dictionary! {
        "Type" => "OutputIntent",
        "S" => "GTS_PDFA1",
        "OutputConditionIdentifier" => Object::string_literal("Grey, gamma 2.2"),
        "DestOutputProfile" => Object::Reference(profile),
    };
    let catalog = file.catalog_mut().map_err(|error| RenderError::Pdf { reason: error.to_string() })?;
    catalog.set("Metadata", Object::Reference(metadata));
    catalog.set("OutputIntents", vec![Object::Dictionary(intent)]);
    Ok(())
}

/// The metadata packet (ISO 16684-1); it says what the document information says.
fn packet(document: &Document) -> String {
    let date = format!("{}T00:00:00Z", document.date);
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\" \
         xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\" \
         xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\">\n\
         <pdfaid:part>2</pdfaid:part>\n<pdfaid:conformance>B</pdfaid:conformance>\n\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:title>\n\
         <dc:creator><rdf:Seq><rdf:li>{}</rdf:li></rdf:Seq></dc:creator>\n\
         <dc:description><rdf:Alt><rdf:li xml:lang=\"x-default\">{}</rdf:li></rdf:Alt></dc:description>\n\
         <xmp:CreateDate>{date}</xmp:CreateDate>\n<xmp:ModifyDate>{date}</xmp:ModifyDate>\n\
         <xmp:CreatorTool>Matchmark</xmp:CreatorTool>\n<pdf:Producer>Matchmark</pdf:Producer>\n\
         </rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"r\"?>",
        xml(&parted(&document.title)),
        xml(&parted(&document.author)),
        xml(&parted(&document.subject))
    )
}

/// A grey profile of gamma 2.2 by the letter of ICC.1:2010: header, then the tags `cprt`, `desc`, `kTRC`, `wtpt`.
fn grey_profile() -> Vec<u8> {
    // 0.9642, 1, 0.8249: the D50 white of the profile connection space, in sixteenths of 4096.
    const WHITE: [u32; 3] = [0xF6D6, 0x1_0000, 0xD32D];
    let tags: [(&[u8; 4], Vec<u8>); 4] = [
        (b"cprt", multi_localized("Public domain")),
        (b"desc", multi_localized("Grey, gamma 2.2")),
        // One entry is a gamma in eighths of 32: 2.2 is 563.
        (b"kTRC", [b"curv".as_slice(), &[0; 4], &1_u32.to_be_bytes(), &563_u16.to_be_bytes(), &[0; 2]].concat()),
        (b"wtpt", [b"XYZ ".as_slice(), &[0; 4], &WHITE.map(u32::to_be_bytes).concat()].concat()),
    ];
    let count = u32::try_from(tags.len()).unwrap_or(0);
    let (mut table, mut data) = (count.to_be_bytes().to_vec(), Vec::new());
    let start = 128 + 4 + 12 * tags.len();
    for (name, body) in &tags {
        let place = |length: usize| u32::try_from(length).unwrap_or(0).to_be_bytes();
        table.extend_from_slice(*name);
        table.extend(place(start + data.len()));
        table.extend(place(body.len()));
        data.extend_from_slice(body);
        data.resize(data.len().next_multiple_of(4), 0);
    }
    let size = u32::try_from(start + data.len()).unwrap_or(0);
    let mut header = vec![0_u8; 128];
    let mut put = |at: usize, bytes: &[u8]| header[at..at + bytes.len()].copy_from_slice(bytes);
    put(0, &size.to_be_bytes());
    put(8, &[4, 0x20, 0, 0]);
    put(12, b"mntrGRAYXYZ ");
    // 2026-01-01, a date for all time.
    put(24, &[0x07, 0xEA, 0, 1, 0, 1]);
    put(36, b"acsp");
    put(68, &WHITE.map(u32::to_be_bytes).concat());
    [header, table, data].concat()
}

/// A text of the type `mluc` in English.
fn multi_localized(text: &str) -> Vec<u8> {
    let utf16: Vec<u8> = text.encode_utf16().flat_map(u16::to_be_bytes).collect();
    let length = u32::try_from(utf16.len()).unwrap_or(0);
    let record = [1_u32.to_be_bytes(), 12_u32.to_be_bytes(), *b"enUS", length.to_be_bytes(), 28_u32.to_be_bytes()];
    [b"mluc".as_slice(), &[0; 4], &record.concat(), &utf16].concat()
}
