//! What paper says, in the reader's language: groups of phrases, one file a group and language.
//!
//! A phrase is named for its place and role, never for its English. Figures are no words: `pack` writes them, and puts them into the
//! slots of phrases as text.

mod en;
pub(crate) mod groups;
mod phrases;
mod pseudo;

pub use phrases::{Piece, Plural, Slot, filled, has_slots, pieces};
#[cfg(test)]
pub(crate) use pseudo::PSEUDO;
pub use pseudo::stretched;

macro_rules! words {
    ($($field:ident: $group:ident,)*) => {
        /// All that paper says in one language: a field a group.
        pub(crate) struct Words {
            $(pub(crate) $field: groups::$field::$group,)*
        }

        /// English.
        pub(crate) static EN: Words = Words { $($field: en::$field::WORDS,)* };

        #[cfg(test)]
        impl Words {
            /// The same in another language, made by putting each template through `change`.
            pub(crate) fn map(&self, change: &dyn Fn(&'static str) -> &'static str) -> Self {
                Self { $($field: self.$field.map(change),)* }
            }

            /// All groups: their names, and the names and templates of their phrases.
            pub(crate) fn each(&self) -> Vec<(&'static str, Vec<(&'static str, &'static str)>)> {
                vec![$((stringify!($field), self.$field.each()),)*]
            }
        }
    };
}

words! {
    about: About,
    barred: Barred,
    cautions: Cautions,
    change: Change,
    changes: Changes,
    check_bar: CheckBar,
    checks: Checks,
    cover: Cover,
    cuts: Cuts,
    document: DocumentWords,
    facing: Facing,
    figures: Figures,
    fit_up: FitUp,
    hand: Hand,
    hands: HandsWords,
    jig_places: JigPlaces,
    kept_pages: KeptPages,
    kinds: Kinds,
    kit_facts: KitFacts,
    left_long: LeftLong,
    notices: Notices,
    page: Page,
    pairs: Pairs,
    parts_list: PartsList,
    places: Places,
    plate_hand: PlateHand,
    printing: Printing,
    reading: Reading,
    rework: Rework,
    rework_in_short: ReworkInShort,
    roll_structure: RollStructureWords,
    set_out: SetOut,
    sizes: Sizes,
    step_names: StepNames,
    stop_sheets: StopSheets,
    tiles: Tiles,
    zero: Zero,
}

#[cfg(test)]
mod tests;
