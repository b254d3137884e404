//! Every plate and every hole strip of the demo, read back from paper of all kinds: outlines, edges, centres and diameters.
//!
//! Edges of holes in tubes are held against closed forms: a drill of radius r square to the axis of a tube of radius R leaves the edge
//! (R sin a)^2 + y^2 = r^2 at the angle a round the tube; on the flat side of a rectangular tube it leaves a circle.

use super::reader::{Page, Point, check_bars, issue, read};
use matchmark_core::pack::{self, Paper};
use matchmark_core::sheets::{HoleStrip, PlateSheet, Sheets};
use std::f64::consts::{PI, TAU};

const DEMO: &str = include_str!("../../server/demo/rev_b.json");
/// How far a printed line may lie off, mm.
const OFF: f64 = 0.02;
/// Thickness of the paper, mm.
const PAPER: f64 = 0.1;

fn sheets() -> Sheets {
    let mut evaluation = matchmark_core::evaluate(DEMO);
    evaluation.number(None);
    evaluation.sheets.expect("the demo has no errors")
}

/// The pages that say something, each as it stands and turned back by a quarter.
fn pages_with<'a>(pages: &'a [Page], words: &'a str) -> impl Iterator<Item = Page> + 'a {
    pages.iter().filter(move |page| page.text.contains(words)).flat_map(|page| [page.turned(0), page.turned(1)])
}

fn circle(centre: Point, radius: f64) -> Vec<Point> {
    let angles = (0..48_u8).map(|step| f64::from(step) / 48.0 * TAU);
    angles.map(|angle| [centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin()]).collect()
}

/// The plate's outline and all its holes stand on a page with the outline's corner `at` there.
fn shows_plate(page: &Page, plate: &PlateSheet, origin: Point) -> bool {
    let there = |point: Point| [origin[0] + point[0], origin[1] + point[1]];
    let outline = plate.outline.windows(2).flat_map(|side| {
        (0..20_u8)
            .map(|step| f64::from(step) / 20.0)
            .map(|share| [0, 1].map(|axis| side[0][axis] + share * (side[1][axis] - side[0][axis])))
    });
    let holes = plate.holes.iter().flat_map(|hole| {
        let countersink = hole.countersink.map(|wide| circle(hole.at, wide / 2.0));
        [Some(circle(hole.at, hole.diameter / 2.0)), countersink].into_iter().flatten().flatten()
    });
    outline.chain(holes).all(|point| page.has_line_at(there(point), OFF))
        && plate.holes.iter().all(|hole| (0..2).all(|axis| page.line_through(axis, there(hole.at), hole.diameter)))
}

#[test]
fn every_plate_of_the_demo_reads_back_within_two_hundredths() {
    let sheets = sheets();
    assert!(sheets.plates.iter().any(|plate| plate.holes.iter().any(|hole| hole.countersink.is_some())));
    for paper in Paper::ALL {
        let pages = read(&pack::render(&sheets, &issue(paper)).expect("a pack").pdf);
        for plate in &sheets.plates {
            let what = format!("{} on {paper:?}", plate.plate);
            let first = plate.outline[0];
            let found = pages_with(&pages, &plate.plate).any(|page| {
                let starts = page.lines.iter().filter(|line| !line.dashed && line.points.len() >= plate.outline.len());
                // Plates that share a template may begin at other corners.
                let mut origins =
                    starts.flat_map(|line| line.points.iter().map(|at| [at[0] - first[0], at[1] - first[1]]));
                origins.any(|origin| shows_plate(&page, plate, origin))
            });
            assert!(found, "{what}: no such outline with its holes");
        }
    }
}

/// Where a place at a clock angle is printed: paper of 0.1 mm round a circle lies on the diameter od + paper; round a rectangle
/// each corner takes pi / 2 x 0.05 mm more.
fn printed_x(strip: &HoleStrip, x: f64) -> f64 {
    match strip.od {
        Some(od) => x * (od + PAPER) / od,
        None => {
            let flats = &strip.flats;
            let corners: f64 =
                flats.windows(2).map(|pair| ((x - pair[0].to) / (pair[1].from - pair[0].to)).clamp(0.0, 1.0)).sum();
            x + corners * PI / 2.0 * PAPER / 2.0
        }
    }
}

