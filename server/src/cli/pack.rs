//! `matchmark pack`

use super::excerpt::Excerpts;
use super::{Failure, read};
use crate::clock::{Clock, SystemClock};
use crate::engine::{self, PAPER_THICKNESS};
use clap::{Args, ValueEnum};
use matchmark_core::document::OneKit;
use matchmark_core::pack::{Issue, Paper, Status};
use std::path::PathBuf;
use std::process::ExitCode;
use time::Date;
use time::macros::format_description;

/// What to draw.
#[derive(Args)]
pub struct Options {
    /// Design document; `-` reads standard input.
    file: PathBuf,

    /// File to write.
    #[arg(short, long)]
    output: PathBuf,

    /// Letter of the published revision that the document is; without it the pack is marked as a draft.
    #[arg(long)]
    revision: Option<String>,

    /// Serial of the kit.
    #[arg(long, requires = "revision", default_value = "")]
    kit: String,

    /// Date on every page, YYYY-MM-DD; today when absent.
    #[arg(long, value_parser = date)]
    date: Option<String>,

    /// A choice of the kit as option=choice; may be given several times.
    #[arg(long, value_parser = pair)]
    choose: Vec<(String, String)>,

    /// A measured value of the kit as gauge=mm; may be given several times.
    #[arg(long, value_parser = pair)]
    measured: Vec<(String, String)>,

    /// Paper.
    #[arg(long, value_enum, default_value_t = PaperName::A4)]
    paper: PaperName,

    /// Name of the supplier, printed on every page.
    #[arg(long, env = "MATCHMARK_SUPPLIER", default_value = "The supplier of this kit")]
    supplier: String,
}

#[derive(Clone, Copy, ValueEnum)]
enum PaperName {
    A4,
    Letter,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let text = read(&options.file)?;
    let kit = one_kit(options)?;
    let mut evaluation = matchmark_core::evaluate_for(&text, &kit);
    evaluation.number(None);
    if evaluation.sheets.is_none() {
        let name = options.file.display().to_string();
        let excerpts = Excerpts::new(&name, &text);
        for finding in &evaluation.findings {
            eprintln!("{}\n", excerpts.show(finding));
        }
        return Err(Failure::Other("no pack was drawn, because the design has errors".to_owned()));
    }
    let issue = Issue {
        supplier: options.supplier.clone(),
        design: evaluation.name.clone(),
        revision: options.revision.clone().unwrap_or_default(),
        date: options.date.clone().unwrap_or_else(|| SystemClock.stamp().date().to_owned()),
        kit: options.kit.clone(),
        pack_number: String::new(),
        status: match options.revision {
            Some(_) => Status::Issued,
            None => Status::Draft,
        },
        paper: match options.paper {
            PaperName::A4 => Paper::A4,
            PaperName::Letter => Paper::Letter,
        },
        paper_thickness: PAPER_THICKNESS,
        kit_facts: crate::service::one_kit_facts(&kit),
        design_sha256: evaluation.sha256.clone().unwrap_or_default(),
    };
    let bytes = engine::pack_pdf(&evaluation, &issue)?;
    std::fs::write(&options.output, bytes)
        .map_err(|source| Failure::Unwritable { path: options.output.clone(), source })?;
    Ok(ExitCode::SUCCESS)
}

fn one_kit(options: &Options) -> Result<OneKit, Failure> {
    let mut kit = OneKit { choices: options.choose.iter().cloned().collect(), ..OneKit::default() };
    for (gauge, value) in &options.measured {
        let value =
            value.parse().map_err(|_| Failure::Other(format!("{value} is no length in mm: write {gauge}=1234.5")))?;
        kit.measured.insert(gauge.clone(), value);
    }
    Ok(kit)
}

/// `name=value`.
fn pair(text: &str) -> Result<(String, String), String> {
    let (name, value) = text.split_once('=').ok_or("write it as name=value")?;
    Ok((name.to_owned(), value.to_owned()))
}

fn date(text: &str) -> Result<String, String> {
    match Date::parse(text, format_description!("[year]-[month]-[day]")) {
        Ok(_) => Ok(text.to_owned()),
        Err(_) => Err("give a date as YYYY-MM-DD".to_owned()),
    }
}
