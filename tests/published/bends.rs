//! Bend schedules and developed lengths against worked examples and ground truth.

use matchmark_core::geometry::{DVec3, Path, turned};
use matchmark_core::part::Bends;
use serde_json::Value;

fn path(points: &[[f64; 3]], radius: f64) -> Path {
    let points: Vec<DVec3> = points.iter().copied().map(DVec3::from_array).collect();
    Path::rounded(&points, radius).expect("a path")
}

/// Feeds, rotations and angles, degrees, and the last straight.
fn schedule(path: &Path) -> (Vec<[f64; 3]>, f64) {
    let bends = Bends::of(path);
    let rows = bends.rows.iter().map(|bend| [bend.feed, bend.rotate.to_degrees(), bend.angle.to_degrees()]);
    (rows.collect(), bends.last_straight)
}

#[test]
fn worked_examples() {
    // Derived by hand from arc = radius x angle and tangent = radius x tan(angle / 2); the first is the trade's plain U, the
    // second stands in full in the project's list of published checks.
    type Example = (&'static [[f64; 3]], f64, &'static [[f64; 3]], f64, f64);
    let examples: [Example; 4] = [
        (
            &[[-450.0, 0.0, 0.0], [-450.0, 0.0, 950.0], [450.0, 0.0, 950.0], [450.0, 0.0, 0.0]],
            135.0,
            &[[815.0, 0.0, 90.0], [630.0, 0.0, 90.0]],
            815.0,
            2684.1150,
        ),
        (
            &[[0.0, 0.0, 0.0], [0.0, 0.0, 500.0], [400.0, 0.0, 500.0], [400.0, 300.0, 500.0]],
            100.0,
            &[[400.0, 0.0, 90.0], [200.0, 90.0, 90.0]],
            200.0,
            1114.1593,
        ),
        (
            &[[0.0, 0.0, 0.0], [300.0, 0.0, 0.0], [300.0, 400.0, 0.0], [300.0, 400.0, 500.0], [0.0, 400.0, 500.0]],
            100.0,
            &[[200.0, 0.0, 90.0], [200.0, 90.0, 90.0], [300.0, -90.0, 90.0]],
            200.0,
            1371.2389,
        ),
        (
            &[[0.0, 0.0, 0.0], [500.0, 0.0, 0.0], [800.0, 300.0, 0.0], [800.0, 600.0, 300.0], [1200.0, 600.0, 300.0]],
            120.0,
            &[[450.2944, 0.0, 45.0], [305.2764, 54.7356, 60.0], [234.9820, 144.7356, 90.0]],
            280.0,
            1678.9598,
        ),
    ];
    for (points, radius, rows, last, developed) in examples {
        let path = path(points, radius);
        let (found, found_last) = schedule(&path);
        assert_eq!(found.len(), rows.len());
        for (found, wanted) in found.iter().zip(rows) {
            for (found, wanted) in found.iter().zip(wanted) {
                assert!((found.abs() - wanted.abs()).abs() < 1e-4, "{found} {wanted}");
            }
        }
        assert!((found_last - last).abs() < 1e-4);
        assert!((path.length() - developed).abs() < 0.01);
    }
}

#[test]
fn ground_truth_schedules() {
    // Computed elsewhere in Python; lengths confirmed by a solid modeller's fillet tool to 1e-12 mm.
    let cases: Value = serde_json::from_str(include_str!("../cases/bends.json")).expect("JSON");
    let cases = cases["cases"].as_array().expect("cases");
    assert!(!cases.is_empty());
    for case in cases {
        let id = &case["id"];
        let points: Vec<[f64; 3]> = serde_json::from_value(case["path"].clone()).expect("points");
        let path = path(&points, case["clr"].as_f64().expect("a radius"));
        let (rows, last) = schedule(&path);
        let wanted = case["schedule"]["rows"].as_array().expect("rows");
        assert_eq!(rows.len(), wanted.len(), "{id}");
        for (row, wanted) in rows.iter().zip(wanted) {
            for (found, name) in row.iter().zip(["feed", "rotate_deg", "bend_deg"]) {
                let wanted = wanted[name].as_f64().expect("a number");
                // Half a turn has no sign of its own.
                let off = (found - wanted).abs();
                assert!(
                    off < 1e-6 || (name == "rotate_deg" && (off - 360.0).abs() < 1e-6),
                    "{id} {name}: {found} {wanted}"
                );
            }
        }
        assert!((last - case["schedule"]["last_straight"].as_f64().expect("a number")).abs() < 1e-6, "{id}");
        assert!((path.length() - case["schedule"]["developed"].as_f64().expect("a number")).abs() < 1e-6, "{id}");
    }
}

#[test]
fn a_forward_pass_over_the_schedule_rebuilds_the_path() {
    let points = [
        [-500.0, 0.0, 0.0],
        [-500.0, -100.0, 700.0],
        [-300.0, -130.0, 1000.0],
        [300.0, -130.0, 1000.0],
        [500.0, -100.0, 700.0],
        [500.0, 0.0, 0.0],
    ];
    let path = path(&points, 135.0);
    let bends = Bends::of(&path);
    let (mut at, mut way, mut normal) = (path.start(), path.first().direction, path.arcs[0].axis);
    for bend in &bends.rows {
        at += way * bend.feed;
        normal = turned(normal, way, bend.rotate);
        let centre = at + normal.cross(way) * bend.radius;
        at = centre + turned(at - centre, normal, bend.angle);
        way = turned(way, normal, bend.angle);
    }
    at += way * bends.last_straight;
    assert!(at.distance(path.end()) < 1e-9);
    assert!(!bends.is_planar(), "this hoop is not planar though it looks so from the front");
}
