//! What stands on a page, for a machine: its kind and the parts that it concerns, beside the title that people read.

use super::titles_before_keys;
use super::{Hands, SheetKind};
use crate::sheets::End;
use serde::{Deserialize, Serialize};

/// A sheet that stands on a page, whole or in part: one wrap among several, the parts list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct OnPage {
    /// What it is.
    pub kind: SheetKind,
    /// Marks of the parts that it is of; none for a sheet of the whole frame.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<String>,
    /// The end that a wrap is of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub end: Option<End>,
    /// Its title as printed.
    pub title: String,
}

impl OnPage {
    /// True for a template of a part of that hand alone.
    #[must_use]
    pub fn is_template_of(&self, hand: Hands) -> bool {
        let is_template = matches!(self.kind, SheetKind::Wrap | SheetKind::Plate | SheetKind::HoleStrip);
        is_template && self.parts.iter().any(|mark| hand.shows(mark) && !hand.other().shows(mark))
    }

    /// A sheet of the whole frame.
    pub(super) fn of_frame(kind: SheetKind, title: impl Into<String>) -> Self {
        Self::of_parts(kind, Vec::new(), title)
    }

    /// A sheet of some parts.
    pub(super) fn of_parts(kind: SheetKind, parts: Vec<String>, title: impl Into<String>) -> Self {
        Self { kind, parts, end: None, title: title.into() }
    }

    /// A wrap.
    pub(super) fn wrap(part: &str, end: End, title: String) -> Self {
        Self { end: Some(end), ..Self::of_parts(SheetKind::Wrap, vec![part.to_owned()], title) }
    }
}

/// A page as the account of a pack lists it, of which no more is read than what stands on it.
#[derive(Debug, Clone, Deserialize)]
pub struct ListedPage {
    /// Its number, from 1.
    pub page: usize,
    /// Its title.
    pub title: String,
    /// Whether it is laid on metal.
    pub true_scale: bool,
    #[serde(default)]
    holds: Option<Vec<OnPage>>,
}

impl ListedPage {
    /// What stands on it; of a pack that was drawn before accounts said so, by its title.
    #[must_use]
    pub fn holds(&self) -> Vec<OnPage> {
        self.holds.clone().unwrap_or_else(|| titles_before_keys::read(&self.title))
    }
}
