//! Frames from other programs as design documents: DXF, STEP, CSV and XLSX in, a document and a report out.
//!
//! Everything here is pure and deterministic: bytes in, no clock, no files. No file says enough, so what no file says (unit, axes,
//! origin, which layer is which section, the radius of sharp corners, the meaning of columns) comes as [`Answers`], and without
//! them as questions of the [`Report`]. What was joined, taken or left out is said; what is not understood is never guessed.
//!
//! The stages, in order: `read` (a format each) gives curves and tubes in the source's axes, `place` brings them to the design's,
//! `sections` says which are tubes, `join` chains curves, `tubes` settles bends, `pairs` finds other hands, `write` writes, `over` brings an existing
//! design up to it. The ends of a new design are decided by the core, from its nodes.

mod answers;
mod curve;
mod join;
mod over;
mod pairs;
mod place;
mod read;
mod report;
mod sections;
mod tubes;
mod unit;
mod words;
mod write;

pub use answers::{Answers, Radii, RadiiOfSome, RadiusNear, Size};
pub use over::{Comparison, Moved};
pub use read::{MOST_BYTES, SourceFile};
pub use report::{Code, Counts, FileRead, ImportFinding, Outcome, Question, QuestionField, Report};
pub use unit::Unit;

use curve::{Curve, Tube};
use join::Settings;
use matchmark_core::document;
use matchmark_core::document::{Finding, Severity};
use matchmark_core::{Stop, Stopped, nodes};
use read::Drawn;
use report::Notes;
use serde_json::Value;
use words::over::{OverFact, Place};
use words::place::UnitDoubt;
use words::tubes::TubeFact;
use words::write::DefaultName;
use write::Written;

/// Ends closer than this are one point where nothing else was answered, mm.
const TOLERANCE: f64 = 0.1;

/// What came of some files.
#[derive(Debug, Clone)]
pub struct Import {
    /// The design document; `None` when a question is open or a file was refused.
    pub design: Option<Value>,
    /// What is to be known about it.
    pub report: Report,
}

/// Reads files with the answers as JSON text, over the text of an existing design where one is given.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted.
pub fn import_text(
    files: &[SourceFile],
    answers: Option<&str>,
    existing: Option<&str>,
    stop: Stop<'_>,
) -> Result<Import, Stopped> {
    let mut notes = Notes::default();
    let existing = existing.map(|text| {
        serde_json::from_str(text).unwrap_or_else(|error| {
            let fact = OverFact::NotJson { reason: &error.to_string() };
            notes.error(Code::DesignNotValid, Place::Design.to_string(), fact);
            Value::Null
        })
    });
    let answers = answers.map_or_else(|| Some(Answers::default()), |text| Answers::read(text, &mut notes));
    import_noting(files, answers, existing.as_ref(), stop, notes)
}

/// Reads files with answers, over an existing design where one is given.
///
/// # Errors
/// [`Stopped`] when it is no longer wanted.
pub fn import(
    files: &[SourceFile],
    answers: Answers,
    existing: Option<&Value>,
    stop: Stop<'_>,
) -> Result<Import, Stopped> {
    let mut notes = Notes::default();
    let answers = answers.checked(&mut notes);
    import_noting(files, answers, existing, stop, notes)
}

fn import_noting(
    files: &[SourceFile],
    answers: Option<Answers>,
    existing: Option<&Value>,
    stop: Stop<'_>,
    mut notes: Notes,
) -> Result<Import, Stopped> {
    let answers = answers.unwrap_or_default();
    let (drawn, listed) = read::read(files, &read::Context { answers: &answers, stop }, &mut notes)?;
    let made = if notes.is_stopped() { None } else { make(drawn, files, &answers, stop, &mut notes)? };
    let counts = made.as_ref().map(|made| made.counts.clone());
    let (design, comparison) = match (made, existing) {
        (Some(made), Some(existing)) => {
            let (merged, comparison) = over::over(existing, &made.design, &made.told, stop, &mut notes)?;
            (Some(merged), Some(comparison))
        }
        (made, _) => (made.map(|made| made.design), None),
    };
    let was_valid = existing.is_none_or(|existing| errors(existing).is_empty());
    let design = design.filter(|design| is_valid(design, was_valid, &mut notes) && !notes.is_stopped());
    let counts = counts.filter(|_| design.is_some()).unwrap_or_default();
    let comparison = comparison.filter(|_| design.is_some());
    let (design, nodes) = match (design, existing) {
        (Some(design), None) => with_ends(design, stop)?,
        (design, _) => (design, None),
    };
    Ok(Import { design, report: Report { nodes, ..notes.into_report(listed, counts, comparison) } })
}

