//! Why a job issued no pack for a kit: facts as they are kept, and what is said of them when they are read.

use crate::ServiceError;
use crate::packs::jobs::PackJobProblem;
use crate::words::Words;
use serde::{Deserialize, Serialize};

/// A refusal that a job may meet, with what its sentence needs. Its name as kept is the last part of a problem's `type`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
pub enum JobFault {
    KitHasMoved {
        kit: String,
        letter: String,
    },
    NotInForce {
        letter: String,
    },
    KitOnHold {
        kit: String,
        ask: String,
    },
    DesignHasErrors,
    NotMeasurable,
    NotDrawn {
        message: String,
    },
    OutOfTime {
        seconds: u64,
    },
    InvalidRequest,
    UnknownKit {
        kit: String,
    },
    /// Only the log says why.
    Internal,
}

/// What is kept of a kit without a pack. Earlier versions kept the sentence.
#[derive(Deserialize)]
#[serde(untagged)]
enum Kept {
    Said(PackJobProblem),
    Fact(JobFault),
}

impl JobFault {
    /// What is kept of a refusal.
    pub fn of(error: ServiceError) -> Self {
        match error {
            ServiceError::KitHasMoved { kit, letter } => Self::KitHasMoved { kit, letter },
            ServiceError::IssuesNoPacks(letter) => Self::NotInForce { letter },
            ServiceError::OnHold { kit, ask } => Self::KitOnHold { kit, ask },
            ServiceError::DesignHasErrors(_) => Self::DesignHasErrors,
            ServiceError::NotMeasurable(_) => Self::NotMeasurable,
            ServiceError::NotDrawn { message, .. } => Self::NotDrawn { message },
            ServiceError::OutOfTime { seconds } => Self::OutOfTime { seconds },
            ServiceError::Invalid(_) => Self::InvalidRequest,
            ServiceError::UnknownKit(kit) => Self::UnknownKit { kit },
            error => {
                tracing::error!(%error, "a pack of a job could not be issued");
                Self::Internal
            }
        }
    }

    /// As it is kept.
    pub fn kept(&self) -> String {
        serde_json::to_string(self).unwrap_or_default()
    }

    /// What is said of it.
    fn said(self, words: &Words) -> PackJobProblem {
        let error = match self {
            Self::KitHasMoved { kit, letter } => ServiceError::KitHasMoved { kit, letter },
            Self::NotInForce { letter } => ServiceError::IssuesNoPacks(letter),
            Self::KitOnHold { kit, ask } => ServiceError::OnHold { kit, ask },
            Self::DesignHasErrors => ServiceError::DesignHasErrors(Vec::new()),
            Self::NotMeasurable => ServiceError::NotMeasurable(Vec::new()),
            Self::NotDrawn { message } => ServiceError::NotDrawn { code: "not-drawn", message },
            Self::OutOfTime { seconds } => ServiceError::OutOfTime { seconds },
            Self::InvalidRequest => ServiceError::Invalid(Vec::new()),
            Self::UnknownKit { kit } => ServiceError::UnknownKit(kit),
            Self::Internal => {
                return PackJobProblem { code: "internal".to_owned(), detail: words.new_pack.failed().to_owned() };
            }
        };
        PackJobProblem { code: error.kind().slug.to_owned(), detail: error.said(words) }
    }
}

/// What is said of what was kept; nothing where nothing was.
pub fn said(words: &Words, kept: &str) -> Option<PackJobProblem> {
    match serde_json::from_str(kept).ok()? {
        Kept::Said(problem) => Some(problem),
        Kept::Fact(fault) => Some(fault.said(words)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::EN;

    #[test]
    fn what_is_kept_is_a_fact_and_an_earlier_sentence_stays() {
        let fault = JobFault::of(ServiceError::KitHasMoved { kit: "K-1".to_owned(), letter: "B".to_owned() });
        assert_eq!(fault.kept(), r#"{"code":"kit-has-moved","kit":"K-1","letter":"B"}"#);
        let told = said(&EN, &fault.kept()).unwrap();
        assert_eq!(told.code, "kit-has-moved");
        assert!(told.detail.starts_with("Kit K-1 has revision B now."), "{}", told.detail);
        let earlier = said(&EN, r#"{"code":"kit-has-moved","detail":"Of the year before."}"#).unwrap();
        assert_eq!((earlier.code.as_str(), earlier.detail.as_str()), ("kit-has-moved", "Of the year before."));
        assert!(said(&EN, "").is_none());
    }

    #[test]
    fn the_name_of_each_is_the_kind_of_its_refusal() {
        let (text, none) = (|| "K-1".to_owned(), Vec::new);
        for error in [
            ServiceError::IssuesNoPacks(text()),
            ServiceError::OnHold { kit: text(), ask: text() },
            ServiceError::DesignHasErrors(none()),
            ServiceError::NotMeasurable(none()),
            ServiceError::NotDrawn { code: "off-page", message: text() },
            ServiceError::OutOfTime { seconds: 9 },
            ServiceError::Invalid(Vec::new()),
            ServiceError::UnknownKit(text()),
            ServiceError::Busy,
        ] {
            let slug = if matches!(error, ServiceError::Busy) { "internal" } else { error.kind().slug };
            let kept = JobFault::of(error).kept();
            assert_eq!(said(&EN, &kept).unwrap().code, slug);
            assert!(kept.contains(&format!("\"code\":\"{slug}\"")), "{kept}");
        }
    }
}
