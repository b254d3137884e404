//! The opposite hand of a part is turned over, not cut again: it must be what cutting it would have given.

use matchmark_core::Stop;
use matchmark_core::document::Findings;
use matchmark_core::geometry::Profile;
use matchmark_core::part::{CutLine, Part};

fn stations(line: &CutLine, profile: Profile) -> Vec<f64> {
    let perimeter = profile.perimeter();
    let at = |u: f64| line.at(u).unwrap_or(f64::NAN);
    (0..200).map(|step| at(perimeter * (f64::from(step) + 0.37) / 200.0)).collect()
}

#[test]
fn opposite_hands_are_what_cutting_them_would_give() {
    let text = include_str!("../../server/demo/rev_b.json");
    let made = matchmark_core::evaluate(text).made.expect("the demo has no errors");
    let mut opposites = 0;
    for part in &made.parts {
        let member = &made.frame.members[part.member];
        if member.opposite.is_none_or(|opposite| opposite > part.member) {
            continue;
        }
        opposites += 1;
        let cut_again = Part::of(&made.frame, part.member, Stop::NEVER, &mut Findings::default()).unwrap();
        assert!(
            (part.volume / cut_again.volume - 1.0).abs() < 1e-6,
            "{}: {} {}",
            member.id,
            part.volume,
            cut_again.volume
        );
        for (one, other) in part.ends.iter().zip(&cut_again.ends) {
            assert_eq!((one.kind, &one.met, &one.missed), (other.kind, &other.met, &other.missed), "{}", member.id);
            let figures = |end: &matchmark_core::part::PartEnd| {
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
                    // Either polyline lies within 0.004 mm of the curve.
                    assert!(
                        (one - other).abs() < 0.01 || (one.is_nan() && other.is_nan()),
                        "{}: {one} {other}",
                        member.id
                    );
                }
            }
        }
    }
    assert!(opposites > 30, "only {opposites} opposite hands");
}
