//! The form for a new kit.

use crate::words::groups::new_kit::NewKit;

pub const WORDS: NewKit = NewKit {
    heading: "New kit",
    serial: "Serial",
    serial_hint: "Capital letters, digits and hyphens; printed on every page.",
    revision: "Revision in the box",
    revision_hint: "Its letter.",
    choices: "Choices",
    choices_hint: "A line each, such as drive=right. An option that is not named has its first choice.",
    order_hint: "May be empty.",
    customer_name: "Name of the customer",
    customer_email: "Their address for electronic mail",
    button: "Register the kit",
}
.checked();
