//! Pages to a PDF file: printpdf builds the document, its fonts and outline; the rest is settled through lopdf.
//!
//! The same document gives the same bytes, always: printpdf's own ids count up through a process, so fonts and outline entries
//! get fixed ids here and the file's `/ID` comes from a hash of its content.

use std::collections::BTreeMap;

use flate2::{Compress, Compression, FlushCompress, Status as FlateStatus};
use lopdf::{Dictionary, Object, StringFormat, dictionary};
use printpdf::{
    FontId, Op, PageAnnotId, PageAnnotation, ParsedFont, PdfDocument, PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions,
    Pt, Rect, TextItem,
};
use rayon::prelude::*;
use sha2::{Digest, Sha256};
use subsetter::GlyphRemapper;

use super::archive;
use super::content::{GlyphNumbers, POINTS, resource_name, write_content};
use super::fonts::FaceTable;
use super::sealing::{Sealing, Seals};
use super::text_string::{parted, text_string};
use super::{Letters, RenderError, check_page, letters};
use crate::drawing::{Area, Drawing, Weight};
use crate::seal::file_seal;
use crate::{Stop, Stopped};

/// Level of deflate: the highest takes twice as long for a file an eighth smaller.
const DEFLATE_LEVEL: u32 = 1;

/// Fewest streams that an encoder of their own is set up for.
const LEAST_SHARE: usize = 32;

/// An entry of the outline.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bookmark {
    /// What it says.
    pub title: String,
    /// Page it leads to, from 0.
    pub page: usize,
}

/// A page ready to be written.
#[derive(Debug, Clone, PartialEq)]
pub struct Page {
    /// What it is called where something is wrong with it.
    pub title: String,
    /// What it shows.
    pub drawing: Drawing,
    /// Places that lead to other pages when tapped.
    pub links: Vec<Link>,
}

/// A place on a page that leads to another page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Link {
    /// The place.
    pub area: Area,
    /// Page it leads to, from 0.
    pub page: usize,
}

/// What a written file is made of.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// The file.
    pub bytes: Vec<u8>,
    /// SHA-256 of each page's content, lower-case hex.
    pub contents: Vec<String>,
    /// The signed code of each page; empty when the document is not sealed.
    pub codes: Vec<String>,
    /// SHA-256 of what each code signs of its page, lower-case hex; empty when the document is not sealed.
    pub signed: Vec<String>,
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
    /// Width and height that drawings have, mm.
    pub room: [f64; 2],
    /// What lengths across and up the page are multiplied by, for a printer that is off.
    pub stretch: [f64; 2],
    /// The pages.
    pub pages: Vec<Page>,
    /// The outline, in order of pages.
    pub outline: Vec<Bookmark>,
    /// What each page is signed with.
    pub sealing: Option<Sealing>,
}

/// Checks every page and writes the document as PDF 1.7.
///
/// # Errors
/// What [`check_page`] refuses, a date that is none, a text too long to be signed, or a failure of the libraries beneath;
/// [`RenderError::Stopped`] when it is no longer wanted.
pub fn write_pdf(document: &Document, stop: Stop) -> Result<Written, RenderError> {
    let letters = letters()?;
    document.pages.par_iter().try_for_each(|page| check_page(&page.title, document.room, &page.drawing, letters))?;
    let date = pdf_date(&document.date)?;
    let mut numbers = GlyphNumbers::default();
    let fonts = [Weight::Regular, Weight::Bold]
        .into_iter()
        .map(|face| embed_face(document, face, letters, &mut numbers))
        .collect::<Result<Vec<_>, _>>()?;
    let stretch = document.stretch;
    let content = |page: &Page| stop.check().map(|()| write_content(&page.drawing, stretch, letters, &numbers));
    let contents: Vec<Vec<u8>> = document.pages.par_iter().map(content).collect::<Result<_, Stopped>>()?;
    let hashes: Vec<[u8; 32]> = contents.par_iter().map(|content| Sha256::digest(content).into()).collect();

    let skeleton = build_skeleton(document, fonts);
    let mut file = skeleton.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
    let id = content_id(document, &hashes);
    finish_pages(&mut file, document, contents)?;
    set_catalog(&mut file)?;
    set_information(&mut file, document, &date)?;
    archive::describe(&mut file, document)?;
    let seals = match &document.sealing {
        Some(sealing) => sealing.seal(&mut file, document, &hashes, &id)?,
        None => Seals::default(),
    };
    file.version = "1.7".to_owned();
    let id = Object::String(id, StringFormat::Hexadecimal);
    file.trailer.set("ID", vec![id.clone(), id]);
    deflate_streams(&mut file, stop)?;
    let bytes = save(&mut file, document.sealing.as_ref())?;
    let contents = hashes.iter().map(|hash| data_encoding::HEXLOWER.encode(hash)).collect();
    Ok(Written { bytes, contents, codes: seals.codes, signed: seals.signed })
}

/// The bytes of the file, signed as a whole.
fn save(file: &mut lopdf::Document, sealing: Option<&Sealing>) -> Result<Vec<u8>, RenderError> {
    if sealing.is_some() {
        file.trailer.set(file_seal::FILE_KEY, file_seal::placeholder());
    }
    let mut bytes = Vec::new();
    file.save_to(&mut bytes).map_err(|error| failed(&error))?;
    if let Some(sealing) = sealing {
        file_seal::sign(&mut bytes, &sealing.key).ok_or_else(|| RenderError::Seal {
            reason: "there is no place for the signature of the file".to_owned(),
        })?;
    }
    Ok(bytes)
}

