//! A document over all choices of its options: every combination where they are few, and where they are many so many of them
//! that options which act on each other come in every combination of their choices.

mod cover;
mod meet;

use crate::document::{self, Finding, OneKit, Severity};
use crate::{Evaluation, evaluate_for};
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
    let mut found = Found::default();
    found.add(numbered(text, BTreeMap::new()).findings, "");
    let Some(design) = document::read(text).design else { return found.findings };
    let options = Options::of(&design);
    if options.is_empty() {
        return found.findings;
    }
    let meetings = Meetings::of(&design, &options);
    match combinations(&options, &meetings) {
        Ok((combinations, note)) => {
            for combination in combinations.iter().skip(1) {
                look_at(text, &options, &meetings, combination, &mut found);
            }
            found.findings.extend(note);
        }
        Err(refusal) => found.findings.push(*refusal),
    }
    found.findings.sort_by_key(|finding| finding.severity);
    found.findings
}

/// The combinations to look at, that of the first choices first, and what is to be said of those that are left out.
fn combinations(options: &Options, meetings: &Meetings) -> Result<(Vec<Combination>, Option<Finding>), Box<Finding>> {
    let all = options.combinations();
    if let Some(few) = all.filter(|&all| all <= MOST_ALL) {
        let together = cover::every_combination(options, options.all(), few);
        return Ok((together, None));
    }
    let all =
        all.map_or_else(|| "more combinations than can be counted".to_owned(), |all| format!("{all} combinations"));
    match cover::covering(options, &meetings.groups(), MOST) {
        Cover::By(combinations) => {
            let message = format!(
                "The options have {all}. {} of them were checked: options that meet at a tube or a plate in every combination of their choices, the others with each of their choices, since they do not act on each other.",
                combinations.len()
            );
            Ok((combinations, Some(Finding::information("choices-by-groups", "/options".into(), message))))
        }
        Cover::TooLarge(group) => {
            let message = format!(
                "The options have {all}. {} act on each other{}, which makes more than the {MOST} combinations that can be checked. Let fewer options meet there, or make two designs of this one.",
                options.listed(group),
                meetings.example(group)
            );
            Err(Box::new(Finding::error(TOO_MANY_CHOICES, "/options".into(), message)))
        }
    }
}

fn look_at(text: &str, options: &Options, meetings: &Meetings, combination: &Combination, found: &mut Found) {
    let choices = options.choices(combination, options.all());
    for finding in numbered(text, choices).findings {
        let acting = meetings.acting_on(&finding);
        let acting = if acting == 0 { options.all() } else { acting };
        let named = options.choices(combination, acting);
        let words: Vec<String> = named.iter().map(|(option, choice)| format!("{option} {choice}")).collect();
        found.add([finding], &format!("With {}: ", words.join(", ")));
    }
}

fn numbered(text: &str, choices: BTreeMap<String, String>) -> Evaluation {
    let mut evaluation = evaluate_for(text, &OneKit { choices, ..OneKit::default() });
    evaluation.number(None);
    evaluation
}

/// Findings so far, each once.
#[derive(Default)]
struct Found {
    findings: Vec<Finding>,
    known: BTreeSet<(Severity, String, String, Vec<String>)>,
}

impl Found {
    /// Adds those that are new, with words before their sentence.
    fn add(&mut self, findings: impl IntoIterator<Item = Finding>, before: &str) {
        for finding in findings {
            let (severity, code, pointer, members) = finding.key();
            if self.known.insert((severity, code.to_owned(), pointer.to_owned(), members.to_vec())) {
                self.findings.push(Finding { message: format!("{before}{}", finding.message), ..finding });
            }
        }
    }
}

#[cfg(test)]
mod tests;
