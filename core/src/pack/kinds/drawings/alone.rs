//! One view of a frame, or of some of its parts, as a drawing of its own.

use super::leaders::{self, Column, Side};
use super::plot::{Plot, SCALES, pen_of, size};
use super::{axes, by_number, fineness, labelled};
use crate::Stopped;
use crate::drawing::{Drawing, Lettering, Pen, Text};
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Issue, Status};
use crate::sheets::Sheets;
use crate::view::{Look, Scene};
use crate::words::groups::drawings::Drawings;

/// What is drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct ViewWanted {
    /// From where.
    pub look: Look,
    /// Ids of the members and plates; all when empty.
    pub members: Vec<String>,
    /// Whether parts are numbered.
    pub labels: bool,
}

/// Largest width and height of the view itself: it goes on a sheet of A3, mm.
const LARGEST: [f64; 2] = [340.0, 240.0];
/// Free space all round, mm.
const MARGIN: f64 = 8.0;
/// Space for axes and words below the view, mm.
const BELOW: f64 = axes::SIZE + 4.0;
/// Least width, so that the words below find room, mm.
const LEAST: f64 = 130.0;

/// Size in mm, drawing and title of a view.
pub(in crate::pack) fn draw(
    sheets: &Sheets,
    wanted: &ViewWanted,
    furniture: Furniture,
) -> Result<([f64; 2], Drawing, String), Stopped> {
    let issue = furniture.issue;
    let mut drawing = Drawing::default();
    let say = &furniture.words.drawings;
    let title = title(issue, say);
    let Some(made) = sheets.made.as_deref() else { return Ok(([LEAST, BELOW], drawing, title)) };
    let is_wanted = |id: &str| wanted.members.is_empty() || wanted.members.iter().any(|member| member == id);
    let scene = Scene::of_some(made, is_wanted);
    let seen = scene.seen_until(&wanted.look, fineness(made), furniture.stop)?;
    let fits = |scale: &f64| size(&seen, *scale).iter().zip(LARGEST).all(|(length, most)| *length <= most);
    let whole = size(&seen, 1.0);
    let least = || (whole[0] / LARGEST[0]).max(whole[1] / LARGEST[1]).ceil();
    let scale = SCALES.into_iter().find(fits).unwrap_or_else(least);
    let [width, height] = size(&seen, scale);
    let numbers = if wanted.labels { by_number(sheets, scene.ids()) } else { Vec::new() };
    let column = if numbers.is_empty() {
        0.0
    } else {
        leaders::width(furniture.letters, numbers.iter().map(|(number, _)| number.as_str()))
    };
    let across = (width + 2.0 * column).max(LEAST);
    let sheet = [across + 2.0 * MARGIN, height + BELOW + 2.0 * MARGIN];
    let corner = [(sheet[0] - width) / 2.0, MARGIN + BELOW];
    let plot = Plot { seen: &seen, scale, corner };
    for path in plot.lines(seen.parts, |run| Some(pen_of(run, Pen::View))) {
        drawing.path(path);
    }
    let labels = labelled(numbers, &plot);
    let frame = plot.frame();
    let column = |side: Side, edge: f64| Column { side, edge, low: frame.y, high: frame.top() };
    leaders::draw(&labels, &[column(Side::Left, frame.x), column(Side::Right, frame.right())], &mut drawing);
    axes::draw(&wanted.look, [MARGIN + axes::SIZE / 2.0, MARGIN + axes::SIZE / 2.0], &mut drawing);
    let x = MARGIN + axes::SIZE + 3.0;
    let words = [
        title.clone(),
        say.scale_in_plane(furniture.figures().short_tenths(scale)),
        if issue.status == Status::Draft {
            furniture.words.page.draft_mark().to_owned()
        } else {
            say.cut_nothing_to_it().to_owned()
        },
    ];
    let mut y = MARGIN + axes::SIZE / 2.0 + 3.0;
    for line in words {
        drawing.text(Text::new(line, [x, y]).lettered(Lettering::Small));
        y -= Lettering::Small.leading();
    }
    Ok((sheet, drawing, title))
}

fn title(issue: &Issue, say: &Drawings) -> String {
    match issue.status {
        Status::Draft => say.draft_alone(&issue.design),
        Status::Issued => say.revision_alone(&issue.design, &issue.revision),
    }
}
