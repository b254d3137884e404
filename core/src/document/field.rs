//! How a value of the document is read and described: one trait, so that reader and JSON Schema come from one declaration.

use super::finding::Findings;
use super::place::JsonPlace;
use crate::words::findings::document::DocumentFault;
use crate::words::findings::values::{Advice, Found, Wanted};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// Something that can stand in a design document.
pub trait Field: Sized {
    /// How many of them a list or a map may hold.
    const MOST: usize = 1_000;

    /// Reads it, adding everything that is wrong with it to `findings`; `None` when it cannot be used.
    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self>;

    /// Its JSON Schema (draft 2020-12).
    fn schema() -> Value;
}

/// What kind of JSON value this is.
fn kind_of(value: &Value) -> Found {
    match value {
        Value::Null => Found::Null,
        Value::Bool(_) => Found::Flag,
        Value::Number(_) => Found::Number,
        Value::String(_) => Found::Text,
        Value::Array(_) => Found::List,
        Value::Object(_) => Found::Object,
    }
}

pub(super) fn wrong_kind(wanted: Wanted, value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) {
    findings.error("wrong-kind", place, DocumentFault::WrongKind { found: kind_of(value), wanted });
}

fn too_many(found: usize, most: usize, place: &JsonPlace<'_>, findings: &mut Findings) {
    findings.error("too-many", place, DocumentFault::TooMany { found, most });
}

impl<T: Field> Field for Vec<T> {
    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        let Some(items) = value.as_array() else {
            wrong_kind(Wanted::List, value, place, findings);
            return None;
        };
        if items.len() > T::MOST {
            too_many(items.len(), T::MOST, place, findings);
            return None;
        }
        let read =
            items.iter().enumerate().map(|(index, item)| T::read(item, &JsonPlace::Item(place, index), findings));
        read.collect::<Vec<_>>().into_iter().collect()
    }

    fn schema() -> Value {
        json!({"type": "array", "maxItems": T::MOST, "items": T::schema()})
    }
}

impl<T: Field> Field for BTreeMap<String, T> {
    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        let Some(entries) = value.as_object() else {
            wrong_kind(Wanted::Entries, value, place, findings);
            return None;
        };
        if entries.len() > T::MOST {
            too_many(entries.len(), T::MOST, place, findings);
            return None;
        }
        let read = entries.iter().map(|(name, entry)| {
            let place = JsonPlace::Name(place, name);
            let named = super::scalar::name_is_right(name, &place, findings);
            let entry = T::read(entry, &place, findings)?;
            named.then(|| (name.clone(), entry))
        });
        read.collect::<Vec<_>>().into_iter().collect()
    }

    fn schema() -> Value {
        json!({
            "type": "object",
            "maxProperties": T::MOST,
            "propertyNames": super::scalar::Name::schema(),
            "additionalProperties": T::schema(),
        })
    }
}

impl Field for bool {
    fn read(value: &Value, place: &JsonPlace<'_>, findings: &mut Findings) -> Option<Self> {
        if value.is_boolean() {
            return value.as_bool();
        }
        wrong_kind(Wanted::Flag, value, place, findings);
        None
    }

    fn schema() -> Value {
        json!({"type": "boolean"})
    }
}

/// The field in which editors look for the address of a document's schema. A document may have it; it says nothing of the design.
pub(super) const FOR_EDITORS: &str = "$schema";

/// Refuses names that a record does not have, with the nearest one that it has.
pub(super) fn refuse_unknown(
    entries: &Map<String, Value>,
    known: &[&str],
    place: &JsonPlace<'_>,
    findings: &mut Findings,
) {
    let is_for_editors = |name: &String| {
        matches!(place, JsonPlace::Root) && name == FOR_EDITORS && entries.get(name).is_some_and(Value::is_string)
    };
    for name in entries.keys().filter(|name| !known.contains(&name.as_str()) && !is_for_editors(name)) {
        let nearest =
            known.iter().max_by(|a, b| strsim::jaro_winkler(a, name).total_cmp(&strsim::jaro_winkler(b, name)));
        let advice = match nearest {
            Some(nearest) if strsim::jaro_winkler(nearest, name) > 0.75 => Advice::DidYouMean { nearest },
            _ => Advice::Known { known },
        };
        findings.error("unknown-field", &JsonPlace::Name(place, name), DocumentFault::UnknownField { name, advice });
    }
}

