//! Flat patterns read back: DXF by ezdxf with a clean audit, SVG by an XML parser.

use crate::readers::{figure, figures, python};
use crate::written::{BENCH, DEMO, Frame};
use serde_json::Value;

fn read(frame: &Frame) -> Value {
    python("read_flats.py", &frame.written(&["dxf", "svg"]).0)
}

/// What is on a layer, of a kind.
fn on<'a>(drawing: &'a Value, layer: &str, kind: &str) -> Vec<&'a Value> {
    drawing["entities"][layer].as_array().into_iter().flatten().filter(|entity| entity["kind"] == kind).collect()
}

/// Faults of every drawing as a file.
fn faults(name: &str, drawing: &Value) -> Vec<String> {
    let mut faults: Vec<String> = Vec::new();
    let mut must = |is_so: bool, what: &str| {
        if !is_so {
            faults.push(format!("{name}: {what}: {drawing}"));
        }
    };
    must(drawing["errors"] == 0 && drawing["fixes"] == 0, "the audit is clean");
    must(drawing["faults"].as_array().is_some_and(Vec::is_empty), "handles, owners and tables are in order");
    must(drawing["version"] == "AC1015" && drawing["units"] == 4, "R2000 in millimetres");
    must(drawing["layers"] == serde_json::json!(["0", "CUT", "MARK", "TEXT"]), "layers of our own");
    let cut = drawing["entities"]["CUT"].as_array().unwrap();
    let is_closed = |entity: &Value| entity["kind"] == "CIRCLE" || entity["closed"] == true;
    must(cut.iter().all(is_closed), "all that is cut is closed");
    must(on(drawing, "CUT", "LWPOLYLINE").len() == 1, "one outer contour");
    must(
        on(drawing, "TEXT", "TEXT")
            .iter()
            .any(|text| text["text"].as_str().unwrap().contains("revision B of 2026-11-25")),
        "it says its revision",
    );
    must(
        on(drawing, "TEXT", "TEXT").iter().any(|text| text["text"].as_str().unwrap().contains("no code")),
        "it says to check it",
    );
    faults
}

#[test]
fn every_drawing_is_sound_as_a_file() {
    for frame in [&DEMO, &BENCH] {
        let read = read(frame);
        let drawings = read.as_object().unwrap().iter().filter(|(name, _)| name.ends_with(".dxf"));
        let sheets = frame.subject().sheets;
        let mut count = 0;
        let mut wrong = Vec::new();
        for (name, drawing) in drawings {
            wrong.extend(faults(name, drawing));
            count += 1;
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        assert_eq!(count, sheets.plates.len() + sheets.wraps.len());
    }
}

#[test]
fn plates_have_their_area_and_their_holes() {
    for frame in [&DEMO, &BENCH] {
        let (read, subject) = (read(frame), frame.subject());
        for placed in &subject.made.frame.plates {
            let drawing = &read[&format!("plate-{}.dxf", placed.id)];
            let contour = on(drawing, "CUT", "LWPOLYLINE")[0];
            // Area of an outline with arcs: ezdxf's points and bulges, summed by the shoelace formula with circular segments.
            assert!((figure(&contour["area"]) - placed.plate.outline.area()).abs() < 1e-3, "{}", placed.id);
            let holes = on(drawing, "CUT", "CIRCLE");
            assert_eq!(holes.len(), placed.holes.len());
            for (seen, hole) in holes.into_iter().zip(&placed.holes) {
                let [x, y] = figures(&seen["centre"]);
                assert!((x - hole.at[0]).hypot(y - hole.at[1]) < 1e-6, "{}", placed.id);
                assert!((figure(&seen["radius"]) - hole.diameter / 2.0).abs() < 1e-6);
            }
            let svg = &read[&format!("plate-{}.svg", placed.id)];
            assert!((figure(&svg["groups"]["CUT"][0]["area"]) - placed.plate.outline.area()).abs() < 0.05, "{svg}");
        }
    }
}

#[test]
fn wraps_have_the_line_of_their_sheet_on_the_outer_surface() {
    for frame in [&DEMO, &BENCH] {
        let (read, subject) = (read(frame), frame.subject());
        for wrap in &subject.sheets.wraps {
            let name = format!("wrap-{}-end-{}.dxf", wrap.member, wrap.end.position() + 1);
            let contour = on(&read[&name], "CUT", "LWPOLYLINE")[0];
            let points: Vec<[f64; 3]> = contour["points"].as_array().unwrap().iter().map(figures).collect();
            let most = |axis: usize| points.iter().map(|point| point[axis]).fold(f64::MIN, f64::max);
            // pi x od for a round tube: on its outer surface, without allowance for paper.
            let round = wrap.od.map_or(wrap.circumference, |od| std::f64::consts::PI * od);
            assert!((most(0) - round).abs() < 1e-5, "{name}");
            if let ([run], []) = (wrap.outer.as_slice(), wrap.misses.as_slice()) {
                let upper: Vec<[f64; 2]> = points[2..].iter().rev().map(|&[x, y, _]| [x, y]).collect();
                assert_eq!(upper.len(), run.len(), "{name}");
                let off = upper.iter().zip(run).map(|(a, b)| (a[0] - b[0]).hypot(a[1] - b[1])).fold(0.0, f64::max);
                assert!(off < 1e-6, "{name}: {off}");
                let under: f64 =
                    run.windows(2).map(|pair| (pair[1][0] - pair[0][0]) * (pair[0][1] + pair[1][1]) / 2.0).sum();
                assert!((figure(&contour["area"]) - under).abs() < 1e-3, "{name}");
            }
        }
    }
}

#[test]
fn pictures_have_an_id_for_every_line() {
    for frame in [&DEMO, &BENCH] {
        let read = read(frame);
        for (name, picture) in read.as_object().unwrap().iter().filter(|(name, _)| name.ends_with(".svg")) {
            assert!(picture["unique"] == true && picture["mm"] == true, "{name}: {picture}");
            let drawing = &read[&name.replace(".svg", ".dxf")];
            for layer in ["CUT", "MARK", "TEXT"] {
                let shapes = picture["groups"][layer].as_array().unwrap();
                assert!(shapes.iter().all(|shape| shape["id"].is_string()), "{name}");
                let others = drawing["entities"][layer].as_array().map_or(0, Vec::len);
                assert_eq!(shapes.len(), others, "{name}, {layer}");
            }
        }
    }
}
