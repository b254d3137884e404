//! The finished part lying on its side, this end to the right: both cuts as they look from there, to scale, the middle left out
//! where the part is long.

use super::Subject;
use super::diagram::corner_radius;
use super::strip::highest;
use crate::drawing::{Drawing, Path, Pen, Point};
use crate::geometry::Profile;
use crate::sheets::{End, Wrap};
use crate::view::simplified;

/// Room along the part, mm on paper.
pub(in crate::pack) const LONG: f64 = 56.0;
/// Room across it, mm on paper.
const TALL: f64 = 11.0;
/// How much of the other end and of this one is shown where the middle is left out, mm on paper.
const SHOWN: [f64; 2] = [17.0, 35.0];
/// Reductions of ISO 5455.
const REDUCTIONS: [f64; 7] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0];
/// What is left out of a cut's line where it is only looked at, mm on paper.
const UNSEEN: f64 = 0.02;
/// Half the height of the zigzag in a break line, mm.
const ZIGZAG: f64 = 1.0;

/// Where the things to measure lie in the drawing, mm from its left end.
pub(in crate::pack) struct Side {
    /// The part, its axis level at nought.
    pub(in crate::pack) drawing: Drawing,
    /// It is drawn at 1 to this.
    pub(super) reduction: f64,
    /// True when the middle is left out.
    pub(super) is_broken: bool,
    /// Half the tube's height.
    pub(super) half: f64,
    /// Furthest point of the other end's cut.
    pub(super) other: f64,
    /// Furthest point of this end's cut.
    pub(super) this: f64,
    /// This wrap's base line.
    pub(super) base: f64,
    /// The long points of the other end's cut and of this one; `None` where a cut is square.
    pub(in crate::pack) tips: [Option<Tip>; 2],
}

/// Where a long point is drawn.
pub(in crate::pack) struct Tip {
    pub(in crate::pack) at: Point,
    /// True when it faces the viewer.
    pub(in crate::pack) is_near: bool,
}

/// A point of a cut as seen from the side: along the part from the other end's furthest point, up, and whether it faces the viewer.
type CutPoint = (f64, f64, bool);

/// Draws it, with the direction `up` of the tube's section, along its index line and 90 degrees from it, up in the drawing.
pub(in crate::pack) fn view(subject: Subject, up: Point) -> Side {
    let wrap = subject.wrap;
    let profile = profile(wrap);
    let length = wrap.overall;
    let top = highest(wrap);
    let this: Vec<Vec<CutPoint>> = seen(wrap, profile, up, wrap.end, |y| length - (top - y));
    let other: Vec<Vec<CutPoint>> = subject.other.map_or_else(Vec::new, |other| {
        let top = highest(other);
        seen(other, profile, up, wrap.end, move |y| top - y)
    });
    let tall = profile.extent(up);
    let depth = other.iter().flatten().map(|point| point.0).fold(0.0, f64::max);
    let reduction = REDUCTIONS
        .into_iter()
        .find(|by| {
            2.0 * tall / by <= TALL
                && (length / by <= LONG || (depth / by + 2.0 <= SHOWN[0] && top / by + 2.0 <= SHOWN[1]))
        })
        .unwrap_or(REDUCTIONS[6]);
    let is_broken = length / reduction > LONG;
    let start = if is_broken { 0.0 } else { (LONG - length / reduction) / 2.0 };
    let end = LONG - start;
    let along = |at: f64| {
        if is_broken && length - at <= SHOWN[1] * reduction {
            end - (length - at) / reduction
        } else {
            (start + at / reduction).min(if is_broken { SHOWN[0] } else { end })
        }
    };
    let half = tall / reduction;
    let mut drawing = Drawing::default();
    let corners = [edges(&other, 0.0), edges(&this, length)];
    for (row, y) in [half, -half].into_iter().enumerate() {
        let (from, to) = (along(corners[0][row]), along(corners[1][row]));
        if is_broken {
            drawing.line([from, y], [SHOWN[0], y], Pen::Edge);
            drawing.line([end - SHOWN[1], y], [to, y], Pen::Edge);
        } else {
            drawing.line([from, y], [to, y], Pen::Edge);
        }
    }
    if is_broken {
        break_line(&mut drawing, SHOWN[0], half);
        break_line(&mut drawing, end - SHOWN[1], half);
    }
    let place = |point: &CutPoint| [along(point.0), point.1 / reduction];
    cut(&mut drawing, &other, Pen::Edge, start, half, &place);
    cut(&mut drawing, &this, Pen::Cut, along(length), half, &place);
    let hides = other.iter().flatten().all(|point| !point.2 || point.0 > reduction);
    if !other.is_empty() && hides {
        for run in &other {
            stretches(
                run,
                |point| !point.2,
                |stretch| {
                    drawing.path(shown(stretch, Pen::Hidden, &place));
                },
            );
        }
    }
    let tip = |cut: &[Vec<CutPoint>], sign: f64| {
        let furthest = cut.iter().flatten().max_by(|a, b| (sign * a.0).total_cmp(&(sign * b.0)))?;
        Some(Tip { at: place(furthest), is_near: furthest.2 })
    };
    let tips = [
        tip(&other, -1.0).filter(|_| wrap.other_long_point.is_some()),
        tip(&this, 1.0).filter(|_| wrap.long_point.is_some()),
    ];
    Side {
        drawing,
        reduction,
        is_broken,
        half,
        other: along(0.0),
        this: along(length),
        base: along(length - top),
        tips,
    }
}

