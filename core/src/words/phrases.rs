//! What a phrase is: a template with named slots, checked against its declaration when it is compiled.

use std::borrow::Cow;
use std::collections::BTreeMap;

/// What may stand in a slot. Figures with decimals are no slot: they are written in the reader's way before (see
/// [`crate::pack`]), so that none goes to paper with the wrong decimal sign.
pub trait Slot {
    /// Adds it to a sentence.
    fn add_to(&self, sentence: &mut String);
}

impl Slot for str {
    fn add_to(&self, sentence: &mut String) {
        sentence.push_str(self);
    }
}

impl Slot for String {
    fn add_to(&self, sentence: &mut String) {
        sentence.push_str(self);
    }
}

impl Slot for Cow<'_, str> {
    fn add_to(&self, sentence: &mut String) {
        sentence.push_str(self);
    }
}

impl Slot for char {
    fn add_to(&self, sentence: &mut String) {
        sentence.push(*self);
    }
}

impl<T: Slot + ?Sized> Slot for &T {
    fn add_to(&self, sentence: &mut String) {
        (**self).add_to(sentence);
    }
}

macro_rules! whole_numbers {
    ($($number:ty)*) => {
        $(impl Slot for $number {
            fn add_to(&self, sentence: &mut String) {
                sentence.push_str(&self.to_string());
            }
        })*
    };
}

whole_numbers!(u8 u16 u32 u64 usize i32 i64);

/// A phrase that hangs on a count.
#[derive(Debug, Clone, Copy)]
pub struct Plural {
    /// For one.
    pub one: &'static str,
    /// For none and for more.
    pub other: &'static str,
}

/// A template with its slots filled in.
#[must_use]
pub fn fill_slots(template: &str, slots: &[(&str, &dyn Slot)]) -> String {
    let mut sentence = String::with_capacity(template.len() + 16 * slots.len());
    for piece in pieces(template) {
        match piece {
            TemplateSpan::Text(text) => sentence.push_str(text),
            TemplateSpan::Slot(name) => {
                if let Some((_, slot)) = slots.iter().find(|(known, _)| *known == name) {
                    slot.add_to(&mut sentence);
                }
            }
        }
    }
    sentence
}

/// A piece of a template.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TemplateSpan<'a> {
    /// Words.
    Text(&'a str),
    /// The name of a slot.
    Slot(&'a str),
}

/// The pieces of a template in their order.
pub fn pieces(template: &str) -> impl Iterator<Item = TemplateSpan<'_>> {
    template.split('{').enumerate().flat_map(|(index, part)| {
        let (slot, text) = if index == 0 {
            (None, part)
        } else {
            part.split_once('}').map_or((None, part), |(name, text)| (Some(name), text))
        };
        slot.map(TemplateSpan::Slot).into_iter().chain(Some(TemplateSpan::Text(text)))
    })
}

