//! `matchmark import`

use super::{Failure, print, read};
use clap::Args;
use matchmark_core::Stop;
use matchmark_core::document::Severity;
use matchmark_import::{Import, Outcome, Report, SourceFile};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What to read.
#[derive(Args)]
pub struct Options {
    /// Drawings, models or tables of one frame: DXF, STEP, CSV or XLSX.
    #[arg(required = true)]
    files: Vec<PathBuf>,

    /// File to write the design document to.
    #[arg(short, long)]
    output: PathBuf,

    /// What no file says, as JSON: unit, axes, origin, sections, join_in_line, radius, columns. `-` reads standard input.
    #[arg(long)]
    answers: Option<PathBuf>,

    /// An existing design document: what moved, what is new and what went is compared with it, and names, notes, holes and steps are
    /// kept. The design that is written is that one, brought up to the files.
    #[arg(long)]
    over: Option<PathBuf>,

    /// File to write the report to, as JSON: questions with their defaults, and what was found.
    #[arg(long)]
    report: Option<PathBuf>,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let answers = options.answers.as_deref().map(read).transpose()?;
    let over = options.over.as_deref().map(read).transpose()?;
    let files = options.files.iter().map(|path| source(path)).collect::<Result<Vec<_>, _>>()?;
    let Import { design, report } =
        matchmark_import::import_text(&files, answers.as_deref(), over.as_deref(), Stop::NEVER)
            .map_err(|stopped| Failure::Other(stopped.to_string()))?;
    if let Some(path) = &options.report {
        write(path, &pretty(&report)?)?;
    }
    if let Some(design) = &design {
        write(&options.output, &pretty(design)?)?;
    }
    print(&told(&report))?;
    Ok(if design.is_some() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn source(path: &Path) -> Result<SourceFile, Failure> {
    let bytes = std::fs::read(path).map_err(|source| Failure::Unreadable { path: path.to_owned(), source })?;
    let name = path.file_name().map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned());
    Ok(SourceFile { name, bytes })
}

fn pretty<T: serde::Serialize>(value: &T) -> Result<String, Failure> {
    serde_json::to_string_pretty(value).map(|text| text + "\n").map_err(|error| Failure::Other(error.to_string()))
}

fn write(path: &Path, text: &str) -> Result<(), Failure> {
    std::fs::write(path, text).map_err(|source| Failure::Unwritable { path: path.to_owned(), source })
}

/// The report for a person: findings, then questions, then how it ended.
fn told(report: &Report) -> String {
    let mut text = String::new();
    for finding in &report.findings {
        let weight = match finding.severity {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Information => "information",
        };
        text.push_str(&format!("{weight}[{}] {}: {}\n", finding.code.as_str(), finding.place, finding.message));
    }
    for question in &report.questions {
        let field = serde_json::to_value(question.field).unwrap_or_default();
        let field = field.as_str().unwrap_or_default();
        text.push_str(&format!("question[{field}] {}\n", question.text));
        if question.stops {
            text.push_str(&format!("  It must be answered under `{field}`. Figures: {}\n", question.figures));
        } else {
            text.push_str(&format!("  Taken without an answer: {}\n", question.default));
        }
    }
    for finding in report.nodes.iter().flat_map(|nodes| &nodes.findings) {
        text.push_str(&format!("node[{}] {}\n", finding.code, finding.message));
    }
    if let Some(comparison) = &report.comparison {
        let moved: Vec<&str> = comparison.moved.iter().map(|moved| moved.id.as_str()).collect();
        text.push_str(&format!("Kept as they were: {}.\n", comparison.kept.len()));
        for (what, ids) in [
            ("Moved", moved),
            ("Added", comparison.added.iter().map(String::as_str).collect()),
            ("Removed", comparison.removed.iter().map(String::as_str).collect()),
            ("Gone, but still referred to", comparison.still_referred_to.iter().map(String::as_str).collect()),
        ] {
            text.push_str(&format!(
                "{what}: {}{}\n",
                ids.len(),
                if ids.is_empty() { ".".to_owned() } else { format!(": {}.", ids.join(", ")) }
            ));
        }
    }
    let counts = &report.counts;
    text.push_str(&match report.outcome {
        Outcome::Read => format!(
            "Read: {} tubes, {} of them bent, {} mirrored pairs, {} sections.\n",
            counts.tubes, counts.bent, counts.pairs, counts.sections
        ),
        Outcome::Unanswered => {
            "No design was written: answer the questions in a JSON file and give it with --answers.\n".to_owned()
        }
        Outcome::Refused => "No design was written: see the errors above.\n".to_owned(),
    });
    text
}
