//! Names, texts and bounded numbers of the document.

use super::field::{Field, wrong_kind};
use super::finding::{Finding, Findings};
use super::place::JsonPlace;
use super::unseen::unseen;
use crate::words::findings::document::DocumentFault;
use crate::words::findings::values::{Unit, Wanted};
use serde_json::{Value, json};

/// Declares a number with its bounds.
macro_rules! number {
    ($(#[doc = $about:literal])+ $Number:ident, $least:expr, $most:expr, $unit:ident) => {
        $(#[doc = $about])+
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $Number(f64);

        impl $Number {
            /// The number.
            #[must_use]
            pub fn get(self) -> f64 {
                self.0
            }
        }

        impl Field for $Number {
            fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
                bounded(value, $least, $most, Unit::$unit, place, findings).map(Self)
            }

            fn schema() -> Value {
                json!({"type": "number", "minimum": $least, "maximum": $most})
            }
        }
    };
}

fn bounded(
    value: &Value,
    least: f64,
    most: f64,
    unit: Unit,
    place: &JsonPlace<'_>,
    findings: &mut Findings,
) -> Option<f64> {
    let Some(number) = value.as_f64() else {
        wrong_kind(Wanted::Number(unit), value, place, findings);
        return None;
    };
    if (least..=most).contains(&number) {
        return Some(number);
    }
    findings.error("out-of-range", place, DocumentFault::OutOfRange { number, least, most, unit });
    None
}

number!(
    /// A coordinate in mm.
    Coordinate, -100_000.0, 100_000.0, Mm
);
number!(
    /// An outer diameter in mm.
    Diameter, 3.0, 1_000.0, Mm
);
number!(
    /// A wall thickness in mm.
    Wall, 0.2, 100.0, Mm
);
number!(
    /// A centreline radius of a bend in mm.
    BendRadius, 1.0, 10_000.0, Mm
);
number!(
    /// A corner radius in mm.
    Radius, 0.0, 1_000.0, Mm
);
number!(
    /// An angle in degrees.
    Angle, -360.0, 360.0, Degrees
);
number!(
    /// A place along a centreline in mm from its first point.
    Station, 0.0, 100_000.0, Mm
);
number!(
    /// A diameter of a hole in mm.
    HoleDiameter, 0.5, 1_000.0, Mm
);
number!(
    /// A tensile strength in N/mm2.
    Strength, 50.0, 3_000.0, NewtonsPerMm2
);
number!(
    /// A measured length in mm.
    Measure, 0.0, 100_000.0, Mm
);
number!(
    /// A density in kg/m3.
    Density, 500.0, 25_000.0, KgPerM3
);
number!(
    /// A root gap in mm, left between a coped end and the tube it is fitted to.
    Gap, 0.0, 10.0, Mm
);
number!(
    /// A length in mm that is not negative.
    Length, 0.0, 10_000.0, Mm
);
number!(
    /// Width of a saw's cut in mm.
    SawCut, 0.0, 20.0, Mm
);
number!(
    /// Degrees that a bend of 90 degrees opens again when the bender lets go.
    Springback, 0.0, 30.0, Degrees
);
number!(
    /// One component of a direction.
    Component, -1.0e6, 1.0e6, AnyOne
);

/// The name of a thing in the document: 1 to 60 letters, digits, `_`, `-` and `.`, beginning with a letter or digit.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Name(String);

impl Name {
    /// The name.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

const MOST_NAME: usize = 60;

pub(super) fn name_is_right(name: &str, place: &JsonPlace<'_>, findings: &mut Findings) -> bool {
    let right = name.len() <= MOST_NAME
        && name.starts_with(|c: char| c.is_ascii_alphanumeric())
        && name.chars().all(|c| c.is_ascii_alphanumeric() || "_-.".contains(c));
    if !right {
        findings.error("bad-name", place, DocumentFault::NotAName { name: &shortened(name), most_name: MOST_NAME });
    }
    right
}

fn shortened(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).take(MOST_NAME).collect()
}

impl Field for Name {
    const MOST: usize = 64;

    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        let Some(name) = value.as_str() else {
            wrong_kind(Wanted::Name, value, place, findings);
            return None;
        };
        name_is_right(name, place, findings).then(|| Self(name.to_owned()))
    }

    fn schema() -> Value {
        json!({"type": "string", "maxLength": MOST_NAME, "pattern": "^[A-Za-z0-9][A-Za-z0-9_.-]*$"})
    }
}

/// Words for people: 1 to 400 characters on one line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Text(String);

impl Text {
    /// The words.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

const MOST_TEXT: usize = 400;

/// Whether a text may not hold it: controls, and what reorders or breaks what a reader sees.
#[must_use]
pub fn is_hidden(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' | '\u{feff}')
}

impl Field for Text {
    const MOST: usize = 200;

    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        let Some(text) = value.as_str() else {
            wrong_kind(Wanted::Words, value, place, findings);
            return None;
        };
        let length = text.chars().count();
        if length == 0 || length > MOST_TEXT {
            findings.error("bad-text", place, DocumentFault::TextLength { length, most_text: MOST_TEXT });
            return None;
        }
        if text.contains(is_hidden) {
            findings.error("bad-text", place, DocumentFault::HiddenCharacters);
            return None;
        }
        if let Some(c) = unseen(text) {
            // A warning, because there are published documents with them.
            findings.push(Finding::warning(
                "unseen-character",
                place.pointer(),
                DocumentFault::UnseenCharacter { character: u32::from(c) },
            ));
        }
        Some(Self(text.to_owned()))
    }

    fn schema() -> Value {
        json!({
            "type": "string", "minLength": 1, "maxLength": MOST_TEXT,
            "pattern": "^[^\\u0000-\\u001f\\u007f-\\u009f\\u200e\\u200f\\u2028-\\u202e\\u2066-\\u2069\\ufeff]*$",
        })
    }
}
