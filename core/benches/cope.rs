//! One cut of each kind with 360 stations: outer line, bore line, relief line and dihedral angle at each.
//!
//! `prepared` is the engine; `ray_by_ray` is the same figures by first hits of single rays, with nothing computed once for all
//! of them and the relief sampled at 33 depths: what the engine's own geometry gives without any of its shortcuts.

use divan::{Bencher, black_box};
use matchmark_core::geometry::{
    Cylinder, DVec3, HalfSpace, Path, Piece, Profile, RoundedPrism, Solid, square_to, turned,
};
use matchmark_core::part::{Cut, CutLine, Table, TubeEnd};
use matchmark_core::{Stop, Stopped};

// As in the service.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() {
    divan::main();
}

const STATIONS: u32 = 360;

const KINDS: [&str; 8] = [
    "round on round",
    "equal diameters",
    "unequal, offset",
    "round on a bend",
    "round on rectangular",
    "rectangular on round",
    "three targets",
    "plane",
];

const ROUND: Profile = Profile::Round { outer: 21.2, wall: 2.6 };
const BOX: Profile = Profile::Rect { half_width: 20.0, half_height: 15.0, corner: 5.0, wall: 2.5 };

fn end(profile: Profile) -> TubeEnd {
    let outwards = turned(-DVec3::Z, DVec3::Y, 0.6);
    let index = square_to(outwards, DVec3::X).unwrap_or(DVec3::Y);
    TubeEnd { profile, datum: DVec3::ZERO, outwards, index, side: outwards.cross(index) }
}

fn bar(point: [f64; 3], axis: [f64; 3], radius: f64) -> Solid {
    let axis = DVec3::from_array(axis).normalize();
    Solid::new(vec![Piece::Cylinder(Cylinder { point: DVec3::from_array(point), axis, radius, length: None })])
}

fn cut(kind: &str) -> Cut {
    let profile = if kind == "rectangular on round" { BOX } else { ROUND };
    let header = bar([0.0; 3], [1.0, 0.0, 0.0], 30.15);
    let targets = match kind {
        "round on round" | "rectangular on round" => vec![header],
        "equal diameters" => vec![bar([0.0; 3], [1.0, 0.0, 0.0], 21.2)],
        "unequal, offset" => vec![bar([0.0, 6.0, 0.0], [1.0, 0.2, 0.1], 30.15)],
        "round on a bend" => {
            let corners = [[-400.0, 0.0, -60.0], [0.0, 0.0, 40.0], [400.0, 0.0, -60.0]].map(DVec3::from_array);
            Path::rounded(&corners, 150.0).map(|path| path.bar(24.15, 0.0)).into_iter().collect()
        }
        "round on rectangular" => vec![Solid::new(vec![Piece::Prism(RoundedPrism {
            point: DVec3::ZERO,
            axis: DVec3::X,
            across: DVec3::Y,
            half: [30.0, 25.0],
            corner: 6.0,
            length: None,
        })])],
        "three targets" => {
            vec![header, bar([0.0, 12.0, 0.0], [0.1, 1.0, 0.4], 24.15), bar([10.0, 0.0, -5.0], [0.5, -1.0, 0.2], 21.2)]
        }
        _ => vec![Solid::new(vec![Piece::HalfSpace(HalfSpace { point: DVec3::ZERO, normal: DVec3::Z })])],
    };
    Cut::new(end(profile), targets, -400.0, 400.0)
}

#[divan::bench(args = KINDS)]
fn prepared(bencher: Bencher<'_, '_>, kind: &str) {
    let cut = cut(kind);
    bencher.bench(|| {
        // Preparing belongs to the cope.
        let cut = black_box(cut.clone());
        Table::of(&Cut::new(*cut.end(), cut.targets().to_vec(), cut.start(), cut.limit()), STATIONS, Stop::NEVER)
    });
}

#[divan::bench(args = KINDS)]
fn ray_by_ray(bencher: Bencher<'_, '_>, kind: &str) {
    let cut = cut(kind);
    bencher.bench(|| black_box(plain(black_box(&cut))));
}

/// Both lines as polylines within their tolerance, as they are drawn.
#[divan::bench(args = KINDS)]
fn lines(bencher: Bencher<'_, '_>, kind: &str) {
    let cut = cut(kind);
    bencher.bench(|| -> Result<[CutLine; 2], Stopped> {
        let table = Table::of(black_box(&cut), STATIONS, Stop::NEVER)?;
        CutLine::both(&cut, &table, Stop::NEVER)
    });
}

#[divan::bench(args = KINDS)]
fn volume(bencher: Bencher<'_, '_>, kind: &str) {
    let cut = cut(kind);
    bencher.bench(|| black_box(&cut).volume_from_datum(0.0, Stop::NEVER));
}

fn plain(cut: &Cut) -> Vec<[Option<f64>; 4]> {
    const DEPTHS: u32 = 33;
    let (profile, end) = (cut.profile(), cut.end());
    let first = |u: f64, depth: f64| {
        let ray = end.generator(u, depth);
        let hits = cut.targets().iter().filter_map(|solid| Some((solid.first(&ray, cut.start())?, solid)));
        let (hit, solid) = hits.reduce(|best, next| if next.0.s < best.0.s { next } else { best })?;
        Some((hit.s, solid.pieces()[hit.piece].normal(ray.at(hit.s))))
    };
    let station = |k: u32| {
        let u = profile.perimeter() * f64::from(k) / f64::from(STATIONS);
        let depths = (0..DEPTHS).map(|step| profile.wall() * f64::from(step) / f64::from(DEPTHS - 1));
        let [x, y] = profile.spot(u, 0.0).normal;
        let outwards = end.index * x + end.side * y;
        let outer = first(u, 0.0);
        [
            outer.map(|(s, _)| s),
            first(u, profile.wall()).map(|(s, _)| s),
            depths.filter_map(|depth| first(u, depth)).map(|(s, _)| s).reduce(f64::min),
            outer.map(|(_, normal)| libm::acos((-outwards.dot(normal)).clamp(-1.0, 1.0))),
        ]
    };
    (0..STATIONS).map(station).collect()
}
