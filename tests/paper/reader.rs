//! The reader and the comparison of printed lines.

use matchmark_core::pack::{Issue, Paper, Print, Status};
use serde_json::Value;
use std::io::Write;
use std::process::Command;

pub type Point = [f64; 2];

/// A page as it was read: lengths in mm from the lower left corner.
pub struct Page {
    pub size: Point,
    pub text: String,
    pub lines: Vec<Stroke>,
}

/// A stroked line.
pub struct Stroke {
    pub dashed: bool,
    pub points: Vec<Point>,
}

pub fn issue(paper: Paper) -> Issue {
    Issue {
        supplier: "Bench Works".into(),
        contact: "ask@bench.example".into(),
        design: "Bench frame".into(),
        revision: "A".into(),
        date: "2026-11-25".into(),
        kit: "BW-0001".into(),
        pack_number: "P-0001".into(),
        kit_facts: Vec::new(),
        measured_on: std::collections::BTreeMap::new(),
        status: Status::Issued,
        print: Print { paper, ..Print::default() },
        seal: None,
        since: None,
        notices: Vec::new(),
        recalls: Vec::new(),
        design_sha256: "0".repeat(64),
    }
}

/// Reads a PDF with the Python of `tests/run`, or with `python3` where PyMuPDF is installed.
pub fn read(pdf: &[u8]) -> Vec<Page> {
    let pages = run_python("read_pdf.py", pdf);
    let stroke = |line: &Value| Stroke {
        dashed: line["dashed"].as_bool().expect("a flag"),
        points: serde_json::from_value(line["points"].clone()).expect("points"),
    };
    let page = |page: &Value| Page {
        size: serde_json::from_value(page["size"].clone()).expect("a size"),
        text: page["text"].as_str().expect("text").split_whitespace().collect::<Vec<_>>().join(" "),
        lines: page["lines"].as_array().expect("lines").iter().map(stroke).collect(),
    };
    pages.as_array().expect("pages").iter().map(page).collect()
}

