//! What is said of a refusal in one language: templates, and the facts that fill their slots.

use super::FieldError;
use matchmark_core::document::Finding;
use matchmark_core::words::{TemplateSpan, pieces, same_slots, slots_are_among};
use matchmark_store::StoreError;

/// What a kind of refusal is called, and what it means.
#[derive(Debug, Clone, Copy)]
pub struct KindText {
    /// A few words.
    pub title: &'static str,
    /// What it means and what to do.
    pub about: &'static str,
}

/// What is said of one refusal.
#[derive(Debug, Clone, Copy)]
pub struct RefusalText {
    /// What is the matter and what to do.
    pub detail: &'static str,
    /// Where in the API whoever calls it looks next; people on a page have no use for it.
    pub in_the_api: Option<&'static str>,
}

impl KindText {
    /// The same put through `change`.
    pub fn map(&self, change: &dyn Fn(&'static str) -> &'static str) -> Self {
        Self { title: change(self.title), about: change(self.about) }
    }
}

impl RefusalText {
    /// The same put through `change`.
    pub fn map(&self, change: &dyn Fn(&'static str) -> &'static str) -> Self {
        Self { detail: change(self.detail), in_the_api: self.in_the_api.map(change) }
    }

    /// Whether its slots are among these facts.
    pub const fn has_slots_among(&self, facts: &[&str]) -> bool {
        slots_are_among(self.detail, facts)
            && match self.in_the_api {
                Some(template) => slots_are_among(template, facts),
                None => true,
            }
    }

    /// Whether it has the slots of another, which says the same.
    pub const fn fits(&self, other: &Self) -> bool {
        same_slots(self.detail, other.detail)
            && match (self.in_the_api, other.in_the_api) {
                (Some(one), Some(other)) => same_slots(one, other),
                (None, None) => true,
                _ => false,
            }
    }
}

/// What a refusal carries.
pub trait Fact {
    /// Adds it to a sentence, where it is a thing to be said.
    fn add_to(&self, sentence: &mut String);
}

macro_rules! facts {
    ($($fact:ty)*) => {
        $(impl Fact for $fact {
            fn add_to(&self, sentence: &mut String) {
                sentence.push_str(&self.to_string());
            }
        })*
    };
}

facts!(String &'static str i64 u64 usize StoreError);

/// They stand beside the sentence, each with its place.
impl Fact for Vec<FieldError> {
    fn add_to(&self, _: &mut String) {}
}

/// They stand beside the sentence, each with its place.
impl Fact for Vec<Finding> {
    fn add_to(&self, _: &mut String) {}
}

/// A template with the facts of a refusal in its slots.
pub fn filled(template: &str, facts: &[(&str, &dyn Fact)]) -> String {
    let mut sentence = String::with_capacity(template.len() + 32);
    for piece in pieces(template) {
        match piece {
            TemplateSpan::Text(text) => sentence.push_str(text),
            TemplateSpan::Slot(name) => {
                if let Some((_, fact)) = facts.iter().find(|(known, _)| *known == name) {
                    fact.add_to(&mut sentence);
                }
            }
        }
    }
    sentence
}
