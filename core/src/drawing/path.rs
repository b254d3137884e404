//! Lines, curves and filled areas, drawn with pens named by what they mean.

use super::{Area, Placement, Point};

/// What a line means, which settles its width and dashes.
///
/// Widths are from the set 0.13 0.18 0.25 0.35 0.5 0.7 of ISO 128-2, dash lengths follow its rule of multiples of the width.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pen {
    /// The line to cut on, and the frame of a page.
    Cut,
    /// Visible edges: outlines of tubes and strips, base lines, tick boxes.
    Edge,
    /// The relief line.
    Relief,
    /// Check bars and their ticks.
    Measure,
    /// Index lines, dimension lines and leaders.
    Thin,
    /// Axes and lines that mark a long point.
    Axis,
    /// Edges to fold or glue, and what is cut away.
    Hidden,
    /// Outlines and edges in a view of the frame.
    View,
    /// The same of what stands already where something is added.
    Standing,
    /// Rules between the rows of a table, and rounded corners in a view of the frame.
    Rule,
}

impl Pen {
    /// Line width, mm.
    #[must_use]
    pub fn width(self) -> f64 {
        match self {
            Self::Cut => 0.5,
            Self::Edge | Self::Relief => 0.35,
            Self::Measure | Self::View => 0.25,
            Self::Thin | Self::Axis | Self::Hidden | Self::Standing => 0.18,
            Self::Rule => 0.13,
        }
    }

    /// Lengths of dashes and gaps in turn, mm; empty for a continuous line.
    #[must_use]
    pub fn dashes(self) -> &'static [f64] {
        match self {
            Self::Relief => &[3.0, 1.5],
            Self::Axis => &[4.3, 0.8, 0.5, 0.8],
            Self::Hidden => &[2.2, 0.8],
            Self::Cut | Self::Edge | Self::Measure | Self::Thin | Self::View | Self::Standing | Self::Rule => &[],
        }
    }

    /// How light its line is, from 0 for black to 1 for white.
    #[must_use]
    pub fn lightness(self) -> f64 {
        if self == Self::Standing { 0.45 } else { 0.0 }
    }
}

/// Black or white: the only inks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ink {
    /// Black.
    Black,
    /// White, for letters on a black field.
    White,
}

/// A step of a path, from where the step before it ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Segment {
    /// Lifts the pen and sets it down here.
    Move(Point),
    /// Straight to here.
    Line(Point),
    /// Cubic Bezier curve: two control points, then the end.
    Curve([Point; 3]),
    /// Straight back to the last `Move`.
    Close,
}

/// Lines and curves with one pen, or an area filled with one ink.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    /// Steps, the first a `Move`.
    pub segments: Vec<Segment>,
    /// Pen that draws it; `None` when it is only filled.
    pub pen: Option<Pen>,
    /// Ink that fills it; `None` when it is only drawn.
    pub fill: Option<Ink>,
}

/// Where the control points of a quarter circle's Bezier lie, as a share of its radius.
const QUARTER_CIRCLE: f64 = 0.552_284_75;

impl Path {
    /// Straight lines through the points.
    #[must_use]
    pub fn polyline(points: &[Point], pen: Pen) -> Self {
        let segments = points
            .iter()
            .enumerate()
            .map(|(index, point)| if index == 0 { Segment::Move(*point) } else { Segment::Line(*point) })
            .collect();
        Self { segments, pen: Some(pen), fill: None }
    }

    /// The outline of an area.
    #[must_use]
    pub fn rectangle(area: Area, pen: Pen) -> Self {
        let mut path = Self::polyline(&corners(area), pen);
        path.segments.push(Segment::Close);
        path
    }

    /// An area filled with ink.
    #[must_use]
    pub fn filled(area: Area, ink: Ink) -> Self {
        Self { pen: None, fill: Some(ink), ..Self::rectangle(area, Pen::Rule) }
    }

    /// A filled triangle, the head of an arrow.
    #[must_use]
    pub fn triangle(points: [Point; 3]) -> Self {
        let mut path = Self::polyline(&points, Pen::Rule);
        path.segments.push(Segment::Close);
        path.pen = None;
        path.fill = Some(Ink::Black);
        path
    }

