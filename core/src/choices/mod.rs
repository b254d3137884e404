//! A document over all choices of its options: every combination where they are few, and where they are many so many of them
//! that options which act on each other come in every combination of their choices.

mod cover;
mod meet;

use crate::document::{self, Finding, OneKit, Severity};
use crate::words::findings::sheets::{Chosen, Combinations, SheetFault};
use crate::words::findings::values::And;
use crate::{Evaluation, Stop, Stopped, evaluate_until};
use cover::{Combination, Cover};
use meet::{Meetings, Options};
use std::collections::{BTreeMap, BTreeSet};

/// Code of the error that says that the choices are too many to be looked at.
pub const TOO_MANY_CHOICES: &str = "too-many-combinations";

/// Up to so many combinations all are looked at.
const MOST_ALL: usize = 64;

/// Where there are more, so many are looked at at most.
const MOST: usize = 256;

/// The findings of a document over all its choices, each named once with the first choices under which it is found; those of the
/// first combination first. Up to 64 combinations all are looked at. Where there are more, options that meet at a tube or a plate
/// come in every combination of their choices, and an information says how many were looked at; when that is too many, an error
/// says which options meet where.
#[must_use]
pub fn check_all_choices(text: &str) -> Vec<Finding> {
    check_all_choices_until(text, Stop::NEVER).unwrap_or_default()
}

/// As [`check_all_choices`], as long as it is wanted.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted.
pub fn check_all_choices_until(text: &str, stop: Stop) -> Result<Vec<Finding>, Stopped> {
    let mut found = Found::default();
    found.add(numbered(text, BTreeMap::new(), stop)?.findings);
    let Some(design) = document::read(text).design else { return Ok(found.findings) };
    let options = Options::of(&design);
    if options.is_empty() {
        return Ok(found.findings);
    }
    let meetings = Meetings::of(&design, &options);
    match combinations(&options, &meetings) {
        Ok((combinations, note)) => {
            for combination in combinations.iter().skip(1) {
                let choices = options.choices(combination, options.all());
                let findings = numbered(text, choices, stop)?.findings;
                found.add_under(findings, &options, &meetings, combination);
            }
            found.findings.extend(note);
        }
        Err(refusal) => found.findings.push(*refusal),
    }
    found.findings.sort_by_key(|finding| finding.severity);
    Ok(found.findings)
}

/// The choices of a document that [`check_all_choices`] looks at, the first choices first; those alone where they are too many.
#[must_use]
pub fn looked_at_choices(text: &str) -> Vec<BTreeMap<String, String>> {
    let Some(design) = document::read(text).design else { return vec![BTreeMap::new()] };
    let options = Options::of(&design);
    let first = vec![vec![0; options.count()]];
    let found = combinations(&options, &Meetings::of(&design, &options)).map_or(first, |(found, _)| found);
    found.iter().map(|combination| options.choices(combination, options.all())).collect()
}

/// The combinations to look at, that of the first choices first, and what is to be said of those that are left out.
fn combinations(options: &Options, meetings: &Meetings) -> Result<(Vec<Combination>, Option<Finding>), Box<Finding>> {
    let all = options.combinations();
    if let Some(few) = all.filter(|&all| all <= MOST_ALL) {
        let together = cover::every_combination(options, options.all(), few);
        return Ok((together, None));
    }
    let all = all.map_or(Combinations::PastCounting, Combinations::Counted);
    match cover::covering(options, &meetings.groups(), MOST) {
        Cover::By(combinations) => {
            let fact = SheetFault::CheckedByGroups { all, count: combinations.len() };
            Ok((combinations, Some(Finding::information("choices-by-groups", "/options".into(), fact))))
        }
        Cover::TooLarge(group) => {
            let fact = SheetFault::TooManyChoices {
                all,
                acting: And(&options.named_in(group)),
                meeting: meetings.example(group),
                most: MOST,
            };
            Err(Box::new(Finding::error(TOO_MANY_CHOICES, "/options".into(), fact)))
        }
    }
}

fn numbered(text: &str, choices: BTreeMap<String, String>, stop: Stop) -> Result<Evaluation, Stopped> {
    let mut evaluation = evaluate_until(text, &OneKit { choices, ..OneKit::default() }, stop)?;
    evaluation.number_until(None, stop)?;
    Ok(evaluation)
}

/// Findings so far, each once.
#[derive(Default)]
struct Found {
    findings: Vec<Finding>,
    known: BTreeSet<(Severity, String, String, Vec<String>)>,
}

impl Found {
    /// Adds those that are new, with the choices that act on them before their sentence.
    fn add_under(&mut self, findings: Vec<Finding>, options: &Options, meetings: &Meetings, combination: &Combination) {
        for finding in findings {
            let acting = meetings.acting_on(&finding);
            let acting = if acting == 0 { options.all() } else { acting };
            let named = options.choices(combination, acting);
            let named: Vec<(String, String)> = named.into_iter().collect();
            let fact = SheetFault::With { choices: Chosen(&named), message: &finding.message };
            let message = fact.to_string();
            self.add([Finding { message, ..finding }]);
        }
    }

    /// Adds those that are new.
    fn add(&mut self, findings: impl IntoIterator<Item = Finding>) {
        for finding in findings {
            let (severity, code, pointer, members) = finding.key();
            if self.known.insert((severity, code.to_owned(), pointer.to_owned(), members.to_vec())) {
                self.findings.push(finding);
            }
        }
    }
}

#[cfg(test)]
mod tests;
