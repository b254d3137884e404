//! The frame as it stands after some steps.
use crate::drawing::{Area, Drawing, Pen};
use crate::pack::kinds::drawings::Standing;
use crate::pack::kinds::drawings::leaders::{self, Column, Label, Side};
use crate::pack::kinds::drawings::plot::{Plot, part_number, pen_of, size};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::step_names::StepNames;
use crate::sheets::Sheets;
use crate::view::SceneView;

/// Share of the page's height that a view may take.
const SHARE: f64 = 0.4;

/// Above and below a view, mm.
const ABOVE: f64 = 3.0;
const BELOW: f64 = 3.0;

/// The views of the fit-up order, all of one scale and in one place.
pub(super) struct Views<'a> {
    sheets: &'a Sheets,
    ids: &'a [&'a str],
    seen: &'a SceneView,
    scale: f64,
    area: Area,
}

impl<'a> Views<'a> {
    pub(super) fn of(sheets: &'a Sheets, standing: &'a Standing, area: Area, furniture: Furniture) -> Self {
        let seen = &standing.pictorial;
        let widest = StepNames::of(furniture).name(sheets.fit_up.steps.last().map_or(0, |step| step.number));
        let widest = widest.replace(|letter: char| letter.is_ascii_digit(), "9");
        let words = sheets.parts.iter().map(|part| format!("{widest}  {}", part.number));
        let column = leaders::width(furniture.letters, words.collect::<Vec<_>>().iter().map(String::as_str));
        let [width, height] = size(seen, 1.0);
        let room = [area.width - 2.0 * column, area.height * SHARE - ABOVE - BELOW];
        let scale = (width / room[0]).max(height / room[1]).max(1.0);
        Self { sheets, ids: standing.ids(), seen, scale, area }
    }

    /// What a view takes of a page's height, mm.
    pub(super) fn height(&self) -> f64 {
        size(self.seen, self.scale)[1] + ABOVE + BELOW
    }

    /// Draws what stands after some steps, given by their names and parts, below `top`.
    pub(super) fn draw(&self, steps: &[(&str, &str)], top: f64, drawing: &mut Drawing) {
        let [width, height] = size(self.seen, self.scale);
        let corner = [self.area.x + (self.area.width - width) / 2.0, top - ABOVE - height];
        let plot = Plot { seen: self.seen, scale: self.scale, corner };
        let added: Vec<(&str, usize)> = steps
            .iter()
            .filter_map(|(name, id)| Some((*name, self.ids.iter().position(|known| known == id)?)))
            .collect();
        let standing = added.iter().map(|(_, part)| part + 1).max().unwrap_or(0);
        let is_new = |part: usize| added.iter().any(|(_, new)| *new == part);
        for path in
            plot.lines(standing, |run| Some(pen_of(run, if is_new(run.part) { Pen::Edge } else { Pen::Standing })))
        {
            drawing.path(path);
        }
        let mut labels: Vec<Label> = Vec::new();
        let mut known: Vec<usize> = Vec::new();
        for (name, part) in added {
            // What is done after a part names it again.
            if known.contains(&part) {
                continue;
            }
            known.push(part);
            let Some(anchor) = plot.anchor(part, standing) else { continue };
            let words = format!("{name}  {}", part_number(self.sheets, self.ids[part]));
            labels.push(Label { words: words.trim_end().to_owned(), at: anchor.at });
        }
        let frame = plot.frame();
        let column = |side: Side, edge: f64| Column { side, edge, low: frame.y, high: frame.top() };
        leaders::draw(&labels, &[column(Side::Left, frame.x), column(Side::Right, frame.right())], drawing);
    }
}
