//! Flat patterns: plates, and the ends of tubes unrolled, as contours that a cutter follows, marks and text.

use crate::facts::Subject;
use crate::words::EN;
use matchmark_core::geometry::Edge;
use matchmark_core::sheets::{BendSide, Datum, PlateSheet, Wrap};

/// What is done along something drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Layer {
    /// It is cut.
    Cut,
    /// It is marked and not cut through.
    Mark,
    /// It is read.
    Text,
}

impl Layer {
    pub(crate) const ALL: [Self; 3] = [Self::Cut, Self::Mark, Self::Text];

    /// Its name in files.
    pub(crate) fn name(self) -> &'static str {
        match self {
            Self::Cut => "CUT",
            Self::Mark => "MARK",
            Self::Text => "TEXT",
        }
    }
}

/// A corner of a contour, and how the way to the next one bends: the tangent of a quarter of the arc's angle, positive to the left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Corner {
    pub(crate) at: [f64; 2],
    pub(crate) bulge: f64,
}

/// Something drawn; its id says what it is.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Shape {
    Contour { id: String, layer: Layer, corners: Vec<Corner>, closed: bool },
    Circle { id: String, layer: Layer, centre: [f64; 2], radius: f64 },
    Text { id: String, at: [f64; 2], height: f64, content: String },
}

/// A flat pattern in mm, x to the right and y up.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Flat {
    /// What it is.
    pub(crate) about: String,
    pub(crate) shapes: Vec<Shape>,
    /// Lower left and upper right corner of all but the text.
    pub(crate) bounds: [[f64; 2]; 2],
}

/// Height of text, mm, and the distance of its lines as a multiple of it.
const LETTERS: f64 = 3.0;
const LEADING: f64 = 1.6;

/// Smallest text, mm.
const SMALLEST: f64 = 1.2;

/// How wide a letter is against its height, at most.
const LETTER_WIDTH: f64 = 0.95;

/// Longest line of text, letters.
const LONGEST: usize = 64;

/// The flat patterns that a frame has: the names of their files, without what tells the format, and what they are.
pub(crate) fn listed(subject: &Subject) -> Vec<(String, String)> {
    let plates = subject.sheets.plates.iter().map(|sheet| (plate_name(sheet), about_plate(sheet)));
    plates.chain(subject.sheets.wraps.iter().map(|sheet| (wrap_name(sheet), about_wrap(sheet)))).collect()
}

/// The flat pattern of a name.
pub(crate) fn named(subject: &Subject, name: &str) -> Option<Flat> {
    let sheets = subject.sheets;
    let found = sheets.plates.iter().find(|sheet| plate_name(sheet) == name).and_then(|sheet| plate(subject, sheet));
    found.or_else(|| sheets.wraps.iter().find(|sheet| wrap_name(sheet) == name).map(|sheet| wrap(subject, sheet)))
}

fn plate_name(sheet: &PlateSheet) -> String {
    format!("plate-{}", sheet.plate)
}

fn about_plate(sheet: &PlateSheet) -> String {
    format!("{}, plate {}", sheet.part_number, sheet.plate)
}

fn wrap_name(sheet: &Wrap) -> String {
    format!("wrap-{}-end-{}", sheet.member, sheet.end.position() + 1)
}

fn about_wrap(sheet: &Wrap) -> String {
    EN.unrolled(&sheet.part_number, &sheet.member, sheet.end.position() + 1)
}

/// A straight run of corners.
fn straight(points: impl IntoIterator<Item = [f64; 2]>) -> Vec<Corner> {
    points.into_iter().map(|at| Corner { at, bulge: 0.0 }).collect()
}

fn line(id: &str, from: [f64; 2], to: [f64; 2]) -> Shape {
    Shape::Contour { id: id.to_owned(), layer: Layer::Mark, corners: straight([from, to]), closed: false }
}

/// A plate seen on the face of its sheet, its holes as circles; text stands below it.
fn plate(subject: &Subject, sheet: &PlateSheet) -> Option<Flat> {
    let placed = &subject.made.frame.plates[subject.made.plate(&sheet.plate)?];
    let outline = &placed.plate.outline;
    let corner = |edge: &Edge| {
        let bulge = match *edge {
            Edge::Line { .. } => 0.0,
            Edge::Arc { sweep, .. } => libm::tan(sweep / 4.0),
        };
        Corner { at: edge.at(0.0), bulge }
    };
    let corners = outline.edges.iter().map(corner).collect();
    let mut shapes = vec![Shape::Contour { id: "outline".to_owned(), layer: Layer::Cut, corners, closed: true }];
    for (number, hole) in (1..).zip(&placed.holes) {
        let circle = |what: &str, layer: Layer, diameter: f64| Shape::Circle {
            id: format!("{what}-{number}"),
            layer,
            centre: hole.at,
            radius: diameter / 2.0,
        };
        shapes.push(circle("hole", Layer::Cut, hole.diameter));
        shapes.extend(hole.countersink.map(|diameter| circle("countersink", Layer::Mark, diameter)));
    }
    let (low, high) = outline.bounds();
    let mut lines = heading(subject, &sheet.plate);
    lines.push(EN.plate(sheet.thickness.to_string(), &sheet.material));
    let sinks = placed.holes.iter().filter_map(|hole| hole.countersink);
    lines.extend(sinks.map(|diameter| EN.countersink(diameter.to_string())).take(1));
    lines.extend(subject.facts.cautions().into_iter().take(2));
    write_lines(&mut shapes, &lines, [low[0], low[1] - 2.0 * LETTERS], LETTERS);
    Some(Flat { about: about_plate(sheet), shapes, bounds: [low, high] })
}

