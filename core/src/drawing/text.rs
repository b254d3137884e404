//! Single lines of lettering.

use super::{Ink, Placement, Point, Turn};

/// Height of capital letters by the steps of ISO 3098: the one type scale of all sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lettering {
    /// 1.8 mm: captions and figures along a line.
    Small,
    /// 2.5 mm: what is read.
    Body,
    /// 3.5 mm: headings, marks of parts.
    Heading,
    /// 5 mm: titles of pages.
    Title,
    /// 7 mm: the cover and warnings.
    Display,
}

impl Lettering {
    /// Height of a capital letter, mm.
    #[must_use]
    pub fn height(self) -> f64 {
        match self {
            Self::Small => 1.8,
            Self::Body => 2.5,
            Self::Heading => 3.5,
            Self::Title => 5.0,
            Self::Display => 7.0,
        }
    }

    /// Distance between the base lines of two lines of text, mm.
    #[must_use]
    pub fn leading(self) -> f64 {
        self.height() * 1.72
    }
}

/// The two weights of the lettering.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Weight {
    /// Regular.
    Regular,
    /// Bold.
    Bold,
}

/// Which part of the line of text stands at its position; always on its base line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// Its beginning.
    Start,
    /// Its middle.
    Middle,
    /// Its end.
    End,
}

/// A single line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// What it says.
    pub content: String,
    /// Where its anchor stands, mm.
    pub at: Point,
    /// Height.
    pub lettering: Lettering,
    /// Regular or bold.
    pub face: Weight,
    /// Which part of it stands at `at`.
    pub anchor: Anchor,
    /// Direction of reading.
    pub turn: Turn,
    /// Ink.
    pub ink: Ink,
}

impl Text {
    /// Upright regular black body text that starts at a point.
    pub fn new(content: impl Into<String>, at: Point) -> Self {
        Self {
            content: content.into(),
            at,
            lettering: Lettering::Body,
            face: Weight::Regular,
            anchor: Anchor::Start,
            turn: Turn::None,
            ink: Ink::Black,
        }
    }

    /// The same text in another height.
    #[must_use]
    pub fn lettered(self, lettering: Lettering) -> Self {
        Self { lettering, ..self }
    }

    /// The same text in bold.
    #[must_use]
    pub fn bold(self) -> Self {
        Self { face: Weight::Bold, ..self }
    }

    /// The same text with another anchor.
    #[must_use]
    pub fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    /// The same text turned.
    #[must_use]
    pub fn turned(self, turn: Turn) -> Self {
        Self { turn, ..self }
    }

    /// The same text in another ink.
    #[must_use]
    pub fn inked(self, ink: Ink) -> Self {
        Self { ink, ..self }
    }

    /// Moves and turns it.
    pub fn place(&mut self, placement: Placement) {
        self.at = placement.carry(self.at);
        self.turn = self.turn.then(placement.turn);
    }
}
