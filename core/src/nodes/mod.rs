//! From centrelines to fitted ends: who goes through a node, who runs on and how far, who is mitred, who is fitted to whom.
//!
//! [`resolve`] decides every end that a document leaves open and writes the answer into it as explicit ends, so that people see it,
//! review it, and keep it over revisions. What the document says already wins; it is what others are fitted to.
//!
//! `find` says which ends meet, `rules` decides node by node, `settle` puts all of it in an order that can be built, `write` writes
//! it, `report` tells it. `limits` has every figure that decides something, `told` every finding.
//!
//! Why it closes: the surfaces of equal round tubes whose axes meet in one point cross in the planes that halve their angles. So
//! when two of them are mitred and each other one is fitted to all before it, every line of every wall ends on one of those before
//! it, where that one still has its skin (derivable).

mod braces;
mod decided;
mod end;
mod find;
mod hands;
mod limits;
mod order;
mod report;
mod rules;
mod run_on;
mod said;
mod settle;
mod told;
mod trial;
mod write;

pub use braces::Braces;
pub use report::{Report, ReportedEnd, ReportedFinding, ReportedNode};

use crate::document::{self, Finding, Findings, OneKit};
use crate::frame::Frame;
use crate::{Stop, Stopped, evaluate_until};
use std::collections::BTreeMap;

/// A document with its open ends decided.
#[derive(Debug, Clone, Default)]
pub struct Resolution {
    /// The document's text with the answer; `None` when the document cannot be placed, and the findings say why.
    pub document: Option<String>,
    /// What was decided.
    pub report: Report,
    /// All findings: of the document when it cannot be placed, else of the nodes, errors first.
    pub findings: Vec<Finding>,
}

/// Decides the open ends of a document, for the first choice of each of its options.
#[must_use]
pub fn resolve(text: &str) -> Resolution {
    resolve_until(text, Stop::NEVER).unwrap_or_default()
}

/// As [`resolve`], as long as it is wanted.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted.
pub fn resolve_until(text: &str, stop: Stop) -> Result<Resolution, Stopped> {
    let mut findings = Findings::default();
    let read = document::parse(text, &mut findings).and_then(|value| document::design(&value, &mut findings));
    let Some(mut design) = read.filter(|_| !findings.has_errors()) else {
        return Ok(Resolution { findings: findings.into_sorted(), ..Resolution::default() });
    };
    let there = OneKit::default().settle(&mut design, &mut findings);
    let frame = Frame::of(&design, &there, &mut findings);
    if findings.has_errors() {
        return Ok(Resolution { findings: findings.into_sorted(), ..Resolution::default() });
    }
    let mut settled = settle::settle(&design, &frame, stop)?;
    for (end, other) in settle::hands_that_differ(&frame, &settled.decided) {
        settled.told.push(told::Told::HandsDiffer(end, other));
        settled.decided.remove(&end);
    }
    let mut cuts = BTreeMap::new();
    for (at, decided) in &settled.decided {
        let member = &frame.members[at.0];
        let other = member.opposite.and_then(|opposite| settled.decided.get(&(opposite, at.1)));
        let is_second = member.opposite.is_some_and(|opposite| opposite < at.0);
        if !is_second {
            cuts.insert((member.source, at.1), write::cut(&frame, decided, other));
        }
    }
    let document = write::written(text, &cuts, &settled.order);
    let made = match &document {
        Some(document) => evaluate_until(document, &OneKit::default(), stop)?,
        None => return Ok(Resolution { findings: findings.into_sorted(), ..Resolution::default() }),
    };
    let report = report::report(&frame, &settled, made.tried());
    let mut told = Findings::default();
    let nodes = settled.nodes.iter().flat_map(|(_, outcome)| &outcome.told);
    nodes.chain(&settled.told).for_each(|one| told.push(one.finding(&frame)));
    Ok(Resolution { document, report, findings: told.into_sorted() })
}
