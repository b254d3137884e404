//! What stands in words beside a wrap: its figures, and what its lines mean.
use super::names::height_at;
use super::{Subject, diagram, strip};
use crate::drawing::{Area, Drawing, Lettering, Pen, Point, Text, Weight};
use crate::frame::CutKind;
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::{baseline, break_lines};
use crate::sheets::{Datum, End, IndexLine, Wrap};

/// What a wrap fits to, its section and its part number.
pub(super) fn what(wrap: &Wrap, furniture: Furniture) -> String {
    let say = &furniture.words.wrap;
    let (cut, size) = (furniture.figures().cut_and_fits(wrap.cut, &wrap.fits), furniture.figures().size(wrap.size));
    match wrap.part_number.as_str() {
        "" => say.what(cut, size),
        number => say.what_with_number(cut, size, number),
    }
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
            break_lines(furniture.letters, fact, lettering, Weight::Regular, column.width - 3.0).iter().enumerate()
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
    let (figures, say) = (furniture.figures(), &furniture.words.wrap);
    let paper = furniture.issue.print.paper_thickness;
    let mut facts = barred::of_part(&wrap.member, furniture);
    if let Some((opposite, number)) = subject.opposite {
        facts.push(if is_full { say.handed(opposite, number) } else { say.handed_in_short(opposite, number) });
    }
    facts.extend(subject.trimmed.map(|trimmed| trimmed.words(furniture)));
    facts.extend(lengths(subject, wording, figures));
    if let Some(degrees) = row.and_then(|row| row.clock_between_ends_deg) {
        let clock = figures.clock(degrees);
        facts.push(if is_full { say.clock(clock) } else { say.clock_in_short(clock) });
    }
    let at =
        |point: IndexLine| if is_full { round_from_zero(point, wrap, figures) } else { figures.clock(point.clock_deg) };
    if let Some(point) = wrap.long_point {
        facts.push(say.this_long_point(at(point)));
    }
    if let Some(point) = wrap.other_long_point {
        facts.push(say.other_long_point(at(point)));
    }
    let zero = figures.facing(wrap.zero_faces);
    facts.push(if is_full { say.index_line(zero) } else { say.index_line_in_short(zero) });
    facts.push(match wrap.od {
        Some(od) => say.round_tube(figures.fine_length(od), figures.fine_length(wrap.wall)),
        None => {
            let corner = diagram::corner_radius(&wrap.flats, wrap.circumference);
            say.rectangular_tube(figures.size(wrap.size), figures.fine_length(corner))
        }
    });
    let printed = figures.fine_length(wrap.on_paper(wrap.circumference, paper));
    let circumference = figures.fine_length(wrap.circumference);
    facts.push(if is_full {
        say.circumference(circumference, printed, figures.fine_length(paper))
    } else {
        say.circumference_in_short(circumference, printed)
    });
    if wrap.largest_relief >= 0.05 {
        let back = figures.length(wrap.largest_relief);
        facts.push(match deepest_throat(wrap) {
            Some(degrees) => say.throat_at(back, figures.clock(degrees)),
            None => say.throat(back),
        });
    }
    for hole in &wrap.holes {
        let diameter = format!("{} {}", figures.fine(hole.diameter), figures.unit());
        facts.push(say.hole(&hole.hole, diameter, figures.length(hole.at[1])));
    }
    for miss in &wrap.misses {
        let [from, to] = [miss.from_deg, miss.to_deg].map(|degrees| figures.clock(degrees));
        facts.push(say.misses(from, to, figures.length(miss.by)));
    }
    facts
}

/// What is measured along the tube.
fn lengths(subject: Subject, wording: Wording, figures: Figures) -> Vec<String> {
    let (wrap, is_full, say) = (subject.wrap, wording == Wording::Full, &figures.words.wrap);
    let square = wrap.other_long_point.is_none();
    let from_other_end = wrap.set_out.datum == Datum::OtherEnd;
    let (distance, datum) = (figures.short_length(wrap.set_out.distance), figures.datum(wrap.set_out, square));
    // A sawn end with nothing left long stands where the long point of its cut will be.
    let left_long = subject.row.map(|row| row.leave_long[wrap.end.other().position()]);
    let set_out = if is_full && !square && from_other_end && left_long == Some(0.0) {
        say.set_out_or_sawn_end(distance, datum)
    } else {
        say.set_out(distance, datum)
    };
    let overall = figures.length(wrap.overall);
    let reach = figures.length(wrap.set_out.distance + strip::highest(wrap));
    let check = match (from_other_end, is_full, wrap.cut == CutKind::Square) {
        (true, true, true) => say.overall_to_trim_line(&overall),
        (true, true, false) => say.overall_to_outer_line(&overall),
        (true, false, true) => say.overall_to_trim_line_in_short(&overall),
        (true, false, false) => say.overall_to_outer_line_in_short(&overall),
        (false, true, true) => say.reach_to_trim_line(reach),
        (false, true, false) => say.reach_to_outer_line(reach),
        (false, false, true) => say.reach_to_trim_line_in_short(reach),
        (false, false, false) => say.reach_to_outer_line_in_short(reach),
    };
    // A part that is there already was bent from another length.
    let stands = matches!(wrap.set_out.datum, Datum::TangentMark { station: None, .. });
    let whole = (!from_other_end && !stands).then(|| say.overall(overall));
    [set_out, check].into_iter().chain(whole).collect()
}

/// A place round the tube by its clock angle, and as a tape finds it from the index line at 0 degrees the shorter way round.
fn round_from_zero(line: IndexLine, wrap: &Wrap, figures: Figures) -> String {
    let forward = match wrap.end {
        End::To => line.x,
        End::From => wrap.circumference - line.x,
    };
    figures.round_from_zero(line.clock_deg, forward, wrap.circumference)
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
    let (small, say) = (Lettering::Small, &furniture.words.wrap_legend);
    let mut entries = vec![(
        Some(Sample::Line(Pen::Cut)),
        if wrap.cut == CutKind::Square { say.trim_line() } else { say.outer_line() },
    )];
    if strip::shows_relief(wrap) {
        entries.push((Some(Sample::Line(Pen::Relief)), say.relief_line()));
    }
    if wrap.long_point.is_some() || wrap.other_long_point.is_some() {
        entries.push((Some(Sample::Line(Pen::Axis)), say.long_points()));
    }
    entries.push((Some(Sample::Line(Pen::Thin)), say.index_lines()));
    if !wrap.flats.is_empty() {
        entries.push((Some(Sample::Line(Pen::Hidden)), say.fold_lines()));
    }
    if !wrap.bevels.is_empty() {
        entries.push((Some(Sample::Figure), say.bevels()));
    }
    entries.push((None, say.step_by_step()));
    let mut drawing = Drawing::default();
    let mut y = 0.0;
    for (sample, words) in entries {
        match sample {
            Some(Sample::Line(pen)) => drawing.line([0.0, y - 1.5], [SAMPLE - 2.0, y - 1.5], pen),
            Some(Sample::Figure) => drawing.text(Text::new("90°", [1.0, baseline(y, small)]).lettered(small)),
            None => {}
        }
        for line in break_lines(furniture.letters, words, small, Weight::Regular, area.width - SAMPLE) {
            let at = [SAMPLE, baseline(y, small)];
            drawing.text(Text::new(line, at).lettered(small));
            y -= small.leading();
        }
        y -= 0.5;
    }
    (drawing, -y)
}