/// One name and templates each: the phrases of a group, as its `each` gives them.
pub type NamedGroup = (&'static str, Vec<(&'static str, &'static str)>);

/// The phrases of the same group that say the same under two names, and groups that say nothing: for the tests of a catalogue.
#[must_use]
pub fn said_twice(groups: &[NamedGroup]) -> Vec<String> {
    let mut twice = Vec::new();
    for (group, phrases) in groups {
        if phrases.is_empty() {
            twice.push(format!("{group} says nothing"));
        }
        let says = |template: &str| {
            pieces(template).any(|piece| matches!(piece, TemplateSpan::Text(text) if !text.is_empty()))
        };
        let mut names: BTreeMap<&str, &str> = BTreeMap::new();
        for (name, template) in phrases.iter().filter(|(_, template)| says(template)) {
            if let Some(other) = names.insert(template, name).filter(|other| other != name) {
                twice.push(format!("{group}: {other} and {name}"));
            }
        }
    }
    twice
}

/// Whether the slots of a template are just these, each at least once.
#[must_use]
pub const fn has_slots(template: &str, names: &[&str]) -> bool {
    if !slots_are_among(template, names) {
        return false;
    }
    let mut index = 0;
    while index < names.len() {
        if !occurs(template.as_bytes(), names[index].as_bytes()) {
            return false;
        }
        index += 1;
    }
    true
}

/// Whether all slots of a template are among these.
#[must_use]
pub const fn slots_are_among(template: &str, names: &[&str]) -> bool {
    let bytes = template.as_bytes();
    let mut at = 0;
    while at < bytes.len() {
        if bytes[at] == b'{' {
            let end = end_of_slot(bytes, at);
            if end == bytes.len() || !is_one_of(bytes, at + 1, end, names) {
                return false;
            }
            at = end;
        }
        at += 1;
    }
    true
}

/// Whether two templates have the same slots.
#[must_use]
pub const fn same_slots(one: &str, other: &str) -> bool {
    all_occur(one.as_bytes(), other.as_bytes()) && all_occur(other.as_bytes(), one.as_bytes())
}

/// Whether each slot of one template occurs in another.
const fn all_occur(one: &[u8], other: &[u8]) -> bool {
    let mut at = 0;
    while at < one.len() {
        if one[at] == b'{' {
            let end = end_of_slot(one, at);
            let (_, rest) = one.split_at(at + 1);
            let (name, _) = rest.split_at(end - at - 1);
            if end == one.len() || !occurs(other, name) {
                return false;
            }
            at = end;
        }
        at += 1;
    }
    true
}

/// Where the slot that begins at `at` ends; the end of the template when it does not.
const fn end_of_slot(bytes: &[u8], at: usize) -> usize {
    let mut end = at + 1;
    while end < bytes.len() && bytes[end] != b'}' {
        end += 1;
    }
    end
}

const fn is_one_of(bytes: &[u8], from: usize, to: usize, names: &[&str]) -> bool {
    let mut index = 0;
    while index < names.len() {
        if is_at(bytes, from, names[index].as_bytes()) && to - from == names[index].len() {
            return true;
        }
        index += 1;
    }
    false
}

const fn occurs(bytes: &[u8], name: &[u8]) -> bool {
    let mut at = 0;
    while at < bytes.len() {
        if bytes[at] == b'{'
            && is_at(bytes, at + 1, name)
            && at + 1 + name.len() < bytes.len()
            && bytes[at + 1 + name.len()] == b'}'
        {
            return true;
        }
        at += 1;
    }
    false
}

const fn is_at(bytes: &[u8], from: usize, name: &[u8]) -> bool {
    if from + name.len() > bytes.len() {
        return false;
    }
    let mut index = 0;
    while index < name.len() {
        if bytes[from + index] != name[index] {
            return false;
        }
        index += 1;
    }
    true
}

/// Declares groups of phrases. A group is a struct with a field a phrase and a method that says it:
///
/// ```
/// matchmark_core::phrases! {
///     /// Words on a box.
///     Carton {
///         heading();
///         packed_on(day, place);
///     } + counted {
///         tubes(count);
///     }
/// }
///
/// static EN: Carton = Carton {
///     heading: "Box",
///     packed_on: "Packed on {day} in {place}",
///     tubes: matchmark_core::words::Plural { one: "{count} tube", other: "{count} tubes" },
/// }
/// .checked();
///
/// assert_eq!(EN.heading(), "Box");
/// assert_eq!(EN.packed_on("2026-11-28", "Leeds"), "Packed on 2026-11-28 in Leeds");
/// assert_eq!(EN.tubes(1, "1"), "1 tube");
/// ```
///
/// `checked` refuses to compile where a template lacks a slot or has one that is not declared. A phrase that hangs on a count takes the
/// count first, and then its slots as they are written. A phrase whose slots may hold markup is declared last, with the trait of its slots,
/// the function that fills them, which is given the template and the slots by name, and what that makes:
/// `+ marked(Render, marked => Markup) { heading(serial); }`. `map` makes the same group of other templates, such as a longer
/// pseudo-language; `each` lists all templates by name.
#[macro_export]
macro_rules! phrases {
    ($($(#[$doc:meta])* $group:ident {
        $($phrase:ident($($slot:ident),*);)*
    } $(+ counted { $($many:ident($($part:ident),*);)* })?
    $(+ marked($render:ident, $fill:ident => $sentence:ty) { $($marked:ident($($piece:ident),+);)* })?)*) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Clone, Copy)]
            #[allow(missing_docs, reason = "a field is the template of the method with its name")]
            pub struct $group {
                $(pub $phrase: &'static str,)*
                $($(pub $many: $crate::words::Plural,)*)?
                $($(pub $marked: &'static str,)*)?
            }

            #[allow(missing_docs, reason = "a method says the phrase with its name")]
            #[allow(clippy::new_ret_no_self, clippy::wrong_self_convention, reason = "a phrase may begin with any word")]
            impl $group {
                /// The same group; it does not compile where a template has not the slots that were declared.
                #[must_use]
                pub const fn checked(self) -> Self {
                    $(assert!(
                        $crate::words::has_slots(self.$phrase, &[$(stringify!($slot)),*]),
                        concat!("the slots of ", stringify!($group), ".", stringify!($phrase))
                    );)*
                    $($(assert!(
                        $crate::words::has_slots(self.$many.one, &[$(stringify!($part)),*])
                            && $crate::words::has_slots(self.$many.other, &[$(stringify!($part)),*]),
                        concat!("the slots of ", stringify!($group), ".", stringify!($many))
                    );)*)?
                    $($(assert!(
                        $crate::words::has_slots(self.$marked, &[$(stringify!($piece)),+]),
                        concat!("the slots of ", stringify!($group), ".", stringify!($marked))
                    );)*)?
                    self
                }

                /// The same group with each template put through `change`.
                #[allow(dead_code, reason = "for tests")]
                #[must_use]
                pub fn map(&self, change: &dyn Fn(&'static str) -> &'static str) -> Self {
                    Self {
                        $($phrase: change(self.$phrase),)*
                        $($($many: $crate::words::Plural {
                            one: change(self.$many.one),
                            other: change(self.$many.other),
                        },)*)?
                        $($($marked: change(self.$marked),)*)?
                    }
                }

                /// All templates with their names.
                #[allow(dead_code, reason = "for tests")]
                #[must_use]
                pub fn each(&self) -> Vec<(&'static str, &'static str)> {
                    vec![
                        $((stringify!($phrase), self.$phrase),)*
                        $($((stringify!($many), self.$many.one), (stringify!($many), self.$many.other),)*)?
                        $($((stringify!($marked), self.$marked),)*)?
                    ]
                }

                $($crate::phrases! { @method $phrase($($slot),*) })*
                $($(
                    pub(crate) fn $many(&self, many: usize $(, $part: impl $crate::words::Slot)*) -> String {
                        let template = if many == 1 { self.$many.one } else { self.$many.other };
                        $crate::words::fill_slots(template, &[$((stringify!($part), &$part as &dyn $crate::words::Slot)),*])
                    }
                )*)?
                $($(
                    pub(crate) fn $marked(&self $(, $piece: impl $render)+) -> $sentence {
                        $fill(self.$marked, &[$((stringify!($piece), &$piece as &dyn $render)),+])
                    }
                )*)?
            }
        )*
    };
    (@method $phrase:ident()) => {
        pub(crate) const fn $phrase(&self) -> &'static str {
            self.$phrase
        }
    };
    (@method $phrase:ident($($slot:ident),+)) => {
        pub(crate) fn $phrase(&self $(, $slot: impl $crate::words::Slot)+) -> String {
            $crate::words::fill_slots(self.$phrase, &[$((stringify!($slot), &$slot as &dyn $crate::words::Slot)),+])
        }
    };
}
