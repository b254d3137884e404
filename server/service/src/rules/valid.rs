//! What names, serials and notes in a request must look like.

use crate::words::of_problems;
use crate::{FieldError, ServiceError};
use matchmark_core::document::unseen;

/// Collects what is wrong with a request, so that all of it is told at once.
#[derive(Default)]
pub struct Checks(Vec<FieldError>);

impl Checks {
    /// An id of a design: part of addresses and file names.
    pub fn design_id(&mut self, pointer: &str, value: &str) {
        let fits = (1..=63).contains(&value.len())
            && value.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
            && !value.starts_with('-');
        self.require(fits, pointer, of_problems().fields.design_id());
    }

    /// A serial of a kit: part of addresses and file names, printed on every page.
    pub fn serial(&mut self, pointer: &str, value: &str) {
        let fits = (1..=32).contains(&value.len())
            && value.bytes().all(|b| b.is_ascii_uppercase() || b.is_ascii_digit() || b == b'-')
            && !value.starts_with('-');
        self.require(fits, pointer, of_problems().fields.serial());
    }

    /// A line of text such as a name.
    pub fn line(&mut self, pointer: &str, value: &str) {
        let length = value.chars().count();
        let fits = (1..=200).contains(&length) && !value.chars().any(char::is_control) && value.trim() == value;
        self.require(fits, pointer, of_problems().fields.line());
        self.seen(pointer, value);
    }

    /// A note of some sentences.
    pub fn note(&mut self, pointer: &str, value: &str) {
        let length = value.chars().count();
        let fits = (1..=2000).contains(&length)
            && !value.chars().any(|c| c.is_control() && c != '\n')
            && !value.trim().is_empty();
        self.require(fits, pointer, of_problems().fields.note());
        self.seen(pointer, value);
    }

    /// Whom to ask, and how.
    pub fn contact(&mut self, pointer: &str, value: &str) {
        let length = value.chars().count();
        let fits = (1..=300).contains(&length)
            && value.lines().count() <= 4
            && !value.chars().any(|c| c.is_control() && c != '\n')
            && value.trim() == value;
        self.require(fits, pointer, of_problems().fields.contact());
        self.seen(pointer, value);
    }

    /// An address for electronic mail; whether it reaches anyone only mail can tell.
    pub fn email(&mut self, pointer: &str, value: &str) {
        let fits = value.len() <= 254
            && !value.chars().any(|c| c.is_control() || c.is_whitespace())
            && value.parse::<lettre::Address>().is_ok();
        self.require(fits, pointer, of_problems().fields.email());
        self.seen(pointer, value);
    }

    /// A value that will not do.
    pub fn refuse(&mut self, pointer: &str, detail: String) {
        self.0.push(FieldError { pointer: pointer.to_owned(), detail });
    }

    /// The verdict.
    pub fn done(self) -> Result<(), ServiceError> {
        if self.0.is_empty() { Ok(()) } else { Err(ServiceError::Invalid(self.0)) }
    }

    /// What nobody sees is not kept: it would let a text read as another than it is.
    fn seen(&mut self, pointer: &str, value: &str) {
        if let Some(hidden) = unseen(value) {
            let code = format!("{:04X}", u32::from(hidden));
            self.refuse(pointer, of_problems().fields.unseen(code));
        }
    }

    fn require(&mut self, fits: bool, pointer: &str, detail: &str) {
        if !fits {
            self.0.push(FieldError { pointer: pointer.to_owned(), detail: detail.to_owned() });
        }
    }
}
