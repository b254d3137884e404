//! The names of the long points, each under its own line and on what stays on the tube.

use super::{Layout, SAME};
use crate::drawing::{Area, Drawing, Lettering, Pen, Text, Weight};
use crate::pack::layout::free_place::Occupied;
use crate::pack::layout::furniture::Furniture;
use crate::render::Letters;
use crate::sheets::IndexLine;
use crate::words::groups::wrap_strip::WrapStrip;

/// Between two names in one row, and from a name to the line of the other, mm.
const APART: f64 = 1.5;

/// A long point on the strip and the place of its name.
pub(super) struct LongPoint {
    /// Where its line runs.
    pub(super) x: f64,
    name: String,
    /// Left end of the name.
    start: f64,
    /// 0 right under the lines, 1 a row further down.
    row: u8,
    /// Whether its line is led down to a name that stands further down.
    is_led: bool,
}

/// What the names of long points take above the words, mm.
pub(super) fn height_of(points: &[LongPoint]) -> f64 {
    let rows = points.iter().map(|point| point.row + 1).max().unwrap_or(0);
    f64::from(rows) * Lettering::Small.leading()
}

impl Layout<'_> {
    /// Where the long points lie, with their names; one entry when both lie on one line.
    pub(super) fn long_points(&self, letters: &Letters) -> Vec<LongPoint> {
        let say = &self.figures.words.wrap_strip;
        let at = |line: IndexLine, names: [fn(&WrapStrip, String) -> String; 2]| Named {
            x: self.on_paper(line.x),
            names: names.map(|name| name(say, self.figures.short_tenths(line.clock_deg))),
        };
        let this_names = [WrapStrip::this_long_point, WrapStrip::this_long_point_in_short];
        let other_names = [WrapStrip::other_long_point, WrapStrip::other_long_point_in_short];
        let both_names = [WrapStrip::both_long_points, WrapStrip::both_long_points_in_short];
        let room = Room { low: 0.8, high: self.closure - 0.8, letters };
        match (self.wrap.long_point, self.wrap.other_long_point) {
            (Some(a), Some(b)) if (self.on_paper(a.x) - self.on_paper(b.x)).abs() < SAME => {
                vec![room.one(&at(a, both_names))]
            }
            (Some(this), Some(other)) => room.two([&at(this, this_names), &at(other, other_names)]),
            (this, other) => {
                let this = this.map(|line| at(line, this_names));
                let other = other.map(|line| at(line, other_names));
                this.iter().chain(&other).map(|point| room.one(point)).collect()
            }
        }
    }

    /// Writes the names above the words, which reach up to `foot`; returns where the lines begin, and the names that found no place
    /// there.
    pub(super) fn name_long_points(
        &self,
        points: &[LongPoint],
        foot: f64,
        drawing: &mut Drawing,
        furniture: Furniture,
    ) -> (f64, Vec<String>) {
        let height = height_of(points);
        if foot + height > self.lowest() - 0.3 {
            return (foot, points.iter().map(|point| point.name.clone()).collect());
        }
        let (leading, top) = (Lettering::Small.leading(), foot + height);
        let bounds = Area { x: 0.4, y: 0.0, width: self.closure - 0.8, height: self.top };
        let mut occupied = Occupied::new(furniture.letters, bounds, drawing);
        let mut left_out = Vec::new();
        for point in points {
            let y = top - f64::from(point.row + 1) * leading + 0.7;
            let text = Text::new(point.name.as_str(), [point.start, y]).lettered(Lettering::Small);
            if !occupied.is_free(&text) {
                left_out.push(point.name.clone());
                continue;
            }
            occupied.take(&text);
            drawing.text(text);
            if point.row > 0 && point.is_led {
                drawing.line([point.x, top], [point.x, y + leading - 0.9], Pen::Axis);
            }
        }
        (top, left_out)
    }
}

/// A long point with its name in full and in short.
struct Named {
    x: f64,
    names: [String; 2],
}

/// Where names may stand across the strip.
struct Room<'a> {
    low: f64,
    high: f64,
    letters: &'a Letters,
}

impl Room<'_> {
    fn width(&self, name: &str) -> f64 {
        self.letters.width(name, Lettering::Small, Weight::Regular)
    }

    /// A name with its middle under its line as nearly as it can be between two ends; `None` where it is too wide for that.
    fn between(&self, x: f64, name: &str, [low, high]: [f64; 2]) -> Option<f64> {
        let width = self.width(name);
        (high - low >= width).then(|| (x - width / 2.0).min(high - width).max(low))
    }

    fn one(&self, point: &Named) -> LongPoint {
        let [full, short] = &point.names;
        let room = [self.low, self.high];
        let place = |name: &String| self.between(point.x, name, room).map(|start| (name.clone(), start));
        let (name, start) = place(full).or_else(|| place(short)).unwrap_or_else(|| (short.clone(), self.low));
        LongPoint { x: point.x, name, start, row: 0, is_led: true }
    }

    fn two(&self, points: [&Named; 2]) -> Vec<LongPoint> {
        let placed = |length: usize| self.in_one_row(points, length).or_else(|| self.stacked(points, length));
        let free = |row: u8| LongPoint { row, is_led: false, ..self.one(points[usize::from(row)]) };
        placed(0).or_else(|| placed(1)).unwrap_or_else(|| vec![free(0), free(1)])
    }

    /// Both in one row, each under its own line, the left one left.
    fn in_one_row(&self, points: [&Named; 2], length: usize) -> Option<Vec<LongPoint>> {
        let [left, right] = if points[0].x < points[1].x { points } else { [points[1], points[0]] };
        let wide = self.width(&left.names[length]);
        let furthest = right.x.min(self.high - self.width(&right.names[length])) - APART;
        let start = self.between(left.x, &left.names[length], [self.low, furthest])?;
        let other = self.between(right.x, &right.names[length], [start + wide + APART, self.high])?;
        let is_over =
            |at: f64, start: f64, name: &str| (start - APART..=start + self.width(name) + APART).contains(&at);
        let one = |point: &Named, start: f64| LongPoint {
            x: point.x,
            name: point.names[length].clone(),
            start,
            row: 0,
            is_led: true,
        };
        let fits = is_over(left.x, start, &left.names[length]) && is_over(right.x, other, &right.names[length]);
        fits.then(|| vec![one(left, start), one(right, other)])
    }

    /// One above the other: the upper one keeps clear of the line that leads down to the lower one.
    fn stacked(&self, points: [&Named; 2], length: usize) -> Option<Vec<LongPoint>> {
        let place = |near: &Named, far: &Named| {
            let side = if near.x < far.x { [self.low, far.x - APART] } else { [far.x + APART, self.high] };
            let start = self.between(near.x, &near.names[length], side)?;
            let under = self.between(far.x, &far.names[length], [self.low, self.high])?;
            let upper = LongPoint { x: near.x, name: near.names[length].clone(), start, row: 0, is_led: true };
            let lower = LongPoint { x: far.x, name: far.names[length].clone(), start: under, row: 1, is_led: true };
            Some(vec![upper, lower])
        };
        place(points[0], points[1]).or_else(|| place(points[1], points[0]))
    }
}
