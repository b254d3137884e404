//! What pages say, in the language of whoever reads them: groups of phrases by area, one file a group and language.
//!
//! A phrase is named for its place and role, never for its English. What the supplier wrote, serials, marks and letters go through slots as
//! they are. The language is chosen in [`of`], and nowhere else.

mod en;
pub mod groups;
mod marked;
#[cfg(test)]
mod pseudo;
#[cfg(test)]
mod tests;

pub use marked::marked;
#[cfg(test)]
pub use pseudo::LANGUAGE as PSEUDO_LANGUAGE;

use axum::extract::FromRequestParts;
use axum::http::HeaderMap;
use axum::http::request::Parts;
use std::convert::Infallible;

macro_rules! words {
    ($($field:ident: $group:ident,)*) => {
        /// All that pages say in one language: a field a group.
        pub struct Words {
            /// The language, as BCP 47 writes it.
            pub language: &'static str,
            $(pub $field: groups::$field::$group,)*
        }

        static EN: Words = Words { language: "en", $($field: en::$field::WORDS,)* };

        #[cfg(test)]
        impl Words {
            /// The same in another language, made by putting each template through `change`.
            fn map(&self, language: &'static str, change: &dyn Fn(&'static str) -> &'static str) -> Self {
                Self { language, $($field: self.$field.map(change),)* }
            }

            /// All groups: their names, and the names and templates of their phrases.
            fn each(&self) -> Vec<(&'static str, Vec<(&'static str, &'static str)>)> {
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

/// On a page for everyone, a handler takes the words of the request; on every other it takes those of its visitor.
impl<S: Sync> FromRequestParts<S> for &'static Words {
    type Rejection = Infallible;

    async fn from_request_parts(parts: &mut Parts, _: &S) -> Result<Self, Infallible> {
        Ok(of(&parts.headers))
    }
}
