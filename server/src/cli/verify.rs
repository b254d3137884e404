//! `matchmark verify`

use super::{Failure, print};
use clap::Args;
use matchmark_core::render::{SealReport, check_seals};
use matchmark_core::seal::{PageStatement, PublicKey};
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What to check.
#[derive(Args)]
pub struct Options {
    /// PDF file of a pack, or the text of one page's code.
    what: String,

    /// The supplier's public key, 64 hexadecimal digits.
    #[arg(long, env = "MATCHMARK_PUBLIC_KEY")]
    public_key: String,

    /// Print the findings as JSON.
    #[arg(long)]
    json: bool,
}

/// Exit code when the signature or the content does not fit.
const NOT_GENUINE: u8 = 1;

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let key = PublicKey::from_hex(&options.public_key).map_err(|error| Failure::Other(error.to_string()))?;
    if Path::new(&options.what).is_file() {
        return file(&PathBuf::from(&options.what), &key, options.json);
    }
    match key.verify(&options.what) {
        Ok(statement) => {
            print(&said(&statement, options.json)?)?;
            Ok(ExitCode::SUCCESS)
        }
        Err(error) => Err(Failure::Other(format!("{}: {error}", error.code()))),
    }
}

fn said(statement: &PageStatement, json: bool) -> Result<String, Failure> {
    if json {
        return serde_json::to_string(statement)
            .map(|text| text + "\n")
            .map_err(|error| Failure::Other(error.to_string()));
    }
    Ok(format!("signed: {}\n{WARNING}\n", words(statement)))
}

/// A signature says where a page comes from, not whether it is still right.
const WARNING: &str = "A signature does not expire: ask the supplier's service whether this revision is still current.";

fn words(page: &PageStatement) -> String {
    let or_none = |text: &str| if text.is_empty() { "none".to_owned() } else { text.to_owned() };
    format!(
        "design {}, revision {}, kit {}, pack {}, page {} of {}, {}",
        page.design,
        if page.revision.is_empty() { "draft" } else { &page.revision },
        or_none(&page.kit),
        or_none(&page.pack),
        page.page,
        page.pages,
        page.date
    )
}

fn file(path: &Path, key: &PublicKey, json: bool) -> Result<ExitCode, Failure> {
    let bytes = std::fs::read(path).map_err(|source| Failure::Unreadable { path: path.to_owned(), source })?;
    let report = check_seals(&bytes, key).map_err(|error| Failure::Other(error.to_string()))?;
    if json {
        let text = serde_json::to_string(&report).map_err(|error| Failure::Other(error.to_string()))?;
        print(&format!("{text}\n"))?;
    } else {
        print(&lines(&report))?;
    }
    Ok(if report.genuine { ExitCode::SUCCESS } else { ExitCode::from(NOT_GENUINE) })
}

fn lines(report: &SealReport) -> String {
    let mut text = String::new();
    for page in &report.pages {
        if let Some(fault) = &page.fault {
            let _ = writeln!(text, "page {} of the file: {fault}", page.place);
        }
    }
    for fault in &report.faults {
        let _ = writeln!(text, "{fault}");
    }
    match report.pages.first().and_then(|page| page.statement.as_ref()) {
        Some(first) if report.genuine => {
            let _ = writeln!(text, "all {} pages are as signed: {}\n{WARNING}", report.pages.len(), words(first));
        }
        _ => text.push_str("NOT GENUINE: do not cut from this file.\n"),
    }
    text
}
