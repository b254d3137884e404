//! Text and tables that run down a page and over to the next.

#[cfg(test)]
mod tests;

use super::figures::Figures;
use super::furniture::Furniture;
use super::lines::{baseline, break_lines};
use crate::drawing::{Anchor, Area, Drawing, Lettering, Pen, Placement, Text, Turn, Weight};
use crate::render::Letters;
use std::borrow::Cow;

/// Space between the cells of a table, mm.
const CELL_GAP: f64 = 2.0;

/// A column of a table.
#[derive(Debug, Clone)]
pub(in crate::pack) struct Column {
    /// Heading, with its unit where it has one.
    pub(in crate::pack) title: Cow<'static, str>,
    /// Share of the table's width.
    pub(in crate::pack) share: f64,
    /// Side on which its cells stand.
    pub(in crate::pack) anchor: Anchor,
    /// Face of its cells.
    pub(in crate::pack) face: Weight,
    /// True when a cell that is too wide is lettered smaller before it is broken.
    pub(in crate::pack) is_whole: bool,
}

impl Column {
    /// A column of words.
    pub(in crate::pack) fn words(title: impl Into<Cow<'static, str>>, share: f64) -> Self {
        Self { title: title.into(), share, anchor: Anchor::Start, face: Weight::Regular, is_whole: false }
    }

    /// A column of marks of parts.
    pub(in crate::pack) fn marks(title: impl Into<Cow<'static, str>>, share: f64) -> Self {
        Self { face: Weight::Bold, ..Self::words(title, share) }
    }

    /// A column of figures.
    pub(in crate::pack) fn figures(title: impl Into<Cow<'static, str>>, share: f64) -> Self {
        Self { title: title.into(), share, anchor: Anchor::End, face: Weight::Regular, is_whole: false }
    }

    /// A column of part numbers, which read in two lines would be two.
    pub(in crate::pack) fn numbers(title: impl Into<Cow<'static, str>>, share: f64) -> Self {
        Self { is_whole: true, ..Self::words(title, share) }
    }

    /// The lettering of a cell, given the width that it has.
    fn lettering(&self, letters: &Letters, cell: &str, width: f64) -> Lettering {
        let is_wide = self.is_whole && letters.width(cell, Lettering::Body, self.face) > width;
        if is_wide { Lettering::Small } else { Lettering::Body }
    }
}

/// Fills pages from the top down; what no longer fits goes on the next page, under the same title and table head.
pub(in crate::pack) struct Flow<'a> {
    letters: &'a Letters,
    figures: Figures,
    area: Area,
    title: String,
    columns: Vec<Column>,
    done: Vec<Drawing>,
    page: Drawing,
    top: f64,
    /// Where the first line under the title begins.
    fresh: f64,
    kept: Option<KeepWithNext>,
}

/// What goes to the next page together with what comes after it: a heading with the words under it, the head of a table.
#[derive(Debug, Clone, Copy)]
struct KeepWithNext {
    /// Position of its first item on the page.
    from: usize,
    /// Where it begins.
    top: f64,
}

impl<'a> Flow<'a> {
    /// Starts the first page, with its title unless that is empty.
    pub(in crate::pack) fn new(furniture: Furniture<'a>, area: Area, title: &str) -> Self {
        let mut flow = Self {
            letters: furniture.letters,
            figures: furniture.figures(),
            area,
            title: title.to_owned(),
            columns: Vec::new(),
            done: Vec::new(),
            page: Drawing::default(),
            top: area.top(),
            fresh: area.top(),
            kept: None,
        };
        flow.write_title(title);
        flow.fresh = flow.top;
        flow
    }

    /// How lengths are written.
    pub(in crate::pack) fn figures(&self) -> Figures {
        self.figures
    }

    /// Where the next line begins: everything below is free.
    pub(in crate::pack) fn top(&self) -> f64 {
        self.top
    }

    /// The page being filled.
    pub(in crate::pack) fn page(&mut self) -> &mut Drawing {
        &mut self.page
    }

    /// Number of the page being filled, from 0.
    pub(in crate::pack) fn page_index(&self) -> usize {
        self.done.len()
    }

    /// Width of a line of body text, mm.
    pub(in crate::pack) fn width(&self, text: &str) -> f64 {
        self.letters.width(text, Lettering::Body, Weight::Regular)
    }

    /// Leaves a space.
    pub(in crate::pack) fn skip(&mut self, height: f64) {
        self.top -= height;
    }

