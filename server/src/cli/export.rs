//! `matchmark export`

use super::of_kit::OfKit;
use super::pack::{must_be_drawable, paper, write};
use super::{Failure, read};
use clap::Args;
use matchmark_core::Stop;
use matchmark_core::pack::Paper;
use matchmark_export::{ExportError, FORMATS, Facts, LabelSheet, Subject, files, write_bundle, write_file};
use std::fs::{File, create_dir_all, read_dir};
use std::io::{BufWriter, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// What to write.
#[derive(Args)]
pub struct Options {
    /// Design documents; `-` reads standard input. Of several, each has a folder of its own, named after its file.
    #[arg(required = true)]
    files: Vec<PathBuf>,

    /// Folder to write to, or of one document a file that ends in .zip.
    #[arg(short, long)]
    output: PathBuf,

    /// Formats to write, separated by commas: csv, xlsx, dxf, svg, step, glb, labels; all when absent.
    #[arg(long, value_delimiter = ',', value_parser = format)]
    format: Vec<&'static str>,

    #[command(flatten)]
    of: OfKit,

    /// Paper of the labels: a4, a3, letter, tabloid or roll.
    #[arg(long, value_parser = paper, default_value = "a4")]
    label_paper: Paper,

    /// Width and height of a label, mm, as 70x36.
    #[arg(long, value_parser = label)]
    label: Option<[f64; 2]>,

    /// Name of the supplier.
    #[arg(long, env = "MATCHMARK_SUPPLIER", default_value = "The supplier of this kit")]
    supplier: String,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let is_one = options.files.len() == 1;
    let is_archive = options.output.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("zip"));
    if is_archive && !is_one {
        return Err(Failure::Usage("name a folder for several documents".to_owned()));
    }
    if options.of.revision.is_some() {
        eprintln!(
            "Part numbers are given anew here: those of a published revision come with its files from the service."
        );
    }
    for file in &options.files {
        let folder = if is_one { options.output.clone() } else { options.output.join(stem(file)) };
        export(options, file, &folder, is_archive)?;
    }
    Ok(ExitCode::SUCCESS)
}

fn export(options: &Options, file: &Path, output: &Path, is_archive: bool) -> Result<(), Failure> {
    let text = read(file)?;
    let kit = options.of.one_kit()?;
    let mut evaluation = matchmark_core::evaluate_for(&text, &kit);
    evaluation.number(None);
    must_be_drawable(file, &text, &evaluation)?;
    let told = |(name, value): &(String, String)| format!("{name}={value}");
    let facts = Facts {
        supplier: options.supplier.clone(),
        design: evaluation.name.clone(),
        revision: options.of.letter(),
        date: options.of.date(),
        kit: options.of.kit.clone(),
        kit_facts: Facts::choices(&evaluation).into_iter().chain(options.of.measured().map(told)).collect(),
        design_sha256: evaluation.sha256.clone().unwrap_or_default(),
        address: String::new(),
    };
    let usual = LabelSheet::default();
    let labels = LabelSheet { paper: options.label_paper.size(), label: options.label.unwrap_or(usual.label), ..usual };
    let subject = Subject { labels, ..Subject::of(&evaluation, &facts).map_err(failed)? };
    if !is_archive && read_dir(output).is_ok_and(|mut entries| entries.next().is_some()) {
        let why = "is not empty: files of another design or revision would stay among these. Name a new folder";
        return Err(Failure::Usage(format!("{} {why}", output.display())));
    }
    if is_archive {
        let unwritable = |source| Failure::Unwritable { path: output.to_owned(), source };
        let mut sink = BufWriter::new(File::create(output).map_err(unwritable)?);
        write_bundle(&subject, &options.format, &mut sink, Stop::NEVER).map_err(failed)?;
        return sink.flush().map_err(unwritable);
    }
    for listed in files(&subject) {
        if !options.format.is_empty() && !options.format.contains(&listed.format) {
            continue;
        }
        let folder = output.join(listed.folder);
        create_dir_all(&folder).map_err(|source| Failure::Unwritable { path: folder.clone(), source })?;
        match write_file(&subject, &listed.name, Stop::NEVER) {
            Ok(bytes) => write(&folder.join(&listed.name), &bytes)?,
            Err(error) if error.is_of_the_part() => eprintln!("matchmark: {} is left out: {error}", listed.name),
            Err(error) => return Err(failed(error)),
        }
    }
    Ok(())
}

#[allow(clippy::needless_pass_by_value, reason = "for map_err")]
fn failed(error: ExportError) -> Failure {
    Failure::Other(error.to_string())
}

/// The name of a file without folder and ending.
fn stem(file: &Path) -> String {
    file.file_stem().map_or_else(|| "design".to_owned(), |stem| stem.to_string_lossy().into_owned())
}

fn format(text: &str) -> Result<&'static str, String> {
    let found = FORMATS.iter().map(|format| format.id).find(|id| *id == text.trim().to_ascii_lowercase());
    found.ok_or_else(|| {
        format!("write some of {}", FORMATS.iter().map(|format| format.id).collect::<Vec<_>>().join(", "))
    })
}

/// `70x36`
fn label(text: &str) -> Result<[f64; 2], String> {
    let sides =
        text.split_once(['x', 'X']).and_then(|(width, height)| Some([width.parse().ok()?, height.parse().ok()?]));
    sides.ok_or_else(|| "write width and height in mm as 70x36".to_owned())
}
