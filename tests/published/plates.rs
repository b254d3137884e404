//! Plates compared in the plane and turned over; every answer follows from symmetry.

use matchmark_core::pack::say;
use matchmark_core::part::compare::{
    Countersink, PlateEdge, PlateFeature, PlateHand, PlateHole, PlateShape, PlateSide, PlateTell, Side, plate_hand,
    same_plate,
};
use matchmark_core::sheets::HandTell;
use proptest::prelude::*;

fn outline(points: &[[f64; 2]]) -> Vec<PlateEdge> {
    points.iter().map(|&from| PlateEdge { from, rise: 0.0 }).collect()
}

fn hole(x: f64, y: f64, sunk: bool) -> PlateHole {
    let countersink = sunk.then_some(Countersink { face: PlateSide::Plus, diameter: 16.0 });
    PlateHole { at: [x, y], diameter: 8.0, countersink }
}

fn plate(points: &[[f64; 2]], holes: Vec<PlateHole>) -> PlateShape {
    PlateShape::of("cds", 4.0, &outline(points), holes)
}

/// An L that no turn in the plane carries onto its mirror image.
const L: [[f64; 2]; 6] = [[0.0, 0.0], [90.0, 0.0], [90.0, 20.0], [30.0, 20.0], [30.0, 60.0], [0.0, 60.0]];

fn is_handed(plate: &PlateShape) -> bool {
    matches!(plate_hand(plate), PlateHand::Handed { .. })
}

#[test]
fn a_flat_plate_can_be_turned_over_until_its_holes_are_countersunk() {
    assert!(!is_handed(&plate(&L, vec![hole(10.0, 10.0, false), hole(80.0, 10.0, false)])));
    assert!(is_handed(&plate(&L, vec![hole(10.0, 10.0, true), hole(80.0, 10.0, false)])));
    // One face each: turned over they change places.
    let back = PlateHole {
        countersink: Some(Countersink { face: PlateSide::Minus, diameter: 16.0 }),
        ..hole(60.0, 10.0, true)
    };
    let rect = [[0.0, 0.0], [80.0, 0.0], [80.0, 40.0], [0.0, 40.0]];
    assert!(!is_handed(&plate(&rect, vec![hole(20.0, 10.0, true), hole(60.0, 10.0, true)])), "symmetric about x = 40");
    assert!(is_handed(&plate(&rect, vec![hole(20.0, 10.0, true), hole(70.0, 10.0, true)])));
    let turned_over = plate(&rect, vec![hole(20.0, 10.0, true), back]);
    assert!(is_handed(&turned_over), "a half turn carries it onto itself, but no half turn is a mirror image");
}

#[test]
fn what_tells_a_plate_is_a_hole_beside_the_middle_of_its_longest_edge() {
    let left = plate(&L, vec![hole(75.0, 10.0, true), hole(45.0, 10.0, true)]);
    let PlateHand::Handed { tell, near: false, .. } = plate_hand(&left) else { panic!() };
    let PlateTell::Beside { edge, feature, above, side, offset } = tell else { panic!("{tell:?}") };
    // The ends of the long edge stand out as far, but lie as far on the other side too.
    assert_eq!(edge, 90.0);
    assert!(
        matches!(feature, PlateFeature::Corner) && side == Side::Right && (offset, above) == (45.0, 20.0),
        "{tell:?}"
    );
    assert!(say::hand(&HandTell::Plate(tell), Side::Right).contains("45 mm to the left"));
}

#[test]
fn discs_and_arcs() {
    let disc = |parts: usize, holes: Vec<PlateHole>| {
        let angle = std::f64::consts::TAU / parts as f64;
        let edges: Vec<PlateEdge> = (0..parts)
            .map(|part| {
                let (sin, cos) = (0.3 + angle * part as f64).sin_cos();
                PlateEdge { from: [50.0 * cos, 50.0 * sin], rise: 50.0 * (1.0 - (angle / 2.0).cos()) }
            })
            .collect();
        PlateShape::of("cds", 4.0, &edges, holes)
    };
    let turned = [hole(30.0 * 1.1f64.cos(), 30.0 * 1.1f64.sin(), true), hole(0.0, 0.0, false)];
    assert!(
        same_plate(&disc(2, vec![hole(30.0, 0.0, true), hole(0.0, 0.0, false)]), &disc(5, turned.to_vec())).is_some()
    );
    assert!(!is_handed(&disc(3, turned.to_vec())));
    // A rounded end given as one arc or as two is the same plate; a larger one is not.
    let slot = |rise: f64, split: bool| {
        let mut edges = vec![
            PlateEdge { from: [0.0, 0.0], rise: 0.0 },
            PlateEdge { from: [60.0, 0.0], rise },
            PlateEdge { from: [60.0, 40.0], rise: 0.0 },
            PlateEdge { from: [0.0, 40.0], rise: 0.0 },
        ];
        if split {
            edges[1].rise = rise * (1.0 - std::f64::consts::FRAC_1_SQRT_2);
            edges.insert(2, PlateEdge { from: [60.0 + rise, 20.0], ..edges[1] });
        }
        PlateShape::of("cds", 4.0, &edges, Vec::new())
    };
    assert!(same_plate(&slot(20.0, false), &slot(20.0, true)).is_some_and(|found| found.deviation < 1e-6));
    assert!(same_plate(&slot(20.0, false), &slot(19.8, false)).is_none());
}

proptest! {
    #[test]
    fn moved_turned_over_and_started_elsewhere_is_the_same(
        angle in 0.0..6.3f64, shift in prop::array::uniform2(-100.0..100.0f64), first in 0..6usize, over in any::<bool>(), backwards in any::<bool>()
    ) {
        let (sin, cos) = angle.sin_cos();
        let go = |[x, y]: [f64; 2]| {
            let x = if over { -x } else { x };
            [cos * x - sin * y + shift[0], sin * x + cos * y + shift[1]]
        };
        let holes = vec![hole(10.0, 45.0, true), hole(70.0, 12.0, false)];
        let here = plate(&L, holes.clone());
        let mut points = L.map(go);
        points.rotate_left(first);
        if backwards {
            points.reverse();
        }
        let face = if over { PlateSide::Minus } else { PlateSide::Plus };
        let holes: Vec<PlateHole> = holes
            .into_iter()
            .map(|hole| PlateHole { at: go(hole.at), countersink: hole.countersink.map(|sink| Countersink { face, ..sink }), ..hole })
            .collect();
        let there = plate(&points, holes);
        let found = same_plate(&here, &there);
        prop_assert!(found.is_some_and(|found| found.over == over && found.deviation < 1e-9), "{found:?}");
        prop_assert!(same_plate(&here.mirrored(), &there).is_none());
    }
}
