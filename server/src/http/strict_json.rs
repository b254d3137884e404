//! JSON whose objects give each name once. What a name given twice means is left open (RFC 8259, section 4), and readers differ: one that
//! checks a request may see another value than the one that acts on it.

use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use crate::words::of_request;
use matchmark_core::document::pointer_step;
use matchmark_service::{FieldError, ServiceError};
use serde::de::{Deserialize, DeserializeSeed, Deserializer, Error, IgnoredAny, MapAccess, SeqAccess, Visitor};
use serde_json::error::Category;
use serde_path_to_error::{Path, Segment};
use std::collections::HashSet;
use std::fmt;

/// Before what is said of a name given twice, so that it is told from what the reader says.
const GIVEN_TWICE: &str = "\u{1}";

/// Refuses bytes that are not JSON, and JSON in which an object gives a name twice, at any depth.
pub fn must_be_distinct(bytes: &[u8]) -> Result<(), Problem> {
    let mut reader = serde_json::Deserializer::from_slice(bytes);
    let read: Result<Distinct, _> = serde_path_to_error::deserialize(&mut reader);
    read.map_err(|error| {
        let pointer = pointer(error.path());
        unread(error.into_inner(), pointer)
    })?;
    reader.end().map_err(|error| unread(error, String::new()))
}

/// The problem with a body that cannot be read.
pub fn unread(error: serde_json::Error, pointer: String) -> Problem {
    match error.classify() {
        Category::Data => invalid(FieldError { pointer, detail: in_words_of_json(&error.to_string()) }),
        // The reader says this of a number where one of a few words is wanted: it is JSON all the same.
        Category::Syntax if !pointer.is_empty() && error.to_string().starts_with("expected value at line") => {
            invalid(FieldError { pointer, detail: of_request().bodies.text_here().to_owned() })
        }
        Category::Syntax | Category::Eof | Category::Io => {
            Problem::new(&kinds::MALFORMED_JSON, of_request().bodies.not_json(error.to_string()))
        }
    }
}

/// The problem with a body that is JSON and will not do.
pub fn invalid(fault: FieldError) -> Problem {
    ServiceError::Invalid(vec![fault]).into()
}

/// What the reader says of a value, in words of JSON instead of those of the program.
fn in_words_of_json(said: &str) -> String {
    let says = &of_request().json_types;
    let (what, place) = said.rsplit_once(" at line ").map_or((said, None), |(what, place)| (what, Some(place)));
    if let Some((name, known)) = what.strip_prefix("unknown field ").and_then(|what| what.split_once(", expected ")) {
        return says.unknown_field(name, known.trim_start_matches("one of "));
    }
    if let Some(name) = what.strip_prefix("missing field ") {
        return says.missing_field(name);
    }
    let Some((found, expected)) = what.strip_prefix("invalid type: ").and_then(|what| what.split_once(", expected "))
    else {
        return if what.starts_with(GIVEN_TWICE) {
            what.trim_start_matches(GIVEN_TWICE).to_owned()
        } else {
            says.not_read(said)
        };
    };
    let after_first = found.split_once(' ').map_or("", |(_, rest)| rest);
    let found = match found.split([' ', '`']).next().unwrap_or_default() {
        "map" => says.object().to_owned(),
        "sequence" => says.list().to_owned(),
        "string" => says.the_text(after_first),
        "null" | "unit" => "null".to_owned(),
        "integer" => says.the_number(after_first),
        "floating" => says.the_number(after_first.trim_start_matches("point ")),
        "boolean" => after_first.to_owned(),
        _ => found.to_owned(),
    };
    let wanted = match expected {
        "f64" | "f32" => says.number(),
        "a boolean" => says.flag(),
        "a sequence" => says.list(),
        "a map" => says.object(),
        "u8" | "u16" | "u32" | "u64" | "usize" | "i8" | "i16" | "i32" | "i64" => says.whole_number(),
        text if text.contains("string") || text.contains("variant") || text.starts_with("enum ") => says.text(),
        object if object.starts_with("struct ") => says.object(),
        list if list.starts_with("a sequence") || list.starts_with("tuple") => says.list(),
        other => other,
    };
    match place {
        Some(place) => says.give_at(wanted, found, place),
        None => says.give(wanted, found),
    }
}

/// A place as RFC 6901 writes it.
pub fn pointer(path: &Path) -> String {
    let mut pointer = String::new();
    for segment in path {
        let step = match segment {
            Segment::Seq { index } => index.to_string(),
            Segment::Map { key } => pointer_step(key),
            Segment::Enum { variant } => variant.clone(),
            Segment::Unknown => continue,
        };
        pointer.push('/');
        pointer.push_str(&step);
    }
    pointer
}

/// Any value without a name given twice.
struct Distinct;

impl<'de> Deserialize<'de> for Distinct {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Anything)
    }
}

struct Anything;

impl<'de> Visitor<'de> for Anything {
    type Value = Distinct;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("a JSON value")
    }

    fn visit_bool<E>(self, _: bool) -> Result<Distinct, E> {
        Ok(Distinct)
    }

    fn visit_i64<E>(self, _: i64) -> Result<Distinct, E> {
        Ok(Distinct)
    }

    fn visit_u64<E>(self, _: u64) -> Result<Distinct, E> {
        Ok(Distinct)
    }

    fn visit_f64<E>(self, _: f64) -> Result<Distinct, E> {
        Ok(Distinct)
    }

    fn visit_str<E>(self, _: &str) -> Result<Distinct, E> {
        Ok(Distinct)
    }

    fn visit_unit<E>(self) -> Result<Distinct, E> {
        Ok(Distinct)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Distinct, A::Error> {
        while items.next_element::<Distinct>()?.is_some() {}
        Ok(Distinct)
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Distinct, A::Error> {
        let mut names = HashSet::new();
        while let Some(name) = entries.next_key::<String>()? {
            if names.contains(&name) {
                // Refused where its value is read, so that the place of the error is its own.
                entries.next_value_seed(Twice(&name))?;
            } else {
                entries.next_value::<Distinct>()?;
                names.insert(name);
            }
        }
        Ok(Distinct)
    }
}

/// Refuses the value of a name that was there before.
struct Twice<'a>(&'a str);

impl<'de> DeserializeSeed<'de> for Twice<'_> {
    type Value = Distinct;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Distinct, D::Error> {
        IgnoredAny::deserialize(deserializer)?;
        Err(D::Error::custom(format!("{GIVEN_TWICE}{}", of_request().bodies.given_twice(format!("{:?}", self.0)))))
    }
}
