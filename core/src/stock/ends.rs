//! Ends of parts as the saw sees them: square, or sloped by a plane that a neighbour may share.
//!
//! A mitre at angle t across a tube of breadth b (its diameter, or the side in the direction of the slope) has the depth b tan t along
//! the tube. The blade takes kerf / cos t along it. Planes of one angle can face each other whatever their clock angles on a round tube,
//! which may be turned at will; a square one turns by quarters, so a mitre across its sides meets any other of that angle; a rectangular
//! one turns by halves, so only mitres across the same sides meet. A mitre across the corners of a rectangular tube shares no cut.

use super::model::{down, up};
use super::request::{Mitre, RectSize, Request, RoundSize, STEEPEST_MITRE, Size, StockError, WantedPart};
use crate::words::findings::stock::StockFault;

/// Mitres whose angles are equal to this many degrees are one setting of the saw.
const SETTING: f64 = 1e-3;

/// A slope runs across a side of a rectangular tube when its clock angle is a quarter turn to within this, degrees.
const ACROSS: f64 = 0.01;

/// Shortest side of a part with sloped ends, mm.
const SHORTEST: f64 = 0.001;

/// A sloped cut that two neighbouring parts can share.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slope {
    /// Angle in settings of the saw.
    setting: i64,
    /// Whether it runs across the width of a rectangular tube, not its height.
    across_width: bool,
    /// What the long points of neighbours that share it overlap, in ten-thousandths of a millimetre: its depth less the blade's width.
    pub saving: i64,
}

/// One end of a part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// Width of the blade along the tube, in ten-thousandths of a millimetre.
    pub kerf: i64,
    /// Which slope; `None` for one that is not shared, and for a square end.
    pub slope: Option<usize>,
    /// Angle from a square cut, degrees.
    pub angle: f64,
    /// Clock angle of the long side, degrees.
    pub clock: f64,
    /// From the long point to where the cut crosses the axis, mm.
    pub to_axis: f64,
}

impl End {
    /// Whether the cut is not square.
    pub fn is_sloped(&self) -> bool {
        self.angle != 0.0
    }

    /// What tells ends apart.
    pub fn key(&self) -> (i64, i64) {
        ((self.angle / SETTING).round() as i64, (self.clock * 1e6).round() as i64)
    }
}

/// The tube, the saw, and the slopes met so far.
pub struct Ends {
    size: Option<Size>,
    blade: f64,
    /// The slopes.
    pub slopes: Vec<Slope>,
}

impl Ends {
    /// Checks the section of a request.
    pub fn of(request: &Request) -> Result<Self, StockError> {
        let lengths: &[f64] = match &request.section {
            None => &[],
            Some(Size::Round(RoundSize { od })) => &[*od],
            Some(Size::Rect(RectSize { width, height, .. })) => &[*width, *height],
        };
        let corner = match request.section {
            Some(Size::Rect(size)) => size.corner,
            _ => 0.0,
        };
        let least = lengths.iter().copied().fold(f64::INFINITY, f64::min);
        if lengths.iter().any(|length| !(1.0..=1_000.0).contains(length)) || !(corner >= 0.0 && corner * 2.0 <= least) {
            let fact = StockFault::Section;
            return Err(StockError::new("stock-section", "/section", fact));
        }
        Ok(Self { size: request.section, blade: request.kerf, slopes: Vec::new() })
    }

    /// Both ends of a part.
    pub fn read(&mut self, index: usize, part: &WantedPart) -> Result<[End; 2], StockError> {
        let from = self.end(part.from, &format!("/parts/{index}/from"))?;
        let to = self.end(part.to, &format!("/parts/{index}/to"))?;
        if (from.is_sloped() || to.is_sloped()) && self.shortest(part.length, &from, &to) < SHORTEST {
            let fact = StockFault::MitresCross { id: &part.id };
            return Err(StockError::new("stock-mitre", format!("/parts/{index}/length"), fact));
        }
        Ok([from, to])
    }