/// What a script beside this file prints of a PDF.
pub fn run_python(script: &str, pdf: &[u8]) -> Value {
    let mut file = tempfile::NamedTempFile::new().expect("a temporary file");
    file.write_all(pdf).expect("written");
    let python = std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    let script = format!("{}/paper/{script}", env!("CARGO_MANIFEST_DIR"));
    let output = Command::new(python).arg(script).arg(file.path()).output().expect("Python runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// Distance of a point from a polyline.
fn off(point: Point, line: &[Point]) -> f64 {
    let distance = |pair: &[Point]| {
        let (a, b) = (pair[0], pair[1]);
        let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
        let square = dx * dx + dy * dy;
        let t = if square > 0.0 {
            (((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square).clamp(0.0, 1.0)
        } else {
            0.0
        };
        (point[0] - a[0] - t * dx).hypot(point[1] - a[1] - t * dy)
    };
    line.windows(2).map(distance).fold(f64::INFINITY, f64::min)
}

/// Largest distance between two polylines, each point of one to the other.
pub fn apart(a: &[Point], b: &[Point]) -> f64 {
    let one_way = |a: &[Point], b: &[Point]| a.iter().map(|&point| off(point, b)).fold(0.0, f64::max);
    one_way(a, b).max(one_way(b, a))
}

impl Page {
    /// Every place where a wrap's origin (index line at the left edge, base line) may lie, found by its outer line: several wraps
    /// on a page can have the same line over base lines of their own.
    pub fn origins_of(&self, outer: &[Point]) -> impl Iterator<Item = Point> {
        let candidates = self.lines.iter().filter(|line| line.points.len() > 2 && !line.dashed);
        candidates
            .map(|line| [line.points[0][0] - outer[0][0], line.points[0][1] - outer[0][1]])
            .filter(|&origin| self.holds(&moved(outer, origin), 0.02))
    }

    /// True when some line of the page is this one within a tolerance.
    pub fn holds(&self, wanted: &[Point], tolerance: f64) -> bool {
        self.lines.iter().any(|line| {
            let ends = [line.points[0], line.points[line.points.len() - 1]];
            let wanted_ends = [wanted[0], wanted[wanted.len() - 1]];
            let near = ends.iter().zip(&wanted_ends).all(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1]) <= tolerance);
            near && apart(&line.points, wanted) <= tolerance
        })
    }

    /// The page turned back by so many quarters clockwise, so that what was placed turned reads level.
    pub fn turned(&self, quarters: u8) -> Self {
        let turn = |[x, y]: Point| if quarters % 2 == 1 { [y, -x] } else { [x, y] };
        let lines = self.lines.iter();
        Self {
            size: self.size,
            text: self.text.clone(),
            lines: lines
                .map(|line| Stroke {
                    dashed: line.dashed,
                    points: line.points.iter().map(|point| turn(*point)).collect(),
                })
                .collect(),
        }
    }

    /// True when some line of the page passes a point within a tolerance.
    pub fn has_line_at(&self, point: Point, tolerance: f64) -> bool {
        self.lines.iter().any(|line| {
            line.points.windows(2).any(|pair| {
                let near = |axis: usize| {
                    let (low, high) = (pair[0][axis].min(pair[1][axis]), pair[0][axis].max(pair[1][axis]));
                    (low - tolerance..=high + tolerance).contains(&point[axis])
                };
                near(0) && near(1) && off(point, pair) <= tolerance
            })
        })
    }

    /// Lower left corners of rectangles of a size.
    pub fn rectangles(&self, size: Point, tolerance: f64) -> impl Iterator<Item = Point> {
        self.lines.iter().filter(|line| line.points.len() >= 4).filter_map(move |line| {
            let reach = |axis: usize, pick: fn(f64, f64) -> f64, start: f64| {
                line.points.iter().map(|point| point[axis]).fold(start, pick)
            };
            let low = [0, 1].map(|axis| reach(axis, f64::min, f64::MAX));
            let high = [0, 1].map(|axis| reach(axis, f64::max, f64::MIN));
            let fits = (0..2).all(|axis| (high[axis] - low[axis] - size[axis]).abs() < tolerance);
            fits.then_some(low)
        })
    }

    /// Places of upright lines at least so long, across the page.
    pub fn upright_lines(&self, least: f64) -> Vec<f64> {
        let pairs = self.lines.iter().filter(|line| !line.dashed).flat_map(|line| line.points.windows(2));
        let upright =
            pairs.filter(|pair| (pair[0][0] - pair[1][0]).abs() < 1e-3 && (pair[0][1] - pair[1][1]).abs() > least);
        upright.map(|pair| pair[0][0]).collect()
    }

    /// Heights of level lines at least so long that start at a place across the page, dashed or not.
    pub fn level_lines(&self, dashed: bool, least: f64, start: f64) -> Vec<f64> {
        let pairs = self.lines.iter().filter(|line| line.dashed == dashed).flat_map(|line| line.points.windows(2));
        let level = pairs.filter(|pair| {
            let starts = (pair[0][0].min(pair[1][0]) - start).abs() < 0.02;
            starts && (pair[0][1] - pair[1][1]).abs() < 1e-3 && (pair[0][0] - pair[1][0]).abs() > least
        });
        level.map(|pair| pair[0][1]).collect()
    }

    /// Lengths of straight lines along x (0) or y (1), mm.
    pub fn lengths(&self, axis: usize) -> Vec<f64> {
        let straight = self
            .lines
            .iter()
            .flat_map(|line| line.points.windows(2))
            .filter(|pair| (pair[0][1 - axis] - pair[1][1 - axis]).abs() < 1e-3);
        straight.map(|pair| (pair[0][axis] - pair[1][axis]).abs()).collect()
    }

    /// True when a straight line along an axis passes through a point.
    pub fn line_through(&self, axis: usize, point: Point, least: f64) -> bool {
        self.lines.iter().flat_map(|line| line.points.windows(2)).any(|pair| {
            let (low, high) = (pair[0][axis].min(pair[1][axis]), pair[0][axis].max(pair[1][axis]));
            let across = 1 - axis;
            (pair[0][across] - point[across]).abs() < 0.02
                && (pair[1][across] - point[across]).abs() < 0.02
                && high - low >= least
                && (low - 0.02..=high + 0.02).contains(&point[axis])
        })
    }
}

pub fn moved(line: &[Point], by: Point) -> Vec<Point> {
    line.iter().map(|point| [point[0] + by[0], point[1] + by[1]]).collect()
}

/// Both check bars of a page measure 100.00 mm.
pub fn check_bars(page: &Page, what: &str) {
    for (axis, way) in ["across", "up"].iter().enumerate() {
        let bars: Vec<f64> = page.lengths(axis).into_iter().filter(|length| (length - 100.0).abs() < 1.0).collect();
        assert!(!bars.is_empty(), "{what}: no check bar {way}");
        for bar in bars {
            assert!((bar - 100.0).abs() < 0.005, "{what}: the bar {way} measures {bar}");
        }
    }
}
