//! Handed or not: pairs whose answer follows from symmetry, and ground truth computed elsewhere.
//!
//! `cases/hand.json` was computed in Python; a search with a mesh library over the symmetric difference of mirrored solids found a
//! fit for every pair that it calls interchangeable and none for the others. So were the deviations in the table below.

use crate::tubes::{ROUND, SQUARE, Tube};
use matchmark_core::geometry::{Cylinder, DVec3, HalfSpace, Piece, Profile};
use matchmark_core::pack::say;
use matchmark_core::part::compare::{Hand, Mark, NEAR, SAME, Side, Tell, closest, hand, same};
use matchmark_core::sheets::HandTell;
use serde_json::Value;

const LENGTH: f64 = 400.0;

fn tube() -> Tube {
    Tube::straight(ROUND, LENGTH)
}

fn is_handed(tube: &Tube) -> bool {
    hand(&tube.shape()).is_handed()
}

fn planes(first: f64, last: f64, clock: f64) -> Tube {
    tube().mitred(0, first, 0.0, 0.0).mitred(1, last, clock, 0.0)
}

// The next twelve are derived by symmetry.

#[test]
fn both_ends_square_is_interchangeable() {
    assert!(!is_handed(&tube()));
}

#[test]
fn one_plane_cut_and_one_square_end_is_interchangeable() {
    assert!(!is_handed(&tube().mitred(0, 30.0, 77.0, 0.0)));
}

#[test]
fn two_plane_cuts_clocked_0_or_180_are_interchangeable() {
    assert!(!is_handed(&planes(45.0, 45.0, 0.0)) && !is_handed(&planes(45.0, 45.0, 180.0)));
}

#[test]
fn equal_plane_cuts_clocked_30_are_handed() {
    assert!(is_handed(&planes(45.0, 45.0, 30.0)));
}

#[test]
fn equal_plane_cuts_clocked_90_are_handed_though_the_ends_are_interchangeable() {
    let tube = planes(45.0, 45.0, 90.0);
    assert!(is_handed(&tube));
    // Described from the other end with the index line where that end's throat is, it is told in the same figures.
    let (there, here) = (tube.reversed().indexed(0.0).shape(), tube.shape());
    assert!(same(&there, &here).is_some());
}

#[test]
fn a_cope_and_a_plane_cut_depend_on_their_clocking() {
    let clocked = |clock| tube().coped(0, 60.3, 60.0, 10.0, 0.0, 0.0).mitred(1, 25.0, 10.0 + clock, 0.0);
    assert!(!is_handed(&clocked(0.0)));
    assert!(is_handed(&clocked(37.0)));
}

#[test]
fn a_cope_with_an_offset_is_handed_only_when_it_is_inclined_too() {
    let inclined = |angle| tube().coped(0, 60.3, angle, 20.0, 6.0, 0.0);
    assert!(!is_handed(&inclined(90.0)));
    assert!(is_handed(&inclined(60.0)));
}

#[test]
fn bends_in_one_plane_with_square_ends_are_interchangeable() {
    let points = [[0.0; 3], [0.0, 0.0, 300.0], [260.0, 0.0, 380.0], [500.0, 0.0, 0.0]].map(DVec3::from_array);
    assert!(!is_handed(&Tube::bent(ROUND, &points, 90.0)));
}

/// Two bends of 90 degrees, the second bend plane turned by `rotation` degrees from the first.
fn two_bends(rotation: f64) -> Tube {
    let (sin, cos) = rotation.to_radians().sin_cos();
    let corner = DVec3::new(300.0, 0.0, 400.0);
    let points = [DVec3::ZERO, DVec3::new(0.0, 0.0, 400.0), corner, corner + DVec3::new(0.0, -sin, -cos) * 350.0];
    Tube::bent(ROUND, &points, 90.0)
}

