//! The opposite hand of a part is turned over, and an end that is cut like another is that one moved along: neither is cut again, and both
//! must be what cutting them would have given.

use crate::resolved::lattice;
use matchmark_core::Stop;
use matchmark_core::document::Findings;
use matchmark_core::geometry::Profile;
use matchmark_core::part::{CutLine, Made, Part, PartEnd};

fn stations(line: &CutLine, profile: Profile) -> Vec<f64> {
    let perimeter = profile.perimeter();
    let at = |u: f64| line.at(u).unwrap_or(f64::NAN);
    (0..200).map(|step| at(perimeter * (f64::from(step) + 0.37) / 200.0)).collect()
}

/// Holds a part against the same one with its ends cut on their own. Either polyline lies within 0.004 mm of the curve.
fn is_what_cutting_it_gives(made: &Made, part: &Part) {
    let member = &made.frame.members[part.member];
    let cut_again = Part::of(&made.frame, part.member, Stop::NEVER, &mut Findings::default()).unwrap();
    assert!((part.volume / cut_again.volume - 1.0).abs() < 1e-6, "{}: {} {}", member.id, part.volume, cut_again.volume);
    let centres = [part.centre(member), cut_again.centre(member)];
    assert!(centres[0].distance(centres[1]) < 1e-4, "{}: {centres:?}", member.id);
    for (one, other) in part.ends.iter().zip(&cut_again.ends) {
        assert_eq!((one.kind, &one.met, &one.missed), (other.kind, &other.met, &other.missed), "{}", member.id);
        let figures = |end: &PartEnd| {
            [
                end.longest.s,
                end.longest.u,
                end.least,
                end.on_axis,
                end.largest_relief,
                end.sharpest.unwrap_or(0.0),
                end.mitre.unwrap_or(0.0),
            ]
        };
        for (figure, (one, other)) in figures(one).into_iter().zip(figures(other)).enumerate() {
            assert!((one - other).abs() < 1e-4, "{}, figure {figure}: {one} {other}", member.id);
        }
        let profile = one.cut.profile();
        for (one, other) in [(&one.outer, &other.outer), (&one.relief, &other.relief)] {
            for (one, other) in stations(one, profile).into_iter().zip(stations(other, profile)) {
                assert!((one - other).abs() < 0.01 || (one.is_nan() && other.is_nan()), "{}: {one} {other}", member.id);
            }
        }
    }
}

#[test]
fn opposite_hands_are_what_cutting_them_would_give() {
    let text = include_str!("../../server/demo/rev_b.json");
    let made = matchmark_core::evaluate(text).made.expect("the demo has no errors");
    let is_second = |part: &&Part| made.frame.members[part.member].opposite.is_some_and(|first| first < part.member);
    let opposites: Vec<&Part> = made.parts.iter().filter(is_second).collect();
    opposites.iter().for_each(|part| is_what_cutting_it_gives(&made, part));
    assert!(opposites.len() > 30, "only {} opposite hands", opposites.len());
}

/// A lattice 300 mm from node to node, in which most ends are cut like others, drawn away from the origin in figures that are not whole.
#[test]
fn ends_cut_alike_are_what_cutting_them_would_give() {
    let mut lattice: serde_json::Value = serde_json::from_str(&lattice::badly_fitting(150)).unwrap();
    for member in lattice["members"].as_array_mut().unwrap() {
        for end in ["from", "to"] {
            let at = [0, 1, 2].map(|axis| member[end][axis].as_f64().unwrap() * 1.111 + [70.3, -41.7, 12.9][axis]);
            member[end] = serde_json::json!(at);
        }
    }
    let resolved = matchmark_core::nodes::resolve(&lattice.to_string()).document.unwrap();
    let made = matchmark_core::evaluate(&resolved).made.expect("every joint closes");
    made.parts.iter().for_each(|part| is_what_cutting_it_gives(&made, part));
}
