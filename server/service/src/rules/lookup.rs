//! What a caller names, as it is on record, or a refusal that says what is missing.

use crate::{Principal, Role, ServiceError};
use matchmark_core::document::OneKit;
use matchmark_core::pack::KitFact;
use matchmark_store::designs::{self, DesignRow};
use matchmark_store::drafts::{self, SaveRow};
use matchmark_store::kits::{self, KitRow};
use matchmark_store::revisions::{self, RevisionRow};
use matchmark_store::{Conn, measurements};

/// The design, or a refusal that names it.
pub(crate) async fn known_design(conn: &mut Conn, id: &str) -> Result<DesignRow, ServiceError> {
    designs::find(conn, id).await?.ok_or_else(|| ServiceError::UnknownDesign(id.to_owned()))
}

/// The revision, or a refusal that names what is missing.
pub(crate) async fn known_revision(conn: &mut Conn, design: &str, letter: &str) -> Result<RevisionRow, ServiceError> {
    known_design(conn, design).await?;
    revisions::find(conn, design, letter).await?.ok_or_else(|| unknown(design, letter))
}

/// The document of a revision, or a refusal that names what is missing.
pub(crate) async fn known_document(conn: &mut Conn, design: &str, letter: &str) -> Result<String, ServiceError> {
    known_design(conn, design).await?;
    revisions::document(conn, design, letter).await?.ok_or_else(|| unknown(design, letter))
}

fn unknown(design: &str, letter: &str) -> ServiceError {
    ServiceError::UnknownRevision { design: design.to_owned(), letter: letter.to_owned() }
}

/// The draft of a design, or a refusal that says what is missing.
pub(crate) async fn known_draft(conn: &mut Conn, design: &str) -> Result<SaveRow, ServiceError> {
    known_design(conn, design).await?;
    drafts::newest(conn, design).await?.ok_or_else(|| ServiceError::NoDraft(design.to_owned()))
}

/// The kit when this caller may read it. To a builder, another's kit and no kit look the same.
pub(crate) async fn readable_kit(conn: &mut Conn, who: &Principal, serial: &str) -> Result<KitRow, ServiceError> {
    who.may_read_kit(serial)?;
    match (kits::find(conn, serial).await?, &who.role) {
        (Some(kit), _) => Ok(kit),
        (None, Role::Builder { .. }) => Err(ServiceError::Hidden),
        (None, _) => Err(ServiceError::UnknownKit(serial.to_owned())),
    }
}

/// The choices and the newest measured values of a kit.
pub(crate) async fn known_kit(conn: &mut Conn, kit: &KitRow) -> Result<OneKit, ServiceError> {
    let choices = serde_json::from_str(&kit.choices)
        .map_err(|_| ServiceError::Inconsistent("the choices of a kit cannot be read"))?;
    let rows = measurements::newest(conn, &kit.serial).await?;
    Ok(OneKit { choices, measured: rows.into_iter().map(|row| (row.gauge, row.value)).collect() })
}

/// What sets this kit apart.
pub fn one_kit_facts(kit: &OneKit) -> Vec<KitFact> {
    let choices = kit.choices.iter();
    let choices = choices.map(|(option, choice)| KitFact::Choice { option: option.clone(), choice: choice.clone() });
    let measured = kit.measured.iter();
    let measured = measured.map(|(gauge, &value)| KitFact::Measured { gauge: gauge.clone(), value });
    choices.chain(measured).collect()
}
