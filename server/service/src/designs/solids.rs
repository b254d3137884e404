//! The finished parts of a revision as solids for other machines.

use crate::{RevisionSheets, Service, ServiceError};
use matchmark_core::solid::SolidHeading;

impl Service {
    /// A member's finished part as the text of an exchange file, dated when its revision was published so that it never changes.
    pub async fn solid(&self, sheets: RevisionSheets, member: String) -> Result<String, ServiceError> {
        if !sheets.sheets()?.cut_sheet.rows.iter().any(|row| row.member == member) {
            return Err(ServiceError::UnknownMember(member));
        }
        let heading = SolidHeading {
            part: member.clone(),
            description: sheets.title(),
            organization: self.supplier.clone(),
            date: sheets.published_on().to_owned(),
        };
        self.engine.solid(sheets.evaluated(), member, heading).await
    }
}
