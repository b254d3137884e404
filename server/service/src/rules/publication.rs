//! What can be published, and how revisions are chained.

use crate::ServiceError;
use matchmark_core::Evaluation;
use matchmark_core::document::{Finding, Severity};
use matchmark_core::pack::NoticeClass;
use matchmark_store::hash::sha256_hex;
use matchmark_store::revisions::RevisionRow;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// How much a change matters to those who hold an earlier revision.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum ChangeClass {
    /// The old parts must not be used as they are.
    Mandatory,
    /// The frame is better for it.
    Recommended,
    /// A matter of taste or convenience.
    Optional,
}

impl ChangeClass {
    /// The word for it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Mandatory => "mandatory",
            Self::Recommended => "recommended",
            Self::Optional => "optional",
        }
    }

    /// The class of a notice as it is kept.
    pub(crate) fn of_notice(name: &str) -> Result<Self, ServiceError> {
        Self::named(name).ok_or(ServiceError::Inconsistent("a notice has a class that this version does not know"))
    }

    /// As it is printed.
    pub(crate) fn printed(self) -> NoticeClass {
        match self {
            Self::Mandatory => NoticeClass::Mandatory,
            Self::Recommended => NoticeClass::Recommended,
            Self::Optional => NoticeClass::Optional,
        }
    }

    /// The class with this name.
    pub(crate) fn named(name: &str) -> Option<Self> {
        [Self::Mandatory, Self::Recommended, Self::Optional].into_iter().find(|class| class.name() == name)
    }
}

/// The hash of the canonical document and the rest of what was found, when there are no errors.
pub(crate) fn sound(evaluation: &Evaluation, found: Vec<Finding>) -> Result<(String, Vec<Finding>), ServiceError> {
    let (errors, rest): (Vec<_>, Vec<_>) = found.into_iter().partition(|finding| finding.severity == Severity::Error);
    match (&evaluation.sha256, &evaluation.sheets) {
        (Some(sha256), Some(_)) if errors.is_empty() => Ok((sha256.clone(), rest)),
        _ => Err(ServiceError::DesignHasErrors(errors)),
    }
}

/// Refuses content that is that of the latest revision.
pub(crate) fn changed_since(latest: Option<&RevisionRow>, sha256: &str) -> Result<(), ServiceError> {
    match latest.filter(|row| row.document_sha256 == sha256) {
        Some(latest) => Err(ServiceError::NothingChanged(latest.letter.clone())),
        None => Ok(()),
    }
}

/// The hash that chains a revision to the one before: its facts, one a line under a heading that names the form.
pub(crate) fn link(previous: &str, letter: &str, document_sha256: &str, date: &str) -> String {
    sha256_hex(format!("matchmark-revision/1\n{previous}\n{letter}\n{document_sha256}\n{date}\n"))
}
