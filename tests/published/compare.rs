//! Finished parts compared over all rigid motions: properties that hold for every tube, and amounts with closed forms.

use crate::tubes::{ROUND, SQUARE, Tube};
use matchmark_core::geometry::{DVec3, Piece};
use matchmark_core::part::compare::{Change, Hand, Hole, Mark, Tell, Trim, Why, hand, rework, same};
use proptest::prelude::*;

#[derive(Debug, Clone, Copy)]
enum EndKind {
    Mitre { lean: f64, clock: f64 },
    Cope { od: f64, angle: f64, clock: f64, offset: f64 },
}

fn end_kind() -> impl Strategy<Value = EndKind> {
    prop_oneof![
        (0.0..50.0f64, 0.0..360.0f64).prop_map(|(lean, clock)| EndKind::Mitre { lean, clock }),
        (42.5..90.0f64, 35.0..90.0f64, 0.0..360.0f64, -1.0..1.0f64).prop_map(|(od, angle, clock, part)| {
            // As far off as the whole wall still meets the bar.
            EndKind::Cope { od, angle, clock, offset: part * (od / 2.0 - 21.3).clamp(0.0, 10.0) }
        }),
    ]
}

fn ended(tube: Tube, end: usize, kind: EndKind, shift: f64) -> Tube {
    match kind {
        EndKind::Mitre { lean, clock } => tube.mitred(end, lean, clock, shift),
        EndKind::Cope { od, angle, clock, offset } => tube.coped(end, od, angle, clock, offset, shift),
    }
}

fn straight() -> impl Strategy<Value = Tube> {
    (end_kind(), end_kind(), 250.0..600.0f64)
        .prop_map(|(first, last, length)| ended(ended(Tube::straight(ROUND, length), 0, first, 0.0), 1, last, 0.0))
}

fn bent() -> impl Strategy<Value = Tube> {
    (end_kind(), end_kind(), -60.0..250.0f64, 30.0..250.0f64, -250.0..250.0f64).prop_map(|(first, last, y, z, y2)| {
        let points = [DVec3::ZERO, DVec3::Z * 300.0, DVec3::new(320.0, y, 300.0 + z), DVec3::new(650.0, y2, 250.0)];
        ended(ended(Tube::bent(ROUND, &points, 70.0), 0, first, 0.0), 1, last, 0.0)
    })
}

fn square_tube() -> impl Strategy<Value = Tube> {
    (0.0..45.0f64, 0.0..360.0f64, 0.0..45.0f64, 0.0..360.0f64).prop_map(|(first, at, last, there)| {
        Tube::straight(SQUARE, 300.0).mitred(0, first, at, 0.0).mitred(1, last, there, 0.0)
    })
}

fn any_tube() -> impl Strategy<Value = Tube> {
    prop_oneof![2 => straight(), 2 => bent(), 1 => square_tube(),
    1 => (straight(), 60.0..180.0f64, 0.0..360.0f64, any::<bool>()).prop_map(|(tube, station, clock, through)| {
        tube.drilled(station, clock, 8.0, through).drilled(station + 40.0, clock + 70.0, 6.5, false)
    })]
}

/// Elsewhere, perhaps described from the other end and with another index line.
fn elsewhere(tube: &Tube, [x, y, z, angle]: [f64; 4], index: f64, reversed: bool) -> Tube {
    let axis = DVec3::new(x, y, z + 2.0).normalize();
    let moved = tube.moved(axis, angle, DVec3::new(100.0 * y, 300.0 * z, -50.0 * x));
    let moved = if reversed { moved.reversed() } else { moved };
    // A rectangular tube has its index line on a side.
    let square = matches!(tube.profile, matchmark_core::geometry::Profile::Rect { .. });
    moved.indexed(if square { (index / 90.0).round() * 90.0 } else { index })
}

