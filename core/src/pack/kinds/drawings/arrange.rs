//! Which views stand where on how many pages.

use super::leaders::Side;
use super::plot::SCALES;
use super::view::{Block, View};
use crate::pack::layout::furniture::Furniture;

/// Between two views, mm.
const BETWEEN: f64 = 5.0;

/// Sides of a tube are drawn at least so far apart where a larger scale would show them further apart, mm: 0.7 mm between lines
/// (ISO 128-2) and a line's width.
const APART: f64 = 0.95;

/// A view in its place: position of the view in the list, and where the left lower end of the frame comes in the room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stand {
    pub(super) view: usize,
    pub(super) at: [f64; 2],
}

/// The views of one page.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sheet {
    /// True when the page is to be turned to be read.
    pub(super) is_turned: bool,
    pub(super) stands: Vec<Stand>,
}

/// How all views are laid out.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Plan {
    pub(super) scale: f64,
    /// True when the views stand in projection on one page.
    pub(super) is_together: bool,
    /// Sides of each view that have a column of numbers.
    pub(super) columns: [Vec<Side>; 3],
    pub(super) sheets: Vec<Sheet>,
}

/// Lays out the view from the left, the plan and the view from the front, in this order. `room` gives the width and height
/// that a page has for them, upright and turned; `thinnest` is the breadth of the thinnest tube, mm.
pub(super) fn plan(views: &mut [View; 3], rooms: [[f64; 2]; 2], thinnest: f64, furniture: Furniture) -> Plan {
    let both = || vec![Side::Left, Side::Right];
    let whole = [both(), both(), vec![Side::Left]];
    let less = [vec![Side::Right], both(), vec![Side::Left]];
    let narrow = [vec![Side::Right], vec![Side::Right], vec![Side::Left]];
    let mut best: Option<Plan> = None;
    let mut apart: Option<Plan> = None;
    for scale in SCALES {
        for columns in [&whole, &less, &narrow] {
            for (view, sides) in views.iter_mut().zip(columns) {
                view.columns.clone_from(sides);
            }
            let blocks = [0, 1, 2].map(|view| views[view].block(scale, furniture));
            let plan =
                |is_together: bool, sheets: Vec<Sheet>| Plan { scale, is_together, columns: columns.clone(), sheets };
            if best.is_none() {
                let sheets = [false, true].into_iter().find_map(|is_turned| {
                    let stands = together(views, &blocks, scale, rooms[usize::from(is_turned)])?;
                    Some(vec![Sheet { is_turned, stands }])
                });
                best = sheets.map(|sheets| plan(true, sheets));
            }
            if apart.is_none() {
                apart = one_by_one(&blocks, rooms).map(|sheets| plan(false, sheets));
            }
        }
    }
    let is_clear = |plan: &Plan| thinnest / plan.scale >= APART;
    match (best, apart) {
        (Some(best), Some(apart)) if best.scale > apart.scale && !is_clear(&best) => apart,
        (Some(plan), _) | (None, Some(plan)) => plan,
        (None, None) => too_large(views, rooms, whole),
    }
}

/// A frame so large that no scale of the series shows it whole: each view on a page of its own at a scale that does.
fn too_large(views: &[View; 3], rooms: [[f64; 2]; 2], columns: [Vec<Side>; 3]) -> Plan {
    let largest = views.iter().flat_map(|view| super::plot::size(&view.seen, 1.0)).fold(1.0, f64::max);
    let scale = (largest / (rooms[0][0].min(rooms[0][1]) / 3.0)).ceil();
    let sheets =
        (0..3).map(|view| Sheet { is_turned: false, stands: vec![Stand { view, at: [rooms[0][0] / 3.0; 2] }] });
    Plan { scale, is_together: false, columns, sheets: sheets.collect() }
}

/// Third-angle projection: the plan above the view from the left, the view from the front to the left of it; `None` when the
/// room is too small.
fn together(views: &[View; 3], blocks: &[Block; 3], scale: f64, room: [f64; 2]) -> Option<Vec<Stand>> {
    let [side, plan, front] = blocks;
    let low = |view: usize, axis: usize| views[view].seen.extent[axis] / scale;
    let x_side = (front.across() + BETWEEN + side.left).max(plan.left);
    let x_plan = x_side + low(1, 0) - low(0, 0);
    let y_side = side.below.max(front.below);
    let y_front = y_side + low(2, 1) - low(0, 1);
    let y_plan = y_side + side.height.max(front.height) + side.above + BETWEEN + plan.below;
    let width = (x_side + side.width + side.right).max(x_plan + plan.width + plan.right);
    let height = y_plan + plan.height + plan.above;
    let spare = [room[0] - width, room[1] - height];
    if spare[0] < 0.0 || spare[1] < 0.0 {
        return None;
    }
    // Half of what is left over lies round the views, some of it between them.
    let [dx, dy] = spare.map(|spare| spare / 2.0);
    let rise = (spare[1] / 4.0).min(12.0);
    let stand = |view: usize, x: f64, y: f64| Stand { view, at: [x + dx, y + dy] };
    Some(vec![
        stand(0, x_side, y_side - rise / 2.0),
        stand(1, x_plan, y_plan + rise / 2.0),
        stand(2, front.left, y_front - rise / 2.0),
    ])
}

/// Views over one another on as few pages as they take, the plan first so that the view from the left comes under it; `None` when
/// one of them fits no page.
fn one_by_one(blocks: &[Block; 3], rooms: [[f64; 2]; 2]) -> Option<Vec<Sheet>> {
    let mut sheets: Vec<(Sheet, f64)> = Vec::new();
    for view in [1, 0, 2] {
        let block = &blocks[view];
        let fits = |room: [f64; 2]| block.across() <= room[0] && block.up() <= room[1];
        let is_turned = !fits(rooms[0]);
        let room = rooms[usize::from(is_turned)];
        if !fits(room) {
            return None;
        }
        let x = (room[0] - block.across()) / 2.0 + block.left;
        match sheets.last_mut() {
            Some((sheet, free)) if sheet.is_turned == is_turned && block.up() + BETWEEN <= *free => {
                *free -= block.up() + BETWEEN;
                sheet.stands.push(Stand { view, at: [x, *free + block.below] });
            }
            _ => {
                let free = room[1] - block.up();
                let stands = vec![Stand { view, at: [x, free + block.below] }];
                sheets.push((Sheet { is_turned, stands }, free));
            }
        }
    }
    // What is left over of the height lies over, under and between the views.
    let spread = sheets.into_iter().map(|(mut sheet, free)| {
        #[allow(clippy::cast_precision_loss)]
        let gap = free / (sheet.stands.len() as f64 + 1.0);
        let mut down = gap;
        for stand in &mut sheet.stands {
            stand.at[1] -= down;
            down += gap;
        }
        sheet
    });
    Some(spread.collect())
}
