//! Drawings of the whole frame: three views in projection, and a pictorial.

pub(in crate::pack) mod alone;
mod arrange;
mod assign;
mod axes;
pub(in crate::pack) mod leaders;
mod measures;
mod pictorial;
pub(in crate::pack) mod plot;
#[cfg(test)]
mod tests;
mod view;

use super::cover::contents_from;
use crate::drawing::{Area, Drawing, Placement, Turn};
use crate::geometry::DVec3;
use crate::pack::layout::barred;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, Notice, OnPage, RenderError, SheetKind};
use crate::part::Made;
use crate::sheets::Sheets;
use crate::view::{Look, Scene, SceneView};
use crate::{Stop, Stopped};
use arrange::{Plan, Sheet};
use leaders::Label;
use measures::Measure;
use plot::{Plot, part_number};
use rayon::prelude::*;
use view::View;

/// Most dimensions of the list of checks that a view shows one way.
const MOST: usize = 3;

/// The whole frame as it stands, and its pictorial view, which the drawings and the fit-up order share.
pub(in crate::pack) struct Standing<'a> {
    made: &'a Made,
    scene: Scene<'a>,
    pub(in crate::pack) pictorial: SceneView,
}

impl<'a> Standing<'a> {
    /// The frame of some sheets; `None` when it has no parts.
    pub(in crate::pack) fn of(sheets: &'a Sheets, stop: Stop) -> Result<Option<Self>, Stopped> {
        let Some(made) = sheets.made.as_deref().filter(|made| !made.parts.is_empty()) else { return Ok(None) };
        let scene = Scene::of(made);
        let pictorial = scene.seen_until(&Look::pictorial(), fineness(made), stop)?;
        Ok(Some(Self { made, scene, pictorial }))
    }

    /// The least and the greatest coordinates of the ends and corners of all centrelines.
    pub(in crate::pack) fn bounds(&self) -> [DVec3; 2] {
        let points = self.made.frame.members.iter().flat_map(|member| member.path.points(1.0));
        points.fold([DVec3::INFINITY, DVec3::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)])
    }

    /// Ids of the parts, in the order of the views.
    pub(in crate::pack) fn ids(&self) -> &[&'a str] {
        self.scene.ids()
    }
}

/// The pages with views of the frame.
pub(in crate::pack) fn pages(
    sheets: &Sheets,
    standing: Option<&Standing>,
    furniture: Furniture,
) -> Result<Vec<Content>, RenderError> {
    let Some(Standing { made, scene, pictorial }) = standing else {
        return Ok(Vec::new());
    };
    let looks = [Look::LEFT, Look::TOP, Look::FRONT];
    let look_at = |look| scene.seen_until(look, fineness(made), furniture.stop);
    let seen: Vec<SceneView> = looks.par_iter().map(look_at).collect::<Result<_, Stopped>>()?;
    let Ok([left, top, front]) = <[SceneView; 3]>::try_from(seen) else { return Ok(Vec::new()) };
    let mut views = views(sheets, made, [left, top, front], furniture);
    let thinnest = made.frame.members.iter().map(|member| made.frame.section(member).breadth()).fold(1e3, f64::min);
    let rooms = [false, true].map(|is_turned| {
        let (area, flow) = begin(is_turned, true, furniture);
        [area.width, flow.top() - 2.0 - area.y]
    });
    let plan = arrange::plan(&mut views, rooms, thinnest, furniture);
    for (view, columns) in views.iter_mut().zip(&plan.columns) {
        view.columns.clone_from(columns);
    }
    number(sheets, scene.ids(), &mut views, plan.scale);
    let drawn = plan.sheets.iter().map(|sheet| page(sheet, &plan, &views, furniture));
    let say = &furniture.words.drawings;
    let mut contents = contents_from(drawn.collect(), &OnPage::of_frame(SheetKind::Drawings, say.views()));
    contents.extend(contents_from(
        vec![pictorial::page(sheets, scene.ids(), pictorial, furniture)],
        &OnPage::of_frame(SheetKind::Drawings, say.pictorial()),
    ));
    Ok(contents)
}

/// The least length that is told apart in drawings of a frame, mm: far less than a line's width on paper.
fn fineness(made: &Made) -> f64 {
    let points = made.frame.members.iter().flat_map(|member| [member.path.start(), member.path.end()]);
    let bounds = crate::geometry::Bounds::around(points);
    ((bounds.high - bounds.low).max_element() / 600.0).clamp(0.5, 25.0)
}

