//! The bent member drawn to fit: centreline, both walls, bends numbered, spread and rise.

use crate::drawing::{Anchor, Area, Drawing, Lettering, Path, Pen, Point, Text, Weight};
use crate::pack::layout::dimension::{Side, level};
use crate::pack::layout::figures::Figures;
use crate::pack::layout::free_place::Occupied;
use crate::pack::layout::furniture::Furniture;
use crate::sheets::{BendSheet, End};

/// Space beside, above and below the tube for figures, mm.
const SIDE: f64 = 12.0;
const ABOVE: f64 = 10.0;
const BELOW: f64 = 18.0;
/// Free beside the figure between both ends for their names, mm.
const END_NAMES: f64 = 14.0;
/// Scales of ISO 5455 that are tried, largest first.
const SCALES: [f64; 7] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0];
/// A turn of the centreline sharper than this between two points, in radians, belongs to a bend.
const TURNING: f64 = 1e-4;
/// A stretch longer than this share of the bend radius is a straight, not a step round an arc.
const STRAIGHT: f64 = 0.35;

/// Draws the member so that its two ends stand level and it rises above them; empty when there is nothing to draw.
pub(super) fn draw(sheet: &BendSheet, area: Area, furniture: Furniture) -> Drawing {
    let mut drawing = Drawing::default();
    let level = levelled(&sheet.view);
    let Some(bounds) = bounds(&level) else {
        return drawing;
    };
    let reach = sheet.od / 2.0;
    let room = [area.width - 2.0 * SIDE, area.height - ABOVE - BELOW];
    let scale = SCALES
        .into_iter()
        .find(|scale| {
            (bounds.width + 2.0 * reach) / scale <= room[0] && (bounds.height + 2.0 * reach) / scale <= room[1]
        })
        .unwrap_or_else(|| ((bounds.width + 2.0 * reach) / room[0]).max((bounds.height + 2.0 * reach) / room[1]));
    let foot = [
        area.x + area.width / 2.0 - (bounds.x + bounds.width / 2.0) / scale,
        area.top() - ABOVE - (bounds.top() + reach) / scale,
    ];
    let points: Vec<Point> = level.iter().map(|[x, y]| [foot[0] + x / scale, foot[1] + y / scale]).collect();
    let wall = reach / scale;
    for offset in [wall, -wall] {
        drawing.path(Path::polyline(&offset_line(&points, offset), Pen::Edge));
    }
    drawing.path(Path::polyline(&points, Pen::Axis));
    close_ends(&mut drawing, &points, wall, furniture.figures());
    number_bends(&mut drawing, sheet, &points, scale);
    measure(&mut drawing, sheet, &points, wall, furniture);
    let lowest = points.iter().map(|p| p[1]).fold(f64::MAX, f64::min) - wall;
    let caption = furniture.words.bend_sheet.view_scale(furniture.figures().short_tenths(scale));
    drawing.text(
        Text::new(caption, [area.x + area.width / 2.0, lowest - 13.0])
            .lettered(Lettering::Small)
            .anchored(Anchor::Middle),
    );
    drawing
}

/// The view turned so that the line between its ends is level and the rest stands above it.
fn levelled(view: &[Point]) -> Vec<Point> {
    let (Some(first), Some(last)) = (view.first(), view.last()) else {
        return Vec::new();
    };
    let chord = [last[0] - first[0], last[1] - first[1]];
    let length = libm::hypot(chord[0], chord[1]);
    let [c, s] = if length > 1e-6 { [chord[0] / length, chord[1] / length] } else { [1.0, 0.0] };
    let turned: Vec<Point> = view
        .iter()
        .map(|p| {
            let [x, y] = [p[0] - first[0], p[1] - first[1]];
            [c * x + s * y, c * y - s * x]
        })
        .collect();
    let above = turned.iter().map(|p| p[1]).fold(0.0, f64::max);
    let below = turned.iter().map(|p| p[1]).fold(0.0, f64::min);
    if -below > above { turned.iter().map(|p| [length - p[0], -p[1]]).collect() } else { turned }
}

fn bounds(points: &[Point]) -> Option<Area> {
    let first = points.first()?;
    let (mut low, mut high) = (*first, *first);
    for point in points {
        for axis in 0..2 {
            low[axis] = low[axis].min(point[axis]);
            high[axis] = high[axis].max(point[axis]);
        }
    }
    Some(Area { x: low[0], y: low[1], width: high[0] - low[0], height: high[1] - low[1] })
}

fn direction(from: Point, to: Point) -> Option<Point> {
    let (x, y) = (to[0] - from[0], to[1] - from[1]);
    let length = libm::hypot(x, y);
    (length > 1e-9).then(|| [x / length, y / length])
}

/// Direction of the centreline at a point, between its neighbours.
fn tangent(points: &[Point], index: usize) -> Point {
    let before = points.get(index.saturating_sub(1));
    let after = points.get(index + 1).or_else(|| points.get(index));
    match (before, after) {
        (Some(a), Some(b)) => direction(*a, *b).unwrap_or([1.0, 0.0]),
        _ => [1.0, 0.0],
    }
}

