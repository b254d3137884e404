//! Whom to ask.

use crate::ServiceError;
use crate::rules::valid::Checks;
use matchmark_store::{Conn, contacts};

/// Whom to ask, as it is printed; empty while nobody has said.
pub(crate) async fn contact_text(conn: &mut Conn) -> Result<String, ServiceError> {
    Ok(contacts::newest(conn).await?.map(|row| row.text).unwrap_or_default())
}

/// What is wrong with a contact, in a sentence.
pub fn contact_fault(text: &str) -> Option<String> {
    let mut checks = Checks::default();
    checks.contact("", text);
    match checks.done() {
        Err(ServiceError::Invalid(errors)) => errors.into_iter().next().map(|error| error.detail),
        _ => None,
    }
}
