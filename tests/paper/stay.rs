//! One stay from end to end at ordinary trade measurements (common practice, no source): 45 x 2.5, meeting a 45 hoop at
//! 55 degrees, its other end cut at 40 degrees, 504 mm from the furthest point of that cut to the mark of the cope's wrap.
//!
//! Everything is worked out here by hand from closed forms and read back out of the printed pack.

use super::reader::{Page, Point, check_bars, issue, read};
use matchmark_core::pack::{self, Paper};
use serde_json::json;

const RADIUS: f64 = 22.5;
const PAPER: f64 = 0.1;
/// Hoop axis to the middle of the mitred end: 504 of set-out, 30 of paper below the line, 43.22 from the deepest point of the
/// cope to the hoop's axis, less 18.88 by which the mitre's long point stands out, and part of a millimetre that the tape does
/// not show.
const LENGTH: f64 = 558.5;
/// Clock angle of the mitre's long point.
const MITRE_CLOCK: f64 = 128.0;

/// The stay climbs at 35 degrees from the level towards the upright hoop, so that the axes meet at 55 degrees.
fn document() -> String {
    let (sin, cos) = 55f64.to_radians().sin_cos();
    let travel = [sin, 0.0, cos];
    // Index line: square to the travel and up. Side: travel x index.
    let (index, side) = ([-cos, 0.0, sin], [0.0, -1.0, 0.0]);
    let (clock_sin, clock_cos) = MITRE_CLOCK.to_radians().sin_cos();
    let (tilt_sin, tilt_cos) = 40f64.to_radians().sin_cos();
    let normal: Vec<f64> =
        (0..3).map(|k| travel[k] * tilt_cos + (index[k] * clock_cos + side[k] * clock_sin) * tilt_sin).collect();
    let foot: Vec<f64> = travel.iter().map(|component| -component * LENGTH).collect();
    json!({
        "format": "matchmark-design/1", "name": "Bench frame",
        "materials": {"cds": {"name": "Cold drawn seamless", "density": 7850}},
        "sections": {"hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds"}},
        "points": {"hoop_foot": [0, 0, -400], "hoop_top": [0, 0, 400], "joint": [0, 0, 0], "stay_foot": foot},
        "members": [
            {"id": "hoop_leg", "section": "hoop", "from": "hoop_foot", "to": "hoop_top", "ends": {"from": "square", "to": "square"}},
            {"id": "stay", "section": "hoop", "from": "stay_foot", "to": "joint",
             "ends": {"from": {"mitre": {"normal": normal}}, "to": {"cope": ["hoop_leg"]}}},
        ],
    })
    .to_string()
}

/// Depth of the cope from the axes' crossing back down the stay; clock 180 lies on the acute side, below.
/// Equal tubes, no offset: (sqrt(R^2 - r^2 sin^2) + r cos cos 55) / sin 55 (see the developments among the published checks).
fn cope_depth(clock: f64) -> f64 {
    let heel = clock - core::f64::consts::PI;
    let (sin, cos) = 55f64.to_radians().sin_cos();
    ((RADIUS * RADIUS * (1.0 - heel.sin().powi(2))).max(0.0).sqrt() + RADIUS * heel.cos() * cos) / sin
}

fn mitre_height(clock: f64) -> f64 {
    RADIUS * 40f64.to_radians().tan() * (clock - MITRE_CLOCK.to_radians()).cos()
}

/// The printed outer line: heavy, unbroken, as long as the printed circumference; and its origin by the index line at the left.
fn outer_line(page: &Page, top: f64) -> (Vec<Point>, Point) {
    let printed = core::f64::consts::PI * (2.0 * RADIUS + PAPER);
    let line = page
        .lines
        .iter()
        .filter(|line| !line.dashed && line.points.len() > 20)
        .find(|line| (line.points[line.points.len() - 1][0] - line.points[0][0] - printed).abs() < 0.02)
        .expect("an outer line as long as the printed circumference");
    let highest = line.points.iter().map(|point| point[1]).fold(0.0, f64::max);
    (line.points.clone(), [line.points[0][0], highest - top])
}

#[test]
fn a_stay_at_trade_measurements() {
    let mitre_long = RADIUS * 40f64.to_radians().tan();
    let deepest = cope_depth(core::f64::consts::PI);
    // Equal tubes: the cope's line reaches the hoop's axis at both flanks, so its long point lies at depth 0.
    let overall = LENGTH + mitre_long;
    let set_out = (LENGTH + mitre_long - deepest - 30.0).floor();
    assert_eq!(set_out, 504.0);

    let sheets = matchmark_core::evaluate(&document()).sheets.expect("no errors");
    for paper in [Paper::A4, Paper::Letter] {
        let pages = read(&pack::render(&sheets, &issue(paper)).expect("a pack").pdf);
        let page = |title: &str| pages.iter().rev().find(|page| page.text.contains(title)).expect("the page is there");
        let (mitre, cope) = (page("stay, end 1"), page("stay, end 2"));
        check_bars(mitre, "mitre");
        check_bars(cope, "cope");

        assert!(cope.text.contains("set-out 504 mm from the long point of the other end's cut"), "{}", cope.text);
        for page in [mitre, cope] {
            assert!(page.text.contains(&format!("overall {overall:.1} mm")), "{}", page.text);
            // The cope's long points lie at 90 and 270 degrees; the lesser counts: 90 - 128 = -38, which is 322.
            assert!(page.text.contains("clock 322.0 deg from the long point of end 1"), "{}", page.text);
        }
        assert!(cope.text.contains("long point of the other end's cut at 128.0 deg"), "{}", cope.text);
        assert!(mitre.text.contains("long point of this cut at 128.0 deg"), "{}", mitre.text);

        // The cope: printed heights over the base line, which lies 504 mm from the mitre's long point.
        let base_from_axis = LENGTH + mitre_long - 504.0;
        let (line, origin) = outer_line(cope, base_from_axis);
        assert!(
            cope.line_through(0, [origin[0] + 40.0, origin[1]], 130.0),
            "the base line lies where the set-out says"
        );
        for point in &line {
            let clock = (point[0] - origin[0]) / (RADIUS + PAPER / 2.0);
            let wanted = base_from_axis - cope_depth(clock);
            let slope = (cope_depth(clock + 1e-4) - cope_depth(clock - 1e-4)) / 2e-4 / RADIUS;
            let off = (point[1] - origin[1] - wanted).abs() / slope.hypot(1.0);
            assert!(off < 0.02, "cope at {} degrees: {off}", clock.to_degrees());
        }

        // The mitre: seen with its cut at the top, clock angles run to the left at a `from` end.
        let (line, origin) = outer_line(mitre, 0.0);
        let middle = line.iter().map(|point| point[1]).fold(f64::INFINITY, f64::min) + mitre_long;
        for point in &line {
            let clock = core::f64::consts::TAU - (point[0] - origin[0]) / (RADIUS + PAPER / 2.0);
            let off = (point[1] - middle - mitre_height(clock)).abs();
            assert!(off < 0.02, "mitre at {} degrees: {off}", clock.to_degrees());
        }
        // Its own set-out is measured from the cope's long point: overall less the height of its top over its base line.
        let mitre_set_out = (LENGTH - mitre_long - 30.0).floor();
        assert!(mitre.text.contains(&format!("set-out {mitre_set_out} mm")), "{}", mitre.text);
    }
}
