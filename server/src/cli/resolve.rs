//! `matchmark resolve`

use super::excerpt::Excerpts;
use super::{Failure, must_be_apart, print, read, write};
use clap::Args;
use matchmark_core::document::Severity;
use matchmark_core::nodes;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What to resolve.
#[derive(Args)]
pub struct Options {
    /// Design document; `-` reads standard input.
    file: PathBuf,

    /// Where to write the document with its ends; standard output when absent.
    #[arg(short, long)]
    out: Option<PathBuf>,

    /// Where to write what was decided, as JSON.
    #[arg(long)]
    report: Option<PathBuf>,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let written: Vec<&Path> = options.out.iter().chain(&options.report).map(PathBuf::as_path).collect();
    must_be_apart(&written, &[])?;
    let text = read(&options.file)?;
    let resolution = nodes::resolve(&text);
    let name = options.file.display().to_string();
    let excerpts = Excerpts::new(&name, &text);
    for finding in &resolution.findings {
        eprintln!("{}\n", excerpts.show(finding));
    }
    if let Some(path) = &options.report {
        let report = serde_json::to_string_pretty(&resolution.report).map_err(std::io::Error::from)?;
        write(path, &format!("{report}\n"))?;
    }
    match (&resolution.document, &options.out) {
        (Some(document), Some(path)) => write(path, document)?,
        (Some(document), None) => print(document)?,
        (None, _) => {}
    }
    let has_errors = resolution.findings.iter().any(|finding| finding.severity == Severity::Error);
    Ok(if has_errors { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}
