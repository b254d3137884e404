//! JSON whose objects give each name once. What a name given twice means is left open (RFC 8259, section 4), and readers differ: one that
//! checks a request may see another value than the one that acts on it.

use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use matchmark_core::document::pointer_step;
use matchmark_service::FieldError;
use serde::de::{Deserialize, DeserializeSeed, Deserializer, Error, IgnoredAny, MapAccess, SeqAccess, Visitor};
use serde_json::error::Category;
use serde_path_to_error::{Path, Segment};
use std::collections::HashSet;
use std::fmt;

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
            invalid(FieldError { pointer, detail: "Write text here.".to_owned() })
        }
        Category::Syntax | Category::Eof | Category::Io => {
            Problem::new(&kinds::MALFORMED_JSON, format!("The body is not JSON: {error}."))
        }
    }
}

/// The problem with a body that is JSON and will not do.
pub fn invalid(fault: FieldError) -> Problem {
    Problem::new(&kinds::INVALID_REQUEST, "Some values in the request are not valid; see errors.")
        .with_errors(vec![fault])
}

/// What the reader says of a value of the wrong type, in words of JSON instead of those of the program; all else as it is.
fn in_words_of_json(said: &str) -> String {
    let Some((found, rest)) = said.strip_prefix("invalid type: ").and_then(|said| said.split_once(", expected "))
    else {
        return said.to_owned();
    };
    let (expected, place) = rest.rsplit_once(" at line ").map_or((rest, None), |(what, place)| (what, Some(place)));
    let found = match found.split([' ', '`']).next().unwrap_or_default() {
        "map" => "an object".to_owned(),
        "sequence" => "a list".to_owned(),
        "string" => found.replacen("string", "the text", 1),
        "null" | "unit" => "null".to_owned(),
        _ => found.replace("floating point ", "the number ").replace("integer ", "the number ").replace("boolean ", ""),
    };
    let wanted = match expected {
        "f64" | "f32" => "a number",
        "a boolean" => "true or false",
        "a sequence" => "a list",
        "a map" => "an object",
        "u8" | "u16" | "u32" | "u64" | "usize" | "i8" | "i16" | "i32" | "i64" => "a whole number",
        text if text.contains("string") || text.contains("variant") || text.starts_with("enum ") => "text",
        object if object.starts_with("struct ") => "an object",
        list if list.starts_with("a sequence") || list.starts_with("tuple") => "a list",
        other => other,
    };
    let place = place.map(|place| format!(" at line {place}")).unwrap_or_default();
    format!("Give {wanted}, and not {found}{place}.")
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
        Err(D::Error::custom(format!("{:?} appears twice in the same object; keep one of them", self.0)))
    }
}
