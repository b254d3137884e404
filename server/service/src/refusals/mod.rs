//! Why a use case was refused. `list.rs` is the one list: kinds with a stable name, and under each kind the refusals of it with their
//! facts and their English. Another language is a [`Refusals`] in its folder of `words`. What stands beside the sentence is asked of a refusal here, so that nobody else has to know one by name.

mod causes;
mod list;
mod texts;

pub use list::{ALL, Refusals, ServiceError, kinds};
pub use texts::{KindText, RefusalText};

use crate::words::{EN, Words};
use matchmark_core::document::Finding;
use serde::{Deserialize, Serialize};
use std::error::Error;
use std::fmt::{self, Display, Formatter};
use utoipa::ToSchema;

/// What stands in the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cause {
    /// It is not there, or not for this caller.
    Absent,
    /// It was there and is no longer kept.
    Gone,
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
#[derive(Debug)]
pub struct Kind {
    /// Stable name.
    pub slug: &'static str,
    /// What stands in the way.
    pub cause: Cause,
    /// What is said of it.
    text: fn(&Refusals) -> &KindText,
}

/// One value of a request that will not do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct FieldError {
    /// JSON Pointer (RFC 6901) to the value in the request's body.
    pub pointer: String,
    /// What to do about it.
    pub detail: String,
}

/// Makes the kinds and the refusals of the list, and what is said of them in English.
macro_rules! refusals {
    ($($kind:ident = $cause:ident $slug:literal $title:literal $about:literal {
        $($(#[$doc:meta])* $refusal:ident $(($of:ty))? $({ $($field:ident: $with:ty),* })? => ($text:literal) $(in the API $look:literal)?;)+
    })*) => {
        /// The kinds.
        pub mod kinds {
            use super::{Cause, Kind};
            $(#[doc = $title] pub const $kind: Kind = Kind { slug: $slug, cause: Cause::$cause, text: |says| &says.$kind };)*
        }

        /// All kinds.
        pub const ALL: &[Kind] = &[$(kinds::$kind),*];

        /// What is said of all kinds and refusals in one language.
        #[derive(Debug)]
        #[allow(non_snake_case, missing_docs, reason = "a field has the name of its kind or refusal")]
        pub struct Refusals {
            $(pub $kind: KindText, $(pub $refusal: RefusalText,)+)*
        }

        impl Refusals {
            /// English, which every other language is held against.
            pub const ENGLISH: Self = Self {
                $($kind: KindText { title: $title, about: $about },
                $($refusal: RefusalText { detail: $text, in_the_api: given!($($look)?) },)+)*
            };

            /// The same group; it does not compile where a sentence has other slots than the English one.
            #[must_use]
            pub const fn checked(self) -> Self {
                $($(assert!(
                    self.$refusal.fits(&Self::ENGLISH.$refusal)
                        && self.$refusal.has_slots_among(&[$(slot_of!($of))? $($(stringify!($field)),*)?]),
                    concat!("the slots of ", stringify!($refusal))
                );)+)*
                self
            }

            /// The same group with each template put through `change`.
            #[must_use]
            pub fn map(&self, change: &dyn Fn(&'static str) -> &'static str) -> Self {
                Self { $($kind: self.$kind.map(change), $($refusal: self.$refusal.map(change),)+)* }
            }

            /// All templates with the names of their kinds and refusals.
            #[must_use]
            pub fn each(&self) -> Vec<(&'static str, &'static str)> {
                let mut each = Vec::new();
                $(each.extend([(stringify!($kind), self.$kind.title), (stringify!($kind), self.$kind.about)]);
                $(each.push((stringify!($refusal), self.$refusal.detail));
                each.extend(self.$refusal.in_the_api.map(|look| (stringify!($refusal), look)));)+)*
                each
            }
        }

        /// A refusal.
        #[derive(Debug)]
        #[allow(missing_docs, reason = "the sentence of a refusal says what its fields are")]
        pub enum ServiceError {
            $($($(#[$doc])* $refusal $(($of))? $({ $($field: $with),* })?,)+)*
        }

        impl ServiceError {
            /// Its kind.
            #[must_use]
            pub fn kind(&self) -> &'static Kind {
                match self {
                    $($(Self::$refusal { .. } => &kinds::$kind,)+)*
                }
            }

            /// What is the matter and what to do.
            #[must_use]
            pub fn said(&self, words: &Words) -> String {
                self.filled(&words.refusals, |text| Some(text.detail)).unwrap_or_default()
            }

            /// Where in the API whoever calls it looks next; people on a page have no use for it.
            #[must_use]
            pub fn in_the_api(&self, words: &Words) -> Option<String> {
                self.filled(&words.refusals, |text| text.in_the_api)
            }

            /// One of its templates with its facts in the slots.
            fn filled(&self, says: &Refusals, which: impl Fn(&RefusalText) -> Option<&'static str>) -> Option<String> {
                match self {
                    $($(Self::$refusal $((bound!($of, fact)))? $({ $($field),* })? => {
                        let facts: &[(&str, &dyn Fact)] =
                            &[$((slot_of!($of), bound!($of, fact)))? $($((stringify!($field), $field)),*)?];
                        which(&says.$refusal).map(|template| texts::filled(template, facts))
                    })+)*
                }
            }
        }
    };
}

/// A template that may not be there.
macro_rules! given {
    () => {
        None
    };
    ($template:literal) => {
        Some($template)
    };
}

/// The slot of the one fact that has no name.
macro_rules! slot_of {
    ($of:ty) => {
        "0"
    };
}

/// What stands for the one fact that has no name.
macro_rules! bound {
    ($of:ty, $name:ident) => {
        $name
    };
}

use {bound, given, refusals, slot_of};

/// In English, for the log.
impl Display for ServiceError {
    fn fmt(&self, formatter: &mut Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.said(&EN))
    }
}

impl Error for ServiceError {}

impl Kind {
    /// A few words.
    #[must_use]
    pub fn title(&self, words: &Words) -> &'static str {
        (self.text)(&words.refusals).title
    }

    /// What it means and what to do.
    #[must_use]
    pub fn about(&self, words: &Words) -> &'static str {
        (self.text)(&words.refusals).about
    }
}

/// A kind is known by its name.
impl PartialEq for Kind {
    fn eq(&self, other: &Self) -> bool {
        self.slug == other.slug
    }
}

impl Eq for Kind {}

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
