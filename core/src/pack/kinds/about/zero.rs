//! A small view of the frame with its axes at zero and the base plane under it.

use crate::drawing::{Area, Path, Pen, Point};
use crate::geometry::DVec3;
use crate::pack::kinds::drawings::Standing;
use crate::pack::kinds::drawings::leaders::{self, Column, Label, Side};
use crate::pack::kinds::drawings::plot::{Plot, pen_of};
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::sheets::About;
use crate::view::{Look, SceneView};

/// Share of the page's height that the view may take.
const SHARE: f64 = 0.34;
/// Above and below the view, mm.
const ABOVE: f64 = 3.0;
const BELOW: f64 = 3.0;
/// Length of an axis, mm on paper as it is seen.
const AXIS: f64 = 14.0;
/// Length of an arrow's head and half its width, mm.
const HEAD: [f64; 2] = [2.2, 0.7];

/// Draws the view below what the flow holds.
pub(super) fn draw(flow: &mut Flow, about: &About, standing: &Standing, area: Area, furniture: Furniture) {
    let (seen, say) = (&standing.pictorial, &furniture.words.zero);
    let axes = [(DVec3::X, say.forward()), (DVec3::Y, say.to_the_left()), (DVec3::Z, say.up())];
    let look = Look::pictorial();
    let marks: Vec<&str> = about.zero.iter().map(|zero| zero.member.as_str()).collect();
    let words = marks.iter().copied().chain([say.base_plane()]).chain(axes.map(|(_, words)| words));
    let column = leaders::width(furniture.letters, words);
    let rim = rim(standing, about.base, &look);
    let [left, low, right, high] =
        rim.iter().fold(seen.extent, |[a, b, c, d], [x, y]| [a.min(*x), b.min(*y), c.max(*x), d.max(*y)]);
    let room = [area.width - 2.0 * column, area.height * SHARE - ABOVE - BELOW];
    let scale = ((right - left) / room[0]).max((high - low) / room[1]).max(1.0);
    let height = (high - low) / scale;
    flow.need(height + ABOVE + BELOW + 6.0);
    let foot = flow.top() - ABOVE - height;
    let start = area.x + (area.width - (right - left) / scale) / 2.0;
    let corner = [start + (seen.extent[0] - left) / scale, foot + (seen.extent[1] - low) / scale];
    let plot = Plot { seen, scale, corner };
    let is_named = |part: usize| standing.ids().get(part).is_some_and(|id| marks.contains(id));
    let page = flow.page();
    page.path(Path::polyline(&rim.map(|at| plot.place(at)), Pen::Hidden));
    for path in
        plot.lines(seen.parts, |run| Some(pen_of(run, if is_named(run.part) { Pen::Edge } else { Pen::Standing })))
    {
        page.path(path);
    }
    let zero = plot.place(look.flat(DVec3::ZERO));
    let mut labels = vec![
        Label { words: "0".to_owned(), at: zero },
        Label { words: say.base_plane().to_owned(), at: plot.place(rim[1]) },
    ];
    for (axis, words) in axes {
        let way = look.flat(axis);
        let long = libm::hypot(way[0], way[1]);
        let [x, y] = way.map(|part| part / long);
        let tip = [zero[0] + AXIS * x, zero[1] + AXIS * y];
        page.line(zero, tip, Pen::Cut);
        let back = [tip[0] - HEAD[0] * x, tip[1] - HEAD[0] * y];
        let side = |hand: f64| [back[0] - hand * HEAD[1] * y, back[1] + hand * HEAD[1] * x];
        page.path(Path::triangle([tip, side(1.0), side(-1.0)]));
        labels.push(Label { words: words.to_owned(), at: tip });
    }
    labels.extend(named_tubes(&marks, standing, &plot));
    let sides = [(Side::Left, start), (Side::Right, start + (right - left) / scale)];
    let columns = sides.map(|(side, edge)| Column { side, edge, low: foot, high: foot + height });
    leaders::draw(&labels, &columns, page);
    flow.skip(height + ABOVE + BELOW);
    flow.paragraph(say.how_seen());
}

/// The base plane under the frame, as a rectangle that the view shows.
fn rim(standing: &Standing, base: f64, look: &Look) -> [Point; 5] {
    let [low, high] = standing.bounds();
    let corners = [[low.x, low.y], [high.x, low.y], [high.x, high.y], [low.x, high.y], [low.x, low.y]];
    corners.map(|[x, y]| look.flat(DVec3::new(x, y, base)))
}

/// A leader to each tube that is named, once.
fn named_tubes(marks: &[&str], standing: &Standing, plot: &Plot) -> Vec<Label> {
    let seen: &SceneView = plot.seen;
    let mut labels: Vec<Label> = Vec::new();
    for mark in marks {
        let known = labels.iter().any(|label| label.words == *mark);
        let part = standing.ids().iter().position(|id| id == mark).filter(|_| !known);
        let anchor = part.and_then(|part| plot.anchor(part, seen.parts));
        labels.extend(anchor.map(|anchor| Label { words: (*mark).to_owned(), at: anchor.at }));
    }
    labels
}
