//! One member or plate of an evaluated document as a solid for other machines.

use super::exchange::Placement;
use super::{SolidError, SolidHeading, plate, write_one, write_solid};
use crate::{Evaluation, Stop};

impl Evaluation {
    /// Writes the finished part of the member with this id as the text of an ISO 10303-21 file with one solid, in mm and in the
    /// part's own axes: the first point of the centreline at the origin, the first leg along x, the index line towards z.
    /// What is left long is cut off, as in the part's mass. The same arguments give the same bytes.
    ///
    /// # Errors
    /// [`SolidError`] when the document has errors or no such member, or the part is no closed solid.
    pub fn solid_step(&self, member: &str, heading: &SolidHeading) -> Result<String, SolidError> {
        self.solid_step_until(member, heading, Stop::NEVER)
    }

    /// As [`Evaluation::solid_step`], as long as it is wanted.
    ///
    /// # Errors
    /// As there, and [`SolidError::Stopped`] when it is no longer wanted.
    pub fn solid_step_until(&self, member: &str, heading: &SolidHeading, stop: Stop) -> Result<String, SolidError> {
        let made = self.made.as_deref().ok_or(SolidError::DesignHasErrors)?;
        let part = made.parts.iter().find(|part| made.frame.members[part.member].id == member);
        let part = part.ok_or(SolidError::UnknownMember)?;
        let placed = &made.frame.members[part.member];
        let cuts = [&part.ends[0].cut, &part.ends[1].cut];
        write_solid(&placed.path, placed.index, cuts, &part.holes, heading, stop)
    }

    /// Writes a plate as [`Evaluation::solid_step`] does a member, in the axes of its outline: x and y as the outline has them, z from
    /// the face at its origin through its thickness.
    ///
    /// # Errors
    /// [`SolidError`] when the document has errors or no such plate.
    pub fn plate_step(&self, plate: &str, heading: &SolidHeading) -> Result<String, SolidError> {
        let made = self.made.as_deref().ok_or(SolidError::DesignHasErrors)?;
        let at = made.plate(plate).ok_or(SolidError::UnknownPlate)?;
        let placed = &made.frame.plates[at];
        Ok(write_one(&plate::solid(placed)?, Placement::of_plate(&placed.plate), heading))
    }
}
