//! Dimensions below and beside a view (ISO 129-1), the shorter ones nearer to it.

use super::plot::Plot;
use crate::drawing::{Drawing, Lettering, Pen, Point, Weight};
use crate::pack::layout::dimension::{Side, level, upright};
use crate::render::Letters;

/// From the view to the first dimension line, and from one to the next, mm.
const FIRST: f64 = 8.0;
const NEXT: f64 = 6.5;
/// From an outline to its extension line, and how far that runs past the dimension line, mm.
const OFF: f64 = 1.0;
const PAST: f64 = 1.2;

/// A dimension between two places of a view.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Measure {
    /// Where its extension lines start, in the view.
    pub(super) feet: [Point; 2],
    pub(super) words: String,
}

impl Measure {
    fn span(&self, axis: usize) -> [f64; 2] {
        let [a, b] = self.feet.map(|foot| foot[axis]);
        [a.min(b), a.max(b)]
    }

    fn length(&self, axis: usize) -> f64 {
        let [from, to] = self.span(axis);
        to - from
    }
}

/// The rows in which measures stand at a scale, nearest to the view first; those too short for their figure are left out.
pub(super) fn rows<'a>(measures: &'a [Measure], axis: usize, scale: f64, letters: &Letters) -> Vec<Vec<&'a Measure>> {
    let fits = |measure: &&Measure| {
        measure.length(axis) / scale > letters.width(&measure.words, Lettering::Body, Weight::Regular) + 6.0
    };
    let mut sorted: Vec<&Measure> = measures.iter().filter(fits).collect();
    sorted.sort_by(|a, b| a.length(axis).total_cmp(&b.length(axis)));
    let mut rows: Vec<Vec<&Measure>> = Vec::new();
    for measure in sorted {
        let [from, to] = measure.span(axis);
        let is_beside = |other: &&Measure| {
            let [first, last] = other.span(axis);
            to <= first || last <= from
        };
        // A longer one never stands nearer than a shorter one within it.
        let inner = rows.iter().rposition(|row| !row.iter().all(is_beside)).map_or(0, |row| row + 1);
        // Nor does its extension line run through the figure of one that is nearer.
        let cuts = |other: &&Measure| {
            let [first, last] = other.span(axis);
            let half = scale * (letters.width(&other.words, Lettering::Body, Weight::Regular) / 2.0 + 0.6);
            [from, to].iter().any(|foot| (foot - f64::midpoint(first, last)).abs() < half)
        };
        if rows[..inner].iter().flatten().any(cuts) {
            continue;
        }
        match rows.get_mut(inner) {
            Some(row) => row.push(measure),
            None => rows.push(vec![measure]),
        }
    }
    rows
}

/// What so many rows take beside a view, mm.
pub(super) fn depth(rows: usize) -> f64 {
    if rows == 0 { 0.0 } else { (1..rows).fold(FIRST, |depth, _| depth + NEXT) + PAST + 3.0 }
}

/// Draws level dimensions below a view.
pub(super) fn draw_level(plot: &Plot, rows: &[Vec<&Measure>], drawing: &mut Drawing) {
    let mut y = plot.frame().y - FIRST;
    for row in rows {
        for measure in row {
            let feet = measure.feet.map(|foot| plot.place(foot));
            for [x, foot] in feet {
                drawing.line([x, foot - OFF], [x, y - PAST], Pen::Thin);
            }
            let [from, to] = [feet[0][0].min(feet[1][0]), feet[0][0].max(feet[1][0])];
            level(drawing, [from, y], to, &measure.words, Side::Above);
        }
        y -= NEXT;
    }
}

/// Draws upright dimensions to the right of a view.
pub(super) fn draw_upright(plot: &Plot, rows: &[Vec<&Measure>], drawing: &mut Drawing) {
    let mut x = plot.frame().right() + FIRST;
    for row in rows {
        for measure in row {
            let feet = measure.feet.map(|foot| plot.place(foot));
            for [foot, y] in feet {
                drawing.line([foot + OFF, y], [x + PAST, y], Pen::Thin);
            }
            let [from, to] = [feet[0][1].min(feet[1][1]), feet[0][1].max(feet[1][1])];
            upright(drawing, [x, from], to, &measure.words);
        }
        x += NEXT;
    }
}
