//! The files of a revision or kit for machines and other programs.

use crate::designs::sheets::RevisionSheets;
use crate::engine::files::Chunks;
use crate::rules::lookup::readable_kit;
use crate::rules::release::{may_have_files, may_have_files_of_kit};
use crate::{Principal, Service, ServiceError};
use data_encoding::HEXLOWER;
use matchmark_core::document::OneKit;
use matchmark_core::pack::Paper;
use matchmark_export::{BUNDLE, Facts, FileInfo, LabelSheet, about_bundle};
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};
use utoipa::{IntoParams, ToSchema};

/// A revision or kit whose files may be had.
pub struct FilesOf {
    sheets: RevisionSheets,
    facts: Facts,
    /// What the names of downloads begin with.
    stem: String,
}

/// A file in the list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct FileView {
    /// Its name, the last step of its address.
    pub name: String,
    /// Short name of its format: `csv`, `xlsx`, `dxf`, `svg`, `step`, `glb`, `labels` or `zip`.
    pub format: String,
    /// Its media type.
    pub media_type: String,
    /// What it is, in a few words.
    pub about: String,
}

/// A file that was made.
pub struct MadeFile {
    /// The bytes.
    pub bytes: Vec<u8>,
    /// Their media type.
    pub media_type: &'static str,
    /// SHA-256 of the bytes, lower-case hex.
    pub sha256: String,
    /// Name under which it is kept: design or kit, revision and file.
    pub saved_as: String,
}

/// Sheets of labels; they mean something for `labels.pdf` and `all.zip` alone. Lengths are mm.
#[derive(Debug, Default, Deserialize, IntoParams)]
#[serde(deny_unknown_fields)]
#[into_params(parameter_in = Query)]
pub struct LabelsWanted {
    /// Paper of the labels: `a4`, `a3`, `letter`, `tabloid` or `roll`; A4 when absent.
    pub paper: Option<Paper>,
    /// Width of a label, at least 45; 70 when absent.
    pub label_width: Option<f64>,
    /// Height of a label, at least 22; 36 when absent.
    pub label_height: Option<f64>,
    /// Between labels across, 0 to 50; 0 when absent.
    pub gap_across: Option<f64>,
    /// Between labels down, 0 to 50; 0 when absent.
    pub gap_down: Option<f64>,
    /// Labels already taken from the first sheet; none when absent.
    #[param(maximum = 200)]
    pub taken: Option<usize>,
}

impl LabelsWanted {
    /// The sheets that they stand on.
    fn sheet(&self) -> LabelSheet {
        let usual = LabelSheet::default();
        LabelSheet {
            paper: self.paper.map_or(usual.paper, Paper::size),
            label: [self.label_width.unwrap_or(usual.label[0]), self.label_height.unwrap_or(usual.label[1])],
            gap: [self.gap_across.unwrap_or(0.0), self.gap_down.unwrap_or(0.0)],
            taken: self.taken.unwrap_or(0),
        }
    }
}

impl FilesOf {
    /// Name under which one of its files is kept.
    pub fn saved_as(&self, name: &str) -> String {
        format!("{}-{name}", self.stem)
    }
}

impl Service {
    /// The files of a revision.
    pub async fn files_of_revision(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
    ) -> Result<FilesOf, ServiceError> {
        {
            let mut read = self.store.read().await?;
            may_have_files(&mut read, who, design, letter).await?;
        }
        let sheets = self.known_sheets(design, letter, OneKit::default()).await?;
        let facts =
            Facts { address: self.shown_at(&format!("/designs/{design}/revisions/{letter}")), ..self.facts(&sheets) };
        Ok(FilesOf { sheets, facts, stem: format!("{design}-rev-{letter}") })
    }

    /// The files of a kit, with its choices and measured values.
    pub async fn files_of_kit(&self, who: &Principal, serial: &str) -> Result<FilesOf, ServiceError> {
        let kit = {
            let mut read = self.store.read().await?;
            let kit = readable_kit(&mut read, who, serial).await?;
            may_have_files_of_kit(&mut read, who, &kit).await?;
            kit
        };
        let one_kit = self.one_kit(&kit).await?;
        let sheets = self.known_sheets(&kit.design, &kit.revision, one_kit.clone()).await?;
        let measured = one_kit.measured.iter().map(|(gauge, value)| format!("{gauge}={value}"));
        let facts = Facts {
            kit: kit.serial.clone(),
            address: self.shown_at(&format!("/kits/{serial}")),
            ..self.facts(&sheets)
        };
        let facts = Facts { kit_facts: facts.kit_facts.iter().cloned().chain(measured).collect(), ..facts };
        Ok(FilesOf { sheets, facts, stem: format!("{}-{}-rev-{}", kit.serial, kit.design, kit.revision) })
    }

    /// What files there are, the bundle of all of them last.
    pub async fn list_files(&self, of: FilesOf) -> Result<Vec<FileView>, ServiceError> {
        let files = self.engine.list_files(of.sheets.evaluated(), of.facts).await?;
        let view = |file: FileInfo| FileView {
            name: file.name,
            format: file.format.to_owned(),
            media_type: file.media_type.to_owned(),
            about: file.about,
        };
        let bundle = FileView {
            name: BUNDLE.to_owned(),
            format: "zip".to_owned(),
            media_type: "application/zip".to_owned(),
            about: about_bundle().to_owned(),
        };
        Ok(files.into_iter().map(view).chain([bundle]).collect())
    }

    /// One file by its name. The same revision or kit gives the same bytes.
    pub async fn make_file(&self, of: FilesOf, name: &str, labels: &LabelsWanted) -> Result<MadeFile, ServiceError> {
        let saved_as = of.saved_as(name);
        let (bytes, media_type) =
            self.engine.make_file(of.sheets.evaluated(), of.facts, labels.sheet(), name.to_owned()).await?;
        Ok(MadeFile { sha256: HEXLOWER.encode(&Sha256::digest(&bytes)), bytes, media_type, saved_as })
    }

    /// All files in one archive, as it is made.
    pub async fn make_bundle(&self, of: FilesOf, labels: &LabelsWanted) -> Result<Chunks, ServiceError> {
        self.engine.make_bundle(of.sheets.evaluated(), of.facts, labels.sheet()).await
    }

    fn facts(&self, sheets: &RevisionSheets) -> Facts {
        Facts {
            supplier: self.supplier.clone(),
            design: sheets.design_name().to_owned(),
            revision: sheets.letter().to_owned(),
            date: sheets.published_on().to_owned(),
            design_sha256: sheets.sha256().to_owned(),
            kit_facts: Facts::choices(&sheets.evaluated().evaluation),
            ..Facts::default()
        }
    }

    /// Where people see a page; empty when nobody knows where this service is reached.
    fn shown_at(&self, path: &str) -> String {
        match self.public_address().as_str() {
            "" => String::new(),
            address => format!("{}{path}", address.trim_end_matches('/')),
        }
    }
}
