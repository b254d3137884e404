//! The lengthwise lines of a strip: index lines with their numbers, folds, and the lines of the long points.

use super::long_points::LongPoint;
use super::{Layout, SAME, TICK};
use crate::drawing::{Anchor, Area, Drawing, Lettering, Pen, Text};
use crate::pack::layout::furniture::Furniture;
use crate::render::Letters;

impl Layout<'_> {
    /// Index lines and long points: ticks at the base line, then from above the words to the upper edge.
    pub(super) fn lengthwise_lines(
        &self,
        drawing: &mut Drawing,
        long_points: &[LongPoint],
        words_top: f64,
        furniture: Furniture,
    ) {
        let on_edge = |x: f64| x < SAME || (x - self.closure).abs() < SAME;
        let on_axis = |x: f64| long_points.iter().any(|point| (point.x - x).abs() < SAME);
        let index: Vec<(f64, f64)> =
            self.wrap.index_lines.iter().map(|line| (self.on_paper(line.x), line.clock_deg)).collect();
        let plain = index.iter().map(|(x, _)| (*x, Pen::Thin));
        let axes = long_points.iter().map(|point| (point.x, Pen::Axis));
        let edges = self.wrap.flats.iter().flat_map(|side| [side.from, side.to]);
        let folds = edges.map(|x| (self.on_paper(x), Pen::Hidden));
        let inner: Vec<(f64, Pen)> =
            plain.chain(folds).filter(|(x, _)| !on_axis(*x)).chain(axes).filter(|(x, _)| !on_edge(*x)).collect();
        let mut firm = vec![0.0, self.closure];
        firm.extend(index.iter().map(|(x, _)| *x));
        let mut ticks = firm.clone();
        ticks.extend(inner.iter().map(|(x, _)| *x));
        let mut numbers: Vec<Text> = Vec::new();
        for &(x, clock_deg) in &index {
            let words = format!("{}°", self.figures.short_tenths(clock_deg));
            let places = if on_edge(x) { vec![0.0, self.closure] } else { vec![x] };
            for place in places {
                // At best clear of all ticks; where they crowd, the tick of a long point gives way.
                let find = |ticks: &[f64]| {
                    index_label(&words, place, furniture.letters, |area| {
                        area.x > 0.0
                            && area.right() < self.closure
                            && ticks.iter().all(|t| *t <= area.x || *t >= area.right())
                            && !numbers.iter().any(|other| furniture.letters.area(other).overlaps(area))
                    })
                };
                let number = find(&ticks).or_else(|| find(&firm)).or_else(|| find(&[]));
                numbers.extend(number);
            }
        }
        for (x, pen) in inner {
            // A tick that would run through a number stops below it.
            let crosses = numbers.iter().any(|number| {
                let area = furniture.letters.area(number);
                x > area.x - 0.2 && x < area.right() + 0.2
            });
            let end = if crosses { 0.8 } else { TICK - 0.5 };
            // Where a long point falls on an index line, the tick at the foot is that of the index line.
            let foot = index.iter().map(|(at, _)| *at).find(|at| (at - x).abs() < SAME);
            drawing.line(
                [foot.unwrap_or(x), 0.0],
                [foot.unwrap_or(x), end],
                if foot.is_some() { Pen::Thin } else { pen },
            );
            drawing.line([x, words_top], [x, self.top], pen);
        }
        for number in numbers {
            drawing.text(number);
        }
    }
}

/// The number of an index line at its tick: on the side and in the height that is free, with a little clearance.
fn index_label(words: &str, x: f64, letters: &Letters, is_free: impl Fn(&Area) -> bool) -> Option<Text> {
    const OFF: f64 = 1.2;
    let label = |lettering: Lettering, right: bool| {
        let text = Text::new(words, [if right { x + OFF } else { x - OFF }, 1.6]);
        let anchor = if right { Anchor::Start } else { Anchor::End };
        text.lettered(lettering).anchored(anchor)
    };
    [Lettering::Body, Lettering::Small]
        .into_iter()
        .flat_map(|lettering| [label(lettering, true), label(lettering, false)])
        .find(|text| is_free(&letters.area(text).inset(-0.4)))
}
