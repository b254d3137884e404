//! What is said of whole files, and of findings that are only counted.

use thiserror::Error;

/// What is wrong with a file or with all of them.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum FileFact<'a> {
    #[error("No file was given. Give one or more.")]
    NoneGiven,
    #[error("The files have more than {megabytes} MB in all. Leave out what is no tube.")]
    TooLarge { megabytes: usize },
    #[error("{file} is of no format that is read here. Save it as DXF, STEP, CSV or XLSX.")]
    NotKnown { file: &'a str },
    #[error(
        "{file} is a binary drawing of another format, not a DXF, whatever its name says. Save it as DXF in text form."
    )]
    OtherDrawing { file: &'a str },
    #[error("{file} is a workbook of the old binary format. Save it as XLSX or CSV.")]
    OldWorkbook { file: &'a str },
    #[error("{file} is a PDF, which holds pictures of lines and not the frame. Export DXF or STEP.")]
    Pdf { file: &'a str },
    #[error("{file} is a binary file of no format that is read here. Save it as DXF, STEP, CSV or XLSX.")]
    NotKnownBinary { file: &'a str },
    #[error("This file has another unit than the file before it. Save all in one unit, or import them one by one.")]
    OtherUnit,
    #[error("The file says that its unit is {own} mm. It was read in {told}, as was answered.")]
    UnitOverruled { own: f64, told: &'a str },
}

/// What is said of findings together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum FindingsFact {
    #[error("There are {more} more of this kind.")]
    MoreOfKind { more: usize },
}
