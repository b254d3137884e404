//! Why a use case was refused. `list.rs` is the one list: kinds with a stable name, and under each kind the refusals of it with their
//! sentence. What stands beside the sentence is asked of a refusal here, so that nobody else has to know one by name.

mod causes;
mod list;

pub use list::{ALL, ServiceError, kinds};

use matchmark_core::document::Finding;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What stands in the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// It is not there, or not for this caller.
    Absent,
    /// The caller may not.
    Forbidden,
    /// Nobody knows who the caller is.
    Unproven,
    /// The state of things does not allow it.
    Conflict,
    /// What was sent will not do.
    Unusable,
    /// It was asked for too often.
    TooMany,
    /// It must be said which version is meant.
    ConditionNeeded,
    /// Another version is there than was meant.
    ConditionFailed,
    /// Something that is needed cannot be had for the present.
    Away,
    /// The disk is full.
    NoRoom,
    /// The fault is ours.
    Ours,
}

/// A kind of refusal.
#[derive(Debug, PartialEq, Eq)]
pub struct Kind {
    /// Stable name.
    pub slug: &'static str,
    /// What stands in the way.
    pub cause: Cause,
    /// A few words.
    pub title: &'static str,
    /// What it means and what to do.
    pub about: &'static str,
}

/// One value of a request that will not do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct FieldError {
    /// JSON Pointer (RFC 6901) to the value in the request's body.
    pub pointer: String,
    /// What to do about it.
    pub detail: String,
}

/// Makes the kinds and the refusals of the list.
macro_rules! refusals {
    ($($kind:ident = $cause:ident $slug:literal $title:literal $about:literal {
        $($(#[$doc:meta])* $refusal:ident $(($($of:ty),*))? $({ $($field:ident: $with:ty),* })? => ($($text:tt)+) $(in the API $look:literal)?;)+
    })*) => {
        /// The kinds.
        pub mod kinds {
            use super::{Cause, Kind};
            $(#[doc = $title] pub const $kind: Kind = Kind { slug: $slug, cause: Cause::$cause, title: $title, about: $about };)*
        }

        /// All kinds.
        pub const ALL: &[Kind] = &[$(kinds::$kind),*];

        /// A refusal.
        #[derive(Debug, thiserror::Error)]
        #[allow(missing_docs, reason = "the sentence of a refusal says what its fields are")]
        pub enum ServiceError {
            $($($(#[$doc])* #[error($($text)+)] $refusal $(($($of),*))? $({ $($field: $with),* })?,)+)*
        }

        impl ServiceError {
            /// Its kind.
            #[must_use]
            pub fn kind(&self) -> &'static Kind {
                match self {
                    $($(Self::$refusal { .. } => &kinds::$kind,)+)*
                }
            }

            /// Where in the API whoever calls it looks next; people on a page have no use for it.
            #[must_use]
            #[allow(unused_variables, reason = "few of these sentences name a field")]
            pub fn in_the_api(&self) -> Option<String> {
                match self {
                    $($(Self::$refusal { $($($field,)*)? .. } => {
                        None::<String>$(.or_else(|| Some(format!($look))))?
                    })+)*
                }
            }
        }
    };
}

use refusals;

impl ServiceError {
    /// The values that will not do, each with its place.
    #[must_use]
    pub fn errors(&self) -> Vec<FieldError> {
        match self {
            Self::Invalid(errors) | Self::FileRefused(errors) | Self::KitsNotImported(errors) => errors.clone(),
            Self::JointRefused { pointer, message, .. } | Self::StockRefused { pointer, message, .. } => {
                vec![FieldError { pointer: pointer.clone(), detail: message.clone() }]
            }
            _ => Vec::new(),
        }
    }

    /// The findings that stand in the way.
    #[must_use]
    pub fn findings(&self) -> &[Finding] {
        match self {
            Self::DesignHasErrors(findings)
            | Self::NotMeasurable(findings)
            | Self::WarningsNotAcknowledged(findings)
            | Self::JointHasErrors(findings) => findings,
            _ => &[],
        }
    }

    /// Stable code of the engine's cause.
    #[must_use]
    pub fn code(&self) -> Option<&'static str> {
        match self {
            Self::NotDrawn { code, .. } | Self::JointRefused { code, .. } | Self::StockRefused { code, .. } => {
                Some(code)
            }
            _ => None,
        }
    }

    /// Seconds after which it may be allowed.
    #[must_use]
    pub fn wait(&self) -> Option<u64> {
        match self {
            Self::TooManyAttempts { seconds } | Self::PacksUsedUp { seconds, .. } => Some(seconds.unsigned_abs()),
            _ => None,
        }
    }

    /// Serial and letter of the stop sheet that is to be read first.
    #[must_use]
    pub fn stop_sheet(&self) -> Option<(&str, &str)> {
        match self {
            Self::StopSheetFirst { kit, letter } => Some((kit, letter)),
            _ => None,
        }
    }
}