    /// A circle as four Bezier curves, true to 0.03 % of its radius.
    #[must_use]
    pub fn circle(centre: Point, radius: f64, pen: Pen) -> Self {
        let at = |x: f64, y: f64| [centre[0] + radius * x, centre[1] + radius * y];
        let k = QUARTER_CIRCLE;
        Self {
            segments: vec![
                Segment::Move(at(1.0, 0.0)),
                Segment::Curve([at(1.0, k), at(k, 1.0), at(0.0, 1.0)]),
                Segment::Curve([at(-k, 1.0), at(-1.0, k), at(-1.0, 0.0)]),
                Segment::Curve([at(-1.0, -k), at(-k, -1.0), at(0.0, -1.0)]),
                Segment::Curve([at(k, -1.0), at(1.0, -k), at(1.0, 0.0)]),
                Segment::Close,
            ],
            pen: Some(pen),
            fill: None,
        }
    }

    /// An upright rectangle with round corners, those as Bezier curves like a circle's.
    #[must_use]
    pub fn rounded(area: Area, radius: f64, pen: Pen) -> Self {
        let k = radius * (1.0 - QUARTER_CIRCLE);
        let (left, low, right, top) = (area.x, area.y, area.right(), area.top());
        let (r, line, curve) = (radius, Segment::Line, Segment::Curve);
        Self {
            segments: vec![
                Segment::Move([left + r, low]),
                line([right - r, low]),
                curve([[right - k, low], [right, low + k], [right, low + r]]),
                line([right, top - r]),
                curve([[right, top - k], [right - k, top], [right - r, top]]),
                line([left + r, top]),
                curve([[left + k, top], [left, top - k], [left, top - r]]),
                line([left, low + r]),
                curve([[left, low + k], [left + k, low], [left + r, low]]),
                Segment::Close,
            ],
            pen: Some(pen),
            fill: None,
        }
    }

    /// All points named by the path, control points included.
    pub fn points(&self) -> impl Iterator<Item = Point> + '_ {
        self.segments.iter().flat_map(|segment| {
            let (points, count) = match segment {
                Segment::Move(p) | Segment::Line(p) => ([*p, *p, *p], 1),
                Segment::Curve(points) => (*points, 3),
                Segment::Close => ([[0.0; 2]; 3], 0),
            };
            points.into_iter().take(count)
        })
    }

    /// The straight steps of the path; a curve is cut into `of_curve` of them.
    #[must_use]
    pub fn chords(&self, of_curve: u32) -> Vec<(Point, Point)> {
        let mut chords = Vec::new();
        let (mut start, mut at) = ([0.0; 2], [0.0; 2]);
        for segment in &self.segments {
            match segment {
                Segment::Move(p) => {
                    start = *p;
                    at = *p;
                }
                Segment::Line(p) => {
                    chords.push((at, *p));
                    at = *p;
                }
                Segment::Curve([a, b, end]) => {
                    let from = at;
                    for step in 1..=of_curve {
                        let t = f64::from(step) / f64::from(of_curve);
                        let to = if step == of_curve { *end } else { bezier([from, *a, *b, *end], t) };
                        chords.push((at, to));
                        at = to;
                    }
                }
                Segment::Close => {
                    chords.push((at, start));
                    at = start;
                }
            }
        }
        chords
    }

    /// Moves and turns it.
    pub fn place(&mut self, placement: Placement) {
        for segment in &mut self.segments {
            match segment {
                Segment::Move(p) | Segment::Line(p) => *p = placement.carry(*p),
                Segment::Curve(points) => *points = points.map(|p| placement.carry(p)),
                Segment::Close => {}
            }
        }
    }
}

fn corners(area: Area) -> [Point; 4] {
    [[area.x, area.y], [area.right(), area.y], [area.right(), area.top()], [area.x, area.top()]]
}

fn bezier(p: [Point; 4], t: f64) -> Point {
    let u = 1.0 - t;
    [0, 1].map(|axis| {
        u * u * u * p[0][axis] + 3.0 * u * u * t * p[1][axis] + 3.0 * u * t * t * p[2][axis] + t * t * t * p[3][axis]
    })
}
