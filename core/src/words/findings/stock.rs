//! What is said of a request for a stock plan.

use thiserror::Error;

/// What is wrong, or worth knowing. Its sentence is English.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum StockFault<'a> {
    #[error("A tube is 1 to 1000 mm over its sides, and its corners are rounded by half the smaller side at most.")]
    Section,
    #[error("The mitres of part {id} cross within the tube. Give the length from long point to long point.")]
    MitresCross { id: &'a str },
    #[error(
        "A mitre is 0 to {steepest_mitre} degrees from square, with its long side at a clock angle of -360 to 360."
    )]
    Mitre { steepest_mitre: f64 },
    #[error("What a mitre takes depends on the tube. Give the section of the request.")]
    NoSection,
    #[error("The parts cannot all be cut from these bars. Add bars, or stock without a count.")]
    TooFew,
    #[error("No way to cut all parts from these bars was found. Add bars, or give more time.")]
    NoneFound,
    #[error(
        "Part {id} is {length} mm long; the longest bar gives {longest} mm after its trim. Add a longer bar or splice the part."
    )]
    PartTooLong { id: &'a str, length: f64, longest: f64 },
    #[error("A bundle is 1 to {most_bundle} bars.")]
    Bundle { most_bundle: u32 },
    #[error("A part is wanted once or more. Give its count, or leave the part out.")]
    Count,
    #[error("There are two parts {id}. Give each an id of its own.")]
    PartTwice { id: &'a str },
    #[error("One plan takes {most_parts} parts at most, not {total}. Plan in batches.")]
    TooManyParts { most_parts: u64, total: u64 },
    #[error(
        "Some bars have a price and some have none, so they cannot be compared. Give all a price, 0 where nothing is paid, or none."
    )]
    SomePriced,
    #[error("A price is 0 to {most_price}, not {price}.")]
    Price { most_price: f64, price: f64 },
    #[error("A plan takes 1 to {most} entries of {what}, not {count}.")]
    Entries { most: usize, what: Entries, count: usize },
    #[error("{what} is {least} to {most_length} mm, not {value}.")]
    Length { what: Measure, least: f64, most_length: f64, value: f64 },
    #[error("This is no request for a stock plan: {error}.")]
    NoRequest { error: &'a str },
    #[error("Something follows the request for a stock plan: {error}.")]
    SomethingFollows { error: &'a str },
    #[error("A time limit is more than 0 and at most {most_seconds} seconds, not {seconds}.")]
    TimeLimit { most_seconds: f64, seconds: f64 },
}

/// What a plan takes a list of.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum Entries {
    #[error("parts")]
    Parts,
    #[error("stock")]
    Stock,
}

/// A length of a request.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
pub(crate) enum Measure {
    #[error("The kerf")]
    Kerf,
    #[error("The trim")]
    Trim,
    #[error("The shortest remnant to keep")]
    Remnant,
    #[error("The length of a part")]
    Part,
    #[error("The length of a bar")]
    Bar,
}