/// One face cut down to the characters that the document uses.
struct EmbeddedFace {
    face: Weight,
    font: ParsedFont,
    characters: String,
}

fn embed_face(
    document: &Document,
    face: Weight,
    letters: &Letters,
    numbers: &mut GlyphNumbers,
) -> Result<EmbeddedFace, RenderError> {
    let mut is_used = vec![false; 0x1_0000];
    let texts = document.pages.iter().flat_map(|page| page.drawing.texts()).filter(|text| text.face == face);
    for character in texts.flat_map(|text| text.content.chars()) {
        if let Some(is_used) = is_used.get_mut(character as usize) {
            *is_used = true;
        }
    }
    let used: Vec<char> =
        (0..).zip(&is_used).filter(|(_, is_used)| **is_used).filter_map(|(code, _)| char::from_u32(code)).collect();
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
        Weight::Regular => "DejaVuSansCondensed",
        Weight::Bold => "DejaVuSansCondensed-Bold",
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
    let [width, height] = [0, 1].map(|axis| page_points(document.room[axis] * document.stretch[axis]));
    let sheet = Rect::from_wh(width, height);
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

fn content_id(document: &Document, hashes: &[[u8; 32]]) -> Vec<u8> {
    let mut hash = Sha256::new();
    for text in [&document.title, &document.subject, &document.date] {
        hash.update(text.as_bytes());
        hash.update([0]);
    }
    for content in hashes {
        hash.update(content);
    }
    hash.finalize().iter().take(16).copied().collect()
}

/// Gives each page its content and its links.
fn finish_pages(file: &mut lopdf::Document, document: &Document, contents: Vec<Vec<u8>>) -> Result<(), RenderError> {
    let ids: Vec<_> = file.get_pages().into_values().collect();
    for (index, (id, content)) in ids.iter().zip(contents).enumerate() {
        let stream = file
            .get_dictionary(*id)
            .and_then(|dictionary| dictionary.get(b"Contents"))
            .and_then(Object::as_reference)
            .map_err(|error| failed(&error))?;
        file.get_object_mut(stream)
            .and_then(Object::as_stream_mut)
            .map_err(|error| failed(&error))?
            .set_content(content);
        let links: Vec<Object> =
            document.pages[index].links.iter().map(|link| annotation(link, &ids, document.stretch)).collect();
        let page = file.get_dictionary_mut(*id).map_err(|error| failed(&error))?;
        if links.is_empty() {
            page.remove(b"Annots");
        } else {
            page.set("Annots", links);
        }
    }
    Ok(())
}

/// A place that leads to the top of another page (ISO 32000-1, 12.5.6.5), with no border of its own.
#[allow(clippy::cast_possible_truncation)]
fn annotation(link: &Link, pages: &[lopdf::ObjectId], stretch: [f64; 2]) -> Object {
    let Area { x, y, .. } = link.area;
    let corner = |point: [f64; 2]| [0, 1].map(|axis| Object::Real((point[axis] * stretch[axis] * POINTS) as f32));
    let rectangle = [corner([x, y]), corner([link.area.right(), link.area.top()])].concat();
    let target = pages.get(link.page).copied().unwrap_or_default();
    Object::Dictionary(dictionary! {
        "Type" => "Annot",
        "Subtype" => "Link",
        "Rect" => rectangle,
        "Border" => vec![0.into(), 0.into(), 0.into()],
        // Printed with the page, as PDF/A asks of every annotation.
        "F" => 4,
        "Dest" => vec![Object::Reference(target), "Fit".into()],
    })
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
        ("Title", parted(&document.title)),
        ("Author", parted(&document.author)),
        ("Subject", parted(&document.subject)),
        ("Creator", "Matchmark".to_owned()),
        ("Producer", "Matchmark".to_owned()),
    ] {
        information.set(key, text_string(&value));
    }
    information.set("CreationDate", Object::string_literal(date));
    information.set("ModDate", Object::string_literal(date));
    file.set_object(id, information);
    Ok(())
}

fn deflate_streams(file: &mut lopdf::Document, stop: Stop) -> Result<(), RenderError> {
    let streams: Vec<&mut lopdf::Stream> = file
        .objects
        .values_mut()
        .filter_map(|object| object.as_stream_mut().ok())
        .filter(|stream| stream.allows_compression && !stream.dict.has(b"Filter") && !stream.dict.has_type(b"Metadata"))
        .collect();
    let encoder = || (Compress::new(Compression::new(DEFLATE_LEVEL), true), Vec::new());
    streams.into_par_iter().with_min_len(LEAST_SHARE).try_for_each_init(encoder, |(encoder, deflated), stream| {
        stop.check()?;
        encoder.reset();
        deflated.clear();
        // More than what deflate ever makes of a content.
        deflated.reserve(stream.content.len() + stream.content.len() / 8 + 64);
        match encoder.compress_vec(&stream.content, deflated, FlushCompress::Finish) {
            Ok(FlateStatus::StreamEnd) => {}
            Ok(_) => return Err(failed(&"deflate did not end")),
            Err(error) => return Err(failed(&error)),
        }
        stream.dict.set("Filter", "FlateDecode");
        stream.set_content(deflated.clone());
        Ok(())
    })
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