    fn end(&mut self, mitre: Option<Mitre>, pointer: &str) -> Result<End, StockError> {
        let square = End { kerf: up(self.blade), slope: None, angle: 0.0, clock: 0.0, to_axis: 0.0 };
        let Some(mitre) = mitre else { return Ok(square) };
        if !(0.0..=STEEPEST_MITRE).contains(&mitre.mitre_deg) || !(-360.0..=360.0).contains(&mitre.long_side_deg) {
            let fact = StockFault::Mitre { steepest_mitre: STEEPEST_MITRE };
            return Err(StockError::new("stock-mitre", pointer, fact));
        }
        let setting = (mitre.mitre_deg / SETTING).round() as i64;
        if setting == 0 {
            return Ok(square);
        }
        let Some(size) = self.size else {
            let fact = StockFault::NoSection;
            return Err(StockError::new("stock-section", "/section", fact));
        };
        let angle = setting as f64 * SETTING;
        let (sin, cos) = (libm::sin(angle.to_radians()), libm::cos(angle.to_radians()));
        let quarters = (mitre.long_side_deg / 90.0).round();
        let across = (mitre.long_side_deg - quarters * 90.0).abs() <= ACROSS;
        let clock = if across && matches!(size, Size::Rect(_)) { quarters * 90.0 } else { mitre.long_side_deg };
        let clock = clock.rem_euclid(360.0);
        let depth = breadth(size, clock) * sin / cos;
        let kerf = up(self.blade / cos);
        let across_width = match size {
            Size::Rect(RectSize { width, height, .. }) => width != height && quarters.rem_euclid(2.0) != 0.0,
            Size::Round(_) => false,
        };
        let shared = across || matches!(size, Size::Round(_));
        let slope = shared.then(|| self.slope(Slope { setting, across_width, saving: down(depth) - kerf }));
        Ok(End { kerf, slope, angle, clock, to_axis: depth / 2.0 })
    }

    fn slope(&mut self, slope: Slope) -> usize {
        let known = self.slopes.iter().position(|known| *known == slope);
        known.unwrap_or_else(|| {
            self.slopes.push(slope);
            self.slopes.len() - 1
        })
    }

    /// Length of a part along its shortest side.
    ///
    /// Formula: the length varies round the tube by the sum of both slopes, the shortest side lies against that sum.
    fn shortest(&self, length: f64, from: &End, to: &End) -> f64 {
        let slope = |end: &End| {
            let (rise, clock) = (libm::tan(end.angle.to_radians()), end.clock.to_radians());
            [rise * libm::cos(clock), rise * libm::sin(clock)]
        };
        let ([a, b], [c, d]) = (slope(from), slope(to));
        let sum = [a + c, b + d];
        let rise = libm::hypot(sum[0], sum[1]);
        let breadth = self.size.map_or(0.0, |size| breadth(size, libm::atan2(sum[1], sum[0]).to_degrees()));
        length - from.to_axis - to.to_axis - rise * breadth / 2.0
    }
}

/// Extent of a tube in the direction of a clock angle, mm.
fn breadth(size: Size, clock: f64) -> f64 {
    match size {
        Size::Round(size) => size.od,
        Size::Rect(RectSize { width, height, corner }) => {
            let (sin, cos) = (libm::sin(clock.to_radians()).abs(), libm::cos(clock.to_radians()).abs());
            (height - 2.0 * corner) * cos + (width - 2.0 * corner) * sin + 2.0 * corner
        }
    }
}

/// By which steps a part may be turned in the bar, degrees; 0 when at will.
pub fn turning_step(size: Option<Size>) -> f64 {
    match size {
        Some(Size::Rect(RectSize { width, height, .. })) => {
            if width == height {
                90.0
            } else {
                180.0
            }
        }
        _ => 0.0,
    }
}
