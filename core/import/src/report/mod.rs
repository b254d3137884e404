//! What is said of an import: questions, and findings with a stable code and a sentence.

mod code;
mod question;

pub use code::Code;
pub use question::{Question, QuestionField};

use crate::over::Comparison;
use crate::words::files::FindingsFact;
use matchmark_core::document::Severity;
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::Display;

/// Most findings of one code; the rest is counted.
const MOST_OF_A_CODE: usize = 40;

/// Longest place and message, in letters: files may have texts of any length.
const MOST_PLACE: usize = 400;
const MOST_MESSAGE: usize = 1_500;

fn cut(text: String, most: usize) -> String {
    match text.char_indices().nth(most) {
        Some((at, _)) => format!("{}…", &text[..at]),
        None => text,
    }
}

/// How an import ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportOutcome))]
#[serde(rename_all = "lowercase")]
pub enum Outcome {
    /// There is a design.
    Read,
    /// There is no design before a question that stops the reading is answered.
    Unanswered,
    /// There is no design: a file is wrong.
    Refused,
}

/// Everything that is said of an import.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportReport))]
pub struct Report {
    /// How it ended.
    pub outcome: Outcome,
    /// The files, in the order given, with the format that each was read as.
    pub files: Vec<FileRead>,
    /// What came of them; all 0 where there is no design.
    pub counts: Counts,
    /// What changed of the existing design, where one was given.
    pub comparison: Option<Comparison>,
    /// What no file says. Those with `stops` must be answered before there is a design; others have a default that was taken.
    pub questions: Vec<Question>,
    /// What was found, the weightiest first.
    pub findings: Vec<ImportFinding>,
    /// How the ends of a new design were decided, node by node; null where there is none, and of an existing design.
    pub nodes: Option<matchmark_core::nodes::Report>,
}

/// One file of an import.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportFileRead))]
pub struct FileRead {
    /// Its name.
    pub name: String,
    /// The format that it was read as; null where none was recognised.
    pub format: Option<&'static str>,
}

/// What came of an import.
#[derive(Debug, Clone, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema), schema(as = ImportCounts))]
pub struct Counts {
    /// Tubes, both hands of a pair counted.
    pub tubes: usize,
    /// Of these, bent ones.
    pub bent: usize,
    /// Pairs mirrored across y = 0.
    pub pairs: usize,
    /// Sections.
    pub sections: usize,
}

/// One finding about an import.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ImportFinding {
    /// How much it weighs.
    pub severity: Severity,
    /// Stable code in lower-case words joined by hyphens.
    #[cfg_attr(feature = "openapi", schema(value_type = String))]
    pub code: Code,
    /// File and place in it, in words.
    pub place: String,
    /// One sentence or two: what is wrong or was done, and what to do about it.
    pub message: String,
}

/// Questions and findings as they are collected.
#[derive(Debug, Default)]
pub struct Notes {
    findings: Vec<ImportFinding>,
    more: BTreeMap<Code, usize>,
    questions: Vec<Question>,
    has_errors: bool,
}

impl Notes {
    /// Adds an error: there will be no design.
    pub fn error(&mut self, code: Code, place: impl Into<String>, fact: impl Display) {
        self.has_errors = true;
        self.add(Severity::Error, code, place.into(), fact.to_string());
    }

    /// Adds what must be read.
    pub fn warning(&mut self, code: Code, place: impl Into<String>, fact: impl Display) {
        self.add(Severity::Warning, code, place.into(), fact.to_string());
    }

    /// Adds what was done as expected.
    pub fn information(&mut self, code: Code, place: impl Into<String>, fact: impl Display) {
        self.add(Severity::Information, code, place.into(), fact.to_string());
    }

    fn add(&mut self, severity: Severity, code: Code, place: String, message: String) {
        if self.findings.iter().filter(|finding| finding.code == code).count() < MOST_OF_A_CODE {
            let (place, message) = (cut(place, MOST_PLACE), cut(message, MOST_MESSAGE));
            self.findings.push(ImportFinding { severity, code, place, message });
        } else {
            *self.more.entry(code).or_default() += 1;
        }
    }

    /// Adds a question.
    pub fn ask(&mut self, question: Question) {
        self.questions.push(question);
    }

    /// True when a file or the answers are wrong.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.has_errors
    }

    /// True when a question stops the reading.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.has_errors || self.questions.iter().any(|question| question.stops)
    }

    /// The report.
    #[must_use]
    pub fn into_report(mut self, files: Vec<FileRead>, counts: Counts, comparison: Option<Comparison>) -> Report {
        for (code, more) in self.more {
            if let Some(last) = self.findings.iter_mut().rev().find(|finding| finding.code == code) {
                last.message.push(' ');
                last.message.push_str(&FindingsFact::MoreOfKind { more }.to_string());
            }
        }
        self.findings.sort_by_key(|finding| finding.severity);
        let outcome = match (self.has_errors, self.questions.iter().any(|question| question.stops)) {
            (true, _) => Outcome::Refused,
            (false, true) => Outcome::Unanswered,
            (false, false) => Outcome::Read,
        };
        Report { outcome, files, counts, comparison, questions: self.questions, findings: self.findings, nodes: None }
    }
}