#[test]
fn three_straights_with_40_degrees_between_the_bends_are_handed() {
    assert!(is_handed(&two_bends(40.0)));
    assert!(!is_handed(&two_bends(0.0)) && !is_handed(&two_bends(180.0)));
}

#[test]
fn equal_mitres_of_a_square_tube_are_handed_when_clocked_90() {
    let clocked = |clock| Tube::straight(SQUARE, LENGTH).mitred(0, 30.0, 0.0, 0.0).mitred(1, 30.0, clock, 0.0);
    assert!(is_handed(&clocked(90.0)));
    assert!(!is_handed(&clocked(0.0)) && !is_handed(&clocked(180.0)));
}

#[test]
fn a_compound_cut_of_a_rectangular_tube_is_handed_unless_it_is_symmetric_about_a_plane_of_the_tube() {
    let profile = Profile::Rect { half_width: 20.0, half_height: 10.0, corner: 4.0, wall: 2.0 };
    let cut = |profile, clock| Tube::straight(profile, LENGTH).mitred(0, 35.0, clock, 0.0);
    assert!(is_handed(&cut(profile, 30.0)) && is_handed(&cut(profile, 45.0)));
    assert!([0.0, 90.0, 180.0].iter().all(|&clock| !is_handed(&cut(profile, clock))));
    // The diagonal of a square is a plane of symmetry, that of a rectangle is not.
    assert!(!is_handed(&cut(SQUARE, 45.0)) && is_handed(&cut(SQUARE, 30.0)));
}

#[test]
fn a_hole_off_the_top_is_handed_only_when_something_else_has_a_clock_angle() {
    let hole = |tube: &Tube, clock| tube.clone().drilled(120.0, clock, 8.0, false);
    assert!(!is_handed(&hole(&tube(), 20.0)));
    let mitred = tube().mitred(0, 40.0, 0.0, 0.0);
    assert!(is_handed(&hole(&mitred, 20.0)));
    assert!(!is_handed(&hole(&mitred, 0.0)) && !is_handed(&hole(&mitred, 180.0)));
    assert!(same(&hole(&mitred, 20.0).shape().mirrored(), &hole(&mitred, -20.0).shape()).is_some());
    // Through both walls at 90 degrees it is symmetric.
    assert!(!is_handed(&mitred.clone().drilled(120.0, 90.0, 8.0, true)) && is_handed(&hole(&mitred, 90.0)));
}

#[test]
fn deviations_of_straight_parts() {
    // Deviations in mm from the ground truth's table; the parts are made from its descriptions. Signs of clock angles do not matter.
    let cope = |tube: Tube, end, clock, sense: f64| tube.coped(end, 60.3, 60.0, clock, sense * 6.0, 0.0);
    let square_40 = Profile::Rect { half_width: 20.0, half_height: 20.0, corner: 6.0, wall: 3.0 };
    let cases = [
        ("tees clocked 90", tube().coped(0, 60.3, 90.0, 0.0, 0.0, 0.0).coped(1, 60.3, 90.0, 90.0, 0.0, 0.0), 0.0),
        ("tees clocked 30", tube().coped(0, 60.3, 90.0, 0.0, 0.0, 0.0).coped(1, 60.3, 90.0, 30.0, 0.0, 0.0), 4.36),
        ("planes clocked 30", planes(45.0, 45.0, 30.0), 10.97),
        ("planes clocked 90", planes(45.0, 45.0, 90.0), 29.98),
        ("planes of 30 and 45 clocked 180", planes(30.0, 45.0, 180.0), 0.0),
        ("planes clocked 0.3", planes(45.0, 45.0, 0.3), 0.11),
        ("inclined and offset", cope(tube(), 0, 20.0, 1.0), 9.77),
        ("image in the mid plane", cope(cope(tube(), 0, 20.0, 1.0), 1, 20.0, 1.0), 0.0),
        ("inversion", cope(cope(tube(), 0, 20.0, 1.0), 1, 200.0, 1.0), 0.0),
        ("half turn", cope(cope(tube(), 0, 20.0, 1.0), 1, -20.0, -1.0), 22.11),
        ("image turned 90", cope(cope(tube(), 0, 20.0, 1.0), 1, 110.0, 1.0), 22.68),
        ("square tube, mitre clocked 20", Tube::straight(square_40, LENGTH).mitred(0, 45.0, 20.0, 0.0), 13.68),
        ("square tube, mitre clocked 45", Tube::straight(square_40, LENGTH).mitred(0, 45.0, 45.0, 0.0), 0.0),
    ];
    for (what, tube, wanted) in cases {
        let found = hand(&tube.shape());
        println!("{what}: {:.4} {wanted}", found.deviation());
        assert!((found.deviation() - wanted).abs() < 0.01, "{what}: {} {wanted}", found.deviation());
        assert_eq!(found.is_handed(), wanted > SAME, "{what}");
    }
}