fn offset_line(points: &[Point], offset: f64) -> Vec<Point> {
    points
        .iter()
        .enumerate()
        .map(|(index, p)| {
            let [x, y] = tangent(points, index);
            [p[0] - y * offset, p[1] + x * offset]
        })
        .collect()
}

fn close_ends(drawing: &mut Drawing, points: &[Point], wall: f64, figures: Figures) {
    let (left, right) = (offset_line(points, wall), offset_line(points, -wall));
    for pick in [<[Point]>::first, <[Point]>::last] {
        if let (Some(a), Some(b)) = (pick(&left), pick(&right)) {
            drawing.line(*a, *b, Pen::Edge);
        }
    }
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return;
    };
    for (index, at, end) in [(0, first, End::From), (points.len() - 1, last, End::To)] {
        let along = tangent(points, index);
        let outward = if index == 0 { -1.0 } else { 1.0 };
        let at = [at[0] + along[0] * outward * 4.5, at[1] + along[1] * outward * 4.5 - 1.2];
        drawing.text(Text::new(figures.words.page.end(figures.end(end)), at).bold().anchored(Anchor::Middle));
    }
}

/// Numbers in circles outside the middle of each bend. Bends are found where the drawn centreline turns, with straights between
/// them; when the view does not show as many bends as there are, none is numbered.
fn number_bends(drawing: &mut Drawing, sheet: &BendSheet, points: &[Point], scale: f64) {
    let wall = sheet.od / 2.0 / scale;
    let least_radius = sheet.rows.iter().map(|row| row.radius).fold(f64::MAX, f64::min);
    let straight = STRAIGHT * least_radius / scale;
    let mut runs: Vec<(usize, usize, f64)> = Vec::new();
    for index in 1..points.len().saturating_sub(1) {
        let (before, here) = (points[index - 1], points[index]);
        let (Some(a), Some(b)) = (direction(before, here), direction(here, points[index + 1])) else {
            continue;
        };
        let turn = a[0] * b[1] - a[1] * b[0];
        if turn.abs() < TURNING {
            continue;
        }
        let near = libm::hypot(here[0] - before[0], here[1] - before[1]) < straight;
        match runs.last_mut() {
            Some(run) if near && run.1 + 1 == index && run.2 * turn > 0.0 => run.1 = index,
            _ => runs.push((index, index, turn)),
        }
    }
    if runs.len() != sheet.rows.len() {
        return;
    }
    for (number, (first, last, turn)) in runs.into_iter().enumerate() {
        let middle = first + (last - first) / 2;
        let [x, y] = tangent(points, middle);
        let out = (wall + 6.0) * if turn > 0.0 { -1.0 } else { 1.0 };
        let at = [points[middle][0] - y * out, points[middle][1] + x * out];
        drawing.path(Path::circle(at, 3.2, Pen::Thin));
        let number = (number + 1).to_string();
        drawing.text(Text::new(number, [at[0], at[1] - 1.25]).bold().anchored(Anchor::Middle));
    }
}

fn measure(drawing: &mut Drawing, sheet: &BendSheet, points: &[Point], wall: f64, furniture: Furniture) {
    let (Some(first), Some(last)) = (points.first(), points.last()) else {
        return;
    };
    let Some(highest) = points.iter().copied().max_by(|a, b| a[1].total_cmp(&b[1])) else {
        return;
    };
    level(drawing, *first, last[0], "", Side::Below);
    let middle = (first[0] + last[0]) / 2.0;
    let spread = furniture.words.bend_sheet.view_spread(furniture.figures().length(sheet.end_to_end));
    // Between the names of both ends, or under them where they stand too near each other.
    let between = last[0] - first[0] - furniture.letters.width(&spread, Lettering::Body, Weight::Regular);
    let below = first[1] - if between > END_NAMES { 4.4 } else { 9.6 };
    drawing.text(Text::new(spread, [middle, below]).anchored(Anchor::Middle));
    let inside = highest[1] - wall - 1.0;
    // In a part too small to hold it the figure stands in the list above only.
    if sheet.rise > 0.0 && inside > first[1] + 12.0 {
        let x = middle;
        drawing.line([x, first[1]], [x, highest[1]], Pen::Thin);
        for (tip, away) in [(first[1], 2.4), (highest[1], -2.4)] {
            drawing.path(Path::triangle([[x, tip], [x - 0.7, tip + away], [x + 0.7, tip + away]]));
        }
        let words = furniture.words.bend_sheet.view_rise(furniture.figures().length(sheet.rise));
        let Some(bounds) = bounds(points) else {
            return;
        };
        let occupied = Occupied::new(furniture.letters, bounds, drawing);
        let height = inside - first[1];
        let text = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8]
            .into_iter()
            .flat_map(|share| {
                let y = first[1] + share * height;
                let right = Text::new(words.as_str(), [x + 2.0, y]);
                let left = Text::new(words.as_str(), [x - 2.0, y]).anchored(Anchor::End);
                [right, left]
            })
            .find(|text| occupied.is_free(text));
        if let Some(text) = text {
            drawing.text(text);
        }
    }
}
