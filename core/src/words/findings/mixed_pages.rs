//! What is said of pages of several files in one.

use std::fmt::{Display, Formatter, Result};
use thiserror::Error;

/// Pages that were not issued together: of which files, and how many files more there are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct MixedPages {
    pub(crate) files: Vec<FilePages>,
    pub(crate) more: usize,
}

/// The pages of one file by their places.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct FilePages {
    pub(crate) places: Vec<usize>,
    pub(crate) of: FileName,
    /// Whether a file of the same name is among those before.
    pub(crate) is_again: bool,
}

/// What a page belongs to.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("{what} of {whose}")]
pub(crate) struct FileName {
    pub(crate) what: FileKind,
    pub(crate) whose: FileOwner,
}

/// What was issued.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub(crate) enum FileKind {
    #[error("of a drawing without a number")]
    Drawing,
    #[error("of pack {0}")]
    Pack(String),
    #[error("the stop sheet")]
    StopSheet,
    #[error("of notice {0}")]
    Notice(String),
    #[error("of notice {notice} (set N{notice}/P{beside}/{told})")]
    NoticeSet { notice: String, beside: u32, told: u32 },
}

/// For what it was issued.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub(crate) enum FileOwner {
    #[error("design {0}")]
    Design(String),
    #[error("kit {0}")]
    Kit(String),
}

impl Display for MixedPages {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let mut each: Vec<String> = self.files.iter().map(ToString::to_string).collect();
        if self.more > 0 {
            each.push(format!("the others are of {} more", self.more));
        }
        write!(
            f,
            "pages that were not issued together are in this file, so that it cannot be vouched for as a whole: {}. Check those of each \
             in a file of their own",
            each.join(", ")
        )
    }
}

impl Display for FilePages {
    fn fmt(&self, f: &mut Formatter<'_>) -> Result {
        let (noun, verb) = if self.places.len() == 1 { ("page", "is") } else { ("pages", "are") };
        let another = if self.is_again { ", drawn another time" } else { "" };
        write!(f, "{noun} {} {verb} {}{another}", listed(&runs(&self.places)), self.of)
    }
}

/// Places in words: those that follow each other, three and more, by the first and the last.
fn runs(places: &[usize]) -> Vec<String> {
    let follows = |before: &usize, place: &usize| *place == before + 1;
    let runs = places.chunk_by(follows);
    runs.flat_map(|run| match run {
        [first, _, .., last] => vec![format!("{first} to {last}")],
        few => few.iter().map(usize::to_string).collect(),
    })
    .collect()
}

fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}
