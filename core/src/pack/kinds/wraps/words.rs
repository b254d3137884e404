//! What stands in words beside a wrap: its figures, and what its lines mean.
use super::names::height_at;
use super::{Subject, diagram, strip};
use crate::drawing::{Area, Drawing, Face, Lettering, Pen, Point, Text};
use crate::frame::CutKind;
use crate::pack::layout::barred;
use crate::pack::layout::figures::{Figures, other_end};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::{baseline, break_lines};
use crate::sheets::{Datum, End, IndexLine, Wrap};

/// What a wrap fits to, its section and its part number.
pub(super) fn what(wrap: &Wrap, furniture: Furniture) -> String {
    let mut line = format!(
        "{}, section {}",
        furniture.figures().cut_and_fits(wrap.cut, &wrap.fits),
        furniture.figures().size(wrap.size)
    );
    if !wrap.part_number.is_empty() {
        line.push_str(&format!(", part number {}", wrap.part_number));
    }
    line
}

/// Writes the figures one below the other; returns where the free space below begins.
pub(super) fn list(
    drawing: &mut Drawing,
    facts: &[String],
    column: Area,
    top: f64,
    lettering: Lettering,
    furniture: Furniture,
) -> f64 {
    let mut y = top;
    for fact in facts {
        for (index, line) in
            break_lines(furniture.letters, fact, lettering, Face::Regular, column.width - 3.0).iter().enumerate()
        {
            let indent = if index == 0 { 0.0 } else { 3.0 };
            let at = [column.x + indent, baseline(y, lettering)];
            drawing.text(Text::new(line, at).lettered(lettering));
            y -= lettering.leading();
        }
        y -= 0.6;
    }
    y
}

/// How much is said of a wrap: all where it has a page of its own, and what the page on reading a wrap does not say where it shares
/// one.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Wording {
    Full,
    Brief,
}

/// The figures of a wrap, a sentence each.
pub(super) fn facts(subject: Subject, wording: Wording, furniture: Furniture) -> Vec<String> {
    let (wrap, row) = (subject.wrap, subject.row);
    let is_full = wording == Wording::Full;
    let figures = furniture.figures();
    let paper = furniture.issue.print.paper_thickness;
    let mut facts = barred::of_part(&wrap.member, furniture);
    if let Some((opposite, number)) = subject.opposite {
        facts.push(if is_full {
            format!("handed: its mirror image is {opposite}, {number}; never swap them or their wraps")
        } else {
            format!("handed: never swap it with {opposite}, {number}")
        });
    }
    facts.extend(subject.trimmed.map(|trimmed| trimmed.words(furniture)));
    facts.extend(lengths(subject, wording, figures));
    if let Some(degrees) = row.and_then(|row| row.clock_between_ends_deg) {
        let seen = if is_full { ", clockwise as seen from the from end" } else { "" };
        facts.push(format!("clock {} from the from end's long point to the to end's{seen}", figures.clock(degrees)));
    }
    let at =
        |point: IndexLine| if is_full { round_from_zero(point, wrap, figures) } else { figures.clock(point.clock_deg) };
    if let Some(point) = wrap.long_point {
        facts.push(format!("long point of this cut at {}", at(point)));
    }
    if let Some(point) = wrap.other_long_point {
        facts.push(format!("long point of the other end's cut at {}", at(point)));
    }
    let seam = if is_full { "; the seam or a scribed line goes there" } else { "" };
    facts.push(format!("index line 0 deg: the side that faces {} in the frame{seam}", figures.facing(wrap.zero_faces)));
    facts.push(match wrap.od {
        Some(od) => {
            format!("tube: outer diameter {}, wall {}", figures.fine_length(od), figures.fine_length(wrap.wall))
        }
        None => {
            let corner = diagram::corner_radius(&wrap.flats, wrap.circumference);
            format!("tube: {}, outer corner radius {}", figures.size(wrap.size), figures.fine_length(corner))
        }
    });
    let printed = figures.fine_length(wrap.on_paper(wrap.circumference, paper));
    let mut circumference = format!("circumference {}, printed {printed}", figures.fine_length(wrap.circumference));
    if is_full {
        circumference.push_str(&format!(" to the closure line (paper {} allowed for)", figures.fine_length(paper)));
    }
    facts.push(circumference);
    if wrap.largest_relief >= 0.05 {
        let at = deepest_throat(wrap).map_or_else(String::new, |degrees| format!(", at {}", figures.clock(degrees)));
        facts.push(format!("throat: the relief line stands back {} at most{at}", figures.length(wrap.largest_relief)));
    }
    for hole in &wrap.holes {
        facts.push(format!(
            "hole {}: drill {} {}, centre {} above the base line",
            hole.hole,
            figures.fine(hole.diameter),
            figures.unit(),
            figures.length(hole.at[1])
        ));
    }
    for miss in &wrap.misses {
        facts.push(format!(
            "misses its target from {} to {}, by up to {}: no line is printed there, ask before cutting",
            figures.clock(miss.from_deg),
            figures.clock(miss.to_deg),
            figures.length(miss.by)
        ));
    }
    facts
}

