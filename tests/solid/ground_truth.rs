//! The ends of the ground truth as finished parts, their other end square: volumes known to a solid modeller's booleans.

use super::kernel::{self, Sent};
use matchmark_core::Stop;
use matchmark_core::geometry::{Cylinder, DVec3, HalfSpace, Leg, Path, Piece, Profile, RoundedPrism, Solid, square_to};
use matchmark_core::part::{Cut, TubeEnd};
use matchmark_core::solid::{SolidError, SolidHeading, write_solid};
use serde_json::Value;

const CASES: &str = include_str!("../cases/ends.json");

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn vector(value: &Value) -> DVec3 {
    DVec3::new(number(&value[0]), number(&value[1]), number(&value[2]))
}

fn target(target: &Value) -> Solid {
    let piece = match target["type"].as_str().expect("a type") {
        "round" => Piece::Cylinder(Cylinder {
            point: vector(&target["point"]),
            axis: vector(&target["dir"]).normalize(),
            radius: number(&target["od"]) / 2.0,
            length: None,
        }),
        "rect" => {
            let axis = vector(&target["dir"]).normalize();
            Piece::Prism(RoundedPrism {
                point: vector(&target["point"]),
                axis,
                across: square_to(axis, vector(&target["ref"])).unwrap(),
                half: [number(&target["width"]) / 2.0, number(&target["height"]) / 2.0],
                corner: number(&target["corner_outer"]),
                length: None,
            })
        }
        "plane" => Piece::HalfSpace(HalfSpace {
            point: vector(&target["point"]),
            normal: vector(&target["normal"]).normalize(),
        }),
        _ => {
            let points: Vec<DVec3> = target["path"].as_array().unwrap().iter().map(vector).collect();
            return Path::rounded(&points, number(&target["clr"])).unwrap().bar(number(&target["od"]) / 2.0, 0.0);
        }
    };
    Solid::new(vec![piece])
}

/// A case as a straight tube: square at `s_start`, cut to its targets at the other end.
pub fn tube(case: &Value) -> (Path, DVec3, [Cut; 2]) {
    let member = &case["member"];
    let section = &member["section"];
    let profile = match section["type"].as_str().unwrap() {
        "round" => Profile::Round { outer: number(&section["od"]) / 2.0, wall: number(&section["wall"]) },
        _ => Profile::Rect {
            half_width: number(&section["width"]) / 2.0,
            half_height: number(&section["height"]) / 2.0,
            corner: number(&section["corner_outer"]),
            wall: number(&section["wall"]),
        },
    };
    let (start, limit) = (number(&member["s_start"]), number(&member["s_limit"]));
    let direction = vector(&member["dir"]).normalize();
    let index = square_to(direction, vector(&member["ref"])).unwrap();
    let (datum, side) = (vector(&member["datum"]), direction.cross(index));
    let foot = datum + direction * start;
    let square = Cut::new(
        TubeEnd { profile, datum: foot, outwards: -direction, index, side },
        vec![Solid::new(vec![Piece::HalfSpace(HalfSpace { point: foot, normal: direction })])],
        start / 2.0,
        10.0,
    );
    let fitted = Cut::new(
        TubeEnd { profile, datum, outwards: direction, index, side },
        case["targets"].as_array().unwrap().iter().map(target).collect(),
        start,
        limit,
    );
    let path = Path { legs: vec![Leg { start: foot, direction, length: -start }], arcs: Vec::new() };
    (path, index, [square, fitted])
}

#[test]
fn every_end_of_the_ground_truth_is_a_valid_solid_of_the_known_volume() {
    let cases: Value = serde_json::from_str(CASES).unwrap();
    let mut sent = Vec::new();
    let mut volumes = Vec::new();
    let mut refused = Vec::new();
    for case in cases["cases"].as_array().unwrap() {
        let id = case["id"].as_str().unwrap();
        let (path, index, cuts) = tube(case);
        let cuts = [&cuts[0], &cuts[1]];
        let heading = SolidHeading {
            part: id.to_owned(),
            description: "Ground truth".into(),
            organization: "Bench Works".into(),
            date: "2026-11-25".into(),
        };
        match write_solid(&path, index, cuts, &[], &heading, Stop::NEVER) {
            Ok(text) => {
                let points = kernel::points_of_cuts(&path, index, cuts);
                sent.push(Sent { name: id.to_owned(), text, points });
                volumes.push(number(&case["volume"]));
            }
            Err(error) => refused.push((id, error)),
        }
    }
    let seen = kernel::look(&sent);
    let faults: Vec<String> = sent
        .iter()
        .zip(volumes)
        .flat_map(|(sent, volume)| kernel::faults(&sent.name, &seen[&sent.name], volume))
        .collect();
    let worst = seen.values().map(|seen| seen.edge_tolerance).fold(0.0, f64::max);
    println!("{} solids, largest edge tolerance {worst}, refused {refused:?}", sent.len());
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    for (id, error) in &refused {
        let misses = id.contains("misses") || ["26-", "27-", "35-"].iter().any(|number| id.starts_with(number));
        assert!(misses && *error == SolidError::Misses, "{id}: {error}");
    }
}
