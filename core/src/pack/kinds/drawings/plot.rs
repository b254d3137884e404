//! A view at its scale on paper.

use crate::drawing::{Area, Path, Pen, Point, Segment};
use crate::sheets::Sheets;
use crate::view::{Curve, Hand, Run, SceneView, distance, simplified};

/// What lines may stray from the true curve by, mm on paper.
const TOLERANCE: f64 = 0.02;

/// Where along what is seen of a part a leader may end, the best place first.
const SHARES: [f64; 7] = [0.5, 0.42, 0.58, 0.34, 0.66, 0.25, 0.75];
/// How far from the lines of other parts it then ends, mm on paper.
const CLEAR: f64 = 0.8;

/// Scales of ISO 5455 for reductions, largest first, after full size.
pub(super) const SCALES: [f64; 10] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];

/// A view placed on paper.
#[derive(Clone, Copy)]
pub(in crate::pack) struct Plot<'a> {
    pub(in crate::pack) seen: &'a SceneView,
    /// Millimetres of the frame for one on paper.
    pub(in crate::pack) scale: f64,
    /// Where the left lower end of the whole frame comes, mm on paper.
    pub(in crate::pack) corner: Point,
}

impl Plot<'_> {
    /// Where a point of the view comes on paper.
    pub(in crate::pack) fn place(&self, [x, y]: Point) -> Point {
        let [left, low, ..] = self.seen.extent;
        [self.corner[0] + (x - left) / self.scale, self.corner[1] + (y - low) / self.scale]
    }

    /// What the whole frame takes on paper.
    pub(in crate::pack) fn frame(&self) -> Area {
        let [width, height] = size(self.seen, self.scale);
        Area { x: self.corner[0], y: self.corner[1], width, height }
    }

    /// What is seen when the first `standing` parts are in place, each curve with the pen of its part; nothing is drawn of a curve
    /// without one.
    pub(in crate::pack) fn lines(&self, standing: usize, pen: impl Fn(&Run) -> Option<Pen>) -> Vec<Path> {
        let mut paths: Vec<Path> = Vec::new();
        for run in self.seen.when(standing) {
            let Some(pen) = pen(run) else { continue };
            let points: Vec<Point> = run.points.iter().map(|&point| self.place(point)).collect();
            let points = simplified(&points, TOLERANCE);
            let path = match paths.iter_mut().find(|path| path.pen == Some(pen)) {
                Some(path) => path,
                None => {
                    paths.push(Path { segments: Vec::new(), pen: Some(pen), fill: None });
                    let last = paths.len() - 1;
                    &mut paths[last]
                }
            };
            let steps = points.iter().enumerate();
            path.segments.extend(steps.map(|(index, &point)| match index {
                0 => Segment::Move(point),
                _ => Segment::Line(point),
            }));
        }
        // What is light lies under what is dark.
        paths.sort_by(|a, b| {
            let light = |path: &Path| path.pen.map_or(0.0, Pen::lightness);
            light(b).total_cmp(&light(a))
        });
        paths
    }

    /// Where a leader to a part ends, and the length of what is seen of it there, both on paper; `None` where nothing of it is seen.
    pub(in crate::pack) fn anchor(&self, part: usize, standing: usize) -> Option<Anchorage> {
        let longest = |is_side: bool| {
            let runs = self.seen.when(standing).filter(|run| run.part == part);
            runs.filter(|run| matches!(run.curve, Curve::Side(_)) == is_side)
                .map(|run| (run, length(&run.points)))
                .reduce(|best, next| if next.1 > best.1 { next } else { best })
        };
        let (run, length) = longest(true).or_else(|| longest(false))?;
        let place = |share: f64| {
            let (at, [x, y]) = along(&run.points, share * length)?;
            Some(match run.curve {
                Curve::Side(hand) => {
                    let off = 0.4 * self.seen.breadths[part] * if hand == Hand::Left { 1.0 } else { -1.0 };
                    [at[0] - off * y, at[1] + off * x]
                }
                _ => {
                    let to = self.seen.middles[part];
                    let away = libm::hypot(to[0] - at[0], to[1] - at[1]);
                    let share = (self.scale / away.max(1e-9)).min(0.5);
                    [at[0] + share * (to[0] - at[0]), at[1] + share * (to[1] - at[1])]
                }
            })
        };
        let mut places = SHARES.iter().filter_map(|&share| place(share));
        let at = places.clone().find(|&at| self.is_clear(at, part, standing)).or_else(|| places.next())?;
        Some(Anchorage { at: self.place(at), length: length / self.scale })
    }

    /// Whether nothing of another part is drawn close to a place of the view.
    fn is_clear(&self, at: Point, part: usize, standing: usize) -> bool {
        let by = CLEAR * self.scale;
        let is_near = |run: &Run| {
            (0..2).all(|axis| run.low[axis] - by < at[axis] && at[axis] < run.high[axis] + by)
                && run.points.windows(2).any(|pair| distance(at, pair[0], pair[1]) < by)
        };
        !self.seen.when(standing).any(|run| run.part != part && is_near(run))
    }
}

/// Where a leader ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::pack) struct Anchorage {
    pub(in crate::pack) at: Point,
    /// Length of what is seen of the part there, mm on paper.
    pub(in crate::pack) length: f64,
}

/// Width and height that a view takes at a scale, mm.
pub(in crate::pack) fn size(seen: &SceneView, scale: f64) -> [f64; 2] {
    let [left, low, right, high] = seen.extent;
    [(right - left) / scale, (high - low) / scale]
}

/// The pen of a curve of a part that is drawn with `pen`.
pub(in crate::pack) fn pen_of(run: &Run, pen: Pen) -> Pen {
    match run.curve {
        Curve::Corner if pen != Pen::Standing => Pen::Rule,
        _ => pen,
    }
}

/// Part number of a member or plate; empty when it has none.
pub(in crate::pack) fn part_number<'a>(sheets: &'a Sheets, id: &str) -> &'a str {
    let tube = sheets.cut_sheet.rows.iter().find(|row| row.member == id).map(|row| row.part_number.as_str());
    let plate = || sheets.plates.iter().find(|plate| plate.plate == id).map(|plate| plate.part_number.as_str());
    let listed = || sheets.parts.iter().find(|part| part.members.iter().any(|member| member == id));
    tube.or_else(plate).or_else(|| listed().map(|part| part.number.as_str())).unwrap_or_default()
}

fn length(points: &[Point]) -> f64 {
    points.windows(2).map(|pair| libm::hypot(pair[1][0] - pair[0][0], pair[1][1] - pair[0][1])).sum()
}

/// The point so far along and the direction there.
fn along(points: &[Point], length: f64) -> Option<(Point, Point)> {
    let mut rest = length;
    for pair in points.windows(2) {
        let [dx, dy] = [pair[1][0] - pair[0][0], pair[1][1] - pair[0][1]];
        let step = libm::hypot(dx, dy);
        if step >= rest && step > 0.0 {
            let part = rest / step;
            return Some(([pair[0][0] + part * dx, pair[0][1] + part * dy], [dx / step, dy / step]));
        }
        rest -= step;
    }
    None
}
