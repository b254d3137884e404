//! Solids read back by a general-purpose solid-modelling kernel: count, volume, and the place of every part of the frame.

use crate::readers::{figure, figures, python};
use crate::written::{BENCH, DEMO, Frame};
use matchmark_core::geometry::DVec3;
use matchmark_core::part::{CutLine, Made};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// Places of each cut that are looked at.
const LOOKED_AT: usize = 3;

/// Points of a part's surface in the frame, by the engine's own lines and outlines.
fn points(made: &Made) -> BTreeMap<String, Vec<[f64; 3]>> {
    let mut found: BTreeMap<String, Vec<[f64; 3]>> = BTreeMap::new();
    for part in &made.parts {
        let own = found.entry(made.frame.members[part.member].id.clone()).or_default();
        for end in &part.ends {
            let line = CutLine::at_depth(&end.cut, 0.0);
            let every = line.points().count() / LOOKED_AT + 1;
            own.extend(
                line.points().step_by(every).map(|point| end.cut.end().generator(point.u, 0.0).at(point.s).to_array()),
            );
        }
    }
    for placed in &made.frame.plates {
        let corners =
            placed.plate.outline.edges.iter().map(|edge| placed.plate.point(edge.at(0.0), placed.plate.thickness));
        found.insert(placed.id.clone(), corners.map(|at| at.to_array()).collect());
    }
    found
}

/// Where a point in the own axes of a part lies in the frame.
fn placed(made: &Made, id: &str, [x, y, z]: [f64; 3]) -> DVec3 {
    if let Some(at) = made.plate(id) {
        return made.frame.plates[at].plate.point([x, y], z);
    }
    let member = &made.frame.members[made.member(id).unwrap()];
    let way = member.path.first().direction;
    member.path.start() + way * x + member.index.cross(way) * y + member.index * z
}

fn volume(made: &Made, id: &str) -> f64 {
    match made.plate(id) {
        Some(at) => made.frame.plates[at].volume(),
        None => made.parts[made.member(id).unwrap()].volume,
    }
}

/// How far a centre of gravity lies from that of a part, by the engine; `None` where the engine weighs more than the solid holds: at
/// walls that miss, and without holes.
fn off_centre(made: &Made, id: &str, centre: DVec3) -> Option<f64> {
    let part = &made.parts[made.member(id)?];
    let is_whole = part.holes.is_empty() && part.ends.iter().all(|end| end.missed.is_empty());
    is_whole.then(|| part.centre(&made.frame.members[part.member]).distance(centre))
}

fn read(frame: &Frame) -> (Value, Vec<String>) {
    let (mut files, left_out) = frame.written(&["step"]);
    files.insert("points.json".to_owned(), serde_json::to_vec(&points(frame.subject().made)).unwrap());
    (python("read_solids.py", &files), left_out)
}

fn check(frame: &Frame) -> Vec<String> {
    let (read, left_out) = read(frame);
    let (subject, assembly) = (frame.subject(), &read["frame"]);
    let made = subject.made;
    assert_eq!((&assembly["roots"], &assembly["name"]), (&json!(1), &json!(frame.facts.design)));
    let parts = assembly["parts"].as_array().unwrap();
    let count = made.parts.len() + made.frame.plates.len() - left_out.len();
    assert_eq!(parts.len(), count, "{left_out:?}");
    let (mut wrong, mut worst) = (Vec::new(), [0.0_f64; 4]);
    for part in parts {
        let id = part["id"].as_str().unwrap();
        let row = subject.sheets.parts.iter().find(|row| row.members.iter().any(|member| member == id)).unwrap();
        let alone = &read[&format!("part-{id}")];
        let at = placed(made, id, figures(&alone["centre"]));
        let place = at.distance(DVec3::from_array(figures(&part["centre"])));
        let ratio = (figure(&part["volume"]) / volume(made, id) - 1.0).abs();
        let off = figure(&part["off"]);
        let off_centre = off_centre(made, id, DVec3::from_array(figures(&part["centre"]))).unwrap_or_default();
        worst = [worst[0].max(ratio), worst[1].max(place), worst[2].max(off), worst[3].max(off_centre)];
        let is_right = part["product"] == row.number.as_str()
            && part["solids"] == 1
            && part["valid"] == true
            && alone["valid"] == true
            && ratio < 1e-4
            && (figure(&alone["volume"]) / volume(made, id) - 1.0).abs() < 1e-4
            && place < 0.01
            && off_centre < 0.02
            && off < 0.01;
        if !is_right {
            wrong.push(format!(
                "{part}, volume {}, {place} mm off its place, {off_centre} mm off its centre, {alone}",
                volume(made, id)
            ));
        }
    }
    println!(
        "{count} parts: volumes within {:e}, centres within {} mm, surfaces within {} mm, centres of gravity within {} mm",
        worst[0], worst[1], worst[2], worst[3]
    );
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    left_out
}

#[test]
fn every_part_of_the_demo_is_in_its_place_in_the_assembly() {
    let left_out = check(&DEMO);
    assert!(left_out.iter().all(|left| left.ends_with(": solid-misses")), "{left_out:?}");
    assert!(left_out.len() < 6, "{left_out:?}");
}

#[test]
fn bends_plates_countersinks_and_rectangular_tubes_are_in_their_place_too() {
    assert_eq!(check(&BENCH), Vec::<String>::new());
}

#[test]
fn equal_parts_share_a_solid() {
    let (files, _) = BENCH.written(&["step"]);
    let text = String::from_utf8(files["frame.step"].clone()).unwrap();
    let count = |what: &str| text.matches(what).count();
    // `tie` and `tie_again` are one part, laid the other way round.
    let subject = BENCH.subject();
    assert!(subject.sheets.parts.iter().any(|row| row.members == ["tie", "tie_again"]), "{:?}", subject.sheets.parts);
    let occurrences = subject.made.parts.len() + subject.made.frame.plates.len();
    assert_eq!(count("NEXT_ASSEMBLY_USAGE_OCCURRENCE("), occurrences);
    assert_eq!(count("MANIFOLD_SOLID_BREP("), occurrences - 1);
}
