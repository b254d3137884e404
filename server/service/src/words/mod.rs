//! What the service says to people, in the language of whoever reads it: groups of phrases by area, one file a group and language.
//!
//! A phrase is named for its place and role, never for its English. What the supplier wrote, serials, marks and letters go through slots as
//! they are. The English of refusals stands in their list (`refusals`), and what is to be done about single values here.

mod en;
pub mod groups;
mod lists;
#[cfg(test)]
mod tests;
#[cfg(test)]
mod walk;

pub use lists::{joined, sentences};

macro_rules! words {
    ($($field:ident: $group:ident,)*) => {
        /// All that the service says in one language: a field a group.
        #[derive(Debug)]
        #[allow(missing_docs, reason = "a field is the group with its name")]
        pub struct Words {
            $(pub $field: groups::$field::$group,)*
        }

        /// English.
        pub static EN: Words = Words { $($field: en::$field::WORDS,)* };

        impl Words {
            /// The same in another language, made by putting each template through `change`: for tests of what is said.
            #[must_use]
            pub fn map(&self, change: &dyn Fn(&'static str) -> &'static str) -> Self {
                Self { $($field: self.$field.map(change),)* }
            }

            /// All groups: their names, and the names and templates of their phrases.
            #[cfg(test)]
            pub fn each(&self) -> Vec<matchmark_core::words::NamedGroup> {
                vec![$((stringify!($field), self.$field.each()),)*]
            }
        }
    };
}

words! {
    lists: Lists,
    standing: Standing,
    hands: Hands,
    moved: Moved,
    before: Before,
    page: Page,
    loose_page: LoosePage,
    file: File,
    stop_sheet: StopSheets,
    mail: Mail,
    card: Card,
    refusals: Refusals,
    readiness: Readiness,
    sending: Sending,
    fields: Fields,
    new_pack: NewPacks,
    stock: StockFields,
    boxes: BoxFields,
    design_file: DesignFiles,
    kit_file: KitFiles,
}

tokio::task_local! {
    /// The words of whoever sent the request that a task answers.
    static OF_REQUEST: &'static Words;
}

/// Answers a request in these words, as far as it is told what is wrong with it.
pub async fn answer_in<F: Future>(words: &'static Words, answer: F) -> F::Output {
    OF_REQUEST.scope(words, answer).await
}

/// The words of what is wrong with a request: those of whoever sent it, and English where nobody did.
pub fn of_problems() -> &'static Words {
    OF_REQUEST.try_with(|words| *words).unwrap_or(&EN)
}

/// A language that nobody speaks: «ëvërÿ phräsë 40 % longer». What stands outside « » bypassed the catalogue.
#[cfg(test)]
pub static PSEUDO: std::sync::LazyLock<Words> =
    std::sync::LazyLock::new(|| EN.map(&|template| matchmark_core::words::stretched(template).leak()));
