//! What is wanted in a body of JSON, and what stands there instead.

use crate::words::groups::json_types::JsonTypes;

pub const WORDS: JsonTypes = JsonTypes {
    unknown_field: "There is no field {name} here. Known are {known}.",
    missing_field: "The field {name} is missing. Add it.",
    not_read: "This cannot be read: {error}.",
    give: "Give {wanted}, and not {found}.",
    give_at: "Give {wanted}, and not {found} at line {place}.",
    number: "a number",
    whole_number: "a whole number",
    flag: "true or false",
    list: "a list",
    object: "an object",
    text: "text",
    the_text: "the text {text}",
    the_number: "the number {number}",
}
.checked();
