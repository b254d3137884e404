//! Readers: from the bytes of a file to curves and tubes, in its own axes.

mod dxf;
mod name;
mod spline;
mod step;
mod table;

use crate::answers::Answers;
use crate::curve::{Curve, Tube};
use crate::report::{Code, FileRead, Notes};
use crate::unit::Unit;
use crate::words::files::FileFact;
use matchmark_core::{Stop, Stopped};

/// A file as it was given.
#[derive(Debug, Clone)]
pub struct SourceFile {
    /// Its name.
    pub name: String,
    /// What it holds.
    pub bytes: Vec<u8>,
}

/// Most bytes of all files together.
pub const MOST_BYTES: usize = 64 << 20;

/// Longest name of a layer or product that is read, in letters; that of a drawing may not be longer.
const MOST_NAME: usize = 255;

/// A name of a file, cut where it is too long: it is said wherever it stands, and a block may stand in many places.
fn name_of(text: &str) -> String {
    text.chars().take(MOST_NAME).collect()
}

/// Most curves and tubes that are read; a design has at most 25,000 members.
const MOST_CURVES: usize = 100_000;

/// What a file holds, in its own axes.
#[derive(Debug, Default)]
pub struct Drawn {
    /// Curves that are still to be chained into tubes.
    pub curves: Vec<Curve>,
    /// Tubes that the file tells as such.
    pub tubes: Vec<Tube>,
    /// How many mm the numbers here are; `None` where nothing says it. Radii and points alike.
    pub mm: Option<f64>,
    /// How many mm the coordinates of the source are, in which an origin is told.
    pub source_mm: Option<f64>,
    /// What only hints at a unit, in words.
    pub unit_hint: Option<String>,
}

/// Reads all files of a format; nothing where they hold none, which is said.
type Read = fn(&[&SourceFile], &Context<'_>, &mut Notes) -> Result<Option<Drawn>, Stopped>;

/// One format: its name, how it is recognised, and its reader.
struct Format {
    name: &'static str,
    knows: fn(&SourceFile) -> bool,
    read: Read,
}

/// What all readers are given.
pub struct Context<'a> {
    /// What the person said.
    pub answers: &'a Answers,
    /// Whether the reading is still wanted.
    pub stop: Stop<'a>,
}

/// All formats, in the order in which they are tried.
const FORMATS: [Format; 5] = [
    Format { name: "STEP", knows: step::knows, read: each::<{ STEP }> },
    Format { name: "XLSX", knows: table::knows_xlsx, read: table::read },
    Format { name: "other", knows: name::is_no_text, read: name::refuse },
    Format { name: "DXF", knows: dxf::knows, read: each::<{ DXF }> },
    Format { name: "CSV", knows: table::knows_text, read: table::read },
];

const STEP: usize = 0;
const DXF: usize = 3;

/// Reads each of several files by itself. Their curves come together.
fn each<const FORMAT: usize>(
    files: &[&SourceFile],
    context: &Context<'_>,
    notes: &mut Notes,
) -> Result<Option<Drawn>, Stopped> {
    let read = if FORMAT == STEP { step::read } else { dxf::read };
    let mut all: Option<Drawn> = None;
    for file in files {
        let Some(drawn) = read(file, context, notes)? else { continue };
        match &mut all {
            None => all = Some(drawn),
            Some(all) if all.mm == drawn.mm => {
                all.curves.extend(drawn.curves);
                all.tubes.extend(drawn.tubes);
            }
            Some(_) => notes.error(Code::UnitTaken, file.name.as_str(), FileFact::OtherUnit),
        }
    }
    Ok(all)
}

/// Reads all files.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted.
pub fn read(
    files: &[SourceFile],
    context: &Context<'_>,
    notes: &mut Notes,
) -> Result<(Vec<Drawn>, Vec<FileRead>), Stopped> {
    let mut kinds = Vec::new();
    let mut listed = Vec::new();
    for file in files {
        let kind = FORMATS.iter().position(|format| (format.knows)(file));
        listed.push(FileRead {
            name: file.name.clone(),
            format: kind.map(|kind| FORMATS[kind].name).filter(|&name| name != "other"),
        });
        kinds.push(kind);
        if kind.is_none() {
            notes.error(Code::UnknownFormat, file.name.as_str(), FileFact::NotKnown { file: &file.name });
        }
    }
    if files.is_empty() {
        notes.error(Code::UnknownFormat, "", FileFact::NoneGiven);
    }
    if files.iter().map(|file| file.bytes.len()).sum::<usize>() > MOST_BYTES {
        notes.error(Code::TooLarge, "", FileFact::TooLarge { megabytes: MOST_BYTES >> 20 });
        return Ok((Vec::new(), listed));
    }
    let mut all = Vec::new();
    for (index, format) in FORMATS.iter().enumerate() {
        let of_format: Vec<&SourceFile> =
            files.iter().zip(&kinds).filter(|(_, kind)| **kind == Some(index)).map(|(file, _)| file).collect();
        if !of_format.is_empty() {
            all.extend((format.read)(&of_format, context, notes)?);
        }
    }
    Ok((all, listed))
}

/// The told unit, or else the file's own, said where the two differ.
fn settled_unit(told: Option<Unit>, own: Option<f64>, place: &str, notes: &mut Notes) -> Option<f64> {
    let (Some(told), Some(own)) = (told, own) else { return told.map(Unit::mm).or(own) };
    if (told.mm() - own).abs() > 1e-9 * own {
        notes.warning(Code::UnitTaken, place, FileFact::UnitOverruled { own, told: told.sign() });
    }
    Some(told.mm())
}
