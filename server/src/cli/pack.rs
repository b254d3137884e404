//! `matchmark pack`

use super::excerpt::Excerpts;
use super::of_kit::OfKit;
use super::{Failure, must_be_apart, read};
use clap::Args;
use matchmark_core::document::{Finding, Severity};
use matchmark_core::pack::{CheckBars, Hands, Issue, Paper, Print, Seal, Status, Units};
use matchmark_core::seal::SealKey;
use matchmark_core::{Evaluation, Stop};
use matchmark_service::engine;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What to draw.
#[derive(Args)]
pub struct Options {
    /// Design document; `-` reads standard input.
    file: PathBuf,

    /// File to write.
    #[arg(short, long)]
    output: PathBuf,

    #[command(flatten)]
    of: OfKit,

    /// Paper: a4, a3, letter, tabloid or roll.
    #[arg(long, value_parser = paper, default_value = "a4")]
    paper: Paper,

    /// Thickness of the paper that wraps are printed on, mm.
    #[arg(long, default_value_t = Print::default().paper_thickness)]
    paper_thickness: f64,

    /// How lengths are written: mm, inch or inch-fraction.
    #[arg(long, value_parser = units, default_value = "mm")]
    units: Units,

    /// Whose wraps, plates and hole strips are printed: both, left or right; those of parts of neither hand always are.
    #[arg(long, value_parser = hands, default_value = "both")]
    hands: Hands,

    /// What the check bar across the page of an earlier print measured, in the pack's unit.
    #[arg(long, requires = "measured_up")]
    measured_across: Option<f64>,

    /// What the check bar up the page of an earlier print measured, in the pack's unit.
    #[arg(long, requires = "measured_across")]
    measured_up: Option<f64>,

    /// File with the key that signs every page, as `matchmark key` writes it.
    #[arg(long)]
    signing_key: Option<PathBuf>,

    /// File to write the account of all pages to, as JSON.
    #[arg(long)]
    manifest: Option<PathBuf>,

    /// Name of the supplier, printed on every page.
    #[arg(long, env = "MATCHMARK_SUPPLIER", default_value = "The supplier of this kit")]
    supplier: String,

    /// Whom its reader is to ask, and how, printed on the cover.
    #[arg(long, env = "MATCHMARK_CONTACT", default_value = "")]
    contact: String,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let written = [Some(&options.output), options.manifest.as_ref()].into_iter().flatten();
    let written: Vec<&Path> = written.map(PathBuf::as_path).collect();
    let taken = [Some(&options.file), options.signing_key.as_ref()].into_iter().flatten();
    let taken: Vec<&Path> = taken.map(PathBuf::as_path).collect();
    must_be_apart(&written, &taken)?;
    let text = read(&options.file)?;
    let kit = options.of.one_kit()?;
    let mut evaluation = matchmark_core::evaluate_for(&text, &kit);
    evaluation.number(None);
    must_be_drawable(&options.file, &text, &evaluation)?;
    let issue = Issue {
        contact: options.contact.clone(),
        revision: options.of.letter(),
        kit: options.of.kit.clone(),
        seal: options.seal(&evaluation.name)?,
        kit_facts: matchmark_service::one_kit_facts(&kit),
        design_sha256: evaluation.sha256.clone().unwrap_or_default(),
        ..Issue::new(
            &options.supplier,
            &evaluation.name,
            options.of.date(),
            match options.of.revision {
                Some(_) => Status::Issued,
                None => Status::Draft,
            },
            options.print()?,
        )
    };
    let pack = engine::pack(&evaluation, &issue, Stop::NEVER)?;
    write(&options.output, &pack.pdf)?;
    if let Some(path) = &options.manifest {
        let text = serde_json::to_string_pretty(&pack.manifest).map_err(|error| Failure::Other(error.to_string()))?;
        write(path, text.as_bytes())?;
    }
    Ok(ExitCode::SUCCESS)
}

/// Shows the findings of a document of which nothing can be made.
pub(super) fn must_be_drawable(file: &Path, text: &str, evaluation: &Evaluation) -> Result<(), Failure> {
    if evaluation.sheets.is_some() {
        return Ok(());
    }
    let name = file.display().to_string();
    let excerpts = Excerpts::new(&name, text);
    for finding in &evaluation.findings {
        eprintln!("{}\n", excerpts.show(finding));
    }
    Err(Failure::Other(nothing_drawn(&evaluation.findings)))
}

/// Why no pack was drawn: in the words of the first finding that keeps it from being.
fn nothing_drawn(findings: &[Finding]) -> String {
    let errors: Vec<&Finding> = findings.iter().filter(|finding| finding.severity == Severity::Error).collect();
    match errors.as_slice() {
        [] => "no pack was drawn: there is nothing to draw".to_owned(),
        [only] => format!("no pack was drawn: {}", only.message),
        [first, rest @ ..] => format!("no pack was drawn: {} and {} more", first.message, rest.len()),
    }
}

pub(super) fn write(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    std::fs::write(path, bytes).map_err(|source| Failure::Unwritable { path: path.to_owned(), source })
}

impl Options {
    fn print(&self) -> Result<Print, Failure> {
        let bars = self.measured_across.zip(self.measured_up);
        let check_bars = bars.map(|(across, up)| CheckBars { across, up });
        let print = Print {
            paper: self.paper,
            paper_thickness: self.paper_thickness,
            check_bars,
            units: self.units,
            hands: self.hands,
        };
        print.check().map_err(|error| Failure::Other(error.to_string()))?;
        Ok(print)
    }

    fn seal(&self, design: &str) -> Result<Option<Seal>, Failure> {
        let Some(path) = &self.signing_key else { return Ok(None) };
        let key = SealKey::from_hex(&read(path)?).map_err(|error| Failure::Other(error.to_string()))?;
        Ok(Some(Seal { key, design_id: design.to_owned(), address: String::new() }))
    }
}

pub(super) fn paper(text: &str) -> Result<Paper, String> {
    let found = Paper::ALL.into_iter().find(|paper| paper.name() == text.to_ascii_lowercase());
    found.ok_or_else(|| format!("write one of {}", Paper::ALL.map(Paper::name).join(", ")))
}

fn units(text: &str) -> Result<Units, String> {
    let found = Units::ALL.into_iter().find(|units| units.name() == text.to_ascii_lowercase());
    found.ok_or_else(|| format!("write one of {}", Units::ALL.map(Units::name).join(", ")))
}

fn hands(text: &str) -> Result<Hands, String> {
    let found = Hands::ALL.into_iter().find(|hands| hands.name() == text.to_ascii_lowercase());
    found.ok_or_else(|| format!("write one of {}", Hands::ALL.map(Hands::name).join(", ")))
}