/// The end of a tube unrolled, on its outer surface: the strip from the base line up to the outer line. Where part of the wall misses,
/// the lines are marks on a plain strip.
fn wrap(subject: &Subject, sheet: &Wrap) -> Flat {
    let (width, height) = (sheet.circumference, sheet.height);
    let mut shapes = Vec::new();
    let whole = match sheet.outer.as_slice() {
        [run] if sheet.misses.is_empty() => match (run.first(), run.last()) {
            (Some(first), Some(last)) => (first[0].abs() < 1e-3 && (last[0] - width).abs() < 1e-3).then_some(run),
            _ => None,
        },
        _ => None,
    };
    let edge: Vec<[f64; 2]> = match whole {
        Some(run) => run.iter().rev().copied().collect(),
        None => vec![[width, height], [0.0, height]],
    };
    let corners = straight([[0.0, 0.0], [width, 0.0]].into_iter().chain(edge));
    shapes.push(Shape::Contour { id: "strip".to_owned(), layer: Layer::Cut, corners, closed: true });
    let runs = |id: &str, runs: &[Vec<[f64; 2]>], shapes: &mut Vec<Shape>| {
        for (number, run) in (1..).zip(runs) {
            let (id, corners) = (format!("{id}-{number}"), straight(run.iter().copied()));
            shapes.push(Shape::Contour { id, layer: Layer::Mark, corners, closed: false });
        }
    };
    if whole.is_none() {
        runs("outer-line", &sheet.outer, &mut shapes);
    }
    runs("relief-line", &sheet.relief, &mut shapes);
    // Marks end below the cut, so that nothing crosses it.
    let top = sheet.outer.iter().chain(&sheet.relief).flatten().map(|point| point[1]).fold(height, f64::min) - 1.0;
    for mark in &sheet.index_lines {
        shapes.push(line(&format!("index-{}", mark.clock_deg), [mark.x, 0.0], [mark.x, top]));
    }
    for (number, flat) in (1..).zip(&sheet.flats) {
        for (side, x) in [("from", flat.from), ("to", flat.to)] {
            if x > 0.0 && x < width {
                shapes.push(line(&format!("fold-{number}-{side}"), [x, 0.0], [x, top]));
            }
        }
    }
    for (id, place) in [("long-point", sheet.long_point), ("other-long-point", sheet.other_long_point)] {
        shapes.extend(place.map(|place| line(id, [place.x, top / 2.0], [place.x, top])));
    }
    for hole in &sheet.holes {
        let corners = straight(hole.outline.iter().copied().skip(1));
        shapes.push(Shape::Contour { id: format!("hole-{}", hole.hole), layer: Layer::Mark, corners, closed: true });
    }
    let mut lines = heading(subject, &sheet.member);
    lines.push(EN.end((sheet.end.position() + 1).to_string(), sheet.cut.word()));
    lines.push(EN.section(sheet.size.to_string(), format!("{:.2}", sheet.circumference)));
    lines.push(EN.set_out(sheet.set_out.distance.to_string(), datum(sheet)));
    lines.push(EN.outer_surface().to_owned());
    lines.push(if whole.is_some() { EN.lines().to_owned() } else { EN.misses().to_owned() });
    lines.extend(subject.facts.cautions().into_iter().take(2));
    write_lines(&mut shapes, &lines, [0.0, -2.0 * LETTERS], LETTERS);
    // What the piece is must stay on it: in the foot of the strip, as large as goes in.
    let mark = format!(
        "{} {} {}",
        subject.number(&sheet.member),
        sheet.member,
        EN.end((sheet.end.position() + 1).to_string(), "")
    );
    let mark = mark.trim_end_matches([' ', ',']).to_owned();
    let letters = f64::from(u32::try_from(mark.chars().count()).unwrap_or(u32::MAX)) * LETTER_WIDTH;
    let size = ((width - 4.0) / letters.max(1.0)).clamp(SMALLEST, LETTERS);
    write_lines(&mut shapes, &[mark, subject.facts.title()], [2.0, 8.0], size);
    Flat { about: about_wrap(sheet), shapes, bounds: [[0.0, 0.0], [width, height]] }
}

fn datum(sheet: &Wrap) -> String {
    match sheet.set_out.datum {
        Datum::OtherEnd => EN.from_other_end().to_owned(),
        Datum::LongEnd { by } => EN.from_long_end(by.to_string()),
        Datum::TangentMark { bend, side: BendSide::Start, .. } => EN.from_bend_start(bend.to_string()),
        Datum::TangentMark { bend, side: BendSide::End, .. } => EN.from_bend_end(bend.to_string()),
    }
}

/// What a pattern is of: part, mark and hand, then design, revision and kit.
fn heading(subject: &Subject, id: &str) -> Vec<String> {
    let hand = match subject.hand(id) {
        "left" => format!(", {}", EN.hand_left()),
        "right" => format!(", {}", EN.hand_right()),
        _ => String::new(),
    };
    vec![EN.part(subject.number(id), id) + &hand, subject.facts.title()]
}

/// Adds lines of text below each other; a long one is broken between words.
fn write_lines(shapes: &mut Vec<Shape>, lines: &[String], [x, top]: [f64; 2], height: f64) {
    let mut number = shapes.iter().filter(|shape| matches!(shape, Shape::Text { .. })).count();
    let mut y = top;
    for content in lines.iter().flat_map(|line| broken(line)) {
        number += 1;
        shapes.push(Shape::Text { id: format!("text-{number}"), at: [x, y], height, content });
        y -= LEADING * height;
    }
}

/// A line broken where it gets longer than is read at a glance.
fn broken(line: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in line.split_whitespace() {
        match lines.last_mut() {
            Some(last) if last.len() + word.len() < LONGEST => {
                last.push(' ');
                last.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
