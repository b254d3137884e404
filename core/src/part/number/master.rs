//! The shape that stands for a part number.

use crate::part::compare::{PlateShape, Shape, same, same_plate};
use crate::part::made::Made;

/// A part that others are compared with: always with this one, never with each other, since being nearly equal does not carry on.
pub(super) enum Master {
    Tube(TubeMaster),
    Plate(PlateShape),
}

/// A tube with the figures that most unequal parts already differ in.
pub(super) struct TubeMaster {
    shape: Shape,
    overall: f64,
    volume: f64,
}

/// Equal parts differ by no more than this in length, mm.
const LENGTH: f64 = 0.2;

impl Master {
    pub(super) fn tube(made: &Made, member: usize) -> Self {
        let part = &made.parts[member];
        Self::Tube(TubeMaster { shape: made.shape(member), overall: part.overall(), volume: part.volume })
    }

    pub(super) fn plate(made: &Made, plate: usize) -> Self {
        Self::Plate(made.plate_shape(plate))
    }

    pub(super) fn is_same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Tube(a), Self::Tube(b)) => {
                (a.overall - b.overall).abs() < LENGTH
                    && (a.volume - b.volume).abs() < 2e-3 * a.volume.abs()
                    && same(&a.shape, &b.shape).is_some()
            }
            (Self::Plate(a), Self::Plate(b)) => same_plate(a, b).is_some(),
            _ => false,
        }
    }
}
