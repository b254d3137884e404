//! Views against closed forms, and against each other.

use super::*;
use serde_json::{Value, json};

fn made(members: Value, rest: Value) -> std::sync::Arc<Made> {
    let mut document = json!({
        "format": "matchmark-design/1", "name": "Bench frame",
        "materials": {"cds": {"name": "Cold drawn seamless", "density": 7850}},
        "sections": {
            "hoop": {"round": {"od": 40, "wall": 2}, "material": "cds"},
            "box": {"rect": {"width": 40, "height": 60, "wall": 2, "corner": 5}, "material": "cds"},
        },
        "points": {}, "members": members,
    });
    for (name, value) in rest.as_object().unwrap() {
        document[name] = value.clone();
    }
    let evaluation = crate::evaluate(&document.to_string());
    evaluation.made.unwrap_or_else(|| panic!("{:?}", evaluation.findings))
}

fn demo() -> std::sync::Arc<Made> {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    crate::evaluate(&std::fs::read_to_string(path).unwrap()).made.unwrap()
}

fn straight(id: &str, from: [f64; 3], to: [f64; 3]) -> Value {
    json!({"id": id, "section": "hoop", "from": from, "to": to, "ends": {"from": "square", "to": "square"}})
}

fn length(points: &[Point]) -> f64 {
    points.windows(2).map(|pair| libm::hypot(pair[1][0] - pair[0][0], pair[1][1] - pair[0][1])).sum()
}

fn sides(seen: &SceneView, part: usize) -> impl Iterator<Item = &Run> {
    seen.when(seen.parts).filter(move |run| run.part == part && matches!(run.curve, Curve::Side(_)))
}

#[test]
fn a_tube_square_to_the_view_is_a_rectangle() {
    let made = made(json!([straight("a", [0.0, 0.0, 0.0], [500.0, 0.0, 0.0])]), json!({}));
    let seen = Scene::of(&made).seen(&Look::LEFT, 2.0);
    let sides: Vec<&Run> = sides(&seen, 0).collect();
    assert_eq!(sides.len(), 2);
    for run in sides {
        assert!((length(&run.points) - 500.0).abs() < 1e-9);
        assert!(run.points.iter().all(|point| (point[1].abs() - 20.0).abs() < 1e-9));
    }
    let corners = [-500.0, -20.0, 0.0, 20.0];
    assert!(seen.extent.iter().zip(corners).all(|(found, wanted)| (found - wanted).abs() < 1e-6), "{:?}", seen.extent);
}

#[test]
fn the_front_one_of_two_crossing_tubes_hides_exactly_its_own_width() {
    let made = made(
        json!([
            straight("behind", [0.0, 0.0, 0.0], [500.0, 0.0, 0.0]),
            straight("before", [200.0, 100.0, -300.0], [200.0, 100.0, 300.0])
        ]),
        json!({}),
    );
    let seen = Scene::of(&made).seen(&Look::LEFT, 2.0);
    let mut ends: Vec<f64> =
        sides(&seen, 0).flat_map(|run| [run.points[0][0], run.points[run.points.len() - 1][0]]).collect();
    ends.sort_by(f64::total_cmp);
    // Right in this view is the frame's rear: x counts down.
    let wanted = [-500.0, -500.0, -220.0, -220.0, -180.0, -180.0, 0.0, 0.0];
    assert_eq!(ends.len(), wanted.len());
    assert!(ends.iter().zip(wanted).all(|(end, wanted)| (end - wanted).abs() < 0.02), "{ends:?}");
    assert!(sides(&seen, 1).all(|run| (length(&run.points) - 600.0).abs() < 1e-6));
    // From the other side it is the other way about.
    let seen = Scene::of(&made).seen(&Look::RIGHT, 2.0);
    assert!(sides(&seen, 0).all(|run| (length(&run.points) - 500.0).abs() < 1e-6));
    assert_eq!(sides(&seen, 1).count(), 4);
}

#[test]
fn a_tube_can_be_looked_through_and_into() {
    // The thin tube stands behind the open end of a wide one and is seen through its bore.
    let mut thin = straight("thin", [600.0, -5.0, 0.0], [600.0, 5.0, 0.0]);
    thin["section"] = json!("pin");
    let sections = json!({"sections": {
        "hoop": {"round": {"od": 40, "wall": 2}, "material": "cds"},
        "pin": {"round": {"od": 6, "wall": 1}, "material": "cds"},
    }});
    let made = made(json!([straight("wide", [0.0, 0.0, 0.0], [500.0, 0.0, 0.0]), thin]), sections);
    let seen = Scene::of(&made).seen(&Look::REAR, 1.0);
    assert!((sides(&seen, 1).map(|run| length(&run.points)).sum::<f64>() - 20.0).abs() < 1e-6);
    // Of the wide one the rim and the bore are seen as circles; those of its far end fall on them.
    let circles: Vec<f64> = seen.when(2).filter(|run| run.part == 0).map(|run| length(&run.points)).collect();
    for radius in [20.0, 18.0] {
        let round = core::f64::consts::TAU * radius;
        assert!(circles.iter().any(|circle| (circle / round - 1.0).abs() < 1e-3), "{circles:?} {round}");
    }
}

