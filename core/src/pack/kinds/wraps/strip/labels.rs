//! What is lettered within a strip wherever it stands free: lines, bevels, holes, flat sides and what misses.

use super::{Layout, MISS, shows_relief};
use crate::drawing::{Anchor, Area, Drawing, Lettering, Pen, Point, Text, Turn};
use crate::frame::CutKind;
use crate::pack::kinds::wraps::names::{bevel_figure, height_at, name_line, slope_at, some_of};
use crate::pack::layout::free_place::Occupied;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::hole_marks;
use crate::sheets::Miss;

impl Layout<'_> {
    /// Names of the holes where they stand free.
    pub(super) fn name_holes(&self, drawing: &mut Drawing, centres: &[Point], furniture: Furniture) {
        if centres.is_empty() {
            return;
        }
        let bounds = Area { x: 0.4, y: 0.5, width: self.closure - 0.8, height: self.top - 1.0 };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut placed = Drawing::default();
        for (hole, centre) in self.wrap.holes.iter().zip(centres) {
            let words = furniture.words.strips.drill(furniture.figures().fine(hole.diameter), &hole.hole);
            hole_marks::name(&words, *centre, hole.diameter, &mut occupied, &mut placed);
        }
        drawing.append(placed);
    }

    /// The flat sides of a rectangular tube, each called by its clock angle.
    pub(super) fn name_sides(&self, drawing: &mut Drawing, words_top: f64, furniture: Furniture) {
        if self.wrap.flats.is_empty() {
            return;
        }
        let bounds = Area { x: 0.4, y: words_top, width: self.closure - 0.8, height: self.top - words_top - 0.3 };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut placed = Drawing::default();
        for side in &self.wrap.flats {
            let (from, to) = (self.on_paper(side.from), self.on_paper(side.to));
            let words = furniture.words.wrap_strip.side(self.figures.short_tenths(side.clock_deg));
            let upright = |share: f64, y: f64| {
                let at = [from + share * (to - from) + 0.9, y];
                Text::new(words.as_str(), at).lettered(Lettering::Small).turned(Turn::Quarter)
            };
            let level = |share: f64, y: f64| {
                let at = [from + share * (to - from), y];
                Text::new(words.as_str(), at).lettered(Lettering::Small).anchored(Anchor::Middle)
            };
            let steps = (0..40_u8).map(|step| words_top + 1.0 + f64::from(step));
            let tries = steps.flat_map(|y| {
                let shares = [0.25, 0.75, 0.5];
                shares.map(|share| level(share, y)).into_iter().chain(shares.map(|share| upright(share, y)))
            });
            if let Some(text) = tries.into_iter().find(|text| occupied.is_free(text)) {
                occupied.take(&text);
                placed.text(text);
            }
        }
        drawing.append(placed);
    }

    /// A bracket above the lines over each part of the wall that misses.
    pub(super) fn misses(&self, drawing: &mut Drawing) {
        let y = self.top - MISS;
        for (from, to) in self.wrap.misses.iter().flat_map(|m| self.miss_spans(m)) {
            drawing.line([from, y], [to, y], Pen::Measure);
            for x in [from, to] {
                drawing.line([x, y - 1.2], [x, y + 1.2], Pen::Measure);
            }
        }
    }

    /// The stretches of the strip over which the wall misses: one, or two where the seam lies within.
    fn miss_spans(&self, miss: &Miss) -> Vec<(f64, f64)> {
        let places = (self.place_of(miss.from_deg), self.place_of(miss.to_deg));
        let (Some(a), Some(b)) = places else {
            return Vec::new();
        };
        let (low, high) = (a.min(b), a.max(b));
        // Between two clock angles there are two ways round; the miss takes the one of its own length.
        let long = (miss.to_deg - miss.from_deg) / 360.0 * self.closure;
        if (high - low - long).abs() < 0.5 { vec![(low, high)] } else { vec![(0.0, low), (high, self.closure)] }
    }

    /// Place of a clock angle on the print, reckoned from the index lines.
    fn place_of(&self, clock_deg: f64) -> Option<f64> {
        let find = |degrees: f64| {
            let lines = &self.wrap.index_lines;
            lines.iter().find(|line| (line.clock_deg - degrees).abs() < 1e-6)
        };
        let (zero, quarter) = (find(0.0)?, find(90.0)?);
        let round = self.wrap.circumference;
        let forward = (quarter.x - zero.x).rem_euclid(round) < round / 2.0;
        let along = clock_deg / 360.0 * round * if forward { 1.0 } else { -1.0 };
        Some(self.on_paper((zero.x + along).rem_euclid(round)))
    }

    /// Names of the two lines and bevel figures, wherever they stand free.
    pub(super) fn name_lines(&self, drawing: &mut Drawing, words_top: f64, furniture: Furniture) {
        let bounds = Area { x: 0.4, y: words_top, width: self.closure - 0.8, height: self.top - words_top - 0.3 };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut placed = Drawing::default();
        let say = &furniture.words.wrap_strip;
        let outer: Vec<Point> = self.wrap.outer.iter().flat_map(|r| self.printed(r)).collect();
        if shows_relief(self.wrap) {
            let relief: Vec<Point> = self.wrap.relief.iter().flat_map(|r| self.printed(r)).collect();
            // Only where the two lines stand well apart, so that the name cannot be taken for the other's.
            let gap = |p: &Point| height_at(&outer, p[0]).map_or(0.0, |y| y - p[1]);
            let mut apart: Vec<(f64, Point)> = some_of(&relief).map(|p| (gap(&p), p)).collect();
            apart.sort_by(|(a, p), (b, q)| b.total_cmp(a).then(p[0].total_cmp(&q[0])));
            let widest = apart.first().map_or(0.0, |(gap, _)| *gap);
            apart.retain(|(gap, _)| *gap > 0.4 * widest);
            let relief: Vec<Point> = apart.into_iter().map(|(_, p)| p).collect();
            name_line(say.relief_line(), &relief, -1.0, &mut occupied, &mut placed);
        }
        let mut spread: Vec<Point> = some_of(&outer).collect();
        spread.sort_by(|a, b| b[1].total_cmp(&a[1]).then(a[0].total_cmp(&b[0])));
        let name = if self.wrap.cut == CutKind::Square { say.trim_line() } else { say.outer_line() };
        name_line(name, &spread, 1.0, &mut occupied, &mut placed);
        for bevel in &self.wrap.bevels {
            let at = [self.on_paper(bevel.x), bevel.y];
            let slope = slope_at(&outer, at[0]);
            bevel_figure(bevel.dihedral_deg, at, slope, &mut occupied, &mut placed);
        }
        let lowest = spread.iter().rev();
        let waste = lowest
            .flat_map(|[x, y]| [3.0, 5.0, 8.0].map(|off| [*x, y + off]))
            .map(|at| Text::new(say.waste(), at).lettered(Lettering::Small).anchored(Anchor::Middle));
        if let Some(text) = waste.into_iter().find(|text| occupied.is_free(text)) {
            occupied.take(&text);
            placed.text(text);
        }
        for miss in &self.wrap.misses {
            let words = say.misses(furniture.figures().length(miss.by));
            for (a, b) in self.miss_spans(miss) {
                let below = [0.5, 0.3, 0.7, 0.15, 0.85].map(|share| [a + share * (b - a), self.top - MISS]);
                name_line(&words, &below, -1.0, &mut occupied, &mut placed);
            }
        }
        drawing.append(placed);
    }
}
