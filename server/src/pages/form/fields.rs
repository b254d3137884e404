//! What was filled in in a form, and fields that show it again with what is wrong.

use crate::http::problem::Problem;
use crate::http::problem_kinds as kinds;
use crate::words::Words;
use matchmark_service::refusals::kinds::{CONDITION_FAILED, STATE_FORBIDS};
use matchmark_service::{FieldError, ServiceError};
use maud::{Markup, html};

/// The fields of a form, and what is wrong with them, in the language of whoever fills it in.
pub struct FormFields {
    words: &'static Words,
    fields: Vec<(String, String)>,
    faults: Vec<FieldError>,
}

impl FormFields {
    /// A form with nothing in it.
    pub fn empty(words: &'static Words) -> Self {
        Self { words, fields: Vec::new(), faults: Vec::new() }
    }

    /// Reads what a browser sends.
    pub fn read(words: &'static Words, bytes: &[u8]) -> Result<Self, Problem> {
        let fields = serde_urlencoded::from_bytes(bytes)
            .map_err(|error| Problem::new(&kinds::BAD_REQUEST, words.bodies.form_not_read(error.to_string())))?;
        Ok(Self { words, fields, faults: Vec::new() })
    }

    /// A form filled in beforehand.
    pub fn with(words: &'static Words, fields: &[(&str, &str)]) -> Self {
        let fields = fields.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
        Self { words, fields, faults: Vec::new() }
    }

    /// The text of a field, as it was written; empty when there is none.
    pub fn get(&self, name: &str) -> &str {
        self.fields.iter().find(|(field, _)| field == name).map_or("", |(_, value)| value)
    }

    /// The text without space at its ends and with the line ends of this service.
    pub fn text(&self, name: &str) -> String {
        self.get(name).replace("\r\n", "\n").trim().to_owned()
    }

    /// All fields in their order, as they were written.
    pub fn fields(&self) -> impl Iterator<Item = (&str, &str)> {
        self.fields.iter().map(|(name, value)| (name.as_str(), value.as_str()))
    }

    /// All values of a field, as of boxes that can be ticked.
    pub fn all(&self, name: &str) -> impl Iterator<Item = &str> {
        self.fields.iter().filter(move |(field, _)| field == name).map(|(_, value)| value.as_str())
    }

    /// The same form with what a use case found wrong with it, or the error that has nothing to do with the form.
    pub fn refused(mut self, error: ServiceError) -> Result<Self, ServiceError> {
        let whole = |detail: String| vec![FieldError { pointer: String::new(), detail }];
        self.faults = match error {
            ServiceError::Invalid(errors) | ServiceError::KitsNotImported(errors) => errors,
            ServiceError::NotMeasurable(findings) => findings
                .into_iter()
                .map(|finding| FieldError { pointer: finding.pointer, detail: finding.message })
                .collect(),
            ServiceError::WarningsNotAcknowledged(findings) | ServiceError::DesignHasErrors(findings) => findings
                .into_iter()
                .map(|finding| FieldError { pointer: "/acknowledge".to_owned(), detail: finding.message })
                .collect(),
            error @ (ServiceError::KitExists(_)
            | ServiceError::HeldAlready { .. }
            | ServiceError::NoPackYet { .. }
            | ServiceError::PacksUsedUp { .. }
            | ServiceError::WithdrawnTakesNoKits(_)
            | ServiceError::RecalledTakesNoKits(_)
            | ServiceError::UnknownRevision { .. }
            | ServiceError::UnknownDesign(_)
            | ServiceError::NothingChanged(_)
            | ServiceError::FreezeFirst
            | ServiceError::SecondPerson
            | ServiceError::WrongCode
            | ServiceError::TooManyAttempts { .. }) => whole(error.said(self.words.service)),
            error if [STATE_FORBIDS, CONDITION_FAILED].contains(error.kind()) => whole(error.said(self.words.service)),
            ServiceError::KeyReused => whole(self.words.forms.sent_before().to_owned()),
            error => return Err(error),
        };
        Ok(self)
    }

    /// The same form with one thing wrong.
    pub fn with_fault(mut self, pointer: &str, detail: &str) -> Self {
        self.add_fault(pointer, detail);
        self
    }

