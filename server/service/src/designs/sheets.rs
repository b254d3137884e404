//! The sheets of a published revision, and its wraps drawn.

use crate::engine::{Evaluated, Numbering, Wanted};
use crate::rules::lookup::{known_document, known_revision};
use crate::rules::release::may_build_from;
use crate::{Principal, Service, ServiceError};
use matchmark_core::document::{OneKit, other_hand};
use matchmark_core::pack::{Hands, Issue, Print, Status};
use matchmark_core::sheets::{Sheets, Wrap};
use matchmark_store::revisions::RevisionRow;
use std::sync::Arc;

/// The sheets of one revision.
pub struct RevisionSheets {
    revision: RevisionRow,
    evaluated: Arc<Evaluated>,
}

impl RevisionSheets {
    /// The sheets. A published document has no errors, so that they are there.
    pub fn sheets(&self) -> Result<&Sheets, ServiceError> {
        self.evaluated
            .evaluation
            .sheets
            .as_ref()
            .ok_or(ServiceError::Inconsistent("this version finds errors in a published revision"))
    }

    /// The wrap of one end; `end` as the caller wrote it.
    pub fn wrap(&self, member: &str, end: &str) -> Result<&Wrap, ServiceError> {
        let found = self.sheets()?.wraps.iter().find(|wrap| wrap.member == member && end_name(wrap) == end);
        found.ok_or_else(|| no_wrap(member, end))
    }

    /// What was said when the revision was published.
    pub fn change_note(&self) -> &str {
        &self.revision.change_note
    }

    /// Design and revision in words.
    pub(crate) fn title(&self) -> String {
        format!("{}, revision {}", self.evaluated.evaluation.name, self.revision.letter)
    }

    /// Name of the design.
    pub(crate) fn design_name(&self) -> &str {
        &self.evaluated.evaluation.name
    }

    /// Letter of the revision.
    pub(crate) fn letter(&self) -> &str {
        &self.revision.letter
    }

    /// SHA-256 of its canonical document, lower-case hex.
    pub(crate) fn sha256(&self) -> &str {
        &self.revision.document_sha256
    }

    /// The day of publication.
    pub(crate) fn published_on(&self) -> &str {
        self.revision.published_at.get(..10).unwrap_or_default()
    }

    /// What computed them.
    pub(crate) fn evaluated(&self) -> Arc<Evaluated> {
        Arc::clone(&self.evaluated)
    }

    /// The facts of an issue of this revision to no kit in particular.
    pub(crate) fn issue(&self, supplier: &str, print: Print, date: &str) -> Issue {
        Issue {
            revision: self.revision.letter.clone(),
            design_sha256: self.revision.document_sha256.clone(),
            ..Issue::new(supplier, &self.evaluated.evaluation.name, date, Status::Issued, print)
        }
    }
}

/// `from` or `to`, as addresses write it.
pub(crate) fn end_name(wrap: &Wrap) -> &'static str {
    wrap.end.word()
}

impl Service {
    /// The sheets of a revision.
    pub async fn sheets(&self, who: &Principal, design: &str, letter: &str) -> Result<RevisionSheets, ServiceError> {
        {
            let mut read = self.store.read().await?;
            may_build_from(&mut read, who, design, letter).await?;
        }
        self.known_sheets(design, letter, OneKit::default()).await
    }

    /// One wrap as PDF, or with `hands` those of its pair, dated when its revision was published so that it never changes.
    pub async fn wrap_pdf(
        &self,
        sheets: RevisionSheets,
        member: &str,
        end: &str,
        print: Print,
        hands: Option<Hands>,
    ) -> Result<Vec<u8>, ServiceError> {
        let mut wraps = vec![sheets.wrap(member, end)?.clone()];
        if let Some(hands) = hands {
            let opposite = other_hand(member).and_then(|other| sheets.wrap(&other, end).ok().cloned());
            wraps.extend(opposite);
            wraps.retain(|wrap| hands.shows(&wrap.member));
            wraps.sort_by(|a, b| a.member.cmp(&b.member));
        }
        if wraps.is_empty() {
            return Err(no_wrap(member, end));
        }
        let issue = sheets.issue(&self.supplier, print, sheets.published_on());
        self.engine.wraps_pdf(sheets.evaluated, wraps, issue).await
    }

    /// One wrap as SVG.
    pub async fn wrap_svg(&self, sheets: RevisionSheets, member: &str, end: &str) -> Result<String, ServiceError> {
        let wrap = sheets.wrap(member, end)?.clone();
        let issue = sheets.issue(&self.supplier, Print::default(), sheets.published_on());
        self.engine.wrap_svg(sheets.evaluated, wrap, issue).await
    }

    /// The sheets of a revision for one kit, to a caller who may have them. Refused where this version of the engine computes other figures
    /// than were recorded.
    pub(crate) async fn known_sheets(
        &self,
        design: &str,
        letter: &str,
        kit: OneKit,
    ) -> Result<RevisionSheets, ServiceError> {
        let (revision, document) = {
            let mut read = self.store.read().await?;
            let revision = known_revision(&mut read, design, letter).await?;
            let document = known_document(&mut read, design, letter).await?;
            (revision, document)
        };
        let numbers = numbering(&revision)?;
        let evaluated = self.engine.evaluate(Wanted { document, kit: kit.clone(), numbers }).await?;
        self.must_agree(design, letter, &kit, &evaluated).await?;
        Ok(RevisionSheets { revision, evaluated })
    }
}

/// The part numbers as given when a revision was published; a revision from before there were any is numbered afresh.
pub(crate) fn numbering(revision: &RevisionRow) -> Result<Numbering, ServiceError> {
    if revision.numbers.is_empty() {
        return Ok(Numbering::After(None));
    }
    let numbers = serde_json::from_str(&revision.numbers)
        .map_err(|_| ServiceError::Inconsistent("the part numbers of a revision cannot be read"))?;
    Ok(Numbering::Given(numbers))
}

/// The refusal of a wrap that is not there; `end` as the caller wrote it.
fn no_wrap(member: &str, end: &str) -> ServiceError {
    let end = match end {
        "from" => 1,
        "to" => 2,
        _ => return ServiceError::UnknownEnd(end.to_owned()),
    };
    ServiceError::NoWrap { member: member.to_owned(), end }
}
