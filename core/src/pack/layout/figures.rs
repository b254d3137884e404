//! How figures are written, the same on every sheet.

use crate::frame::SectionSize;
use crate::pack::Units;
use crate::sheets::{BendSide, Datum, End, SetOut};
use crate::words::Words;

/// Lengths as they are written in one pack. In inches a decimal stands for the same fineness: thousandths; a fraction is the
/// nearest 64th.
#[derive(Clone, Copy)]
pub(in crate::pack) struct Figures {
    /// The unit of lengths.
    pub(in crate::pack) units: Units,
    /// The language.
    pub(in crate::pack) words: &'static Words,
}

/// Millimetres in an inch (exact).
const INCH: f64 = 25.4;

/// N/mm2 in a thousand pounds-force a square inch: 4.4482216152605 N each (NIST SP 811, appendix B.8).
const KSI: f64 = 6.894_757_293_168;

/// Millimetres in a foot (exact).
const FOOT: f64 = 12.0 * INCH;

impl Figures {
    /// The unit's sign.
    pub(in crate::pack) fn unit(self) -> &'static str {
        match self.units {
            Units::Mm => "mm",
            Units::Inch | Units::InchFraction => "in",
        }
    }

    /// The unit of strengths.
    pub(in crate::pack) fn strength_unit(self) -> &'static str {
        match self.units {
            Units::Mm => "N/mm2",
            Units::Inch | Units::InchFraction => "ksi",
        }
    }

    /// The unit in words.
    pub(in crate::pack) fn unit_name(self) -> &'static str {
        match self.units {
            Units::Mm => self.words.figures.millimetres(),
            Units::Inch | Units::InchFraction => self.words.figures.inches(),
        }
    }

    /// A set-out in mm as it is printed: what a tape of the pack's unit can set.
    pub(in crate::pack) fn taped(self, mm: f64) -> f64 {
        let step = self.units.tape();
        (mm / step + 1e-9).floor() * step
    }

    /// A length to 0.1 mm, without its unit.
    pub(in crate::pack) fn bare(self, mm: f64) -> String {
        match self.units {
            Units::Mm => plain(mm, 1),
            Units::Inch => plain(mm / INCH, 3),
            Units::InchFraction => fraction(mm / INCH),
        }
    }

    /// A length with its unit, to 0.1 mm.
    pub(in crate::pack) fn length(self, mm: f64) -> String {
        format!("{} {}", self.bare(mm), self.unit())
    }

    /// A length to 0.1 mm without its unit and without trailing zeros.
    pub(in crate::pack) fn short(self, mm: f64) -> String {
        match self.units {
            Units::InchFraction => self.bare(mm),
            Units::Mm | Units::Inch => trimmed(self.bare(mm)),
        }
    }

    /// A limit that is not passed by rounding: the most that something may be, as [`Self::short`] but never more.
    pub(in crate::pack) fn at_most(self, mm: f64) -> String {
        self.short(self.whole_steps(mm, f64::floor))
    }

    /// The least that something may be, as [`Self::short`] but never less.
    pub(in crate::pack) fn at_least(self, mm: f64) -> String {
        self.short(self.whole_steps(mm, f64::ceil))
    }

    /// A length in whole steps of what is written, mm.
    fn whole_steps(self, mm: f64, round: fn(f64) -> f64) -> f64 {
        let step = match self.units {
            Units::Mm => 0.1,
            Units::Inch => INCH / 1000.0,
            Units::InchFraction => INCH / 64.0,
        };
        // A whole number of steps stays one for all the noise of its last bits.
        let steps = mm / step;
        let nearest = steps.round();
        step * if (steps - nearest).abs() < 1e-6 { nearest } else { round(steps) }
    }

    /// A length with its unit, to 0.1 mm, without trailing zeros.
    pub(in crate::pack) fn short_length(self, mm: f64) -> String {
        format!("{} {}", self.short(mm), self.unit())
    }

    /// A length to 0.01 mm without its unit and without trailing zeros, as it stands on a drill.
    pub(in crate::pack) fn fine(self, mm: f64) -> String {
        match self.units {
            Units::Mm => trimmed(plain(mm, 2)),
            Units::Inch => trimmed(plain(mm / INCH, 3)),
            Units::InchFraction => fraction(mm / INCH),
        }
    }

    /// A length with its unit, to 0.01 mm; in inches always a decimal, for it is measured with a caliper.
    pub(in crate::pack) fn fine_length(self, mm: f64) -> String {
        match self.units {
            Units::Mm => format!("{} mm", plain(mm, 2)),
            Units::Inch | Units::InchFraction => format!("{} in", plain(mm / INCH, 3)),
        }
    }

    /// A surface: square metres, or square feet.
    pub(in crate::pack) fn surface(self, m2: f64) -> String {
        match self.units {
            Units::Mm => format!("{} m2", plain(m2, 2)),
            Units::Inch | Units::InchFraction => format!("{} sq ft", plain(m2 * 1e6 / (FOOT * FOOT), 1)),
        }
    }

    /// The length of a run that nobody measures to the millimetre: metres, or feet.
    pub(in crate::pack) fn run(self, mm: f64) -> String {
        match self.units {
            Units::Mm => format!("{} m", plain(mm / 1000.0, 2)),
            Units::Inch | Units::InchFraction => format!("{} ft", plain(mm / FOOT, 1)),
        }
    }

    /// The strength of a material, given in N/mm2, without its unit.
    pub(in crate::pack) fn strength(self, n_mm2: f64) -> String {
        match self.units {
            Units::Mm => trimmed(plain(n_mm2, 1)),
            Units::Inch | Units::InchFraction => trimmed(plain(n_mm2 / KSI, 1)),
        }
    }

    /// A section as a fitter calls it; in inches as decimals.
    pub(in crate::pack) fn size(self, size: SectionSize) -> String {
        let figures: Vec<String> = size.figures().into_iter().map(|mm| self.size_figure(mm)).collect();
        figures.join(" x ")
    }

    /// A figure of a size, as it is ordered; in inches as a decimal.
    pub(in crate::pack) fn size_figure(self, mm: f64) -> String {
        match self.units {
            Units::Mm => mm.to_string(),
            Units::Inch | Units::InchFraction => trimmed(plain(mm / INCH, 3)),
        }
    }

    /// A length with its unit, to whole millimetres.
    pub(in crate::pack) fn whole_length(self, mm: f64) -> String {
        match self.units {
            Units::Mm => format!("{} {}", plain(mm, 0), self.unit()),
            Units::Inch | Units::InchFraction => self.short_length(mm.round()),
        }
    }

    /// A number as it was given.
    pub(in crate::pack) fn as_read(self, value: f64) -> String {
        value.to_string()
    }

    /// A length with its unit, in mm with all the figures that it was told with.
    pub(in crate::pack) fn as_told(self, mm: f64) -> String {
        match self.units {
            Units::Mm => format!("{mm} {}", self.unit()),
            Units::Inch | Units::InchFraction => self.short_length(mm),
        }
    }

    /// An angle to whole degrees, without its unit.
    pub(in crate::pack) fn whole_degrees(self, degrees: f64) -> String {
        plain(degrees, 0)
    }

    /// A number to one decimal.
    pub(in crate::pack) fn tenths(self, value: f64) -> String {
        plain(value, 1)
    }

    /// A number to one decimal, without a trailing zero.
    pub(in crate::pack) fn short_tenths(self, value: f64) -> String {
        trimmed(plain(value, 1))
    }

    /// An angle to 0.1 degrees.
    pub(in crate::pack) fn angle(self, degrees: f64) -> String {
        self.words.figures.angle(self.tenths(degrees))
    }

    /// A clock angle in [0, 360), to 0.1 degrees, so that it reads like the index lines.
    pub(in crate::pack) fn clock(self, degrees: f64) -> String {
        self.angle(turned(degrees))
    }

    /// As [`Self::clock`], without its unit.
    pub(in crate::pack) fn bare_clock(self, degrees: f64) -> String {
        self.tenths(turned(degrees))
    }

    /// A place round a tube: its clock angle, and how far a tape finds it from the line at 0 degrees, the shorter way round. `forward` is
    /// how far it lies towards 90 degrees and on, mm.
    pub(in crate::pack) fn round_from_zero(self, clock_deg: f64, forward: f64, circumference: f64) -> String {
        let (clock, say) = (self.clock(clock_deg), &self.words.figures);
        let forward = forward.rem_euclid(circumference);
        let back = circumference - forward;
        if forward.min(back) < 0.5 {
            clock
        } else if forward <= back {
            say.towards_90(clock, self.length(forward))
        } else {
            say.towards_270(clock, self.length(back))
        }
    }

    /// A mass in kg, to a gram.
    pub(in crate::pack) fn mass(self, kg: f64) -> String {
        plain(kg, 3)
    }

    /// The name of an end.
    pub(in crate::pack) fn end(self, end: End) -> &'static str {
        match end {
            End::From => self.words.figures.from_end(),
            End::To => self.words.figures.to_end(),
        }
    }

    /// What is left long at the `from` and the `to` end; `None` where nothing is.
    pub(in crate::pack) fn left_long(self, leave_long: [f64; 2]) -> Option<String> {
        let say = &self.words.figures;
        let long = |mm: f64| self.short_length(mm);
        match leave_long.map(|mm| mm > 0.0) {
            [false, false] => None,
            [true, false] => Some(say.long_at_from(long(leave_long[0]))),
            [false, true] => Some(say.long_at_to(long(leave_long[1]))),
            [true, true] if long(leave_long[0]) == long(leave_long[1]) => Some(say.long_at_both(long(leave_long[0]))),
            [true, true] => Some(say.long_at_each(long(leave_long[0]), long(leave_long[1]))),
        }
    }

    /// From where a set-out is measured.
    pub(in crate::pack) fn datum(self, set_out: SetOut, other_is_square: bool) -> String {
        let say = &self.words.set_out;
        match set_out.datum {
            Datum::OtherEnd if other_is_square => say.sawn_end().to_owned(),
            Datum::OtherEnd => say.long_point().to_owned(),
            Datum::LongEnd { by } => say.long_end(self.short_length(by)),
            Datum::TangentMark { bend, side, station } => match (side, station.map(|at| self.length(at))) {
                (BendSide::Start, Some(at)) => say.mark_of_start(bend, at),
                (BendSide::End, Some(at)) => say.mark_of_end(bend, at),
                (BendSide::Start, None) => say.start_on_tube(bend),
                (BendSide::End, None) => say.end_on_tube(bend),
            },
        }
    }
}