fn views(sheets: &Sheets, made: &Made, seen: [SceneView; 3], furniture: Furniture) -> [View; 3] {
    let [left, top, front] = seen;
    let (base, figures, say) = (made.frame.base, furniture.figures(), &furniture.words.views);
    let over_all = |seen: &SceneView| {
        let [low, bottom, high, _] = seen.extent;
        Measure { feet: [[low, bottom], [high, bottom]], words: format!("({})", figures.bare(high - low)) }
    };
    let checks = |look: &Look, axis: DVec3| {
        let rows = sheets.checks.iter().filter_map(|check| {
            let [from, to] = [check.from, check.to].map(DVec3::from_array);
            let is_along = ((to - from).dot(axis).abs() - check.nominal).abs() < 0.01 && check.nominal > 0.0;
            let feet = [from, to].map(|at| look.flat(at));
            is_along.then(|| {
                let changing = barred::changing(&check.name, furniture).map(|notice| notice.number);
                let words = changing.fold(figures.bare(check.nominal), |figure, notice| {
                    furniture.words.drawings.figure_of_notice(figure, notice)
                });
                (check.declared, Measure { feet, words })
            })
        });
        // The same length between the same places is shown once; what the design itself names comes first.
        let mut kept: Vec<Measure> = Vec::new();
        for (_, measure) in rows {
            if kept.len() < MOST && kept.iter().all(|other| other.words != measure.words) {
                kept.push(measure);
            }
        }
        kept
    };
    let column = leaders::width(furniture.letters, sheets.parts.iter().map(|part| part.number.as_str()));
    let view = |name, look: Look, seen: SceneView, levels, uprights, base| View {
        name,
        look,
        seen,
        levels,
        uprights,
        base,
        numbered: Vec::new(),
        columns: Vec::new(),
        column,
    };
    let mut lengths = checks(&Look::LEFT, DVec3::X);
    lengths.push(over_all(&left));
    let mut widths = checks(&Look::FRONT, DVec3::Y);
    widths.push(over_all(&front));
    let mut heights = checks(&Look::FRONT, DVec3::Z);
    let [_, _, right, high] = front.extent;
    let words = format!("({})", figures.bare(high - base));
    heights.push(Measure { feet: [[right, base], [right, high]], words });
    [
        view(say.from_left(), Look::LEFT, left, lengths, Vec::new(), Some(base)),
        view(say.from_above(), Look::TOP, top, Vec::new(), Vec::new(), None),
        view(say.from_front(), Look::FRONT, front, widths, heights, Some(base)),
    ]
}

/// Gives each part number to the view that shows most of such a part and still has room for a number.
fn number(sheets: &Sheets, ids: &[&str], views: &mut [View; 3], scale: f64) {
    let mut free = [0, 1, 2].map(|view| views[view].capacity(scale));
    for (number, parts) in by_number(sheets, ids) {
        let mut best: Option<(usize, usize, f64)> = None;
        for (index, view) in views.iter().enumerate().filter(|(index, _)| free[*index] > 0) {
            let plot = Plot { seen: &view.seen, scale: 1.0, corner: [0.0; 2] };
            for &part in &parts {
                let length = plot.anchor(part, ids.len()).map_or(0.0, |anchor| anchor.length);
                if length > best.map_or(0.0, |best| best.2) {
                    best = Some((index, part, length));
                }
            }
        }
        if let Some((view, part, _)) = best {
            free[view] -= 1;
            views[view].numbered.push((part, number));
        }
    }
}

/// Each part number at that of its parts of which most is seen.
fn labelled(numbers: Vec<(String, Vec<usize>)>, plot: &Plot) -> Vec<Label> {
    let label = |(words, parts): (String, Vec<usize>)| {
        let anchors = parts.iter().filter_map(|&part| plot.anchor(part, plot.seen.parts));
        let best = anchors.reduce(|best, next| if next.length > best.length { next } else { best })?;
        Some(Label { words, at: best.at })
    };
    numbers.into_iter().filter_map(label).collect()
}

/// Part numbers in the order in which their parts are put in place, each with the positions of its parts.
pub(in crate::pack) fn by_number(sheets: &Sheets, ids: &[&str]) -> Vec<(String, Vec<usize>)> {
    let mut numbers: Vec<(String, Vec<usize>)> = Vec::new();
    for (part, id) in ids.iter().enumerate() {
        let number = part_number(sheets, id);
        match numbers.iter_mut().find(|(known, _)| known == number) {
            _ if number.is_empty() => {}
            Some((_, parts)) => parts.push(part),
            None => numbers.push((number.to_owned(), vec![part])),
        }
    }
    numbers
}

/// A page with its title and words, on which the views are still to be drawn. A turned page is as wide as the paper is high.
fn begin<'a>(is_turned: bool, is_together: bool, furniture: Furniture<'a>) -> (Area, Flow<'a>) {
    let area = furniture.content_area();
    let area = if is_turned { Area { x: 0.0, y: 0.0, width: area.height, height: area.width } } else { area };
    let (words, say) = (furniture.words, &furniture.words.drawings);
    let mut flow = Flow::new(furniture, area, say.views());
    let projection = if is_together { say.third_angle() } else { say.views_apart() };
    let how = say.how_to_read(furniture.figures().unit_name(), words.kinds.checks());
    let changes_figures =
        |notice: &Notice| notice.is_lacking() && notice.work.iter().any(|work| !work.checks.is_empty());
    let beside = furniture.issue.notices.iter().any(changes_figures).then(|| say.beside_a_notice());
    flow.paragraph(&[projection, &how].into_iter().chain(beside).collect::<Vec<_>>().join(" "));
    (area, flow)
}

fn page(sheet: &Sheet, plan: &Plan, views: &[View; 3], furniture: Furniture) -> Drawing {
    let (area, mut flow) = begin(sheet.is_turned, plan.is_together, furniture);
    let mut drawing = Drawing::default();
    for stand in &sheet.stands {
        let corner = [area.x + stand.at[0], area.y + stand.at[1]];
        views[stand.view].draw(corner, plan.scale, furniture, &mut drawing);
    }
    flow.page().append(drawing);
    let upright: Vec<Drawing> = flow.finish();
    let mut page = Drawing::default();
    for drawing in upright {
        if sheet.is_turned {
            let content = furniture.content_area();
            page.place(drawing, Placement { at: [content.right(), content.y], turn: Turn::Quarter });
        } else {
            page.append(drawing);
        }
    }
    page
}