    /// Goes to the next page unless so much height is free. A heading, or the head of a table, that nothing stands under yet goes with it.
    pub(in crate::pack) fn need(&mut self, height: f64) {
        if self.top - height >= self.area.y {
            return;
        }
        let kept = self.kept.take().filter(|kept| kept.top < self.fresh);
        let carried = kept.map(|kept| (self.page.items.split_off(kept.from), kept.top, kept.top - self.top));
        self.done.push(std::mem::take(&mut self.page));
        self.top = self.area.top();
        let title = if self.title.is_empty() { String::new() } else { self.figures.words.page.continued(&self.title) };
        self.write_title(&title);
        self.fresh = self.top;
        match carried {
            Some((items, top, taken)) => {
                let at = [0.0, self.top - top];
                self.page.place(Drawing { items }, Placement { at, turn: Turn::None });
                self.top -= taken;
            }
            None => self.write_table_head(),
        }
    }

    /// From here on what is written stays with what comes after it, until [`Self::settle`].
    pub(in crate::pack) fn keep(&mut self) {
        if self.kept.is_none() {
            self.kept = Some(KeepWithNext { from: self.page.items.len(), top: self.top });
        }
    }

    /// What is written so far stays where it is.
    pub(in crate::pack) fn settle(&mut self) {
        self.kept = None;
    }

    /// A heading that stays with the words under it and with what comes after those.
    pub(in crate::pack) fn heading(&mut self, text: &str) {
        self.settle();
        self.need(22.0);
        self.keep();
        self.skip(2.5);
        self.line(text, self.area.x, Lettering::Heading, Weight::Bold);
        self.skip(1.0);
    }

    /// A paragraph of body text.
    pub(in crate::pack) fn paragraph(&mut self, text: &str) {
        self.indented("", text, 0.0);
    }

    /// A paragraph behind a mark, such as a number.
    pub(in crate::pack) fn marked(&mut self, mark: &str, text: &str) {
        self.indented(mark, text, 6.0);
        self.settle();
    }

    /// A caption and what it stands for.
    pub(in crate::pack) fn fact(&mut self, caption: &str, value: &str) {
        self.indented(caption, value, 42.0);
    }

    fn indented(&mut self, mark: &str, text: &str, indent: f64) {
        let lines = break_lines(self.letters, text, Lettering::Body, Weight::Regular, self.area.width - indent);
        #[allow(clippy::cast_precision_loss)]
        let height = lines.len() as f64 * Lettering::Body.leading();
        self.need(height.min(self.area.height / 2.0));
        for (index, line) in lines.iter().enumerate() {
            self.need(Lettering::Body.leading());
            if index == 0 {
                self.page.text(Text::new(mark, [self.area.x, baseline(self.top, Lettering::Body)]));
            }
            self.line(line, self.area.x + indent, Lettering::Body, Weight::Regular);
        }
        self.skip(1.2);
    }

    /// One line of text at the given place across the page.
    pub(in crate::pack) fn line(&mut self, text: &str, x: f64, lettering: Lettering, face: Weight) {
        let at = [x, baseline(self.top, lettering)];
        let mut text = Text::new(text, at).lettered(lettering);
        text.face = face;
        self.page.text(text);
        self.top -= lettering.leading();
    }

    /// Starts a table: its head is repeated on every page until the table ends.
    pub(in crate::pack) fn start_table(&mut self, columns: &[Column]) {
        self.need(24.0);
        self.keep();
        self.columns = columns.to_vec();
        self.write_table_head();
    }

    /// Ends the table.
    pub(in crate::pack) fn end_table(&mut self) {
        self.columns.clear();
        self.skip(3.0);
    }

