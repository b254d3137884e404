//! `matchmark check`

use super::excerpt::Excerpts;
use super::{Failure, print, read};
use clap::Args;
use matchmark_core::document::{Finding, Severity};
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::ExitCode;

/// What to check.
#[derive(Args)]
pub struct Options {
    /// Design document; `-` reads standard input.
    file: PathBuf,

    /// Check all choices, not only the first of each option: every combination, or where there are more than 64 so many that
    /// options which meet come in every combination of theirs.
    #[arg(long)]
    all_choices: bool,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let text = read(&options.file)?;
    let mut evaluation = matchmark_core::evaluate(&text);
    evaluation.number(None);
    let mut findings = evaluation.findings;
    if options.all_choices {
        let more = matchmark_core::check_all_choices(&text);
        let known: BTreeSet<_> = findings.iter().map(Finding::key).collect();
        let more: Vec<Finding> = more.iter().filter(|finding| !known.contains(&finding.key())).cloned().collect();
        findings.extend(more);
    }
    let name = options.file.display().to_string();
    let excerpts = Excerpts::new(&name, &text);
    for finding in &findings {
        print(&format!("{}\n\n", excerpts.show(finding)))?;
    }
    let errors = count(&findings, Severity::Error);
    let warnings = count(&findings, Severity::Warning);
    print(&format!("{name}: {}, {}\n", counted(errors, "error"), counted(warnings, "warning")))?;
    Ok(if errors > 0 { ExitCode::FAILURE } else { ExitCode::SUCCESS })
}

fn count(findings: &[Finding], severity: Severity) -> usize {
    let of_this = |finding: &&Finding| finding.severity == severity;
    findings.iter().filter(of_this).count()
}

fn counted(number: usize, noun: &str) -> String {
    let plural = if number == 1 { "" } else { "s" };
    format!("{number} {noun}{plural}")
}