    /// Adds one thing that is wrong.
    pub fn add_fault(&mut self, pointer: &str, detail: &str) {
        self.faults.push(FieldError { pointer: pointer.to_owned(), detail: detail.to_owned() });
    }

    /// An empty form with what is wrong with this one, so that a secret is not sent back.
    pub fn faults_alone(&self) -> Self {
        Self { faults: self.faults.clone(), ..Self::empty(self.words) }
    }

    /// Whether nothing is wrong.
    pub fn is_fine(&self) -> bool {
        self.faults.is_empty()
    }

    /// What is wrong, each with a way to its field.
    pub fn summary(&self) -> Markup {
        html! {
            @if !self.faults.is_empty() {
                div.faults role="alert" aria-labelledby="faults" {
                    h2 id="faults" { (self.words.forms.faults_heading()) }
                    ul {
                        @for fault in &self.faults {
                            @let field = id(&fault.pointer);
                            li {
                                @if field.is_empty() { (fault.detail) } @else { a href={"#" (field)} { (fault.detail) } }
                            }
                        }
                    }
                }
            }
        }
    }

    /// What is wrong with one field.
    fn fault(&self, name: &str) -> Option<&str> {
        self.faults.iter().find(|fault| id(&fault.pointer) == name).map(|fault| fault.detail.as_str())
    }
}

/// One line to fill in. Its name is the pointer of its value in a request, with hyphens.
#[derive(Debug, Clone, Copy)]
pub struct TextField<'a> {
    /// Name and id.
    pub name: &'a str,
    /// What it is.
    pub label: &'a str,
    /// What it must look like; may be empty.
    pub hint: &'a str,
    /// `text`, `email`, `search` or `password`.
    pub kind: &'a str,
    /// What a browser may fill in.
    pub autocomplete: &'a str,
    /// The keys that a telephone shows.
    pub keys: &'a str,
}

impl<'a> TextField<'a> {
    /// A line of text.
    pub fn text(name: &'a str, label: &'a str, hint: &'a str) -> Self {
        Self { name, label, hint, kind: "text", autocomplete: "off", keys: "text" }
    }

    /// The field as it stands.
    pub fn show(&self, form: &FormFields) -> Markup {
        let Self { name, label, hint, kind, autocomplete, keys } = *self;
        let fault = form.fault(name);
        html! {
            div.field.wrong[fault.is_some()] {
                label for=(name) { (label) }
                (about(form, name, hint, fault))
                input type=(kind) id=(name) name=(name) value=(form.get(name)) autocomplete=(autocomplete) inputmode=(keys)
                    spellcheck="false" aria-describedby=(described(name)) aria-invalid=[fault.map(|_| "true")];
            }
        }
    }
}

/// Several lines to fill in.
pub fn area(form: &FormFields, name: &str, label: &str, hint: &str, rows: usize) -> Markup {
    let fault = form.fault(name);
    html! {
        div.field.wide.wrong[fault.is_some()] {
            label for=(name) { (label) }
            (about(form, name, hint, fault))
            // A line end at the very beginning would be lost.
            textarea id=(name) name=(name) rows=(rows) aria-describedby=(described(name)) aria-invalid=[fault.map(|_| "true")] { "\n" (form.get(name)) }
        }
    }
}

/// One of several to choose.
pub fn choose(form: &FormFields, name: &str, label: &str, hint: &str, options: &[(String, String)]) -> Markup {
    let fault = form.fault(name);
    html! {
        div.field.wrong[fault.is_some()] {
            label for=(name) { (label) }
            (about(form, name, hint, fault))
            select id=(name) name=(name) aria-describedby=(described(name)) aria-invalid=[fault.map(|_| "true")] {
                @for (value, words) in options {
                    option value=(value) selected[form.get(name) == value] { (words) }
                }
            }
        }
    }
}

fn described(name: &str) -> String {
    format!("{name}-about")
}

fn about(form: &FormFields, name: &str, hint: &str, fault: Option<&str>) -> Markup {
    html! {
        span id=(described(name)) {
            @if !hint.is_empty() { span.hint { (hint) } }
            @if let Some(fault) = fault { span.fault { span.unseen { (form.words.forms.fault_label()) " " } (fault) } }
        }
    }
}

/// The name of the field that a JSON Pointer means.
fn id(pointer: &str) -> String {
    pointer.trim_start_matches('/').replace('/', "-")
}
