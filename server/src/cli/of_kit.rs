//! What a command is told of the revision and the kit that something is made for.

use super::Failure;
use clap::Args;
use matchmark_core::document::OneKit;
use matchmark_store::clock::{Clock, SystemClock};
use time::Date;
use time::macros::format_description;

/// A revision, a kit, and what sets it apart.
#[derive(Args)]
pub struct OfKit {
    /// Letter of the published revision that the document is, as publishing gives it; without it what is made is marked as of a draft.
    #[arg(long, value_parser = revision)]
    pub revision: Option<String>,

    /// Serial of the kit.
    #[arg(long, requires = "revision", default_value = "")]
    pub kit: String,

    /// Date on all that is made, YYYY-MM-DD; today when absent.
    #[arg(long, value_parser = date)]
    date: Option<String>,

    /// A choice of the kit as option=choice; may be given several times.
    #[arg(long, value_parser = pair)]
    choose: Vec<(String, String)>,

    /// A measured value of the kit as gauge=mm; may be given several times.
    #[arg(long, value_parser = pair)]
    measured: Vec<(String, String)>,
}

impl OfKit {
    /// Letter of the revision; empty for a draft.
    pub fn letter(&self) -> String {
        self.revision.clone().unwrap_or_default()
    }

    pub fn date(&self) -> String {
        self.date.clone().unwrap_or_else(|| SystemClock.stamp().date().to_owned())
    }

    /// Measured values as they were written.
    pub fn measured(&self) -> impl Iterator<Item = &(String, String)> {
        self.measured.iter()
    }

    pub fn one_kit(&self) -> Result<OneKit, Failure> {
        let mut kit = OneKit { choices: self.choose.iter().cloned().collect(), ..OneKit::default() };
        for (gauge, value) in &self.measured {
            let value = value
                .parse()
                .map_err(|_| Failure::Other(format!("{value} is not a length in mm: write {gauge}=1234.5")))?;
            kit.measured.insert(gauge.clone(), value);
        }
        Ok(kit)
    }
}

/// `name=value`.
fn pair(text: &str) -> Result<(String, String), String> {
    let (name, value) = text.split_once('=').ok_or("write it as name=value")?;
    Ok((name.to_owned(), value.to_owned()))
}

/// As publishing letters revisions (ASME Y14.35 practice).
fn revision(text: &str) -> Result<String, String> {
    let is_given = |letter: char| letter.is_ascii_uppercase() && !"IOQSXZ".contains(letter);
    match text {
        "" => Err("give a letter".to_owned()),
        letters if letters.chars().all(is_given) => Ok(text.to_owned()),
        _ => Err("give a letter that a revision can have: A, B, C and so on, without I, O, Q, S, X and Z, then AA"
            .to_owned()),
    }
}

fn date(text: &str) -> Result<String, String> {
    match Date::parse(text, format_description!("[year]-[month]-[day]")) {
        Ok(_) => Ok(text.to_owned()),
        Err(_) => Err("give a date as YYYY-MM-DD".to_owned()),
    }
}
