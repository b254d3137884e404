//! The text of an exchange file (ISO 10303-21): numbered entities, numbers, strings and placements.

use crate::geometry::{DVec3, Path, Plate, square_to};
use std::fmt::Write;

/// Entity number in the file.
pub(super) type Id = usize;

/// The part's own axes in space: what is written is relative to them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placement {
    pub(super) origin: DVec3,
    pub(super) x: DVec3,
    pub(super) y: DVec3,
    pub(super) z: DVec3,
}

impl Placement {
    /// The axes of the frame.
    pub(super) const FRAME: Self = Self { origin: DVec3::ZERO, x: DVec3::X, y: DVec3::Y, z: DVec3::Z };

    /// Those of a tube: the first point of its centreline, along its first leg, with clock angle 0 towards z.
    pub(super) fn of_tube(path: &Path, index: DVec3) -> Self {
        let first = path.first();
        Self { origin: first.start, x: first.direction, y: index.cross(first.direction), z: index }
    }

    /// Those of a plate's outline.
    pub(super) fn of_plate(plate: &Plate) -> Self {
        Self { origin: plate.origin, x: plate.along, y: plate.across, z: plate.up() }
    }

    /// Where a point written in these axes lies.
    pub(super) fn point(&self, [x, y, z]: [f64; 3]) -> DVec3 {
        self.origin + self.x * x + self.y * y + self.z * z
    }

    fn own(&self, vector: DVec3) -> DVec3 {
        DVec3::new(vector.dot(self.x), vector.dot(self.y), vector.dot(self.z))
    }
}

/// The data section of an exchange file in the making.
pub(super) struct Exchange {
    placement: Placement,
    data: String,
    count: Id,
}

impl Exchange {
    pub(super) fn new(placement: Placement) -> Self {
        Self { placement, data: String::new(), count: 0 }
    }

    /// What is added from now on is written in these axes.
    pub(super) fn stand(&mut self, placement: Placement) {
        self.placement = placement;
    }

    /// Adds an entity, as written between its number and the semicolon.
    pub(super) fn add(&mut self, entity: &str) -> Id {
        self.count += 1;
        // Writing to a string cannot fail.
        let _ = writeln!(self.data, "#{}={entity};", self.count);
        self.count
    }

    /// A point in space.
    pub(super) fn point(&mut self, at: DVec3) -> Id {
        let own = self.placement.own(at - self.placement.origin);
        self.add(&format!("CARTESIAN_POINT('',({}))", reals(own.to_array(), 9)))
    }

    /// A direction in space.
    pub(super) fn direction(&mut self, way: DVec3) -> Id {
        let own = self.placement.own(way);
        self.add(&format!("DIRECTION('',({}))", reals(own.to_array(), 15)))
    }

    /// A placement with its z axis along `axis` and its x axis as near as can be to `reference`.
    pub(super) fn axes(&mut self, at: DVec3, axis: DVec3, reference: DVec3) -> Id {
        let square = square_to(axis, reference).unwrap_or_else(|| axis.any_orthonormal_vector());
        let (at, axis, reference) = (self.point(at), self.direction(axis), self.direction(square));
        self.add(&format!("AXIS2_PLACEMENT_3D('',#{at},#{axis},#{reference})"))
    }

    pub(super) fn into_data(self) -> String {
        self.data
    }
}

/// Entity numbers as a list.
pub(super) fn list(ids: impl IntoIterator<Item = Id>) -> String {
    ids.into_iter().map(|id| format!("#{id}")).collect::<Vec<_>>().join(",")
}

/// Numbers as a list, to so many decimals.
pub(super) fn reals(values: impl IntoIterator<Item = f64>, decimals: usize) -> String {
    values.into_iter().map(|value| real(value, decimals)).collect::<Vec<_>>().join(",")
}

/// A number to so many decimals; the standard wants the point even where no decimals follow.
pub(super) fn real(value: f64, decimals: usize) -> String {
    let written = format!("{value:.decimals$}");
    match written.trim_end_matches('0') {
        "-0." => "0.".to_owned(),
        trimmed => trimmed.to_owned(),
    }
}

/// A string in quotes: what is not printable ASCII is written as UTF-16 in hexadecimal (ISO 10303-21, 6.4.3).
pub(super) fn quoted(text: &str) -> String {
    let mut quoted = String::from("'");
    for character in text.chars() {
        match character {
            '\'' => quoted.push_str("''"),
            '\\' => quoted.push_str("\\\\"),
            ' '..='~' => quoted.push(character),
            _ => {
                quoted.push_str("\\X2\\");
                for unit in character.encode_utf16(&mut [0; 2]) {
                    let _ = write!(quoted, "{unit:04X}");
                }
                quoted.push_str("\\X0\\");
            }
        }
    }
    quoted.push('\'');
    quoted
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_a_point_and_no_negative_zero() {
        assert_eq!(real(-1e-12, 9), "0.");
        assert_eq!(real(40.0, 9), "40.");
        assert_eq!(real(-0.125, 9), "-0.125");
    }

    #[test]
    fn strings_are_written_as_the_standard_asks() {
        // ISO 10303-21, 6.4.3: apostrophe and reverse solidus doubled, other characters by \X2\ ... \X0\.
        assert_eq!(quoted("it's a \\"), "'it''s a \\\\'");
        assert_eq!(quoted("Rohr \u{f8}40"), "'Rohr \\X2\\00F8\\X0\\40'");
    }
}
