//! Stop sheets: what the holder of a kit reads, and acknowledges, before anything else of a recalled revision is handed out.

use crate::rules::contact::contact_text;
use crate::rules::drawn_with::print_of;
use crate::rules::events::{EventType, Happened};
use crate::rules::lookup::readable_kit;
use crate::rules::{answered, holder_news};
use crate::words::Words;
use crate::{Answered, Principal, Service, ServiceError};
use matchmark_core::pack::{Issue, Paper, Status};
use matchmark_store::audit::{self, Act};
use matchmark_store::packs;
use matchmark_store::states::{self, RecallRow};
use serde::Serialize;
use utoipa::ToSchema;

/// The sheet of one recall for one kit.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct StopSheet {
    /// `Product safety recall`.
    pub heading: &'static str,
    /// What to do before reading on.
    pub first: &'static str,
    /// The supplier.
    pub supplier: String,
    /// Whom to ask, and how, on up to four lines; absent while the supplier has not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub contact: Option<String>,
    /// Serial of the kit.
    pub kit: String,
    /// Id of the design.
    pub design: String,
    /// Name of the design.
    pub design_name: String,
    /// Letter of the recalled revision.
    pub revision: String,
    /// When it was recalled, RFC 3339 in UTC.
    pub recalled_at: String,
    /// What can happen.
    pub hazard: String,
    /// What to do now.
    pub what_to_do: String,
    /// What the supplier offers.
    pub remedies: String,
    /// When it was acknowledged for this kit; absent while that is open.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acknowledged_at: Option<String>,
    /// Who acknowledged it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub acknowledged_by: Option<Answered>,
}

impl Service {
    /// The stop sheets of a kit: of its own revision, of those it has packs of, and of those that work for a notice brought parts of.
    pub async fn stop_sheets(&self, who: &Principal, serial: &str) -> Result<Vec<StopSheet>, ServiceError> {
        let mut read = self.store.read().await?;
        readable_kit(&mut read, who, serial).await?;
        let rows = states::recalls_of_kit(&mut read, serial).await?;
        let contact = contact_text(&mut read).await?;
        Ok(rows.into_iter().map(|row| self.stop_sheet_of(who, serial, row, &contact)).collect())
    }

    /// One stop sheet of a kit.
    pub async fn stop_sheet(&self, who: &Principal, serial: &str, letter: &str) -> Result<StopSheet, ServiceError> {
        let sheets = self.stop_sheets(who, serial).await?;
        let found = sheets.into_iter().find(|sheet| sheet.revision == letter);
        found.ok_or_else(|| ServiceError::NotRecalled(letter.to_owned()))
    }

    /// A stop sheet as plain text, to be read aloud, printed or sent.
    pub fn stop_sheet_text(&self, sheet: &StopSheet) -> String {
        let says = &self.words.stop_sheet;
        let StopSheet { first, supplier, kit, design_name, revision, hazard, what_to_do, remedies, .. } = sheet;
        let by = says.by(supplier, sheet.recalled_at.get(..10).unwrap_or_default());
        let of = says.kit(kit, design_name, revision);
        let mut text = format!(
            "{}\n{by}\n\n{first}\n\n{of}\n\n{}\n",
            says.band(),
            recall_text(self.words, hazard, what_to_do, remedies)
        );
        if let Some(contact) = &sheet.contact {
            text.push_str(&format!("\n{}\n{contact}\n", says.contact()));
        }
        text
    }

    /// One stop sheet of a kit as pages to print, on the paper of the kit's last pack unless another is named.
    pub async fn stop_sheet_pdf(
        &self,
        who: &Principal,
        serial: &str,
        letter: &str,
        paper: Option<Paper>,
    ) -> Result<Vec<u8>, ServiceError> {
        let (row, last, contact, seal) = {
            let mut read = self.store.read().await?;
            readable_kit(&mut read, who, serial).await?;
            let rows = states::recalls_of_kit(&mut read, serial).await?;
            let found = rows.into_iter().find(|row| row.letter == letter);
            let row = found.ok_or_else(|| ServiceError::NotRecalled(letter.to_owned()))?;
            let last = packs::last(&mut read, serial).await?;
            let seal = self.seal(&mut read, &row.design).await?;
            (row, last, contact_text(&mut read).await?, seal)
        };
        let mut print = last.as_ref().map(print_of).unwrap_or_default();
        print.paper = paper.unwrap_or(print.paper);
        let issue = Issue {
            contact,
            revision: letter.to_owned(),
            kit: serial.to_owned(),
            seal,
            ..Issue::new(&self.supplier, &row.design_name, self.clock.stamp().date(), Status::Issued, print)
        };
        self.engine.stop_sheet_pdf(holder_news::recall(row), issue).await
    }

    /// Records that the holder of a kit has read a stop sheet, as they say themselves or one of the supplier's people on their behalf. A second
    /// time changes nothing.
    pub async fn acknowledge_recall(
        &self,
        who: &Principal,
        serial: &str,
        letter: &str,
    ) -> Result<StopSheet, ServiceError> {
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        readable_kit(&mut write, who, serial).await?;
        let rows = states::recalls_of_kit(&mut write, serial).await?;
        let found = rows.into_iter().find(|row| row.letter == letter);
        let recall = found.ok_or_else(|| ServiceError::NotRecalled(letter.to_owned()))?;
        let contact = contact_text(&mut write).await?;
        if recall.acknowledged_at.is_some() {
            return Ok(self.stop_sheet_of(who, serial, recall, &contact));
        }
        states::acknowledge(&mut write, serial, &recall, stamp.at(), &who.token).await?;
        let subject = format!("kits/{serial}/stop-sheets/{letter}");
        let action = answered::action(who, "acknowledge-recall", "acknowledge-recall-for-holder");
        audit::append(&mut write, Act { at: stamp.at(), actor: &who.token, action, subject: &subject }).await?;
        let happened = Happened::to_kit(EventType::RecallAcknowledged, serial, &recall.design, letter);
        self.happened(&mut write, happened.at(&format!("/stop-sheets/{letter}")), &stamp).await?;
        let rows = states::recalls_of_kit(&mut write, serial).await?;
        write.commit().await?;
        let found = rows.into_iter().find(|row| row.letter == letter);
        let recall = found.ok_or_else(|| ServiceError::NotRecalled(letter.to_owned()))?;
        Ok(self.stop_sheet_of(who, serial, recall, &contact))
    }

    fn stop_sheet_of(&self, who: &Principal, serial: &str, row: RecallRow, contact: &str) -> StopSheet {
        StopSheet {
            heading: self.words.stop_sheet.heading(),
            first: self.words.stop_sheet.first(),
            supplier: self.supplier.clone(),
            contact: Some(contact.to_owned()).filter(|contact| !contact.is_empty()),
            kit: serial.to_owned(),
            design: row.design,
            design_name: row.design_name,
            revision: row.letter,
            recalled_at: row.at,
            hazard: row.hazard,
            what_to_do: row.what_to_do,
            remedies: row.remedies,
            acknowledged_at: row.acknowledged_at,
            acknowledged_by: Answered::of(who, row.acknowledged_by, row.acknowledged_role, row.acknowledged_name),
        }
    }
}

/// What is said of a recall, each under its heading.
pub(crate) fn recall_text(words: &Words, hazard: &str, what_to_do: &str, remedies: &str) -> String {
    let says = &words.stop_sheet;
    let parts = [(says.hazard(), hazard), (says.what_to_do(), what_to_do), (says.remedies(), remedies)];
    parts.map(|(heading, text)| format!("{heading}\n{text}")).join("\n\n")
}
