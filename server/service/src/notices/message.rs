//! What the holder of a kit is told of a notice or a recall, as text.

use crate::notices::stop_sheets::recall_text;
use crate::rules::outbox::ToHolder;
use crate::rules::reasons::Recall;
use crate::words::Words;
use crate::{ChangeClass, ServiceError};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What a message tells the holder of a kit of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum HolderMessageType {
    /// A notice.
    Notice,
    /// A recall.
    Recall,
}

/// What the holder of a kit is to be told, as it is posted. It names no person.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct HolderMessage {
    /// Id of the delivery, the same however often it is tried.
    pub id: String,
    /// What it tells of.
    pub r#type: HolderMessageType,
    /// Serial of the kit.
    pub kit: String,
    /// Id of the design.
    pub design: String,
    /// Letter of the revision: that of the kit, or the one recalled.
    pub revision: String,
    /// How much the change of a notice matters; null for a recall.
    #[schema(required)]
    pub class: Option<ChangeClass>,
    /// What the supplier says.
    pub text: String,
    /// Where the holder reads on.
    pub link: String,
}

/// What the supplier says of it.
pub(crate) fn text_of(words: &Words, told: &ToHolder) -> String {
    match &told.recall {
        Some(Recall { hazard, what_to_do, remedies }) => recall_text(words, hazard, what_to_do, remedies),
        None => told.text.clone(),
    }
}

/// The subject and the text of a mail, with the link to read on at.
pub(crate) fn letter(
    words: &Words,
    supplier: &str,
    told: &ToHolder,
    link: &str,
    contact: &str,
) -> Result<(String, String), ServiceError> {
    let ToHolder { event, kit, design, revision, class, .. } = told;
    let says = &words.mail;
    let (subject, first) = if event == "recall" {
        (says.recall_subject(kit, revision), says.recall_first())
    } else {
        match ChangeClass::of_notice(class)? {
            ChangeClass::Mandatory => (says.mandatory_subject(supplier, kit), says.mandatory_first()),
            ChangeClass::Recommended => (says.recommended_subject(supplier, kit), says.recommended_first()),
            ChangeClass::Optional => (says.optional_subject(supplier, kit), says.optional_first()),
        }
    };
    let (of, text, sign_in) = (says.kit(kit, design, revision), text_of(words, told), says.sign_in());
    let body = format!("{first}\n\n{of}\n\n{text}\n\n{sign_in}\n{link}\n\n{supplier}\n{contact}");
    Ok((subject, format!("{}\n", body.trim_end())))
}