fn vector(value: &Value) -> DVec3 {
    DVec3::from_array(serde_json::from_value(value.clone()).expect("a vector"))
}

fn tube_of(case: &Value) -> Tube {
    let number = |value: &Value| value.as_f64().expect("a number");
    let section = &case["section"];
    let profile = if section["type"] == "round" {
        Profile::Round { outer: number(&section["od"]) / 2.0, wall: number(&section["wall"]) }
    } else {
        Profile::Rect {
            half_width: number(&section["width"]) / 2.0,
            half_height: number(&section["height"]) / 2.0,
            corner: number(&section["corner_outer"]),
            wall: number(&section["wall"]),
        }
    };
    let points: Vec<DVec3> = case["path"].as_array().expect("a path").iter().map(vector).collect();
    let mut tube = Tube::bent(profile, &points, number(&case["radius"]));
    assert_eq!(tube.index, vector(&case["index"]));
    tube.targets = ["from", "to"].map(|end| {
        let targets = case[end].as_array().expect("targets").iter().map(|target| match target["type"].as_str() {
            Some("round") => Piece::Cylinder(Cylinder {
                point: vector(&target["point"]),
                axis: vector(&target["dir"]).normalize(),
                radius: number(&target["od"]) / 2.0,
                length: None,
            }),
            _ => Piece::HalfSpace(HalfSpace { point: vector(&target["point"]), normal: vector(&target["normal"]) }),
        });
        targets.collect()
    });
    tube
}

