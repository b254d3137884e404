//! What is told of a frame in its files.

use crate::ExportError;
use crate::labels::LabelSheet;
use crate::words::EN;
use matchmark_core::Evaluation;
use matchmark_core::part::Made;
use matchmark_core::sheets::Sheets;

/// What the files say they are of.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Facts {
    /// The supplier.
    pub supplier: String,
    /// Name of the design.
    pub design: String,
    /// Letter of the revision; empty for a draft.
    pub revision: String,
    /// Date of the revision, or of the draft, `YYYY-MM-DD`.
    pub date: String,
    /// Serial of the kit; empty when the files are of none.
    pub kit: String,
    /// What is chosen, and what was measured on the kit, each as `name=value`.
    pub kit_facts: Vec<String>,
    /// SHA-256 of the canonical design document, lower-case hex.
    pub design_sha256: String,
    /// Where the state of the revision or the kit is shown, to be read from a label; empty when nowhere.
    pub address: String,
}

impl Facts {
    /// What is chosen for a frame, as `option=choice` each; also where nobody chose, since every frame has some choice.
    #[must_use]
    pub fn choices(evaluation: &Evaluation) -> Vec<String> {
        let choices = evaluation.sheets.iter().flat_map(|sheets| &sheets.about.choices);
        choices.map(|row| format!("{}={}", row.option, row.choice)).collect()
    }

    /// What the files are of, in one line.
    #[must_use]
    pub fn title(&self) -> String {
        let revision = match self.revision.as_str() {
            "" => EN.draft(&self.date),
            letter => EN.revision(letter, &self.date),
        };
        let kit = (!self.kit.is_empty()).then(|| EN.kit(&self.kit));
        [Some(self.design.clone()), Some(revision), kit].into_iter().flatten().collect::<Vec<_>>().join(", ")
    }

    /// What is known of their state, and what to do before anything is made from them.
    #[must_use]
    pub fn cautions(&self) -> Vec<String> {
        let state = match (self.revision.as_str(), self.kit.as_str()) {
            ("", _) => EN.state_of_draft().to_owned(),
            (letter, "") => EN.state_of_revision(letter),
            (letter, kit) => EN.state_of_kit(letter, kit),
        };
        vec![state, EN.printed_sheet().to_owned(), EN.licensed().to_owned()]
    }
}

/// A frame with what is told of it.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'a> {
    /// What its document came to, numbered.
    pub evaluation: &'a Evaluation,
    /// Its sheets.
    pub sheets: &'a Sheets,
    /// The frame and its parts.
    pub made: &'a Made,
    /// What is told of it.
    pub facts: &'a Facts,
    /// The sheets of labels.
    pub labels: LabelSheet,
}

impl<'a> Subject<'a> {
    /// The files of what a document came to.
    ///
    /// # Errors
    /// [`ExportError::DesignHasErrors`] when it came to nothing.
    pub fn of(evaluation: &'a Evaluation, facts: &'a Facts) -> Result<Self, ExportError> {
        match (&evaluation.sheets, &evaluation.made) {
            (Some(sheets), Some(made)) => Ok(Self { evaluation, sheets, made, facts, labels: LabelSheet::default() }),
            _ => Err(ExportError::DesignHasErrors),
        }
    }

    /// Part number of a member or plate; empty when the design has no numbers.
    pub(crate) fn number(&self, id: &str) -> &'a str {
        let row = self.sheets.parts.iter().find(|row| row.members.iter().any(|member| member == id));
        row.map_or("", |row| row.number.as_str())
    }

    /// `left` or `right` for a part that must not change places with its mirror image, `either` for one that may; empty for one
    /// without.
    pub(crate) fn hand(&self, id: &str) -> &'static str {
        let pair = self.sheets.pairs.iter().find(|pair| pair.left == id || pair.right == id);
        match pair {
            Some(pair) if !pair.handed => "either",
            Some(pair) if pair.left == id => "left",
            Some(_) => "right",
            None => "",
        }
    }
}
