//! What pages and problems say, in the language of whoever reads them: groups of phrases by area, one file a group and language.
//!
//! A phrase is named for its place and role, never for its English. What the supplier wrote, serials, marks and letters go through slots as
//! they are. The language is chosen in [`of`], and nowhere else. Pages are handed their words; what is wrong with a request
//! is found anywhere, and asks for them in [`of_request`].

mod en;
mod figure_words;
pub mod groups;
mod marked;
#[cfg(test)]
mod pseudo;
#[cfg(test)]
mod tests;

pub use figure_words::figure_words;
pub use marked::marked;
#[cfg(test)]
pub use pseudo::LANGUAGE as PSEUDO_LANGUAGE;

use axum::extract::FromRequestParts;
use axum::http::HeaderMap;
use axum::http::request::Parts;
use matchmark_service::words::{Words as ServiceWords, answer_in};
use std::convert::Infallible;

macro_rules! words {
    ($($field:ident: $group:ident,)*) => {
        /// All that pages say in one language: a field a group.
        pub struct Words {
            /// The language, as BCP 47 writes it.
            pub language: &'static str,
            /// What use cases say in it.
            pub service: &'static ServiceWords,
            $(pub $field: groups::$field::$group,)*
        }

        /// English, which commands speak.
        pub static EN: Words = Words { language: "en", service: &matchmark_service::words::EN, $($field: en::$field::WORDS,)* };

        #[cfg(test)]
        impl Words {
            /// The same in another language, made by putting each template through `change`.
            fn map(&self, language: &'static str, change: &dyn Fn(&'static str) -> &'static str) -> Self {
                let service: &ServiceWords = Box::leak(Box::new(self.service.map(change)));
                Self { language, service, $($field: self.$field.map(change),)* }
            }

            /// All groups: their names, and the names and templates of their phrases.
            fn each(&self) -> Vec<matchmark_core::words::NamedGroup> {
                vec![$((stringify!($field), self.$field.each()),)*]
            }
        }
    };
}

words! {
    layout: Layout,
    labels: Labels,
    values: Values,
    answers: Answers,
    revision_state: RevisionStates,
    pack_state: PackStates,
    paper: Papers,
    change_class: ChangeClasses,
    changes: Changes,
    forms: Forms,
    home: Home,
    handbook: Handbook,
    failed: Failed,
    contact: Contact,
    kits: Kits,
    new_kit: NewKit,
    card: Card,
    import: Import,
    kit: Kit,
    desk: Desk,
    hold: Hold,
    measurements: Measurements,
    designs: Designs,
    findings: Findings,
    publish: Publish,
    review: Review,
    revision: Revision,
    figures: Figures,
    figure_change: FigureChanges,
    files: Files,
    kit_notice: KitNotices,
    outstanding: Outstanding,
    raise: Raise,
    stop_sheet: StopSheets,
    jobs: Jobs,
    job_state: JobStates,
    redraw: Redraw,
    page_status: PageStatuses,
    sign_in: SignIn,
    support: Support,
    person: Person,
    request_kinds: RequestKinds,
    requests: Requests,
    bodies: Bodies,
    json_types: JsonTypes,
}

/// The words for whoever sent a request.
#[cfg_attr(not(test), expect(unused_variables, reason = "pages speak English alone until they have a second language"))]
pub fn of(headers: &HeaderMap) -> &'static Words {
    #[cfg(test)]
    if pseudo::is_wanted(headers) {
        return &pseudo::PSEUDO;
    }
    &EN
}

tokio::task_local! {
    /// The words of whoever sent the request that a task answers.
    static OF_REQUEST: &'static Words;
}

/// Answers a request, saying what is wrong with it in these words.
pub async fn answer_problems_in<F: Future>(words: &'static Words, answer: F) -> F::Output {
    OF_REQUEST.scope(words, answer_in(words.service, answer)).await
}

/// The words of what is wrong with the request that this task answers.
pub fn of_request() -> &'static Words {
    OF_REQUEST.try_with(|words| *words).unwrap_or(&EN)
}

/// On a page for everyone, a handler takes the words of the request; on every other it takes those of its visitor.
impl<S: Sync> FromRequestParts<S> for &'static Words {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        Ok(of(&parts.headers))
    }
}