/// Declares a record of the document: the struct, its reader and its JSON Schema, from one list of fields.
macro_rules! record {
    (
        $(#[doc = $about:literal])+
        pub struct $Record:ident $(most $most:literal)? {
            $( $(#[doc = $field_about:literal])+ $need:ident $field:ident : $Type:ty, )+
        }
    ) => {
        $(#[doc = $about])+
        #[derive(Debug, Clone, PartialEq)]
        pub struct $Record {
            $( $(#[doc = $field_about])+ pub $field: record!(@type $need $Type), )+
        }

        impl $crate::document::field::Field for $Record {
            $( const MOST: usize = $most; )?

            fn read(
                value: &serde_json::Value,
                place: &$crate::document::place::JsonPlace<'_>,
                findings: &mut $crate::document::finding::Findings,
            ) -> Option<Self> {
                let Some(entries) = value.as_object() else {
                    $crate::document::field::wrong_kind(
                        $crate::words::findings::values::Wanted::Object,
                        value, place, findings);
                    return None;
                };
                $crate::document::field::refuse_unknown(entries, &[$(stringify!($field)),+], place, findings);
                $( let $field = record!(@read $need $Type, entries.get(stringify!($field)), stringify!($field), place, findings); )+
                Some(Self { $( $field: $field?, )+ })
            }

            fn schema() -> serde_json::Value {
                let mut properties = serde_json::Map::new();
                let mut required: Vec<&str> = Vec::new();
                $(
                    let mut schema = <$Type as $crate::document::field::Field>::schema();
                    schema["description"] = concat!($($field_about),+).trim().into();
                    properties.insert(stringify!($field).to_owned(), schema);
                    if record!(@required $need) {
                        required.push(stringify!($field));
                    }
                )+
                serde_json::json!({
                    "type": "object",
                    "description": concat!($($about),+).trim(),
                    "additionalProperties": false,
                    "required": required,
                    "properties": properties,
                })
            }
        }
    };
    (@type required $Type:ty) => { $Type };
    (@type optional $Type:ty) => { Option<$Type> };
    (@required required) => { true };
    (@required optional) => { false };
    (@read required $Type:ty, $value:expr, $name:expr, $place:expr, $findings:expr) => {
        match $value {
            Some(value) => <$Type as $crate::document::field::Field>::read(
                value,
                &$crate::document::place::JsonPlace::Name($place, $name),
                $findings,
            ),
            None => {
                $findings.error("missing-field", $place, $crate::words::findings::document::DocumentFault::MissingField { field: $name });
                None
            }
        }
    };
    (@read optional $Type:ty, $value:expr, $name:expr, $place:expr, $findings:expr) => {
        match $value {
            Some(value) => <$Type as $crate::document::field::Field>::read(
                value,
                &$crate::document::place::JsonPlace::Name($place, $name),
                $findings,
            )
            .map(Some),
            None => Some(None),
        }
    };
}
pub(super) use record;

/// Declares a choice of words: the enum, its reader and its JSON Schema.
macro_rules! words {
    (
        $(#[doc = $about:literal])+
        pub enum $Words:ident { $( $(#[doc = $word_about:literal])+ $Word:ident = $word:literal, )+ }
    ) => {
        $(#[doc = $about])+
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
        pub enum $Words { $( $(#[doc = $word_about])+ #[serde(rename = $word)] $Word, )+ }

        impl $Words {
            /// The word as written.
            #[must_use]
            pub fn word(self) -> &'static str {
                match self { $( Self::$Word => $word, )+ }
            }
        }

        impl $crate::document::field::Field for $Words {
            fn read(
                value: &serde_json::Value,
                place: &$crate::document::place::JsonPlace<'_>,
                findings: &mut $crate::document::finding::Findings,
            ) -> Option<Self> {
                let found = match value.as_str() {
                    $( Some($word) => Some(Self::$Word), )+
                    _ => None,
                };
                if found.is_none() {
                    let known = [$($word),+].join(", ");
                    findings.error("unknown-word", place, $crate::words::findings::document::DocumentFault::NotAWord { known: &known });
                }
                found
            }

            fn schema() -> serde_json::Value {
                serde_json::json!({"enum": [$($word),+]})
            }
        }
    };
}
pub(super) use words;