/// The nearest 64th of an inch, reduced: `19 27/32`.
fn fraction(inches: f64) -> String {
    let sixty_fourths = (inches.abs() * 64.0).round();
    let sign = if inches < 0.0 && sixty_fourths > 0.0 { "-" } else { "" };
    let whole = (sixty_fourths / 64.0).floor();
    let (mut part, mut of) = (sixty_fourths - 64.0 * whole, 64.0);
    while part > 0.0 && part % 2.0 == 0.0 {
        (part, of) = (part / 2.0, of / 2.0);
    }
    match (whole > 0.0, part > 0.0) {
        (_, false) => format!("{sign}{whole:.0}"),
        (true, true) => format!("{sign}{whole:.0} {part:.0}/{of:.0}"),
        (false, true) => format!("{sign}{part:.0}/{of:.0}"),
    }
}

fn trimmed(text: String) -> String {
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A decimal that is never minus nought.
fn plain(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|byte| byte == b'0' || byte == b'.') => rest.to_owned(),
        _ => text,
    }
}

/// A clock angle in [0, 360), to 0.1 degrees.
fn turned(degrees: f64) -> f64 {
    let turned = degrees.rem_euclid(360.0);
    if turned >= 359.95 { 0.0 } else { turned }
}

/// Several members in one line.
pub(in crate::pack) fn members(ids: &[String]) -> String {
    ids.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frame::PartSize;
    use crate::words::EN;

    fn figures(units: Units) -> Figures {
        Figures { units, words: &EN }
    }

    #[test]
    fn figures_are_written_plainly() {
        let mm = figures(Units::Mm);
        assert_eq!(mm.length(812.349), "812.3 mm");
        assert_eq!(mm.tenths(-0.04), "0.0");
        assert_eq!(mm.tenths(-0.06), "-0.1");
        assert_eq!(mm.short(437.0), "437");
        assert_eq!(mm.fine(8.0), "8");
        assert_eq!(mm.clock(-137.0), "223.0 deg");
        assert_eq!(mm.clock(-0.01), "0.0 deg");
    }

    #[test]
    fn inches_are_decimals_or_the_nearest_64th() {
        let (decimal, fractions) = (figures(Units::Inch), figures(Units::InchFraction));
        assert_eq!(decimal.length(437.0), "17.205 in");
        assert_eq!(decimal.short(25.4), "1");
        assert_eq!(decimal.size(SectionSize::Round { od: 44.45, wall: 2.6 }), "1.75 x 0.102");
        assert_eq!(decimal.part_size(PartSize::Plate(4.0)), "plate 0.157");
        assert_eq!(decimal.words.cut_sheet.head_overall(decimal.unit()), "overall, in");
        // 90 ksi are 620.5 N/mm2.
        assert_eq!((decimal.strength_unit(), decimal.strength(620.5).as_str()), ("ksi", "90"));
        // 12 in, and 144 square inches.
        assert_eq!((decimal.run(3048.0).as_str(), decimal.surface(0.092_903_04).as_str()), ("10.0 ft", "1.0 sq ft"));
        assert_eq!(fractions.length(437.0), "17 13/64 in");
        assert_eq!(fractions.bare(50.8), "2");
        assert_eq!(fractions.bare(25.4 / 64.0), "1/64");
        assert_eq!(fractions.bare(-25.4 * 1.5), "-1 1/2");
        assert_eq!(fractions.bare(25.39), "1");
        assert_eq!(fractions.bare(-0.1), "0");
        assert_eq!(fractions.fine_length(44.45), "1.750 in");
        // 3 mm are 7.56 64ths of an inch and 118.1 thousandths; a limit is never passed.
        assert_eq!((fractions.at_most(3.0).as_str(), decimal.at_most(3.0).as_str()), ("7/64", "0.118"));
        assert_eq!((fractions.at_least(3.0).as_str(), decimal.at_least(3.0).as_str()), ("1/8", "0.119"));
        assert_eq!((fractions.at_most(3.175).as_str(), figures(Units::Mm).at_most(0.3).as_str()), ("1/8", "0.3"));
    }
}
