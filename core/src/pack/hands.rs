//! Templates of both hands, or of one only.

use super::layout::furniture::Furniture;
use super::layout::lines::break_lines;
use crate::drawing::{Drawing, Lettering, Point, Text, Weight};
use crate::words::Words;
use serde::{Deserialize, Serialize};

/// Whose templates a pack holds. Parts of neither hand are in every pack, and so is everything that is not a template.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, Default)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
#[serde(rename_all = "lowercase")]
pub enum Hands {
    /// Those of left-hand and right-hand parts.
    #[default]
    Both,
    /// Those of left-hand parts, marks that end in `.L`.
    Left,
    /// Those of right-hand parts, marks that end in `.R`.
    Right,
}

impl Hands {
    /// All of them.
    pub const ALL: [Self; 3] = [Self::Both, Self::Left, Self::Right];

    /// Its name in requests.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Both => "both",
            Self::Left => "left",
            Self::Right => "right",
        }
    }

    /// The one hand that the other templates are of; both for both.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Both => Self::Both,
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// Whether the templates of a part are among them, by its mark.
    #[must_use]
    pub fn shows(self, mark: &str) -> bool {
        match self {
            Self::Both => true,
            Self::Left => !mark.ends_with(".R"),
            Self::Right => !mark.ends_with(".L"),
        }
    }

    /// What the cover says of a pack of one hand.
    pub(super) fn cover_words(self, words: &'static Words) -> Option<&'static str> {
        match self {
            Self::Both => None,
            Self::Left => Some(words.hands.left_cover()),
            Self::Right => Some(words.hands.right_cover()),
        }
    }

    /// What is left out, on every page that would hold it.
    fn page_words(self, words: &'static Words) -> Option<&'static str> {
        match self {
            Self::Both => None,
            Self::Left => Some(words.hands.left_page()),
            Self::Right => Some(words.hands.right_page()),
        }
    }
}

/// What a page of templates leaves out, in as many lines up from `at` as the width asks for.
pub(super) fn note([x, y]: Point, width: f64, furniture: Furniture) -> Drawing {
    let mut drawing = Drawing::default();
    let Some(words) = furniture.issue.print.hands.page_words(furniture.words) else { return drawing };
    let small = Lettering::Small;
    let lines = break_lines(furniture.letters, words, small, Weight::Bold, width);
    #[allow(clippy::cast_precision_loss)]
    let mut y = y + lines.len().saturating_sub(1) as f64 * small.leading();
    for line in lines {
        drawing.text(Text::new(line, [x, y]).lettered(small).bold());
        y -= small.leading();
    }
    drawing
}