fn place() -> impl Strategy<Value = ([f64; 4], f64, bool)> {
    (prop::array::uniform4(-1.0..1.0f64), 0.0..360.0f64, any::<bool>())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn a_tube_moved_and_described_otherwise_is_the_same(tube in any_tube(), (by, index, reversed) in place()) {
        let there = elsewhere(&tube, by, index, reversed);
        let (a, b) = (tube.shape(), there.shape());
        let found = same(&a, &b);
        prop_assert!(found.is_some_and(|found| found.deviation < 2e-3), "{found:?}");
        let back = same(&b, &a);
        prop_assert!(back.is_some_and(|back| back.deviation < 2e-3), "{back:?}");
        let unchanged = matches!(rework(&a, &b), Change::Unchanged { .. });
        prop_assert!(unchanged);
    }

    #[test]
    fn where_part_of_the_wall_misses_parts_are_still_the_same(
        od in 30.0..45.0f64, angle in 40.0..90.0f64, offset in 4.0..12.0f64, lean in 5.0..40.0f64, clock in 0.0..360.0f64, (by, index, reversed) in place()
    ) {
        // Lines end upright at a miss, so that rounding moves them by hundredths.
        let tube = Tube::straight(ROUND, 350.0).coped(0, od, angle, 0.0, offset, 0.0).mitred(1, lean, clock, 0.0);
        let other = Tube::straight(ROUND, 350.0).coped(0, od, angle, 0.0, offset + 0.3, 0.0).mitred(1, lean, clock, 0.0);
        let there = elsewhere(&tube, by, index, reversed).shape();
        prop_assert!(same(&tube.shape(), &there).is_some_and(|found| found.deviation < 0.02));
        prop_assert!(same(&other.shape(), &there).is_none());
    }

    #[test]
    fn mirrored_by_figures_is_mirrored_in_space_and_twice_is_nothing(tube in any_tube()) {
        let shape = tube.shape();
        let image = shape.mirrored();
        prop_assert!(same(&image, &tube.mirrored().shape()).is_some_and(|found| found.deviation < 2e-3));
        prop_assert_eq!(image.mirrored(), shape);
    }

    #[test]
    fn hand_does_not_depend_on_place_or_description(tube in any_tube(), (by, index, reversed) in place()) {
        let (a, b) = (hand(&tube.shape()), hand(&elsewhere(&tube, by, index, reversed).shape()));
        prop_assert_eq!(a.is_handed(), b.is_handed());
        prop_assert!((a.deviation() - b.deviation()).abs() < 0.3 + 0.1 * a.deviation(), "{} {}", a.deviation(), b.deviation());
        if a.deviation() < 1.0 {
            prop_assert!((a.deviation() - b.deviation()).abs() < 0.01, "{} {}", a.deviation(), b.deviation());
        }
    }

    #[test]
    fn what_tells_one_hand_tells_the_other_to_the_other_side(tube in any_tube()) {
        let (Hand::Handed { tell: left, .. }, Hand::Handed { tell: right, .. }) =
            (hand(&tube.shape()), hand(&tube.mirrored().shape()))
        else {
            return Ok(());
        };
        let opposite = match (left, right) {
            (
                Tell::Sideways { from, up, other, side, degrees, .. },
                Tell::Sideways { from: b_from, up: b_up, other: b_other, side: b_side, degrees: b_degrees, .. },
            ) => {
                let kind = |mark: Mark| std::mem::discriminant(&mark);
                from == b_from && kind(up) == kind(b_up) && kind(other) == kind(b_other)
                    && side == b_side.other() && (degrees - b_degrees).abs() < 0.5
            }
            (Tell::Uneven { end, side, .. }, Tell::Uneven { end: b_end, side: b_side, .. }) => {
                end == b_end && side == b_side.other()
            }
            (Tell::Nothing { .. }, Tell::Nothing { .. }) => true,
            _ => false,
        };
        prop_assert!(opposite, "{left:?} {right:?}");
    }

    #[test]
    fn a_pair_of_planes_or_a_plane_and_a_square_end_is_never_handed_when_they_share_a_plane(
        first in 0.0..50.0f64, last in 0.0..50.0f64, clock in 0.0..360.0f64, opposite in any::<bool>()
    ) {
        let there = clock + if opposite { 180.0 } else { 0.0 };
        let tube = Tube::straight(ROUND, 300.0).mitred(0, first, clock, 0.0).mitred(1, last, there, 0.0);
        prop_assert!(!hand(&tube.shape()).is_handed());
    }

    #[test]
    fn an_end_cut_further_is_reworked_at_that_end_by_that_much(
        tube in any_tube(), end in 0..2usize, more in 0.3..20.0f64, (by, index, reversed) in place()
    ) {
        let old = elsewhere(&tube, by, index, reversed);
        let new = shorter(&tube, end, more);
        let change = rework(&old.shape(), &new.shape());
        let Change::Rework { trims, drill, .. } = &change else {
            return Err(TestCaseError::fail(format!("{change:?}")));
        };
        prop_assert!(drill.is_empty());
        let [Trim { new_end, old_end, most, least }] = trims[..] else {
            return Err(TestCaseError::fail(format!("{change:?}")));
        };
        prop_assert!((most - more).abs() < 2e-3 && (least - more).abs() < 2e-3, "{change:?}");
        // A straight tube may as well be shortened at its other end.
        prop_assert!(new_end == end || (tube.points.len() == 2 && tube.holes.is_empty()), "{change:?}");
        prop_assert_eq!(old_end == new_end, !reversed);
        let back = rework(&new.shape(), &old.shape());
        let refused = match back {
            Change::Replace { why: Why::TooShort { by, .. } } => (by - more).abs() < 2e-3,
            Change::Replace { why: Why::Hole { .. } } => !tube.holes.is_empty(),
            _ => false,
        };
        prop_assert!(refused, "{back:?}");
    }
}

