//! The whole way from a document's text to its sheets.

use crate::document::{self, Canonical, Design, Finding, Findings, OneKit};
use crate::frame::Frame;
use crate::part::{Made, Numbers, Part, clash, cut_all, rules};
use crate::sheets::{Changes, Compared, Sheets};
use crate::{Stop, Stopped};
use rayon::prelude::*;
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What a document's text comes to.
#[derive(Debug, Clone, Default)]
pub struct Evaluation {
    /// The design's name as written; empty when it could not be read.
    pub name: String,
    /// All findings, errors first, then in the order of the document.
    pub findings: Vec<Finding>,
    /// Canonical JSON (RFC 8785) of the document; `None` when the text is not JSON.
    pub canonical: Option<String>,
    /// SHA-256 of the canonical JSON in lower-case hex; `None` when the text is not JSON.
    pub sha256: Option<String>,
    /// The sheets; `None` when an error stands in the way.
    pub sheets: Option<Sheets>,
    /// The frame and its parts; `None` when an error stands in the way.
    pub made: Option<Arc<Made>>,
    /// True when the document has options, so that other choices may come to something else.
    pub has_choices: bool,
    /// The same whether or not an error stands in the way.
    tried: Option<Arc<Made>>,
    /// The frame and its parts as they are without what was measured on the kit; `None` where nothing was measured.
    to_figure: Option<Arc<Made>>,
    /// What comes before each new part number.
    part_prefix: String,
}

/// Reads a design document and computes its sheets. Parts have no numbers until [`Evaluation::number`] gives them.
///
/// ```
/// let text = r#"{
///     "format": "matchmark-design/1", "name": "A tee",
///     "materials": {"steel": {"name": "S235", "density": 7850}},
///     "sections": {"tube": {"round": {"od": 50, "wall": 2}, "material": "steel"}},
///     "points": {"left": [0, 500, 0], "right": [0, -500, 0], "middle": [0, 0, 0], "top": [0, 0, 400]},
///     "members": [
///         {"id": "sill", "section": "tube", "from": "left", "to": "right", "ends": {"from": "square", "to": "square"}},
///         {"id": "post", "section": "tube", "from": "middle", "to": "top", "ends": {"to": "square"}}
///     ]
/// }"#;
/// let sheets = matchmark_core::evaluate(text).sheets.expect("no errors");
/// // The post's cope leaves its longest point on the sill's axis: equal tubes meet in a full saddle.
/// assert!((sheets.cut_sheet.rows[1].overall - 400.0).abs() < 1e-6);
/// assert!((sheets.cut_sheet.rows[1].short - 375.0).abs() < 1e-6);
/// ```
#[must_use]
pub fn evaluate(text: &str) -> Evaluation {
    evaluate_for(text, &OneKit::default())
}

/// As [`evaluate`], for one kit with its choices and measured values.
#[must_use]
pub fn evaluate_for(text: &str, kit: &OneKit) -> Evaluation {
    evaluate_until(text, kit, Stop::NEVER).unwrap_or_default()
}

/// As [`evaluate_for`], as long as it is wanted.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted.
pub fn evaluate_until(text: &str, kit: &OneKit, stop: Stop) -> Result<Evaluation, Stopped> {
    let mut findings = Findings::default();
    let Some(value) = document::parse(text, &mut findings) else {
        return Ok(Evaluation { findings: findings.into_sorted(), ..Evaluation::default() });
    };
    // Nothing waits for the canonical form.
    let (evaluation, canonical) = rayon::join(|| work_out(&value, kit, findings, stop), || Canonical::of(&value));
    let (canonical, sha256) = canonical.map(|canonical| (canonical.text, canonical.sha256)).unzip();
    Ok(Evaluation { canonical, sha256, ..evaluation? })
}

/// All but the canonical form.
fn work_out(value: &Value, kit: &OneKit, mut findings: Findings, stop: Stop) -> Result<Evaluation, Stopped> {
    let design = document::design(value, &mut findings);
    let sound = design.as_ref().filter(|_| !findings.has_errors());
    let to_figure = sound.map(|design| to_figure(design, kit, stop)).transpose()?.flatten();
    let mut evaluation = Evaluation::default();
    if let Some(design) = &design {
        evaluation.has_choices = design.options.as_ref().is_some_and(|options| !options.is_empty());
        evaluation.name = design.name.as_str().to_owned();
    }
    if let Some(mut design) = design.filter(|_| !findings.has_errors()) {
        let there = kit.settle(&mut design, &mut findings);
        stop.check()?;
        let frame = Frame::of(&design, &there, &mut findings);
        let parts = make(&frame, stop, &mut findings)?;
        let made = Arc::new(Made { frame, parts });
        let is_sound = !findings.has_errors();
        let (clashes, sheets) = rayon::join(
            || clash::found(&made.frame, &made.parts, stop),
            || is_sound.then(|| Sheets::of(&design, kit, &made, stop)).transpose(),
        );
        findings.append(clashes?);
        rules::report_feet(&made.frame, &mut findings);
        evaluation.sheets = sheets?;
        if let Some(sheets) = &evaluation.sheets {
            sheets.report(&design, &made, &mut findings);
        }
        evaluation.made = is_sound.then(|| Arc::clone(&made));
        evaluation.tried = Some(made);
        evaluation.to_figure = to_figure.map(Arc::new);
        evaluation.part_prefix = design.part_prefix.map_or_else(String::new, |prefix| prefix.as_str().to_owned());
    }
    evaluation.findings = findings.into_sorted();
    Ok(evaluation)
}