    /// A row of the table, with notes under its cells, a line each, unless that is empty; all stay together. Returns
    /// the row's height.
    pub(in crate::pack) fn row(&mut self, cells: &[String], note: &str) -> f64 {
        let (letters, columns) = (self.letters, self.columns.clone());
        let body = Lettering::Body;
        let widths: Vec<f64> = columns.iter().map(|column| column.share * self.area.width - CELL_GAP).collect();
        let cells: Vec<(Lettering, Vec<String>)> = cells
            .iter()
            .zip(columns.iter().zip(&widths))
            .map(|(cell, (column, width))| {
                let lettering = column.lettering(letters, cell, *width);
                (lettering, break_lines(letters, cell, lettering, column.face, *width))
            })
            .collect();
        let inset = columns.first().map_or(0.0, |column| column.share * self.area.width);
        let notes = if note.is_empty() {
            Vec::new()
        } else {
            let width = self.area.width - inset;
            note.split('\n').flat_map(|line| break_lines(letters, line, body, Weight::Regular, width)).collect()
        };
        let tallest = cells.iter().map(|(_, lines)| lines.len()).max().unwrap_or(0);
        let height = height_of_row(tallest + notes.len());
        if self.top - height < self.area.y {
            self.need(height);
        }
        let start = self.top - 1.1;
        let mut x = self.area.x;
        for ((column, (lettering, cell)), width) in columns.iter().zip(&cells).zip(&widths) {
            let mut top = start;
            for line in cell {
                let at = [anchor_x(x, *width, column.anchor), baseline(top, body)];
                let mut text = Text::new(line, at).lettered(*lettering).anchored(column.anchor);
                text.face = column.face;
                self.page.text(text);
                top -= body.leading();
            }
            x += width + CELL_GAP;
        }
        #[allow(clippy::cast_precision_loss)]
        let mut top = start - tallest as f64 * body.leading();
        for line in &notes {
            self.page.text(Text::new(line, [self.area.x + inset, baseline(top, body)]));
            top -= body.leading();
        }
        self.top -= height;
        self.rule(Pen::Rule);
        self.settle();
        height
    }

    /// What a row without notes takes in a table of such columns, mm.
    pub(in crate::pack) fn row_height(&self, columns: &[Column], cells: &[String]) -> f64 {
        let lines = cells.iter().zip(columns).map(|(cell, column)| {
            let width = column.share * self.area.width - CELL_GAP;
            break_lines(self.letters, cell, column.lettering(self.letters, cell, width), column.face, width).len()
        });
        height_of_row(lines.max().unwrap_or(0))
    }

    /// A total under a table.
    pub(in crate::pack) fn total(&mut self, text: &str) {
        self.need(8.0);
        self.line(text, self.area.x, Lettering::Heading, Weight::Bold);
    }

    /// A rule across the page.
    pub(in crate::pack) fn rule(&mut self, pen: Pen) {
        self.page.line([self.area.x, self.top], [self.area.right(), self.top], pen);
    }

    /// All pages.
    pub(in crate::pack) fn finish(mut self) -> Vec<Drawing> {
        self.done.push(self.page);
        self.done
    }

    fn write_title(&mut self, title: &str) {
        if title.is_empty() {
            return;
        }
        for line in break_lines(self.letters, title, Lettering::Title, Weight::Bold, self.area.width) {
            self.line(&line, self.area.x, Lettering::Title, Weight::Bold);
        }
        self.skip(2.0);
    }

    fn write_table_head(&mut self) {
        if self.columns.is_empty() {
            return;
        }
        let small = Lettering::Small;
        let mut x = self.area.x;
        let mut lines_of = Vec::new();
        for column in &self.columns {
            let width = column.share * self.area.width - CELL_GAP;
            let lines = break_lines(self.letters, &column.title, small, Weight::Bold, width);
            lines_of.push((x, width, column.anchor, lines));
            x += width + CELL_GAP;
        }
        let tallest = lines_of.iter().map(|(_, _, _, lines)| lines.len()).max();
        #[allow(clippy::cast_precision_loss)]
        let height = tallest.unwrap_or(0) as f64 * small.leading();
        for (x, width, anchor, lines) in lines_of {
            #[allow(clippy::cast_precision_loss)]
            let mut top = self.top - height + lines.len() as f64 * small.leading();
            for line in lines {
                let at = [anchor_x(x, width, anchor), baseline(top, small)];
                self.page.text(Text::new(line, at).lettered(small).bold().anchored(anchor));
                top -= small.leading();
            }
        }
        self.top -= height + 0.6;
        self.rule(Pen::Edge);
    }
}

/// Height of a row of so many lines, mm.
#[allow(clippy::cast_precision_loss)]
fn height_of_row(lines: usize) -> f64 {
    lines as f64 * Lettering::Body.leading() + 2.2
}

fn anchor_x(x: f64, width: f64, anchor: Anchor) -> f64 {
    match anchor {
        Anchor::Start => x,
        Anchor::Middle => x + width / 2.0,
        Anchor::End => x + width,
    }
}
