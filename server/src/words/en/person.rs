//! Whose kit it is.

use crate::words::groups::person::Person;

pub const WORDS: Person = Person {
    heading: "Customer of kit {serial}",
    erased: "Erased.",
    caption: "The customer",
    name: "Name",
    address: "Address",
    on_record: "The record shows that you looked.",
    back: "Back to the kit",
}
.checked();