/// The direction in which this end's cut reaches furthest, or the other's when this one is square.
pub(super) fn long_point_up(subject: Subject) -> Point {
    let wrap = subject.wrap;
    let place = wrap.long_point.or(wrap.other_long_point).map_or(0.0, |line| place_of(line.x, wrap));
    unit(profile(wrap).spot(place, 0.0).at)
}

/// Place round the tube of a place on the printed face.
fn place_of(x: f64, wrap: &Wrap) -> f64 {
    match wrap.end {
        End::To => x,
        End::From => wrap.circumference - x,
    }
}

fn unit([x, y]: Point) -> Point {
    let length = libm::hypot(x, y);
    [x / length, y / length]
}

fn profile(wrap: &Wrap) -> Profile {
    let Some(od) = wrap.od else {
        let corner = corner_radius(&wrap.flats, wrap.circumference);
        let side = |clock_deg: f64| {
            let flats = wrap.flats.iter().filter(|side| (side.clock_deg - clock_deg).abs() < 1.0);
            flats.map(|side| side.to - side.from).sum::<f64>() / 2.0 + corner
        };
        // The side at 0 deg lies across the outline's x axis.
        return Profile::Rect { half_width: side(90.0), half_height: side(0.0), corner, wall: wrap.wall };
    };
    Profile::Round { outer: od / 2.0, wall: wrap.wall }
}

/// The runs of a cut, seen so that the end `to_the_right` lies to the right.
fn seen(wrap: &Wrap, profile: Profile, up: Point, to_the_right: End, along: impl Fn(f64) -> f64) -> Vec<Vec<CutPoint>> {
    // Clock angles are right-handed about the direction from -> to, which points right or left here.
    let hand = if to_the_right == End::To { 1.0 } else { -1.0 };
    let point = |[x, y]: &Point| {
        let at = profile.spot(place_of(*x, wrap), 0.0).at;
        let near = hand * (at[1] * up[0] - at[0] * up[1]);
        (along(*y), at[0] * up[0] + at[1] * up[1], near >= -1e-6 * profile.reach())
    };
    wrap.outer.iter().map(|run| run.iter().map(point).collect()).collect()
}

/// How far along the upper and the lower edge reach; `square` where there is no cut.
fn edges(cut: &[Vec<CutPoint>], square: f64) -> [f64; 2] {
    let by_height = |sign: f64| {
        let best = cut.iter().flatten().max_by(|a, b| (sign * a.1).total_cmp(&(sign * b.1)));
        best.map_or(square, |point| point.0)
    };
    [by_height(1.0), by_height(-1.0)]
}

/// Draws the side of a cut that faces the viewer; a square one is a straight line.
fn cut(
    drawing: &mut Drawing,
    runs: &[Vec<CutPoint>],
    pen: Pen,
    square: f64,
    half: f64,
    place: &impl Fn(&CutPoint) -> Point,
) {
    if runs.is_empty() {
        drawing.line([square, -half], [square, half], pen);
    }
    for run in runs {
        stretches(
            run,
            |point| point.2,
            |stretch| {
                drawing.path(shown(stretch, pen, place));
            },
        );
    }
}

/// A stretch of a cut's line with as many points as are seen.
fn shown(stretch: &[CutPoint], pen: Pen, place: &impl Fn(&CutPoint) -> Point) -> Path {
    Path::polyline(&simplified(&stretch.iter().map(place).collect::<Vec<_>>(), UNSEEN), pen)
}

/// Calls `draw` for each unbroken stretch of wanted points, at least two.
fn stretches(run: &[CutPoint], wanted: impl Fn(&CutPoint) -> bool, mut draw: impl FnMut(&[CutPoint])) {
    for stretch in run.split(|point| !wanted(point)) {
        if stretch.len() > 1 {
            draw(stretch);
        }
    }
}

/// A thin line with a zigzag, which stands for what is left out (ISO 128).
fn break_line(drawing: &mut Drawing, x: f64, half: f64) {
    let reach = half + 1.2;
    let points = [[x, -reach], [x, -ZIGZAG], [x + 0.9, -0.4], [x - 0.9, 0.4], [x, ZIGZAG], [x, reach]];
    drawing.path(Path::polyline(&points, Pen::Thin));
}
