//! What is said of tables: their headers, rows and cells, and the workbooks that hold them.

use thiserror::Error;

/// What is wrong with a table, or was taken from it.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum TableFact<'a> {
    #[error("The table has more than {cells} cells or {megabytes} MB. Leave out what is no tube.")]
    TooLarge { cells: usize, megabytes: usize },
    #[error("{file} is no table: its lines are not divided into columns alike. Save it as CSV with a header row.")]
    NoColumns { file: &'a str },
    #[error("No row of this table is a header whose words are known, so it was left out.")]
    NoHeader,
    #[error(
        "No tubes are told by these tables. Give points (point, x, y, z) and members (from, to or path), or rows with x1 to z2, or rows of corners (member, x, y, z). Answer `columns` where headers have other words."
    )]
    NoTubes,
    #[error("Lengths are taken in {unit}: the lines above the header say so.")]
    UnitOfLinesAbove { unit: &'a str },
    #[error("Lengths are taken in {unit}: all columns that state a unit agree.")]
    UnitOfColumns { unit: &'a str },
}

/// What is said of one column of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum ColumnFact<'a> {
    #[error("`{word}` is no meaning of a column. Answer one of: {meanings}.")]
    NoMeaning { word: &'a str, meanings: &'a str },
    #[error("The column `{header}` means the same as one before it, and was not used.")]
    Repeated { header: &'a str },
    #[error(
        "What the column `{header}` means is not known, and it was not used. Answer it under `columns` if it matters."
    )]
    NotKnown { header: &'a str },
}

/// What is wrong with a row of a table, or was taken in it.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub enum RowFact<'a> {
    #[error("A point without a name stands in this row. Name it, or remove the row.")]
    PointWithoutName,
    #[error("The point `{point}` is given twice with different coordinates. Keep one.")]
    PointTwice { point: &'a str },
    #[error("The point `{point}` is not in the tables. Add it, or correct the name.")]
    PointNotKnown { point: &'a str },
    #[error("The point `{point}` of this member is not in the tables. Add it, or correct the name.")]
    PointOfMemberNotKnown { point: &'a str },
    #[error("A point of this member is missing. Fill it in.")]
    PointOfMemberMissing,
    #[error("A member needs two points or more. Fill them in.")]
    TooFewPoints,
    #[error("The member `{member}` has one point only. Add its other points.")]
    OnePoint { member: &'a str },
    #[error("The name `{member}` is given twice. Both members were read, and the later one gets a number.")]
    MemberTwice { member: &'a str },
    #[error("These are bends of `{member}`, but two members have that name. Rename one.")]
    BendsOfTwoMembers { member: &'a str },
    #[error("This row comes before any member is named. Name the member in its first row.")]
    BeforeMembers,
    #[error(
        "The outer corner radius of this rectangular tube is not told. Twice the wall, {taken} mm, was taken. Check it."
    )]
    CornerTaken { taken: f64 },
}

/// What is wrong with the number of a cell.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum CellFact<'a> {
    #[error("A number is missing in this row: the cell is empty or the row too short. Fill it in.")]
    Missing,
    #[error(
        "This cell is a formula whose value was never calculated. Open and save the workbook in a spreadsheet, or write the value."
    )]
    NotCalculated,
    #[error(
        "The numbers of this column can be read in two ways, first `{text}`: with point or with comma as decimal sign. Write them in one way."
    )]
    TwoReadings { text: &'a str },
    #[error("`{text}` is no number. Correct it.")]
    NoNumber { text: &'a str },
    #[error("This number has no end. Correct it.")]
    Endless,
    #[error("The cell holds the error `{text}`. Correct it.")]
    Fault { text: &'a str },
}

/// What stands for a cell that holds neither words nor a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum CellText {
    #[error("a date")]
    Date,
    #[error("a formula without a value")]
    Formula,
}

/// What is wrong with a workbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum WorkbookFact<'a> {
    #[error(
        "The workbook {file} cannot be opened: its zip directory is damaged or incomplete. Save or send the XLSX anew."
    )]
    ArchiveDamaged { file: &'a str },
    #[error("The workbook {file} unpacks to more than {megabytes} MB. Leave out what is no tube.")]
    TooLarge { file: &'a str, megabytes: u64 },
    #[error("The workbook {file} cannot be read: it is damaged or no XLSX. Save it anew.")]
    NotReadable { file: &'a str },
}

/// What is said of one sheet of a workbook.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum SheetFact {
    #[error("This sheet is hidden and was left out.")]
    Hidden,
    #[error("This sheet cannot be read: it is damaged. Save the workbook anew.")]
    Damaged,
    #[error("This sheet has more than {most} cells. Leave out what is no tube.")]
    TooManyCells { most: usize },
    #[error("The cells of this sheet have more than {megabytes} MB of words. Leave out what is no tube.")]
    TooMuchText { megabytes: usize },
}

/// What is asked about tables.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum TableQuestion<'a> {
    #[error("What do the columns mean? Answer each header with one of: {meanings}.")]
    Columns { meanings: &'a str },
}

/// Where in a table something is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
pub enum TablePlace<'a> {
    #[error("{file}, sheet {sheet}")]
    Sheet { file: &'a str, sheet: &'a str },
    #[error("{table}, row {row}")]
    Row { table: &'a str, row: usize },
    #[error("{table}, cell {letters}{row} (row {row}, column {letters})")]
    CellOfSheet { table: &'a str, row: usize, letters: &'a str },
    #[error("{table}, row {row}, column {column} ({letters})")]
    CellOfText { table: &'a str, row: usize, column: usize, letters: &'a str },
}
