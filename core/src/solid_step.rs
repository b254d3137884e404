//! One member of a document as a solid for other machines.

use crate::document;
use crate::frame::Frame;
use crate::part::Part;
use crate::render::{SolidError, SolidHeading, write_solid};

/// Writes the finished part of `member`, the id of a member of the design document `text`, as the text of an ISO 10303-21 file with
/// one solid, in mm and in the part's own axes: the first point of the centreline at the origin, the first leg along x, the
/// index line towards z. The same arguments give the same bytes.
///
/// # Errors
/// [`SolidError`] when the document has errors or no such member, or the part is no closed solid.
pub fn solid_step(text: &str, member: &str, heading: &SolidHeading) -> Result<String, SolidError> {
    let document::Reading { design, mut findings, .. } = document::read(text);
    let design = design.filter(|_| !findings.has_errors()).ok_or(SolidError::DesignHasErrors)?;
    let frame = Frame::of(&design, &mut findings);
    let position = frame.members.iter().position(|placed| placed.id == member).ok_or(SolidError::UnknownMember)?;
    let part = Part::of(&frame, position, &mut findings);
    if findings.has_errors() {
        return Err(SolidError::DesignHasErrors);
    }
    let placed = &frame.members[position];
    write_solid(&placed.path, placed.index, [&part.ends[0].cut, &part.ends[1].cut], heading)
}
