//! Pages to a PDF file: printpdf builds the document, its fonts and outline; the rest is settled through lopdf.
//!
//! The same document gives the same bytes, always: printpdf's own ids count up through a process, so fonts and outline entries
//! get fixed ids here and the file's `/ID` comes from a hash of its content.

use std::collections::{BTreeMap, BTreeSet};
use std::io::Write as _;

use flate2::{Compression, write::ZlibEncoder};
use lopdf::{Dictionary, Object, StringFormat, dictionary};
use printpdf::{
    FontId, Op, PageAnnotId, PageAnnotation, ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions,
    Pt, Rect, TextItem,
};
use sha2::{Digest, Sha256};
use subsetter::GlyphRemapper;

use super::content::{GlyphNumbers, POINTS, resource_name, write_content};
use super::fonts::FaceTable;
use super::{Letters, RenderError, check_page, letters};
use crate::drawing::{Drawing, Face};

/// Level of deflate: beyond it files shrink little and take several times as long.
const DEFLATE_LEVEL: u32 = 6;

/// An entry of the outline.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bookmark {
    /// What it says.
    pub title: String,
    /// Page it leads to, from 0.
    pub page: usize,
}

/// A document ready to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// Title of the document.
    pub title: String,
    /// Who issued it.
    pub author: String,
    /// What it is about, for whoever searches files: revision, kit, pack and the hash of the design.
    pub subject: String,
    /// Date of issue, `YYYY-MM-DD`.
    pub date: String,
    /// Width and height of the paper, mm.
    pub size: [f64; 2],
    /// One drawing a page with its title.
    pub pages: Vec<(String, Drawing)>,
    /// The outline, in order of pages.
    pub outline: Vec<Bookmark>,
}

/// Checks every page and writes the document as PDF 1.7.
///
/// # Errors
/// What [`check_page`] refuses, a date that is none, or a failure of the libraries beneath.
pub fn write_pdf(document: &Document) -> Result<Vec<u8>, RenderError> {
    let letters = letters()?;
    for (title, drawing) in &document.pages {
        check_page(title, document.size, drawing, letters)?;
    }
    let date = pdf_date(&document.date)?;
    let mut numbers = GlyphNumbers::default();
    let fonts = [Face::Regular, Face::Bold]
        .into_iter()
        .map(|face| embed_face(document, face, letters, &mut numbers))
        .collect::<Result<Vec<_>, _>>()?;
    let contents: Vec<Vec<u8>> =
        document.pages.iter().map(|(_, drawing)| write_content(drawing, letters, &numbers)).collect();

    let skeleton = build_skeleton(document, fonts);
    let mut file = skeleton.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
    let id = content_id(document, &contents);
    set_contents(&mut file, contents)?;
    set_catalog(&mut file)?;
    set_information(&mut file, document, &date)?;
    file.version = "1.7".to_owned();
    let id = Object::String(id, StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![id.clone(), id]);
    deflate_streams(&mut file)?;
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).map_err(|error| failed(&error))?;
    Ok(bytes)
}

/// One face cut down to the characters that the document uses.
struct EmbeddedFace {
    face: Face,
    font: ParsedFont,
    characters: String,
}

fn embed_face(
    document: &Document,
    face: Face,
    letters: &Letters,
    numbers: &mut GlyphNumbers,
) -> Result<EmbeddedFace, RenderError> {
    let used: BTreeSet<char> = document
        .pages
        .iter()
        .flat_map(|(_, drawing)| drawing.texts())
        .filter(|text| text.face == face)
        .flat_map(|text| text.content.chars())
        .collect();
    let table: &FaceTable = letters.face(face);
    let mut remapper = GlyphRemapper::new();
    let mut to_glyph = BTreeMap::new();
    let mut widths = BTreeMap::new();
    for character in &used {
        if let Some(glyph) = table.glyph(*character) {
            let number = remapper.remap(glyph);
            numbers.set(face, *character, number);
            to_glyph.insert(u32::from(*character), number);
            widths.insert(number, table.parsed.get_glyph_width(glyph).unwrap_or(0));
        }
    }
    let subset = subsetter::subset(table.bytes, 0, &remapper)
        .map_err(|error| RenderError::Lettering { reason: error.to_string() })?;
    let characters: String = used.into_iter().collect();
    let family = match face {
        Face::Regular => "DejaVuSansCondensed",
        Face::Bold => "DejaVuSansCondensed-Bold",
    };
    let mut font = ParsedFont::with_glyph_data(
        subset,
        0,
        Some(format!("{}+{family}", subset_tag(&characters))),
        to_glyph,
        widths,
        table.parsed.units_per_em,
        table.parsed.font_metrics.clone(),
    );
    font.pdf_font_metrics = table.parsed.pdf_font_metrics.clone();
    Ok(EmbeddedFace { face, font, characters })
}

/// Six capitals that stand for the set of characters (ISO 32000-1, 9.6.4).
fn subset_tag(characters: &str) -> String {
    Sha256::digest(characters.as_bytes()).iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
}

