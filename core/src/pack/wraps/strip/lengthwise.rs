//! The lengthwise lines of a strip: index lines with their numbers, folds, and the long points with their names.

use super::{Layout, SAME, TAB, TICK, degrees};
use crate::drawing::{Anchor, Area, Drawing, Face, Lettering, Pen, Text};
use crate::pack::furniture::Furniture;
use crate::render::Letters;
use crate::sheets::IndexLine;

impl Layout<'_> {
    /// Index lines and long points: ticks at the base line, then from above the words to the upper edge.
    pub(super) fn lengthwise_lines(&self, drawing: &mut Drawing, words_top: f64, furniture: Furniture) {
        let long_points = self.long_points();
        let on_edge = |x: f64| x < SAME || (x - self.closure).abs() < SAME;
        let on_axis = |x: f64| long_points.iter().any(|(at, _)| (at - x).abs() < SAME);
        let index: Vec<(f64, f64)> =
            self.wrap.index_lines.iter().map(|line| (self.on_paper(line.x), line.clock_deg)).collect();
        let plain = index.iter().map(|(x, _)| (*x, Pen::Thin));
        let axes = long_points.iter().map(|(x, _)| (*x, Pen::Axis));
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
            let words = format!("{}°", degrees(clock_deg));
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
        self.name_long_points(drawing, &long_points, furniture);
    }

    /// Where the long points lie, with their names; one entry when both lie on one line.
    pub(super) fn long_points(&self) -> Vec<(f64, String)> {
        let named =
            |line: IndexLine, name: &str| (self.on_paper(line.x), format!("{name}, {}°", degrees(line.clock_deg)));
        match (self.wrap.long_point, self.wrap.other_long_point) {
            (Some(a), Some(b)) if (self.on_paper(a.x) - self.on_paper(b.x)).abs() < SAME => {
                vec![named(a, "long points of both cuts")]
            }
            (this, other) => {
                let this = this.map(|line| named(line, "long point of this cut"));
                this.into_iter().chain(other.map(|line| named(line, "other end's long point"))).collect()
            }
        }
    }

    /// Names above the strip, each over its own line. Of two, the lower one keeps clear of the leader of the higher one.
    fn name_long_points(&self, drawing: &mut Drawing, long_points: &[(f64, String)], furniture: Furniture) {
        let end = self.closure + TAB;
        let width = |name: &str| {
            let letters = furniture.letters;
            letters.width(name, Lettering::Body, Face::Regular)
        };
        let mut name_over = |(x, name): &(f64, String), low: f64, high: f64, y: f64| {
            let start = (x - width(name) / 2.0).min(high - width(name)).max(low);
            drawing.text(Text::new(name.as_str(), [start, y]));
        };
        let (first, second) = (self.top + 1.6, self.top + 6.2);
        match long_points {
            [only] => name_over(only, 0.0, end, first),
            [a, b] => {
                let side = |lower: f64, higher: f64| {
                    if lower < higher { (0.0, higher - 1.0) } else { (higher + 1.0, end) }
                };
                let fits = |lower: &(f64, String), higher: &(f64, String)| {
                    let (low, high) = side(lower.0, higher.0);
                    high - low >= width(&lower.1)
                };
                let (lower, higher) = if fits(a, b) { (a, b) } else { (b, a) };
                let leads = fits(lower, higher);
                let (low, high) = if leads { side(lower.0, higher.0) } else { (0.0, end) };
                name_over(lower, low, high, first);
                name_over(higher, 0.0, end, second);
                if leads {
                    drawing.line([higher.0, self.top], [higher.0, second - 1.0], Pen::Axis);
                }
            }
            _ => {}
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