#[test]
fn a_bend_is_seen_as_the_offset_of_its_centreline_and_round_where_it_turns_to_the_viewer() {
    let made = made(
        json!([{"id": "hoop", "section": "hoop", "path": [[0, 300, 0], [0, 300, 500], [0, -300, 500], [0, -300, 0]], "radius": 150,
                "ends": {"from": "square", "to": "square"}}]),
        json!({}),
    );
    let scene = Scene::of(&made);
    let front = scene.seen(&Look::FRONT, 2.0);
    assert_eq!(front.extent.map(f64::round), [-320.0, 0.0, 320.0, 520.0]);
    // Two legs of 350, two bends and the top of 300, on the outside and on the inside.
    let quarter = core::f64::consts::FRAC_PI_2;
    let wanted = 2.0 * (2.0 * 350.0 + 300.0) + 2.0 * quarter * (170.0 + 130.0);
    let found: f64 = sides(&front, 0).map(|run| length(&run.points)).sum();
    assert!((found / wanted - 1.0).abs() < 1e-3, "{found} {wanted}");
    // From the side the hoop is a post with a round top.
    let side = scene.seen(&Look::LEFT, 2.0);
    assert_eq!(side.extent.map(f64::round), [-20.0, 0.0, 20.0, 520.0]);
    let off = |[x, y]: Point| libm::hypot(x, (y - 500.0).max(0.0)) - 20.0;
    let places: Vec<Point> = sides(&side, 0).flat_map(|run| run.points.clone()).collect();
    // Within the clearance with which rays start: no closer can it be told that the inner half of the tip is hidden.
    let worst = places.iter().map(|&place| off(place).abs()).fold(0.0, f64::max);
    assert!(worst < 0.06, "{worst}");
    assert!((0..=60).all(|degrees| {
        let (sin, cos) = libm::sincos(f64::from(3 * degrees).to_radians());
        places.iter().any(|place| libm::hypot(place[0] - 20.0 * cos, place[1] - 500.0 - 20.0 * sin) < 0.3)
    }));
}

#[test]
fn a_rectangular_tube_shows_its_corners_on_the_sides_that_face_the_viewer() {
    let mut bar = straight("bar", [0.0, 0.0, 0.0], [500.0, 0.0, 0.0]);
    bar["section"] = json!("box");
    let made = made(json!([bar]), json!({}));
    let seen = Scene::of(&made).seen(&Look::named("0,1,1").unwrap(), 2.0);
    let corners: Vec<&Run> = seen.when(1).filter(|run| run.curve == Curve::Corner).collect();
    assert_eq!(corners.len(), 1, "of four corners only one lies between two sides that are seen");
    assert_eq!(sides(&seen, 0).count(), 2);
    let square = Scene::of(&made).seen(&Look::LEFT, 2.0);
    assert!(square.when(1).all(|run| run.curve != Curve::Corner));
}

#[test]
fn a_hole_in_a_plate_shows_what_lies_behind_it() {
    let rest = json!({
        "plates": {"cover": {
            "outline": [[-100, -100], [100, -100], [100, 100], [-100, 100]], "thickness": 4, "material": "cds",
            "holes": [{"at": [0, 0], "diameter": 60}],
            "place": {"at": [0, 100, 0], "normal": [0, 1, 0], "along": [1, 0, 0]},
        }},
    });
    let made = made(json!([straight("bar", [-90.0, 0.0, 0.0], [90.0, 0.0, 0.0])]), rest);
    let seen = Scene::of(&made).seen(&Look::LEFT, 1.0);
    let bar = Scene::of(&made).ids().iter().position(|id| *id == "bar").unwrap();
    let lengths: Vec<f64> = sides(&seen, bar).map(|run| length(&run.points)).collect();
    // Chords of the hole at 20 from its middle: 2 sqrt(30^2 - 20^2).
    let chord = 2.0 * 500.0_f64.sqrt();
    assert_eq!(lengths.len(), 2);
    assert!(lengths.iter().all(|length| (length - chord).abs() < 0.1), "{lengths:?} {chord}");
}

#[test]
fn one_look_gives_the_view_at_every_step() {
    let made = demo();
    let whole = Scene::of(&made);
    let look = Look::pictorial();
    let seen = whole.seen(&look, 5.0);
    for standing in [1, 7, 30, 61] {
        let first: Vec<&str> = whole.ids()[..standing].to_vec();
        let some = Scene::of_some(&made, |id| first.contains(&id)).seen(&look, 5.0);
        let sum = |runs: &mut dyn Iterator<Item = &Run>| runs.map(|run| length(&run.points)).sum::<f64>();
        let (now, alone) = (sum(&mut seen.when(standing)), sum(&mut some.when(standing)));
        assert!((now / alone - 1.0).abs() < 1e-4, "{standing}: {now} {alone}");
    }
}

#[test]
fn mirrored_sides_hide_each_other_and_a_turned_frame_looks_the_same() {
    let made = demo();
    let scene = Scene::of(&made);
    let sum = |look: &Look| scene.seen(look, 5.0).when(scene.ids().len()).map(|run| length(&run.points)).sum::<f64>();
    // What is drawn of a nearly mirrored frame from the left and from the right is nearly the same.
    let (left, right) = (sum(&Look::LEFT), sum(&Look::RIGHT));
    assert!((left / right - 1.0).abs() < 0.02, "{left} {right}");
}