/// A new design with the ends that its nodes come to, as far as they can be decided. Of an existing design the ends are its own.
fn with_ends(design: Value, stop: Stop<'_>) -> Result<(Option<Value>, Option<nodes::Report>), Stopped> {
    let resolved = nodes::resolve_until(&design.to_string(), stop)?;
    match resolved.document.and_then(|text| serde_json::from_str(&text).ok()) {
        Some(with_ends) => Ok((Some(with_ends), Some(resolved.report))),
        None => Ok((Some(design), None)),
    }
}

/// From what was read to the document; `None` when something stands in the way, which the notes say.
fn make(
    drawn: Vec<Drawn>,
    files: &[SourceFile],
    answers: &Answers,
    stop: Stop<'_>,
    notes: &mut Notes,
) -> Result<Option<Written>, Stopped> {
    let Some(axes) = place::axes(answers, notes) else { return Ok(None) };
    let unit_missing = drawn.iter().find(|drawn| drawn.mm.is_none());
    if let Some(without) = unit_missing {
        let hint = without.unit_hint.as_deref();
        let doubt = hint.map_or(UnitDoubt::NotTold, |hint| UnitDoubt::OnlyHinted { hint });
        place::ask_unit(place::extent(&without.curves, &without.tubes), doubt, notes);
    }
    let unit_missing = unit_missing.is_some();
    let source_mm = drawn.iter().find_map(|drawn| drawn.source_mm).unwrap_or(1.0);
    let (mut curves, mut tubes): (Vec<Curve>, Vec<Tube>) = (Vec::new(), Vec::new());
    for drawn in drawn {
        let mm = drawn.mm.unwrap_or(1.0);
        let by = place::to_design(axes, answers, mm, drawn.source_mm.unwrap_or(1.0));
        curves.extend(drawn.curves.iter().filter_map(|curve| curve.moved(&by)));
        tubes.extend(drawn.tubes.into_iter().map(|tube| tube.moved(&by, mm)));
    }
    let (curves, sizes) = sections::settle(curves, &mut tubes, answers, source_mm, notes);
    if notes.is_stopped() && (unit_missing || notes.has_errors()) {
        return Ok(None);
    }
    let settings =
        Settings { tolerance: answers.tolerance.unwrap_or(TOLERANCE), in_line: answers.join_in_line.unwrap_or(true) };
    let joined = join::join(&curves, settings, stop, notes)?;
    tubes.extend(joined.tubes.into_iter().map(|tube| Tube { size: sizes.get(&tube.layer).copied(), ..tube }));
    tubes.retain(|tube| tube.size.is_some());
    place::check_size(&tubes, answers.unit.is_some(), source_mm, notes);
    let to_design = place::to_design(axes, answers, source_mm, source_mm);
    let tubes = tubes::settle_radii(tubes, answers, &to_design, source_mm, notes);
    let tubes = tubes::check(tubes::without_twins(tubes, notes), notes);
    if notes.is_stopped() {
        return Ok(None);
    }
    stop.check()?;
    let mut tubes: Vec<Tube> = tubes.into_iter().map(write::stood_up).collect();
    if tubes.is_empty() {
        notes.error(
            Code::NoTubes,
            files.iter().map(|file| file.name.as_str()).collect::<Vec<_>>().join(", "),
            TubeFact::NoTubes,
        );
        return Ok(None);
    }
    let sections = write::Sections::of(&tubes, notes);
    let hands = pairs::find(&mut tubes, &sections.of_tube, joined.largest_gap, notes);
    pairs::propose_plane(&tubes, &hands, answers, source_mm, notes);
    place::ask_axes(&tubes, answers, notes);
    join::ask_in_line(joined.in_line, answers, notes);
    Ok(Some(write::document(&name(files, answers), &tubes, &hands, &sections, notes)))
}

fn name(files: &[SourceFile], answers: &Answers) -> String {
    let file = files.first().map(|file| file.name.rsplit(['/', '\\']).next().unwrap_or_default());
    let stem = file.map(|name| name.rsplit_once('.').map_or(name, |(stem, _)| stem));
    let name = answers.name.as_deref().or(stem).unwrap_or_default();
    let plain = write::words(name, write::MOST_NAME);
    if plain.is_empty() { DefaultName::Design.to_string() } else { plain }
}

fn errors(design: &Value) -> Vec<Finding> {
    let findings = document::read(&design.to_string()).findings.into_sorted();
    findings.into_iter().filter(|finding| finding.severity == Severity::Error).collect()
}

/// Whether the document keeps to its format; what does not is an error of the report. An existing design that did not before stays
/// a draft to be corrected, so then it is a warning.
fn is_valid(design: &Value, was_valid: bool, notes: &mut Notes) -> bool {
    let errors = errors(design);
    for error in &errors {
        if was_valid {
            let fact = OverFact::NotValid { finding: &error.message };
            notes.error(Code::DesignNotValid, error.pointer.as_str(), fact);
        } else {
            notes.warning(Code::DesignNotValid, error.pointer.as_str(), error.message.as_str());
        }
    }
    errors.is_empty() || !was_valid
}
