//! Phrases with markup in their slots.

use matchmark_core::words::{TemplateSpan, pieces};
use maud::{Markup, PreEscaped, Render};

/// A template with its slots filled in: its own words are escaped, and each slot is what it renders as, so that text is escaped and markup
/// is not.
pub fn marked(template: &str, slots: &[(&str, &dyn Render)]) -> Markup {
    let mut sentence = String::with_capacity(template.len() + 64 * slots.len());
    for piece in pieces(template) {
        match piece {
            TemplateSpan::Text(text) => text.render_to(&mut sentence),
            TemplateSpan::Slot(name) => {
                if let Some((_, slot)) = slots.iter().find(|(known, _)| *known == name) {
                    slot.render_to(&mut sentence);
                }
            }
        }
    }
    PreEscaped(sentence)
}
