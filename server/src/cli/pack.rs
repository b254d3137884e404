//! `matchmark pack`

use super::excerpt::Excerpts;
use super::{Failure, read};
use crate::clock::{Clock, SystemClock};
use crate::engine::{self, PAPER_THICKNESS};
use clap::{Args, ValueEnum};
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
    let evaluation = matchmark_core::evaluate(&text);
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
        design_sha256: evaluation.sha256.clone().unwrap_or_default(),
    };
    let bytes = engine::pack_pdf(&evaluation, &issue)?;
    std::fs::write(&options.output, bytes)
        .map_err(|source| Failure::Unwritable { path: options.output.clone(), source })?;
    Ok(ExitCode::SUCCESS)
}

fn date(text: &str) -> Result<String, String> {
    match Date::parse(text, format_description!("[year]-[month]-[day]")) {
        Ok(_) => Ok(text.to_owned()),
        Err(_) => Err("give a date as YYYY-MM-DD".to_owned()),
    }
}
