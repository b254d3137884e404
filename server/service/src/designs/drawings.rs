//! Drawings of the frame of a revision.

use crate::{RevisionSheets, Service, ServiceError};
use matchmark_core::pack::{Print, ViewWanted};

impl Service {
    /// A view of the frame as SVG, dated when its revision was published so that it never changes.
    pub async fn view_svg(&self, sheets: RevisionSheets, wanted: ViewWanted) -> Result<String, ServiceError> {
        let all = sheets.sheets()?;
        let is_known = |id: &String| {
            all.cut_sheet.rows.iter().any(|row| row.member == *id) || all.plates.iter().any(|plate| plate.plate == *id)
        };
        if let Some(unknown) = wanted.members.iter().find(|id| !is_known(id)) {
            return Err(ServiceError::UnknownMember(unknown.clone()));
        }
        let issue = sheets.issue(&self.supplier, Print::default(), sheets.published_on());
        self.engine.view_svg(sheets.evaluated(), wanted, issue).await
    }
}