/// The edges of a strip's holes as printed, in the strip's own coordinates: round the tube from 0, along it from the lower edge.
fn hole_edges(strip: &HoleStrip) -> Vec<Point> {
    let closure = printed_x(strip, strip.circumference);
    let edge = |hole: &matchmark_core::sheets::StripHole| {
        let y = hole.from_datum - strip.lower;
        let radius = hole.diameter / 2.0;
        let places: Vec<Point> = match strip.od {
            Some(od) => {
                let x = hole.clock_deg / 360.0 * PI * od;
                let on_tube = circle([0.0, 0.0], radius).into_iter();
                on_tube.map(|[across, along]| [x + od / 2.0 * (across / (od / 2.0)).asin(), y + along]).collect()
            }
            None => circle([hole.at[0], y], radius),
        };
        places.into_iter().map(|[x, y]| [printed_x(strip, x.rem_euclid(strip.circumference)), y])
    };
    let edges: Vec<Point> = strip.holes.iter().flat_map(edge).collect();
    assert!(edges.iter().all(|[x, y]| (0.0..=closure).contains(x) && (0.0..=strip.height).contains(y)));
    edges
}

#[test]
fn every_hole_strip_of_the_demo_reads_back_within_two_hundredths() {
    let sheets = sheets();
    let mut tiled = 0;
    for paper in Paper::ALL {
        let pages = read(&pack::render(&sheets, &issue(paper)).expect("a pack").pdf);
        for strip in &sheets.strips {
            let what = format!("{} on {paper:?}", strip.member);
            let closure = printed_x(strip, strip.circumference);
            let edges = hole_edges(strip);
            let title = format!("Holes {}", strip.member);
            let whole = pages_with(&pages, &title).any(|page| {
                let corners: Vec<Point> = page.rectangles([closure, strip.height], OFF).collect();
                let found = corners.iter().any(|corner| {
                    edges.iter().all(|[x, y]| page.has_line_at([corner[0] + x, corner[1] + y], OFF))
                        && ["lower", "upper"].iter().all(|edge| page.text.contains(&format!("{edge} edge: ")))
                });
                if found {
                    check_bars(&page, &what);
                }
                found
            });
            if !whole {
                shows_tiles(&pages, strip, &edges, &what);
                tiled += 1;
            }
            for edge in [strip.lower, strip.upper] {
                assert!(
                    pages.iter().any(|page| page.text.contains(&format!("edge: {edge} mm from"))),
                    "{what}: {edge}"
                );
            }
        }
    }
    assert!(tiled > 0, "no strip was larger than its paper");
}

/// A strip in one column of tiles, put together again: each tile's lower join line on the upper one of the tile before. Every edge of
/// a hole then stands in its place, and the upper edge of the last tile at the strip's height.
fn shows_tiles(pages: &[Page], strip: &HoleStrip, edges: &[Point], what: &str) {
    let closure = printed_x(strip, strip.circumference);
    let title = format!("Holes {}", strip.member);
    let first = pages.iter().position(|page| page.text.contains(&title) && page.text.contains("comes in tiles"));
    let first = first.unwrap_or_else(|| panic!("{what}: neither whole nor in tiles"));
    let tiles = (1..).map_while(|row| {
        let own = format!("column 1, row {row}");
        pages[first..].iter().find(|page| page.text.contains(&own) && page.text.contains(&title))
    });
    let mut seen = vec![false; edges.len()];
    let mut height = 0.0;
    let mut last = None;
    for (row, page) in tiles.enumerate() {
        check_bars(page, what);
        // The sides are as far apart as the tube is round.
        let sides = page.upright_lines(10.0);
        let edges_from = |x: f64| [false, true].map(|dashed| page.level_lines(dashed, closure - 0.1, x));
        let is_left = |x: &f64| {
            sides.iter().any(|other| (other - x - closure).abs() < OFF)
                && edges_from(*x).iter().any(|found| !found.is_empty())
        };
        let left =
            sides.iter().copied().find(is_left).unwrap_or_else(|| panic!("{what}: tile {} has no sides", row + 1));
        let [firm, mut joins] = edges_from(left);
        joins.sort_by(f64::total_cmp);
        let foot = if row == 0 { firm.iter().copied().min_by(f64::total_cmp) } else { joins.first().copied() };
        let foot = foot.unwrap_or_else(|| panic!("{what}: tile {} has no lower edge", row + 1));
        for (edge, seen) in edges.iter().zip(&mut seen) {
            *seen |= page.has_line_at([left + edge[0], foot + edge[1] - height], OFF);
        }
        last = firm.into_iter().map(|y| y - foot + height).max_by(f64::total_cmp);
        height += joins.last().map_or(0.0, |upper| upper - foot);
    }
    let unseen = seen.iter().filter(|seen| !**seen).count();
    assert!(unseen == 0, "{what}: {unseen} of {} places of edges are on no tile", seen.len());
    assert!(last.is_some_and(|top| (top - strip.height).abs() < OFF), "{what}: upper edge at {last:?}");
}