/// The tube with one end taken back along its axis.
fn shorter(tube: &Tube, end: usize, by: f64) -> Tube {
    let path = tube.path();
    let inwards = if end == 0 { path.first().direction } else { -path.last().direction };
    let mut tube = tube.clone();
    for piece in &mut tube.targets[end] {
        match piece {
            Piece::Cylinder(bar) => bar.point += inwards * by,
            Piece::HalfSpace(half) => half.point += inwards * by,
            Piece::Torus(_) | Piece::Prism(_) | Piece::Plate(_) | Piece::Cut(_) => panic!("not used here"),
        }
    }
    tube
}

fn trims(change: &Change) -> &[Trim] {
    match change {
        Change::Rework { trims, .. } => trims,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_square_end_becomes_a_mitre_by_twice_the_radius_times_the_tangent() {
    // Tip to throat = 2 r cot(angle to the axis) (development of truncated cylinders, engineering drawing textbooks; memory).
    let old = Tube::straight(ROUND, 400.0);
    let drop = 21.2 * 30.0f64.to_radians().tan();
    let new = Tube::straight(ROUND, 400.0).mitred(1, 30.0, 50.0, -drop);
    let change = rework(&old.shape(), &new.shape());
    let [trim] = trims(&change) else { panic!("{change:?}") };
    assert_eq!((trim.old_end, trim.new_end), (1, 1));
    assert!((trim.most - 2.0 * drop).abs() < 1e-3 && trim.least < 1e-3, "{trim:?}");
    // The other way about it is too short by that.
    let Change::Replace { why: Why::TooShort { by, .. } } = rework(&new.shape(), &old.shape()) else { panic!() };
    assert!((by - 2.0 * drop).abs() < 1e-3, "{by}");
}

#[test]
fn equal_lengths_do_not_make_a_part_reworkable_and_a_longer_one_is_turned_to_fit() {
    // Two planes at 45 degrees, once clocked 0 and once 30. Turned by t the ends stand off by 2 r sin(t / 2) and
    // 2 r sin((30 - t) / 2), least in sum when one of them fits: 2 r sin 15 (derived).
    let planes = |length, clock| Tube::straight(ROUND, length).mitred(0, 45.0, 0.0, 0.0).mitred(1, 45.0, clock, 0.0);
    let lacking = 2.0 * 21.2 * 15.0f64.to_radians().sin();
    let Change::Replace { why: Why::TooShort { by, .. } } =
        rework(&planes(400.0, 0.0).shape(), &planes(400.0, 30.0).shape())
    else {
        panic!("equal lengths, other cuts")
    };
    assert!((by - lacking).abs() < 1e-3, "{by} {lacking}");
    let change = rework(&planes(412.0, 0.0).shape(), &planes(400.0, 30.0).shape());
    let [trim] = trims(&change) else { panic!("one end fits: {change:?}") };
    assert!((trim.most - 12.0 - lacking).abs() < 1e-3 && (trim.least - 12.0 + lacking).abs() < 1e-3, "{trim:?}");
}

#[test]
fn two_ends_are_trimmed_when_neither_fits() {
    let old = Tube::straight(ROUND, 420.0).mitred(0, 20.0, 0.0, 0.0).mitred(1, 20.0, 0.0, 0.0);
    let new = Tube::straight(ROUND, 380.0).mitred(0, 30.0, 0.0, 0.0).mitred(1, 35.0, 90.0, 0.0);
    let change = rework(&old.shape(), &new.shape());
    assert_eq!(trims(&change).len(), 2);
    let taken: f64 = trims(&change).iter().map(|trim| 0.5 * (trim.most + trim.least)).sum();
    assert!((taken - 40.0).abs() < 1e-2, "means of both add up to the difference of the axes: {taken}");
}

#[test]
fn holes_stay_are_drilled_are_trimmed_away_or_are_in_the_way() {
    let tube = Tube::straight(ROUND, 400.0).mitred(0, 30.0, 0.0, 0.0);
    let (plain, one) = (tube.shape(), tube.clone().drilled(150.0, 40.0, 8.0, false));
    let two = one.clone().drilled(220.0, 130.0, 6.0, true);
    let Change::Rework { trims, drill, .. } = rework(&one.shape(), &two.shape()) else { panic!() };
    assert_eq!((trims.len(), drill), (0, vec![1]));
    assert_eq!(rework(&one.shape(), &plain), Change::Replace { why: Why::Hole { old: 0, off: None } });
    let moved = tube.clone().drilled(153.0, 40.0, 8.0, false);
    let Change::Replace { why: Why::Hole { old: 0, off: Some(off) } } = rework(&one.shape(), &moved.shape()) else {
        panic!()
    };
    assert!((off - 3.0).abs() < 1e-3, "{off}");
    let near_end = tube.clone().drilled(390.0, 200.0, 8.0, false);
    let change = rework(&near_end.shape(), &shorter(&tube, 1, 20.0).shape());
    let [trim] = self::trims(&change) else { panic!("{change:?}") };
    assert!((trim.most - 20.0).abs() < 1e-3);
    // A hole fixes the slide: what fits without it needs both ends trimmed with it.
    let longer = Tube::straight(ROUND, 410.0).drilled(155.0, 0.0, 8.0, false);
    let new = Tube::straight(ROUND, 400.0).drilled(150.0, 77.0, 8.0, false);
    let change = rework(&longer.shape(), &new.shape());
    assert!(self::trims(&change).iter().all(|trim| (trim.most - 5.0).abs() < 1e-3), "{change:?}");
    assert_eq!(self::trims(&change).len(), 2);
}

#[test]
fn a_hole_through_both_sides_of_a_square_tube_is_the_same_from_either_side() {
    // 4 mm off the middle of the side at +x, or of the side at -x.
    let tube = Tube::straight(SQUARE, 300.0).mitred(0, 30.0, 0.0, 0.0).shape();
    let (near, far) = (4.0f64.atan2(12.5), 4.0f64.atan2(-12.5));
    let hole = |clock, opposite| vec![Hole { station: 100.0, clock, diameter: 6.0, opposite }];
    let one = tube.clone().with_holes(hole(near, Some(far)));
    assert!(same(&one, &tube.clone().with_holes(hole(far, Some(near)))).is_some());
    assert!(same(&one, &tube.clone().with_holes(hole(-near, Some(-far)))).is_none());
    assert!(same(&one.mirrored(), &tube.with_holes(hole(-near, Some(-far)))).is_some());
    assert!(hand(&one).is_handed());
    // Where the hole lies elsewhere no turn but those of the square can serve.
    let moved = Tube::straight(SQUARE, 300.0).drilled(100.0, 0.0, 6.0, false).shape();
    let turned = Tube::straight(SQUARE, 300.0).shape().with_holes(hole(0.3, None));
    assert!(matches!(rework(&moved, &turned), Change::Replace { why: Why::Hole { old: 0, off: Some(_) } }));
}

fn hoop(left: f64, right: f64, width: f64) -> Tube {
    let points =
        [[0.0, 0.0, -left], [0.0, 0.0, 500.0], [width, 0.0, 500.0], [width, 0.0, -right]].map(DVec3::from_array);
    Tube::bent(ROUND, &points, 130.0)
}

#[test]
fn legs_of_a_hoop_may_be_shortened_but_its_bends_must_coincide() {
    let new = hoop(0.0, 0.0, 700.0).shape();
    let change = rework(&hoop(5.0, 0.0, 700.0).shape(), &new);
    let [trim] = trims(&change) else { panic!("{change:?}") };
    // A hoop with equal legs can be turned round: kept as it is when that serves.
    assert_eq!((trim.old_end, trim.new_end), (0, 0));
    assert!((trim.most - 5.0).abs() < 1e-6 && (trim.least - 5.0).abs() < 1e-6);
    // The long leg of the old one has to become the long leg of the new one.
    let change = rework(&hoop(0.0, 5.0, 700.0).shape(), &hoop(3.0, 0.0, 700.0).shape());
    let [trim] = trims(&change) else { panic!("{change:?}") };
    assert_eq!((trim.old_end, trim.new_end), (1, 0));
    assert!((trim.most - 2.0).abs() < 1e-6);
    let short = rework(&hoop(-3.9, 0.0, 700.0).shape(), &new);
    assert!(
        matches!(short, Change::Replace { why: Why::TooShort { by, end: Some(_) } } if (by - 3.9).abs() < 1e-6),
        "{short:?}"
    );
    let wide = rework(&hoop(0.0, 0.0, 704.0).shape(), &new);
    assert!(matches!(wide, Change::Replace { why: Why::Centreline { off } } if off > 1.0 && off < 4.0), "{wide:?}");
    let straight = rework(&Tube::straight(ROUND, 900.0).shape(), &new);
    assert_eq!(straight, Change::Replace { why: Why::Bends { old: 0, new: 2 } });
    let other = rework(&Tube::straight(SQUARE, 900.0).shape(), &Tube::straight(ROUND, 900.0).shape());
    assert_eq!(other, Change::Replace { why: Why::Section });
}

#[test]
fn what_is_left_long_is_part_of_the_part_but_no_reason_to_rework_it() {
    let old = hoop(0.0, 0.0, 700.0).shape();
    let new = old.clone().left_long([40.0, 40.0]);
    assert!(same(&old, &new).is_none() && same(&new, &new.mirrored()).is_some());
    let change = rework(&old, &new);
    assert!(trims(&change).is_empty(), "{change:?}");
}

#[test]
fn almost_equal_does_not_add_up() {
    let length = |length| Tube::straight(ROUND, length).shape();
    let master = length(400.0);
    assert!(same(&master, &length(400.08)).is_some(), "0.04 at each end");
    assert!(same(&length(400.08), &length(400.16)).is_some());
    assert!(same(&master, &length(400.16)).is_none(), "each is compared with the master");
}
