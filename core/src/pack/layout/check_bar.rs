//! The bars by which the scale of a print is checked.

use super::furniture::Furniture;
use crate::drawing::{Area, Drawing, Lettering, Path, Pen, Point, Text, Turn};
use crate::pack::hands;
use crate::pack::print::Units;

/// The longest bar between its outer ticks, mm: room for it is left on every page.
pub(in crate::pack) const LENGTH: f64 = 101.6;

/// How long a bar is, in words.
pub(in crate::pack) fn length_words(units: Units) -> &'static str {
    match units {
        Units::Mm => "100 mm",
        Units::Inch | Units::InchFraction => "4 in",
    }
}

/// How far a bar may be off, in words: half a millimetre, or the nearest mark of a steel rule.
pub(in crate::pack) fn allowed_words(units: Units) -> &'static str {
    match units {
        Units::Mm => "0.5 mm",
        Units::Inch => "0.02 in",
        Units::InchFraction => "1/64 in",
    }
}

/// Half the length of a tick at the end.
const TICK: f64 = 2.0;

/// Between the bar across and what stands beside it in the foot, mm.
const BESIDE: f64 = 5.0;

/// Width of what stands at the right side of the page with the bar up it, mm.
const UPRIGHT: f64 = 10.0;

/// Both bars of a page of templates: one in its foot, one up its right side.
pub(in crate::pack) fn both(page: Area, furniture: Furniture) -> Drawing {
    let mut drawing = foot(page, furniture);
    drawing.append(upright([page.right() - 2.0, page.y + 2.0], furniture));
    drawing
}

/// The foot of a page of templates: the bar across, and which templates the pack leaves out.
pub(in crate::pack) fn foot(page: Area, furniture: Furniture) -> Drawing {
    let mut drawing = across([page.x, page.y + 2.0], furniture);
    let x = page.x + LENGTH + BESIDE;
    drawing.append(hands::note([x, page.y + 0.6], page.right() - UPRIGHT - x, furniture));
    drawing
}

/// A bar across the page from `start` to the right, with what to measure written above it; 8 mm high in all.
pub(in crate::pack) fn across(start: Point, furniture: Furniture) -> Drawing {
    let [x, y] = start;
    let mut drawing = bar(start, [1.0, 0.0], furniture.issue.print.units);
    let units = furniture.issue.print.units;
    let say = furniture.words.check_bar.across(length_words(units), allowed_words(units));
    drawing.text(Text::new(say, [x, y + 3.4]).lettered(Lettering::Small));
    drawing
}

/// A bar up the page from `start`, with what to measure written to its left; it needs 6 mm to the left and 2 mm to the right.
pub(in crate::pack) fn upright(start: Point, furniture: Furniture) -> Drawing {
    let [x, y] = start;
    let mut drawing = bar(start, [0.0, 1.0], furniture.issue.print.units);
    let units = furniture.issue.print.units;
    let say = furniture.words.check_bar.up(length_words(units), allowed_words(units));
    let text = Text::new(say, [x - 3.4, y]).lettered(Lettering::Small);
    drawing.text(text.turned(Turn::Quarter));
    drawing
}

fn bar([x, y]: Point, [right, up]: Point, units: Units) -> Drawing {
    let length = units.check_bar();
    // A tick each centimetre, or each half inch.
    let (steps, every) = match units {
        Units::Mm => (10_u8, 1),
        Units::Inch | Units::InchFraction => (8, 2),
    };
    let mut drawing = Drawing::default();
    let at = |along: f64, aside: f64| [x + along * right - aside * up, y + along * up + aside * right];
    drawing.path(Path::polyline(&[at(0.0, 0.0), at(length, 0.0)], Pen::Measure));
    for step in 0..=steps {
        let along = f64::from(step) * length / f64::from(steps);
        let reach = match step {
            outer if outer % steps == 0 => TICK,
            whole if whole % every == 0 => TICK / 2.0,
            _ => TICK / 4.0,
        };
        drawing.line(at(along, -reach), at(along, reach), Pen::Measure);
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pack::fixture::issue;
    use crate::pack::{CheckBars, Hands, Paper, Print, Status};

    /// A printer that makes 90 mm of 100 leaves A4 189 mm broad; what a pack of one hand leaves out is said beside the bar all the same.
    #[test]
    fn what_is_left_out_stands_clear_of_both_bars_on_the_narrowest_paper() {
        for hands in [Hands::Left, Hands::Right] {
            let mut issue = issue(Paper::A4, Status::Issued);
            issue.print = Print { hands, check_bars: Some(CheckBars { across: 90.0, up: 90.0 }), ..issue.print };
            let furniture = Furniture {
                letters: crate::render::letters().expect("compiled in"),
                issue: &issue,
                words: &crate::words::EN,
                stop: crate::Stop::NEVER,
            };
            let drawing = both(furniture.content_area(), furniture);
            let areas: Vec<Area> = drawing.texts().map(|text| furniture.letters.area(text)).collect();
            assert!(areas.len() > 3, "{}", areas.len());
            for (index, area) in areas.iter().enumerate() {
                assert!(area.right() <= furniture.content_area().right());
                assert!(!areas[..index].iter().any(|other| other.overlaps(area)), "{hands:?}");
            }
        }
    }

    #[test]
    fn both_bars_are_a_hundred_millimetres_or_four_inches() {
        let bars = |units| {
            let mut issue = issue(Paper::A4, Status::Issued);
            issue.print.units = units;
            let furniture = Furniture {
                letters: crate::render::letters().expect("compiled in"),
                issue: &issue,
                words: &crate::words::EN,
                stop: crate::Stop::NEVER,
            };
            [(across([20.0, 20.0], furniture), 0, units), (upright([20.0, 20.0], furniture), 1, units)]
        };
        for (drawing, axis, units) in bars(Units::Mm).into_iter().chain(bars(Units::Inch)) {
            let length = if units == Units::Mm { 100.0 } else { 4.0 * 25.4 };
            let ends: Vec<Point> = drawing.paths().next().map(|path| path.points().collect()).unwrap_or_default();
            assert!((ends[1][axis] - ends[0][axis] - length).abs() < 1e-12);
            assert_eq!(ends[1][1 - axis], ends[0][1 - axis]);
        }
    }
}
