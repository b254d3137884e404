//! What the service says to people, in the language of whoever reads it: groups of phrases by area, one file a group and language.
//!
//! A phrase is named for its place and role, never for its English. What the supplier wrote, serials, marks and letters go through slots as
//! they are. Why something is refused is said in the list of `refusals`, and what is to be done about single values here.

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
        pub struct Words {
            $(pub $field: groups::$field::$group,)*
        }

        /// English.
        pub static EN: Words = Words { $($field: en::$field::WORDS,)* };

        #[cfg(test)]
        impl Words {
            /// The same in another language, made by putting each template through `change`.
            pub fn map(&self, change: &dyn Fn(&'static str) -> &'static str) -> Self {
                Self { $($field: self.$field.map(change),)* }
            }

            /// All groups: their names, and the names and templates of their phrases.
            pub fn each(&self) -> Vec<(&'static str, Vec<(&'static str, &'static str)>)> {
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
    fields: Fields,
    new_pack: NewPacks,
    stock: StockFields,
    boxes: BoxFields,
    design_file: DesignFiles,
    kit_file: KitFiles,
}

/// The words of what is wrong with a request. Problems are said in English alone until requests name a language.
pub fn of_problems() -> &'static Words {
    &EN
}

/// A language that nobody speaks: «ëvërÿ phräsë 40 % longer». What stands outside « » bypassed the catalogue.
#[cfg(test)]
pub static PSEUDO: std::sync::LazyLock<Words> =
    std::sync::LazyLock::new(|| EN.map(&|template| matchmark_core::words::stretched(template).leak()));
