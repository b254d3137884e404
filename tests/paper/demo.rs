//! Every wrap of the demo pack, on paper of all kinds.

use super::reader::{Point, check_bars, issue, moved, read};
use matchmark_core::pack::{self, Paper};
use matchmark_core::sheets::{End, Wrap};

const DEMO: &str = include_str!("../../server/demo/rev_b.json");

/// Where a place round the tube must be printed: paper of 0.1 mm lies with its middle 0.05 mm further out, so that it is
/// stretched round a circle of diameter od + paper; on a rectangular tube each of the four corners takes pi / 2 x 0.05 mm more, its sides
/// nothing.
fn stretched(x: f64, wrap: &Wrap) -> f64 {
    if let Some(od) = wrap.od {
        return x * (od + 0.1) / od;
    }
    let corners: f64 =
        wrap.flats.windows(2).map(|pair| ((x - pair[0].to) / (pair[1].from - pair[0].to)).clamp(0.0, 1.0)).sum();
    x + corners * std::f64::consts::FRAC_PI_2 * 0.05
}

fn printed(line: &[Point], wrap: &Wrap) -> Vec<Point> {
    line.iter().map(|point| [stretched(point[0], wrap), point[1]]).collect()
}

#[test]
fn every_wrap_of_the_demo_reads_back_within_two_hundredths() {
    let sheets = matchmark_core::evaluate(DEMO).sheets.expect("the demo has no errors");
    for paper in [Paper::A4, Paper::Letter, Paper::Roll] {
        let pages = read(&pack::render(&sheets, &issue(paper)).expect("a pack").pdf);
        let [width, height] = paper.size();
        assert!(pages.iter().all(|page| (page.size[0] - width).abs() < 0.001 && (page.size[1] - height).abs() < 0.001));
        for (number, page) in pages.iter().enumerate() {
            assert!(page.text.contains(&format!("{} of {}", number + 1, pages.len())), "page {}", number + 1);
            for mark in ["Bench frame", "2026-11-25", "BW-0001", "P-0001"] {
                assert!(page.text.contains(mark), "page {} does not say {mark}", number + 1);
            }
        }
        for wrap in &sheets.wraps {
            let end = if wrap.end == End::From { 1 } else { 2 };
            let what = format!("{}, end {end} on {paper:?}", wrap.member);
            let outer: Vec<Vec<Point>> = wrap.outer.iter().map(|run| printed(run, wrap)).collect();
            // Several wraps may share a page, and a mark is named on other pages too.
            let named = pages.iter().filter(|page| page.text.contains(&format!("Wrap {}, end {end}", wrap.member)));
            let on_base = |origin: &Point, page: &super::reader::Page| {
                let middle = [origin[0] + 0.5 * stretched(wrap.circumference, wrap), origin[1]];
                page.line_through(0, middle, wrap.circumference)
            };
            let found = named
                .filter_map(|page| Some((page, page.origins_of(&outer[0]).find(|origin| on_base(origin, page))?)))
                .next();
            let (page, origin) = found.unwrap_or_else(|| panic!("{what}: no outer line over a base line"));
            check_bars(page, &what);
            for run in outer.iter().chain(&wrap.relief.iter().map(|run| printed(run, wrap)).collect::<Vec<_>>()) {
                assert!(page.holds(&moved(run, origin), 0.02), "{what}: a line is not there");
            }
            for line in &wrap.index_lines {
                let x = origin[0] + stretched(line.x, wrap);
                // Lettering may break the line, so some part of it over the base line is looked for.
                let drawn = (0..).map_while(|step| {
                    let y = 0.5 + f64::from(step);
                    (y < wrap.height).then(|| page.line_through(1, [x, origin[1] + y], 0.5))
                });
                assert!(drawn.into_iter().any(|drawn| drawn), "{what}: no index line at {} degrees", line.clock_deg);
            }
            assert!(page.text.contains(&format!("set-out {} mm", wrap.set_out.distance)), "{what}: no set-out");
            assert!(page.text.contains(&format!("overall {:.1} mm", wrap.overall)), "{what}: no overall length");
        }
    }
}
