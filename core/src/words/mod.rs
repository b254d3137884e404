//! What paper says, in the reader's language: groups of phrases, one file a group and language.
//!
//! A phrase is named for its place and role, never for its English. Figures are no words: `pack` writes them, and puts them into the
//! slots of phrases as text. `findings` is what the API says of documents and requests, in English.

mod en;
pub(crate) mod findings;
pub(crate) mod groups;
mod phrases;
mod pseudo;

pub use phrases::{
    NamedGroup, Plural, Slot, TemplateSpan, fill_slots, has_slots, pieces, said_twice, same_slots, slots_are_among,
};
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
            pub(crate) fn each(&self) -> Vec<NamedGroup> {
                vec![$((stringify!($field), self.$field.each()),)*]
            }
        }
    };
}

words! {
    about: About,
    as_measured: AsMeasured,
    barred: Barred,
    bend_sheet: BendSheet,
    cautions: Cautions,
    change: Change,
    changes: Changes,
    check_bar: CheckBar,
    checks: Checks,
    cover: Cover,
    cut_sheet: CutSheet,
    cuts: Cuts,
    document: DocumentWords,
    drawings: Drawings,
    facing: Facing,
    figures: Figures,
    fit_up: FitUp,
    hand: Hand,
    hands: HandsWords,
    hole_strips: HoleStrips,
    jig_places: JigPlaces,
    jig_sheets: JigSheets,
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
    plates: Plates,
    printing: Printing,
    reading: Reading,
    rework: Rework,
    rework_in_short: ReworkInShort,
    roll_structure: RollStructureWords,
    set_out: SetOut,
    sizes: Sizes,
    step_names: StepNames,
    stock_plan: StockPlan,
    stop_sheets: StopSheets,
    strips: Strips,
    tiles: Tiles,
    views: Views,
    wrap: Wrap,
    wrap_diagram: WrapDiagram,
    wrap_legend: WrapLegend,
    wrap_strip: WrapStrip,
    zero: Zero,
}

#[cfg(test)]
mod tests;
