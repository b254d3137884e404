//! The words at the foot of a strip, on what stays on the tube: what it is, where it goes, and whose it is.

use super::{Layout, TICK};
use crate::drawing::{Area, Drawing, Lettering, Path, Pen, Text, Weight};
use crate::pack::Status;
use crate::pack::kinds::wraps::Subject;
use crate::pack::kinds::wraps::names::height_at;
use crate::pack::layout::free_place::Occupied;
use crate::pack::layout::furniture::{CutOut, Furniture};
use crate::pack::layout::lines::{baseline, break_lines};

/// From the left end of the words' room to the words, right of the arrow, mm.
const LEFT: f64 = 11.0;

/// What the words came to.
pub(super) struct Foot {
    /// The height that they reach.
    pub(super) top: f64,
    /// Whose the piece is, a fact each, where they had no room for it.
    pub(super) left_out: Vec<String>,
}

type LabelLine = (String, Lettering, Weight);

impl Layout<'_> {
    /// Mark, whose it is, base line, arrow and facts of issue, as far as there is room for them below the lines and
    /// `reserved` mm; where they take that too, what it is for finds another place.
    pub(super) fn words(&self, subject: Subject, reserved: f64, drawing: &mut Drawing, furniture: Furniture) -> Foot {
        let wrap = self.wrap;
        let (from, to) = self.words_span();
        let width = to - from - LEFT - 2.0;
        let mark = furniture.words.page.end_of(&wrap.member, furniture.figures().end(wrap.end));
        let in_one_line = |lettering: &Lettering| furniture.letters.width(&mark, *lettering, Weight::Bold) <= width;
        let lettering = [Lettering::Heading, Lettering::Body].into_iter().find(in_one_line).unwrap_or(Lettering::Small);
        let (figures, say) = (furniture.figures(), &furniture.words.wrap_strip);
        let datum = figures.datum(wrap.set_out, wrap.other_long_point.is_none());
        let base = say.base_line(figures.short_length(wrap.set_out.distance), datum);
        let piece = CutOut::of_tube(&wrap.part_number, Some(wrap.overall), figures);
        let [whose, short] = furniture.facts_of_piece(&piece);
        let mut lines: Vec<LabelLine> = vec![(mark, lettering, Weight::Bold)];
        if furniture.issue.status == Status::Draft {
            lines.push((furniture.words.page.draft_mark().to_owned(), Lettering::Body, Weight::Bold));
        }
        let (mark_at, whose_at) = (0, lines.len());
        let [base_at, arrow_at] = [1, 2].map(|after| whose_at + after);
        lines.extend([
            (whose.join(", "), Lettering::Small, Weight::Bold),
            (base, Lettering::Body, Weight::Regular),
            (say.arrow(figures.end(wrap.end.other())), Lettering::Body, Weight::Bold),
            (facts_of_part(subject, furniture), Lettering::Small, Weight::Regular),
        ]);
        let broken = |text: &str, lettering: Lettering, face: Weight| -> Vec<LabelLine> {
            let broken = break_lines(furniture.letters, text, lettering, face, width);
            broken.into_iter().map(|line| (line, lettering, face)).collect()
        };
        let mut chosen: Vec<_> = lines.iter().map(|(text, lettering, face)| broken(text, *lettering, *face)).collect();
        let whole = self.lowest() - 1.8 - TICK;
        let mut room = whole - reserved;
        // In smaller letters where there is no room, what is measured by last; then without the last lines, and at last in short.
        for (index, lettering) in [
            (arrow_at, Lettering::Small),
            (mark_at, Lettering::Body),
            (base_at, Lettering::Small),
            (mark_at, Lettering::Small),
        ] {
            let (text, before, face) = &lines[index];
            if lettering < *before && height_of(&chosen) > room {
                chosen[index] = broken(text, lettering, *face);
            }
        }
        if height_of(&chosen) > room {
            chosen.pop();
        }
        if height_of(&chosen) > room {
            chosen[whose_at] = broken(&short.join(" "), Lettering::Small, Weight::Bold);
        }
        if height_of(&chosen) > room {
            room = whole;
        }
        let mut left_out = Vec::new();
        if height_of(&chosen) > room {
            chosen[whose_at].clear();
            left_out = short;
        }
        while height_of(&chosen) > room {
            chosen.pop();
        }
        if chosen.is_empty() {
            return Foot { top: TICK, left_out };
        }
        let top = TICK + height_of(&chosen);
        let mut y = top;
        for (line, lettering, face) in chosen.into_iter().flatten() {
            let mut text = Text::new(line, [from + LEFT, baseline(y, lettering)]).lettered(lettering);
            text.face = face;
            drawing.text(text);
            y -= lettering.leading();
        }
        arrow_down(drawing, from + 6.0, top - 1.0, TICK + 0.5);
        Foot { top: top + 1.0, left_out }
    }

    /// Words that found no room at the foot, each wherever it stands free below the outer line.
    pub(super) fn anywhere_kept(&self, words: &[String], drawing: &mut Drawing, furniture: Furniture) {
        let outer: Vec<_> = self.wrap.outer.iter().flat_map(|run| self.printed(run)).collect();
        let bounds = Area { x: 0.4, y: 0.4, width: self.closure - 0.8, height: self.top };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let is_kept = |area: &Area| {
            let places = (0..=8_u8).map(|step| area.x + f64::from(step) / 8.0 * area.width);
            places.into_iter().all(|x| height_at(&outer, x).is_some_and(|y| y > area.top() + 0.5))
        };
        for word in words {
            let places = (0..80_u8).flat_map(|up| (0..40_u8).map(move |right| [f64::from(right), f64::from(up)]));
            let mut tries = places.map(|[right, up]| {
                let at = [0.8 + right * self.closure / 40.0, 0.8 + up * self.top / 80.0];
                Text::new(word.as_str(), at).lettered(Lettering::Small).bold()
            });
            if let Some(text) = tries.find(|text| occupied.is_free(text) && is_kept(&furniture.letters.area(text))) {
                occupied.take(&text);
                drawing.text(text);
            }
        }
    }
}

/// What lines of lettering take one below the other, mm.
fn height_of(lines: &[Vec<LabelLine>]) -> f64 {
    lines.iter().flatten().map(|(_, lettering, _)| lettering.leading()).sum()
}

/// What the part must not be taken for, and the facts of issue.
fn facts_of_part(subject: Subject, furniture: Furniture) -> String {
    let hand = subject.opposite.map(|(opposite, _)| furniture.words.wrap_strip.not_for(opposite));
    let facts = Some(furniture.facts_of_issue());
    [hand, facts].into_iter().flatten().collect::<Vec<_>>().join("; ")
}

fn arrow_down(drawing: &mut Drawing, x: f64, from: f64, to: f64) {
    drawing.line([x, from], [x, to + 3.0], Pen::Cut);
    drawing.path(Path::triangle([[x, to], [x - 1.6, to + 3.4], [x + 1.6, to + 3.4]]));
}