/// The frame with its parts as it is for a kit on which nothing was measured; `None` where nothing was.
fn to_figure(design: &Design, kit: &OneKit, stop: Stop) -> Result<Option<Made>, Stopped> {
    if kit.measured.is_empty() {
        return Ok(None);
    }
    let mut findings = Findings::default();
    let mut design = design.clone();
    let kit = OneKit { measured: BTreeMap::new(), ..kit.clone() };
    let there = kit.settle(&mut design, &mut findings);
    let frame = Frame::of(&design, &there, &mut findings);
    let parts = make(&frame, stop, &mut findings)?;
    Ok((!findings.has_errors()).then_some(Made { frame, parts }))
}

/// The parts of all members, on all processors; parts and findings keep the order of the members. A member and its opposite hand,
/// which follows it, are made together.
fn make(frame: &Frame, stop: Stop, findings: &mut Findings) -> Result<Vec<Part>, Stopped> {
    let comes_second = |member: usize| frame.members[member].opposite.is_some_and(|opposite| opposite < member);
    let firsts: Vec<usize> = (0..frame.members.len()).filter(|&member| !comes_second(member)).collect();
    let ends = cut_all(frame, &firsts, stop)?;
    let pairs: Vec<(Vec<Part>, Findings)> = (firsts, ends)
        .into_par_iter()
        // One by one, so that no processor is left with several when the others are done.
        .with_max_len(1)
        .map(|(member, ends)| {
            let mut found = Findings::default();
            let first = Part::with_ends(frame, member, ends, &mut found);
            let second = frame.members[member].opposite.map(|second| first.opposite(frame, second, stop, &mut found));
            Ok((core::iter::once(first).chain(second.transpose()?).collect(), found))
        })
        .collect::<Result<_, Stopped>>()?;
    let parts = pairs.into_iter().flat_map(|(parts, found)| {
        findings.append(found);
        parts
    });
    Ok(parts.collect())
}

impl Evaluation {
    /// The frame and its parts as far as they could be made, errors or not.
    pub(crate) fn tried(&self) -> Option<&Made> {
        self.tried.as_deref()
    }

    /// Gives part numbers, those of `before` kept where the part stayed the same, and puts them on the sheets, with a mark on
    /// those that measured values change. `before` is the revision before with its numbers. Adds what it finds; `None` when an
    /// error stands in the way.
    pub fn number(&mut self, before: Option<(&Self, &Numbers)>) -> Option<Numbers> {
        self.number_until(before, Stop::NEVER).ok().flatten()
    }

    /// As [`Evaluation::number`], as long as it is wanted.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn number_until(&mut self, before: Option<(&Self, &Numbers)>, stop: Stop) -> Result<Option<Numbers>, Stopped> {
        let Some(made) = self.made.as_deref() else { return Ok(None) };
        let before = before.and_then(|(before, numbers)| Some((before.made.as_deref()?, numbers)));
        let mut findings = Findings::default();
        let drawn = self.to_figure.as_deref().unwrap_or(made);
        let numbers = Numbers::give(drawn, before, &self.part_prefix, stop, &mut findings)?;
        let has_errors = findings.has_errors();
        let numbers = self.put(numbers, findings);
        if has_errors {
            self.sheets = None;
            self.made = None;
            return Ok(None);
        }
        Ok(Some(numbers))
    }

    /// Puts part numbers that were given before on the sheets. Answers them as they stand there: with a mark on those of parts
    /// that measured values change.
    pub fn put_numbers(&mut self, numbers: &Numbers) -> Numbers {
        self.put(numbers.clone(), Findings::default())
    }

    fn put(&mut self, numbers: Numbers, mut findings: Findings) -> Numbers {
        let numbers = match (&self.to_figure, &self.made) {
            (Some(to_figure), Some(made)) => numbers.as_measured(to_figure, made),
            _ => numbers,
        };
        if let (Some(sheets), Some(made)) = (&mut self.sheets, &self.made) {
            sheets.number(made, &numbers, &mut findings);
        }
        self.findings.extend(findings.into_sorted());
        self.findings.sort_by_key(|finding| finding.severity);
        numbers
    }

    /// What changed from an old revision to this one; `None` when one of them has errors.
    #[must_use]
    pub fn changes_from(&self, numbers: &Numbers, old: &Self, old_numbers: &Numbers) -> Option<Changes> {
        self.changes_until(numbers, old, old_numbers, Stop::NEVER).ok().flatten()
    }

    /// As [`Evaluation::changes_from`], as long as it is wanted.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn changes_until(
        &self,
        numbers: &Numbers,
        old: &Self,
        old_numbers: &Numbers,
        stop: Stop,
    ) -> Result<Option<Changes>, Stopped> {
        match (self.compared(numbers), old.compared(old_numbers)) {
            (Some(new), Some(old)) => Changes::between(old, new, stop).map(Some),
            _ => Ok(None),
        }
    }

    fn compared<'a>(&'a self, numbers: &'a Numbers) -> Option<Compared<'a>> {
        let made = self.made.as_deref()?;
        let to_figure = self.to_figure.as_deref().unwrap_or(made);
        Some(Compared { made, to_figure, sheets: self.sheets.as_ref()?, numbers })
    }
}
