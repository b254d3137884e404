//! The form for a new kit.

use crate::words::groups::new_kit::NewKit;

pub const WORDS: NewKit = NewKit {
    heading: "New kit",
    serial: "Serial",
    serial_hint: "Capital letters, digits and hyphens; printed on every page.",
    revision: "Revision of the kit",
    revision_hint: "Its letter.",
    choices: "Choices",
    choices_hint: "One line each, such as drive=right. An option that you leave out gets its first choice.",
    order_hint: "May be empty.",
    customer_name: "Name of the customer",
    customer_email: "Email address of the customer",
    button: "Register the kit",
}
.checked();
