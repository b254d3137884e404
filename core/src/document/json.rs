//! JSON text to a value, refusing what JSON parsers commonly let pass: duplicate names and numbers out of range.

use super::finding::{Finding, Findings};
use super::place::JsonPlace;
use crate::words::findings::document::DocumentFault;
use serde::de::{self, DeserializeSeed, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Value};
use std::fmt;

/// Largest document in bytes.
pub const MOST_BYTES: usize = 8 * 1024 * 1024;

/// A text without the byte order mark that some editors put before it, which a reader of JSON may pass over (RFC 8259, section 8.1).
pub(crate) fn without_mark(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

/// Parses `text`; duplicate names within an object become findings and the first value is kept.
///
/// Returns `None` when the text is too long or not JSON; the finding then says where.
pub(crate) fn parse(text: &str, findings: &mut Findings) -> Option<Value> {
    if text.len() > MOST_BYTES {
        findings.error(
            "document-too-large",
            &JsonPlace::Root,
            DocumentFault::TooLong { bytes: text.len(), most_bytes: MOST_BYTES },
        );
        return None;
    }
    let mut deserializer = serde_json::Deserializer::from_str(without_mark(text));
    let parsed = Seed { place: &JsonPlace::Root, findings }
        .deserialize(&mut deserializer)
        .and_then(|value| deserializer.end().map(|()| value));
    match parsed {
        Ok(value) => Some(value),
        Err(error) => {
            findings.push(Finding::error(
                "not-json",
                String::new(),
                DocumentFault::NotJson { line: error.line(), column: error.column(), error: &error.to_string() },
            ));
            None
        }
    }
}

struct Seed<'a> {
    place: &'a JsonPlace<'a>,
    findings: &'a mut Findings,
}

impl<'de> DeserializeSeed<'de> for Seed<'_> {
    type Value = Value;

    fn deserialize<D: de::Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Seed<'_> {
    type Value = Value;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(Value::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E>(self, value: f64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut access: A) -> Result<Value, A::Error> {
        let mut items = Vec::new();
        loop {
            let place = JsonPlace::Item(self.place, items.len());
            match access.next_element_seed(Seed { place: &place, findings: self.findings })? {
                Some(item) => items.push(item),
                None => return Ok(Value::Array(items)),
            }
        }
    }

    fn visit_map<A: MapAccess<'de>>(self, mut access: A) -> Result<Value, A::Error> {
        let mut object = Map::new();
        while let Some(name) = access.next_key::<String>()? {
            let place = JsonPlace::Name(self.place, &name);
            let value = access.next_value_seed(Seed { place: &place, findings: self.findings })?;
            if object.contains_key(&name) {
                self.findings.error("duplicate-name", &place, DocumentFault::GivenTwice { name: &name });
            } else {
                object.insert(name, value);
            }
        }
        Ok(Value::Object(object))
    }
}
