//! Pages that hold several templates at true scale, one below the other, with the check bars.

use super::check_bar;
use super::flow::Flow;
use super::furniture::Furniture;
use super::lines::break_lines;
use crate::drawing::{Area, Drawing, Lettering, Placement, Turn, Weight};
use crate::pack::{Content, OnPage};

/// Height of the row at the foot of the page that holds the bar across, mm.
const FOOT: f64 = 9.0;
/// Width of the column at the side that holds the upright bar, mm.
const SIDE: f64 = 13.0;
/// Between a template and what stands above and below it, mm.
const GAP: f64 = 4.0;

/// The pages being filled.
pub(in crate::pack) struct Templates<'a> {
    furniture: Furniture<'a>,
    page: Area,
    area: Area,
    flow: Flow<'a>,
    fresh: f64,
    begun: Vec<(usize, OnPage)>,
    /// Pages on which a template goes on that began on one before.
    carried: Vec<(usize, OnPage)>,
}

impl<'a> Templates<'a> {
    /// Starts the first page.
    pub(in crate::pack) fn new(furniture: Furniture<'a>, title: &str) -> Self {
        let page = furniture.content_area();
        let area = Area { y: page.y + FOOT, width: page.width - SIDE, height: page.height - FOOT, ..page };
        let flow = Flow::new(furniture, area, title);
        // Later pages have a longer title, which may take a line more.
        let fresh = flow.top() - area.y - Lettering::Title.leading();
        Self { furniture, page, area, flow, fresh, begun: Vec::new(), carried: Vec::new() }
    }

    /// What is written and drawn into.
    pub(in crate::pack) fn flow(&mut self) -> &mut Flow<'a> {
        &mut self.flow
    }

    /// Width and height that a template under these words may have on a page of its own, mm.
    pub(in crate::pack) fn room(&self, heading: &str, facts: &[String]) -> [f64; 2] {
        [self.area.width, self.fresh - self.words_height(heading, facts) - 2.0 * GAP]
    }

    /// Begins a template: its entry in the outline, its heading and its facts, on a page that holds `more` mm below them too.
    pub(in crate::pack) fn begin(&mut self, on: OnPage, heading: &str, facts: &[String], more: f64) {
        self.flow.need((self.words_height(heading, facts) + more + 2.0 * GAP).min(self.fresh));
        self.begun.push((self.flow.page_index(), on));
        self.flow.skip(1.0);
        for line in self.heading_lines(heading) {
            self.flow.line(&line, self.area.x, Lettering::Heading, Weight::Bold);
        }
        self.flow.skip(1.0);
        for fact in facts {
            self.flow.paragraph(fact);
        }
    }

    /// Goes on with the template begun before, under a heading, on a page that holds `more` mm below it too.
    pub(in crate::pack) fn continue_with(&mut self, heading: &str, more: f64) {
        self.flow.need((self.words_height(heading, &[]) + more + 2.0 * GAP).min(self.fresh));
        let page = self.flow.page_index();
        if let Some((begun, on)) = self.begun.last() {
            let here = (page, on.clone());
            if *begun != page && self.carried.last() != Some(&here) {
                self.carried.push(here);
            }
        }
        self.flow.skip(1.0);
        self.flow.line(heading, self.area.x, Lettering::Heading, Weight::Bold);
        self.flow.skip(1.0);
    }

    /// Places a drawing of the given height whose origin is its lower left corner.
    pub(in crate::pack) fn place(&mut self, drawing: Drawing, height: f64) {
        let at = [self.area.x, self.flow.top() - GAP / 2.0 - height];
        self.flow.page().place(drawing, Placement { at, turn: Turn::None });
        self.flow.skip(height + GAP);
    }

    /// Places a drawing of the given height turned by a quarter; `height` is what it takes when turned.
    pub(in crate::pack) fn place_turned(&mut self, drawing: Drawing, width: f64, height: f64) {
        let at = [self.area.x + width, self.flow.top() - GAP / 2.0 - height];
        self.flow.page().place(drawing, Placement { at, turn: Turn::Quarter });
        self.flow.skip(height + GAP);
    }

    /// All pages, each with its bars.
    pub(in crate::pack) fn finish(self) -> Vec<Content> {
        let Self { page, flow, begun, carried, furniture, .. } = self;
        let furnish = |(index, mut drawing): (usize, Drawing)| {
            drawing.append(check_bar::both(page, furniture));
            let here = |some: &[(usize, OnPage)]| -> Vec<OnPage> {
                some.iter().filter(|(at, _)| *at == index).map(|(_, on)| on.clone()).collect()
            };
            Content { is_template: true, carried: here(&carried), ..Content::new(here(&begun), drawing) }
        };
        flow.finish().into_iter().enumerate().map(furnish).collect()
    }

    fn heading_lines(&self, heading: &str) -> Vec<String> {
        break_lines(self.furniture.letters, heading, Lettering::Heading, Weight::Bold, self.area.width)
    }

    #[allow(clippy::cast_precision_loss)]
    fn words_height(&self, heading: &str, facts: &[String]) -> f64 {
        let lines = |fact: &String| {
            break_lines(self.furniture.letters, fact, Lettering::Body, Weight::Regular, self.area.width).len() as f64
        };
        let facts: f64 = facts.iter().map(|fact| lines(fact) * Lettering::Body.leading() + 1.2).sum();
        2.0 + self.heading_lines(heading).len() as f64 * Lettering::Heading.leading() + facts
    }
}