/// The document as printpdf builds it: pages with their boxes, fonts, outline. The pages' contents follow later; the first page
/// only shows every character once, since printpdf embeds the fonts that it sees in use.
fn build_skeleton(document: &Document, fonts: Vec<EmbeddedFace>) -> PdfDocument {
    let mut skeleton = PdfDocument::new(&document.title);
    let mut showing = vec![Op::StartTextSection];
    for embedded in fonts {
        let id = FontId(resource_name(embedded.face).to_owned());
        showing.push(Op::SetFont { font: PdfFontHandle::External(id.clone()), size: Pt(1.0) });
        showing.push(Op::ShowText { items: vec![TextItem::Text(embedded.characters)] });
        skeleton.resources.fonts.map.insert(id, PdfFont::new(embedded.font));
    }
    showing.push(Op::EndTextSection);
    let sheet = Rect::from_wh(page_points(document.size[0]), page_points(document.size[1]));
    for _ in &document.pages {
        skeleton.pages.push(PdfPage {
            media_box: sheet.clone(),
            trim_box: sheet.clone(),
            crop_box: sheet.clone(),
            ops: std::mem::take(&mut showing),
        });
    }
    for (index, bookmark) in document.outline.iter().enumerate() {
        skeleton.bookmarks.map.insert(
            PageAnnotId(format!("{index:06}")),
            PageAnnotation { name: bookmark.title.clone(), page: bookmark.page + 1 },
        );
    }
    skeleton
}

/// Size of the paper, to 0.001 pt.
#[allow(clippy::cast_possible_truncation)]
fn page_points(mm: f64) -> Pt {
    Pt(((mm * POINTS * 1000.0).round() / 1000.0) as f32)
}

fn content_id(document: &Document, contents: &[Vec<u8>]) -> Vec<u8> {
    let mut hash = Sha256::new();
    for text in [&document.title, &document.subject, &document.date] {
        hash.update(text.as_bytes());
        hash.update([0]);
    }
    for content in contents {
        hash.update(content);
    }
    hash.finalize().iter().take(16).copied().collect()
}

fn set_contents(file: &mut lopdf::Document, contents: Vec<Vec<u8>>) -> Result<(), RenderError> {
    let pages: Vec<_> = file.get_pages().into_values().collect();
    for (page, content) in pages.into_iter().zip(contents) {
        let stream = file
            .get_dictionary(page)
            .and_then(|dictionary| dictionary.get(b"Contents"))
            .and_then(Object::as_reference)
            .and_then(|id| file.get_object_mut(id))
            .and_then(Object::as_stream_mut)
            .map_err(|error| failed(&error))?;
        stream.set_content(content);
    }
    Ok(())
}

/// Printing at true scale on the right paper, the title in the window's bar, English, and the outline open.
fn set_catalog(file: &mut lopdf::Document) -> Result<(), RenderError> {
    let catalog = file.catalog_mut().map_err(|error| failed(&error))?;
    catalog.set(
        "ViewerPreferences",
        dictionary! {
            "PrintScaling" => "None",
            "PickTrayByPDFSize" => true,
            "DisplayDocTitle" => true,
        },
    );
    catalog.set("Lang", Object::string_literal("en"));
    catalog.set("PageMode", "UseOutlines");
    catalog.set("PageLayout", "SinglePage");
    Ok(())
}

fn set_information(file: &mut lopdf::Document, document: &Document, date: &str) -> Result<(), RenderError> {
    let id = file.trailer.get(b"Info").and_then(Object::as_reference).map_err(|error| failed(&error))?;
    let mut information = Dictionary::new();
    for (key, value) in [
        ("Title", document.title.as_str()),
        ("Author", document.author.as_str()),
        ("Subject", document.subject.as_str()),
        ("Creator", "Matchmark"),
        ("Producer", "Matchmark"),
    ] {
        information.set(key, lopdf::text_string(value));
    }
    information.set("CreationDate", Object::string_literal(date));
    information.set("ModDate", Object::string_literal(date));
    file.set_object(id, information);
    Ok(())
}

fn deflate_streams(file: &mut lopdf::Document) -> Result<(), RenderError> {
    for object in file.objects.values_mut() {
        let Object::Stream(stream) = object else {
            continue;
        };
        if stream.dict.has(b"Filter") {
            continue;
        }
        let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(DEFLATE_LEVEL));
        let deflated =
            encoder.write_all(&stream.content).and_then(|()| encoder.finish()).map_err(|error| failed(&error))?;
        stream.dict.set("Filter", "FlateDecode");
        stream.set_content(deflated);
    }
    Ok(())
}

/// `YYYY-MM-DD` as a PDF date at midnight UTC.
fn pdf_date(date: &str) -> Result<String, RenderError> {
    let wrong = || RenderError::Date { date: date.to_owned() };
    let parts: Vec<&str> = date.split('-').collect();
    let [year, month, day] = parts.as_slice() else {
        return Err(wrong());
    };
    let number = |part: &str, length: usize, range: std::ops::RangeInclusive<u32>| {
        part.parse::<u32>().is_ok_and(|n| range.contains(&n))
            && part.len() == length
            && part.bytes().all(|byte| byte.is_ascii_digit())
    };
    if number(year, 4, 1900..=9999) && number(month, 2, 1..=12) && number(day, 2, 1..=31) {
        Ok(format!("D:{year}{month}{day}000000Z"))
    } else {
        Err(wrong())
    }
}

fn failed(error: &impl ToString) -> RenderError {
    RenderError::Pdf { reason: error.to_string() }
}
