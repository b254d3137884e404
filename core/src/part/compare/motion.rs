//! How one part lies on another.

use core::f64::consts::TAU;

/// The rigid motion that carries one part onto another, told along the tube: both have the same carried index frame, so a turn
/// and a slide say all of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Motion {
    /// True when the first part is turned end for end, so that its `to` end lies at the other's `from` end.
    pub swapped: bool,
    /// Clock angle `phi` of the first part comes to lie at `turn + phi`, or at `turn - phi` when swapped; radians in [0, 2 pi).
    pub turn: f64,
    /// Station `x` of the first part, from the start of its centreline, comes to lie at `slide + x`, or at `slide - x`; mm.
    pub slide: f64,
}

impl Motion {
    /// Which end of the first part lies at `end` of the other.
    #[must_use]
    pub fn end_at(&self, end: usize) -> usize {
        if self.swapped { 1 - end } else { end }
    }

    /// Where a clock angle of the first part comes to lie.
    #[must_use]
    pub fn clock(&self, clock: f64) -> f64 {
        (if self.swapped { self.turn - clock } else { self.turn + clock }).rem_euclid(TAU)
    }

    /// Where a station of the first part comes to lie.
    #[must_use]
    pub fn station(&self, station: f64) -> f64 {
        if self.swapped { self.slide - station } else { self.slide + station }
    }
}

/// An angle as the turn of least size, in (-pi, pi].
pub(super) fn least_turn(angle: f64) -> f64 {
    let turn = angle.rem_euclid(TAU);
    if turn > core::f64::consts::PI { turn - TAU } else { turn }
}
