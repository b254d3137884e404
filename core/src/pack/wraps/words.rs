//! What stands in words beside a wrap: its figures, and what its lines mean.

use super::{Subject, diagram, strip};
use crate::drawing::{Area, Drawing, Face, Lettering, Pen, Text};
use crate::pack::figures::{clock, cut_and_fits, datum, end_name, other_end};
use crate::pack::flow::{baseline, break_lines};
use crate::pack::furniture::Furniture;
use crate::sheets::{End, Wrap};

/// What a wrap fits to, its section and its part number.
pub(super) fn what(wrap: &Wrap, furniture: Furniture) -> String {
    let mut line = format!("{}, section {}", cut_and_fits(&wrap.cut, &wrap.fits), furniture.figures().size(&wrap.size));
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

/// The figures of a wrap, a sentence each.
pub(super) fn facts(subject: Subject, furniture: Furniture) -> Vec<String> {
    let (wrap, row) = (subject.wrap, subject.row);
    let figures = furniture.figures();
    let paper = furniture.issue.print.paper_thickness;
    let square = wrap.other_long_point.is_none();
    let mut facts = vec![
        format!("set-out {} {}", figures.short_length(wrap.set_out.distance), datum(wrap.set_out, square)),
        format!("overall {}, long point to long point", figures.length(wrap.overall)),
    ];
    if let Some(degrees) = row.and_then(|row| row.clock_between_ends_deg) {
        facts.push(format!("clock {} from the from end's long point to the to end's", clock(degrees)));
    }
    if let Some(point) = wrap.long_point {
        facts.push(format!("long point of this cut at {}", clock(point.clock_deg)));
    }
    if let Some(point) = wrap.other_long_point {
        facts.push(format!("furthest point of the other end's cut at {}", clock(point.clock_deg)));
    }
    facts.push(format!("index line 0 deg: the side that faces {} in the frame", wrap.zero_faces));
    facts.push(match wrap.od {
        Some(od) => {
            format!("tube: outer diameter {}, wall {}", figures.fine_length(od), figures.fine_length(wrap.wall))
        }
        None => {
            let corner = diagram::corner_radius(&wrap.flats, wrap.circumference);
            format!("tube: {}, outer corner radius {}", figures.size(&wrap.size), figures.fine_length(corner))
        }
    });
    facts.push(format!(
        "circumference {}, printed width {} to the closure line (paper {} allowed for)",
        figures.fine_length(wrap.circumference),
        figures.fine_length(wrap.on_paper(wrap.circumference, paper)),
        figures.fine_length(paper)
    ));
    if wrap.largest_relief >= 0.05 {
        facts.push(format!("largest throat {}", figures.length(wrap.largest_relief)));
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
            clock(miss.from_deg),
            clock(miss.to_deg),
            figures.length(miss.by)
        ));
    }
    facts
}

/// What the kinds of lines mean: a drawing that hangs down from its origin, and its height.
pub(super) fn legend(wrap: &Wrap, area: Area, furniture: Furniture) -> (Drawing, f64) {
    const SAMPLE: f64 = 12.0;
    let small = Lettering::Small;
    let mut entries = vec![(
        Some(Pen::Cut),
        if wrap.cut == "square" {
            "trim line: mark it and cut on it; it is the end of the finished part"
        } else {
            "outer line: mark it and cut on it; it is where the outside meets"
        },
    )];
    if strip::shows_relief(wrap) {
        entries.push((
            Some(Pen::Relief),
            "relief line: how far back a square cut must stand; between the lines grind from the inside only",
        ));
    }
    if wrap.long_point.is_some() || wrap.other_long_point.is_some() {
        entries
            .push((Some(Pen::Axis), "long point of this cut, and furthest point of the other end's cut, as lettered"));
    }
    entries.push((Some(Pen::Thin), "index lines: set each on the line of the tube with its number"));
    if !wrap.flats.is_empty() {
        entries.push((
            Some(Pen::Hidden),
            "fold lines: edges of the flat sides; between two of them the paper goes round a corner",
        ));
    }
    if !wrap.bevels.is_empty() {
        entries.push((None, "figures along the outer line: angle between the two surfaces, degrees"));
    }
    let mut drawing = Drawing::default();
    let mut y = 0.0;
    for (pen, words) in entries {
        if let Some(pen) = pen {
            drawing.line([0.0, y - 1.5], [SAMPLE - 2.0, y - 1.5], pen);
        } else {
            let at = [1.0, baseline(y, small)];
            drawing.text(Text::new("90°", at).lettered(small));
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
pub(super) fn arrow_words(end: End) -> String {
    format!("to the other end ({} end)", end_name(other_end(end)))
}