/// What is measured along the tube.
fn lengths(subject: Subject, wording: Wording, figures: Figures) -> Vec<String> {
    let (wrap, is_full) = (subject.wrap, wording == Wording::Full);
    let square = wrap.other_long_point.is_none();
    let from_other_end = wrap.set_out.datum == Datum::OtherEnd;
    let mut set_out =
        format!("set-out {} {}", figures.short_length(wrap.set_out.distance), figures.datum(wrap.set_out, square));
    // A sawn end with nothing left long stands where the long point of its cut will be.
    let left_long = subject.row.map(|row| row.leave_long[wrap.end.other().position()]);
    if is_full && !square && from_other_end && left_long == Some(0.0) {
        set_out.push_str(", or from its sawn end while it is uncut");
    }
    let line = if wrap.cut == CutKind::Square { "trim line" } else { "highest point of the outer line" };
    let overall = figures.length(wrap.overall);
    let reach = figures.length(wrap.set_out.distance + strip::highest(wrap));
    let check = match (from_other_end, is_full) {
        (true, true) => {
            format!("overall {overall}, long point to long point: before you cut, measure it from there to the {line}")
        }
        (true, false) => format!("overall {overall}: check it to the {line}"),
        (false, true) => format!("before you cut, measure from there to the {line}: {reach}"),
        (false, false) => format!("{reach} to the {line}: check it"),
    };
    // A part that is there already was bent from another length.
    let stands = matches!(wrap.set_out.datum, Datum::TangentMark { station: None, .. });
    let whole = (!from_other_end && !stands).then(|| format!("overall {overall}, long point to long point"));
    [set_out, check].into_iter().chain(whole).collect()
}

/// A place round the tube by its clock angle, and as a tape finds it from the index line at 0 degrees the shorter way round.
fn round_from_zero(line: IndexLine, wrap: &Wrap, figures: Figures) -> String {
    let forward = match wrap.end {
        End::To => line.x,
        End::From => wrap.circumference - line.x,
    };
    let forward = forward.rem_euclid(wrap.circumference);
    let at = figures.clock(line.clock_deg);
    if forward.min(wrap.circumference - forward) < 0.5 {
        return at;
    }
    let (round, towards) =
        if forward <= wrap.circumference / 2.0 { (forward, 90) } else { (wrap.circumference - forward, 270) };
    format!("{at}, {} round the tube from 0 towards {towards}", figures.length(round))
}

/// Clock angle at which the relief line stands furthest back from the outer line; `None` for a rectangular tube, whose clock angles
/// do not grow evenly.
fn deepest_throat(wrap: &Wrap) -> Option<f64> {
    wrap.od?;
    let behind = |[x, y]: &Point| wrap.relief.iter().find_map(|run| height_at(run, *x)).map(|relief| (y - relief, *x));
    let deepest = wrap.outer.iter().flatten().filter_map(behind).max_by(|a, b| a.0.total_cmp(&b.0));
    deepest.map(|(_, x)| match wrap.end {
        End::To => x / wrap.circumference * 360.0,
        End::From => 360.0 - x / wrap.circumference * 360.0,
    })
}

/// What stands before an entry of the legend.
enum Sample {
    Line(Pen),
    Figure,
}

/// What the kinds of lines mean: a drawing that hangs down from its origin, and its height.
pub(super) fn legend(wrap: &Wrap, area: Area, furniture: Furniture) -> (Drawing, f64) {
    const SAMPLE: f64 = 12.0;
    let small = Lettering::Small;
    let mut entries = vec![(
        Some(Sample::Line(Pen::Cut)),
        if wrap.cut == CutKind::Square {
            "trim line: mark it and cut on it; it is the end of the finished part"
        } else {
            "outer line: cut the paper along it, trace that edge on the tube and cut there; what lies beyond it, away from the arrow, is waste"
        },
    )];
    if strip::shows_relief(wrap) {
        entries.push((
            Some(Sample::Line(Pen::Relief)),
            "relief line: how far back a square cut must stand; between the lines grind from the inside only",
        ));
    }
    if wrap.long_point.is_some() || wrap.other_long_point.is_some() {
        entries
            .push((Some(Sample::Line(Pen::Axis)), "long point of this cut; and the other end's long point: draw a line along the tube from there, and set it on that"));
    }
    entries.push((Some(Sample::Line(Pen::Thin)), "index lines: set each on the line of the tube with its number"));
    if !wrap.flats.is_empty() {
        entries.push((
            Some(Sample::Line(Pen::Hidden)),
            "fold lines: edges of the flat sides; between two of them the paper goes round a corner",
        ));
    }
    if !wrap.bevels.is_empty() {
        entries.push((Some(Sample::Figure), "figures along the outer line: angle between the two surfaces, degrees"));
    }
    entries.push((None, "step by step: see the page on how to print, check scale and use a wrap"));
    let mut drawing = Drawing::default();
    let mut y = 0.0;
    for (sample, words) in entries {
        match sample {
            Some(Sample::Line(pen)) => drawing.line([0.0, y - 1.5], [SAMPLE - 2.0, y - 1.5], pen),
            Some(Sample::Figure) => drawing.text(Text::new("90°", [1.0, baseline(y, small)]).lettered(small)),
            None => {}
        }
        for line in break_lines(furniture.letters, words, small, Face::Regular, area.width - SAMPLE) {
            let at = [SAMPLE, baseline(y, small)];
            drawing.text(Text::new(line, at).lettered(small));
            y -= small.leading();
        }
        y -= 0.5;
    }
    (drawing, -y)
}

/// The end that the strip's arrow points to.
pub(super) fn arrow_words(end: End, figures: Figures) -> String {
    format!("to the other end ({} end)", figures.end(other_end(end)))
}