#[test]
fn ground_truth() {
    let cases: Value = serde_json::from_str(include_str!("../cases/hand.json")).expect("JSON");
    let cases = cases["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 16);
    for case in cases {
        let id = case["id"].as_str().expect("an id");
        let tube = tube_of(case);
        let wanted = case["deviation_mm"].as_f64().expect("a deviation");
        let found = hand(&tube.shape());
        println!("{id} {:.4} {wanted:.4} {found:?}", found.deviation());
        assert_eq!(found.is_handed(), wanted > SAME, "{id}: {found:?}");
        if tube.points.len() == 2 {
            assert!((found.deviation() - wanted).abs() < 0.01, "{id}: {} {wanted}", found.deviation());
        }
        if let Hand::Handed { near, .. } = found {
            assert_eq!(near, wanted < NEAR, "{id}");
        }
    }
}

fn tell(tube: &Tube) -> Tell {
    match hand(&tube.shape()) {
        Hand::Handed { tell, .. } => tell,
        Hand::Interchangeable { by } => panic!("not handed: {by:?}"),
    }
}

fn said(tube: &Tube, side: Side) -> String {
    say::hand(&HandTell::Tube(tell(tube)), side)
}

#[test]
fn the_far_long_point_tells_two_mitres_apart() {
    // Throat at clock 0 and 30 degrees, so long points at 180 and 210: right-handed about the direction of travel, which is
    // clockwise, to the right, for one who looks along it.
    let left = planes(45.0, 45.0, 30.0);
    let Tell::Sideways {
        from: 0, up: Mark::LongPoint(0), other: Mark::LongPoint(1), side: Side::Right, degrees, ..
    } = tell(&left)
    else {
        panic!("{:?}", tell(&left));
    };
    assert!((degrees - 30.0).abs() < 0.01, "{degrees}");
    let Tell::Sideways { side: Side::Left, .. } = tell(&left.mirrored()) else {
        panic!("{:?}", tell(&left.mirrored()));
    };
    assert_eq!(
        said(&left, Side::Left),
        "Look along the tube from end 1 with the long point of this end upwards: the long point of end 2 lies 30\u{b0} to the right."
    );
    assert!(said(&left, Side::Right).ends_with("30\u{b0} to the left."));
}

#[test]
fn what_tells_a_bent_part_is_the_way_of_its_second_bend() {
    let left = two_bends(40.0);
    let Tell::Sideways { up: Mark::Bend(0), other: Mark::Bend(1), side, degrees, .. } = tell(&left) else {
        panic!("{:?}", tell(&left));
    };
    assert!((degrees - 40.0).abs() < 1e-6);
    // Looking along +z with the first bend (to +x) up, the right hand points to +y: the last leg goes to -y, but the view is
    // carried round the first bend, which keeps +y to the right.
    assert_eq!(side, Side::Left);
    let Tell::Sideways { side: Side::Right, .. } = tell(&left.mirrored()) else {
        panic!("{:?}", tell(&left.mirrored()));
    };
}

#[test]
fn a_hole_beside_the_long_point_tells() {
    let left = tube().mitred(0, 40.0, 180.0, 0.0).drilled(120.0, 60.0, 8.0, false);
    let Tell::Sideways {
        from: 0,
        up: Mark::LongPoint(0),
        other: Mark::Hole { station, diameter, .. },
        side,
        degrees,
        ..
    } = tell(&left)
    else {
        panic!("{:?}", tell(&left));
    };
    assert_eq!((station, diameter, side), (120.0, 8.0, Side::Right));
    assert!((degrees - 60.0).abs() < 0.01);
}

#[test]
fn a_cope_that_leans_tells_by_itself_and_to_the_other_side_on_the_other_hand() {
    let left = tube().coped(0, 60.3, 60.0, 20.0, 6.0, 0.0);
    match (tell(&left), tell(&left.mirrored())) {
        (
            Tell::Sideways { from: 0, up: Mark::LongPoint(0), other: Mark::Throat(0), side: a, .. },
            Tell::Sideways { side: b, .. },
        )
        | (Tell::Uneven { end: 0, side: a, .. }, Tell::Uneven { side: b, .. }) => assert_eq!(a, b.other()),
        other => panic!("{other:?}"),
    }
    assert!(closest(&left.shape(), &left.mirrored().shape()).unwrap().deviation > 1.0);
}

#[test]
fn a_part_whose_mirror_image_is_nearly_itself_turned_end_for_end_is_told_by_no_mark() {
    // Both ends lean strongly, each the image of the other in the mid plane but for a little: whoever does not know which end is
    // which would find every mark on both hands.
    let ends = |offset| tube().coped(0, 60.3, 60.0, 20.0, 6.0, 0.0).coped(1, 60.3, 60.0, 20.0, offset, 0.0);
    assert!(!is_handed(&ends(6.0)));
    let Hand::Handed { by, near: true, tell: Tell::Nothing { .. } } = hand(&ends(6.2).shape()) else {
        panic!("{:?}", hand(&ends(6.2).shape()));
    };
    assert!(by.motion.swapped && by.deviation < 0.5);
    // With a hole off the middle the ends are known.
    let drilled = ends(6.2).drilled(120.0, 20.0, 8.0, false);
    assert!(!matches!(tell(&drilled), Tell::Nothing { .. }));
}
