//! Sheets of a made-up frame for the tests of the pages, from closed forms.

use std::f64::consts::PI;

use super::{Issue, Paper, Print, Status};
use crate::sheets::{
    BendMark, BendRow, BendSheet, BevelFigure, CutRow, CutSheet, Datum, End, EndSummary, FitUp, FitUpEnd, FitUpStep,
    IndexLine, Miss, SetOut, Sheets, StepKind, StockPart, StockSection, Wrap,
};
use crate::stock::{Mitre, Size};

/// An issued pack of the demo design.
pub(super) fn issue(paper: Paper, status: Status) -> Issue {
    let issued = status == Status::Issued;
    let or_empty = |text: &str| {
        if issued { text.to_owned() } else { String::new() }
    };
    Issue {
        supplier: "Quillmoor Frameworks".to_owned(),
        design: "Fenrunner Two".to_owned(),
        revision: or_empty("B"),
        date: "2026-11-25".to_owned(),
        kit: or_empty("FT2-0017"),
        pack_number: or_empty("P-000042"),
        status,
        print: Print { paper, ..Print::default() },
        seal: None,
        since: None,
        kit_facts: Vec::new(),
        design_sha256: "5f3c".repeat(16),
    }
}

/// Distance from the header's axis back along the branch to where a generator of radius `rho` meets the header.
///
/// Header radius `header`, angle between the axes `between`, no offset; clock 0 on the acute side
/// (closed form of pipe branch development, as in shared checks; derivable in four lines).
fn branch(header: f64, rho: f64, between: f64, clock: f64) -> f64 {
    let aside = rho * clock.sin();
    ((header * header - aside * aside).max(0.0).sqrt() + rho * clock.cos() * between.cos()) / between.sin()
}

/// Angle between the two outer surfaces: 180 degrees less the angle between their normals.
fn dihedral(header: f64, rho: f64, between: f64, clock: f64) -> f64 {
    let aside = rho * clock.sin();
    let up = (header * header - aside * aside).max(0.0).sqrt();
    let own = [clock.cos() * between.sin(), clock.sin(), -clock.cos() * between.cos()];
    let dot = own[1] * aside / header + own[2] * up / header;
    180.0 - dot.clamp(-1.0, 1.0).acos().to_degrees()
}

const STEPS: u32 = 180;

/// A wrap whose line stands at `back(rho, clock)` behind its longest reach, on `od` x `wall`.
fn wrap_of(member: &str, end: End, [od, wall]: [f64; 2], cut: &str, back: impl Fn(f64, f64) -> f64) -> Wrap {
    let circumference = PI * od;
    let (outside, bore) = (od / 2.0, od / 2.0 - wall);
    let clocks: Vec<f64> = (0..=STEPS).map(|step| f64::from(step) / f64::from(STEPS) * 2.0 * PI).collect();
    let outer_back: Vec<f64> = clocks.iter().map(|c| back(outside, *c)).collect();
    let relief_back: Vec<f64> = clocks
        .iter()
        .map(|c| (0..=20).map(|part| back(bore + wall * f64::from(part) / 20.0, *c)).fold(f64::MIN, f64::max))
        .collect();
    let deepest = relief_back.iter().copied().fold(f64::MIN, f64::max);
    let least = outer_back.iter().copied().fold(f64::MAX, f64::min);
    let base = 40.0 + deepest;
    let run = |backs: &[f64]| {
        clocks.iter().zip(backs).map(|(c, b)| [c / (2.0 * PI) * circumference, base - b]).collect::<Vec<_>>()
    };
    let x_of = |deg: f64| match end {
        End::From => deg / 360.0 * circumference,
        End::To => (360.0 - deg) % 360.0 / 360.0 * circumference,
    };
    let largest_relief = outer_back.iter().zip(&relief_back).map(|(o, r)| r - o).fold(0.0, f64::max);
    Wrap {
        member: member.to_owned(),
        part_number: String::new(),
        end,
        size: format!("{od} x {wall}"),
        od: Some(od),
        wall,
        flats: Vec::new(),
        holes: Vec::new(),
        cut: cut.to_owned(),
        fits: Vec::new(),
        circumference,
        outer: vec![run(&outer_back)],
        relief: vec![run(&relief_back)],
        height: base - least,
        bevels: Vec::new(),
        zero_faces: "up",
        index_lines: [0.0, 90.0, 180.0, 270.0].map(|clock_deg| IndexLine { clock_deg, x: x_of(clock_deg) }).to_vec(),
        long_point: None,
        other_long_point: None,
        set_out: SetOut { datum: Datum::OtherEnd, distance: 504.0 },
        overall: 612.4,
        largest_relief,
        misses: Vec::new(),
    }
}

fn at_clock(wrap: &Wrap, clock_deg: f64) -> Option<IndexLine> {
    let round = wrap.circumference;
    let x = match wrap.end {
        End::From => clock_deg / 360.0 * round,
        End::To => (360.0 - clock_deg) % 360.0 / 360.0 * round,
    };
    Some(IndexLine { clock_deg, x })
}

/// A cope of `od` x `wall` on a header, at `between` degrees, clocked at `clock_deg`.
pub(super) fn cope(member: &str, end: End, [od, wall]: [f64; 2], header_od: f64, between: f64, clock_deg: f64) -> Wrap {
    let (header, between) = (header_od / 2.0, between.to_radians());
    let turned = clock_deg.to_radians();
    let sense = if end == End::From { 1.0 } else { -1.0 };
    let mut wrap =
        wrap_of(member, end, [od, wall], "cope", |rho, clock| branch(header, rho, between, sense * clock - turned));
    let line = wrap.outer[0].clone();
    wrap.bevels = line
        .iter()
        .step_by(15)
        .take(12)
        .map(|[x, y]| {
            let clock = sense * x / wrap.circumference * 2.0 * PI - turned;
            BevelFigure {
                clock_deg: clock.to_degrees().rem_euclid(360.0),
                x: *x,
                y: *y,
                dihedral_deg: dihedral(header, od / 2.0, between, clock),
            }
        })
        .collect();
    wrap.fits = vec!["main_hoop".to_owned()];
    let highest = line.iter().max_by(|a, b| a[1].total_cmp(&b[1]));
    wrap.long_point = highest
        .map(|[x, _]| IndexLine { clock_deg: (sense * x / wrap.circumference * 360.0).rem_euclid(360.0), x: *x });
    let long_deg = wrap.long_point.map_or(0.0, |line| line.clock_deg);
    wrap.other_long_point = at_clock(&wrap, (long_deg + 137.0).rem_euclid(360.0));
    wrap
}

/// A plane cut at `angle` degrees from square with its long point at `clock_deg`.
fn mitre(member: &str, end: End, [od, wall]: [f64; 2], angle: f64, clock_deg: f64) -> Wrap {
    let turned = clock_deg.to_radians();
    let sense = if end == End::From { 1.0 } else { -1.0 };
    let mut wrap = wrap_of(member, end, [od, wall], "mitre", |rho, clock| {
        -rho * angle.to_radians().tan() * (sense * clock - turned).cos()
    });
    wrap.fits = vec!["rear_rail".to_owned()];
    wrap.long_point = at_clock(&wrap, clock_deg);
    wrap.other_long_point = at_clock(&wrap, (clock_deg + 137.0) % 360.0);
    wrap
}

fn square(member: &str, end: End) -> Wrap {
    let mut wrap = wrap_of(member, end, [45.0, 2.5], "square", |_, _| 0.0);
    wrap.set_out = SetOut { datum: Datum::TangentMark { bend: if end == End::From { 1 } else { 2 } }, distance: 388.0 };
    wrap.largest_relief = 0.0;
    wrap
}

/// A cope with part of its wall past the target.
fn missing(member: &str) -> Wrap {
    let mut wrap = cope(member, End::To, [38.0, 2.5], 45.0, 90.0, 20.0);
    let cut_out = |run: &[[f64; 2]]| {
        let (before, after): (Vec<_>, Vec<_>) = run.iter().copied().partition(|p| p[0] < 70.0);
        let after = after.into_iter().filter(|p| p[0] > 90.0).collect();
        vec![before, after]
    };
    wrap.outer = cut_out(&wrap.outer[0].clone());
    wrap.relief = cut_out(&wrap.relief[0].clone());
    wrap.bevels.retain(|b| b.x < 70.0 || b.x > 90.0);
    let deg = |x: f64| 360.0 - x / wrap.circumference * 360.0;
    wrap.misses = vec![Miss { from_deg: deg(90.0), to_deg: deg(70.0), by: 2.4 }];
    wrap
}

fn summary(cut: &str, fits: &[&str], mitre_deg: Option<f64>) -> EndSummary {
    EndSummary {
        cut: cut.to_owned(),
        fits: fits.iter().map(|&id| id.to_owned()).collect(),
        mitre_deg,
        long_point_deg: (cut != "square").then_some(90.0),
    }
}

fn row(member: &str, size: &str) -> CutRow {
    CutRow {
        member: member.to_owned(),
        part_number: String::new(),
        section: "stay".to_owned(),
        size: size.to_owned(),
        material: "cold-drawn seamless".to_owned(),
        overall: 812.4,
        centreline: 790.06,
        short: 748.9,
        blank: 812.4,
        leave_long: [0.0, 0.0],
        from: summary("mitre", &[], Some(40.0)),
        to: summary("cope", &["main_hoop", "cross_tube"], None),
        clock_between_ends_deg: Some(-137.0),
        bends: 0,
        mass_kg: 1.9874,
    }
}

/// A hoop of two bends of 85 degrees, its centreline drawn from the closed forms of line and arc.
fn hoop(member: &str, angle_deg: f64) -> BendSheet {
    let (leg, top, radius, angle) = (700.0, 520.0, 152.0, angle_deg.to_radians());
    let mut view = Vec::new();
    let (mut at, mut heading) = ([0.0_f64, 0.0_f64], angle);
    view.push(at);
    for (length, turn) in [(leg, angle), (top, angle), (leg, 0.0)] {
        at = [at[0] + length * heading.cos(), at[1] + length * heading.sin()];
        view.push(at);
        for _ in 0..if turn > 0.0 { 60 } else { 0 } {
            let step = turn / 60.0;
            let chord = 2.0 * radius * (step / 2.0).sin();
            heading -= step / 2.0;
            at = [at[0] + chord * heading.cos(), at[1] + chord * heading.sin()];
            heading -= step / 2.0;
            view.push(at);
        }
    }
    let arc = radius * angle;
    let last = view[view.len() - 1];
    let rise = view.iter().map(|p| p[1]).fold(0.0, f64::max);
    let bend = |feed: f64| BendRow {
        feed,
        rotate_deg: 0.0,
        bend_deg: angle_deg,
        set_deg: Some(angle_deg * 1.02),
        radius,
        arc,
    };
    BendSheet {
        member: member.to_owned(),
        size: "45 x 2.5".to_owned(),
        od: 45.0,
        rows: vec![bend(leg), bend(top)],
        last_straight: leg,
        developed: 2.0 * leg + top + 2.0 * arc,
        leave_long: [40.0, 40.0],
        blank: 2.0 * leg + top + 2.0 * arc + 80.0,
        marks: vec![
            BendMark { bend: 1, start: 40.0 + leg, end: 40.0 + leg + arc },
            BendMark { bend: 2, start: 40.0 + leg + arc + top, end: 40.0 + leg + 2.0 * arc + top },
        ],
        springback_deg_per_90: Some(1.8),
        planar: true,
        view,
        end_to_end: last[0].hypot(last[1]),
        rise,
    }
}

fn step(number: usize, member: &str) -> FitUpStep {
    let end = |end, cut: &str, fits: &[&str], trim| FitUpEnd {
        end,
        cut: cut.to_owned(),
        fits: fits.iter().map(|&id| id.to_owned()).collect(),
        at: [1240.0, -455.25, 1033.04],
        trim,
    };
    FitUpStep {
        number,
        member: member.to_owned(),
        size: "45 x 2.5".to_owned(),
        kind: StepKind::Tube,
        checks: Vec::new(),
        ends: vec![
            end(End::From, "square", &[], if number == 1 { 40.0 } else { 0.0 }),
            end(End::To, "cope", &["main_hoop", "cross_tube"], 0.0),
        ],
        note: if number.is_multiple_of(4) {
            "Keep the seam inboard. Check the diagonal across the cockpit before tacking the second side, and clamp both feet to the table.".to_owned()
        } else {
            String::new()
        },
    }
}

/// A frame of 60 parts with every page kind.
pub(super) fn sheets() -> Sheets {
    let names: Vec<String> = (1..=56).map(|n| format!("brace_{n}.L")).collect();
    let mut rows = vec![
        CutRow {
            bends: 2,
            leave_long: [40.0, 40.0],
            blank: 2451.0,
            from: summary("square", &[], None),
            to: summary("square", &[], None),
            clock_between_ends_deg: None,
            ..row("main_hoop", "45 x 2.5")
        },
        row("stay.L", "45 x 2.5"),
        row("stay.R", "45 x 2.5"),
        row("cross_tube_behind_the_seats.R", "38 x 2.5"),
    ];
    rows.extend(names.iter().map(|name| row(name, "25 x 1.5")));
    let stay = |member: &str, clock: f64| {
        [
            mitre(member, End::From, [45.0, 2.5], 40.0, clock),
            cope(member, End::To, [45.0, 2.5], 45.0, 55.0, clock + 30.0),
        ]
    };
    let mut wraps = vec![square("main_hoop", End::From), square("main_hoop", End::To)];
    wraps.extend(stay("stay.L", 60.0));
    wraps.extend(stay("stay.R", 300.0));
    wraps.push(missing("cross_tube_behind_the_seats.R"));
    wraps.push(cope("brace_1.L", End::From, [25.0, 1.5], 45.0, 35.0, 0.0));
    wraps.push(cope("brace_2.L", End::To, [20.0, 1.5], 25.0, 70.0, 200.0));
    wraps.push(cope("sill.L", End::To, [60.3, 3.0], 60.3, 60.0, 90.0));
    wraps.push(cope("spine", End::From, [70.0, 3.0], 76.1, 90.0, 250.0));
    let steps = rows.iter().enumerate().map(|(index, row)| step(index + 1, &row.member)).collect();
    Sheets {
        cut_sheet: CutSheet { total_mass_kg: rows.iter().map(|row| row.mass_kg).sum(), rows },
        wraps,
        bend_sheets: vec![hoop("main_hoop", 85.0), hoop("front_hoop", 70.0)],
        fit_up: FitUp { steps },
        stock: stock(),
        ..Sheets::default()
    }
}

/// Sections to be cut: parts long and far too short for their labels, parallelograms and trapezes, and a part longer than any bar.
fn stock() -> Vec<StockSection> {
    let part = |number: String, length: f64, quantity: u32, ends: [Option<Mitre>; 2]| {
        let [from, to] = ends;
        StockPart { number, length, quantity, from, to }
    };
    let mitre = |long_side_deg: f64| Some(Mitre { mitre_deg: 45.0, long_side_deg });
    let section = |section: &str, outside: Size, lengths: &[f64], parts: Vec<StockPart>| StockSection {
        section: section.to_owned(),
        size: "45 x 2.5".to_owned(),
        material: "cold-drawn seamless".to_owned(),
        outside,
        lengths: lengths.to_vec(),
        kerf: 2.0,
        trim: 5.0,
        min_remnant: 500.0,
        parts,
    };
    let tube = Size::Round { od: 45.0 };
    let many =
        (0..40).map(|n| part(format!("FT{}-1", 101 + n), 60.0 + f64::from(n * n), 1 + n as u32 % 3, [None, None]));
    vec![
        section("hoop", tube, &[6_000.0, 7_500.0], many.collect()),
        section(
            "rail",
            Size::Rect { width: 40.0, height: 40.0, corner: 4.0 },
            &[3_000.0],
            vec![
                part("FT201".to_owned(), 400.0, 7, [mitre(0.0), mitre(180.0)]),
                part("FT202".to_owned(), 300.0, 6, [mitre(0.0), mitre(0.0)]),
                part("FT203".to_owned(), 90.0, 3, [mitre(0.0), None]),
            ],
        ),
        section("long", tube, &[1_000.0], vec![part("FT301".to_owned(), 1_200.0, 1, [None, None])]),
        section("unbought", tube, &[], vec![part("FT401".to_owned(), 1_200.0, 1, [None, None])]),
    ]
}

/// A small frame as a design document, for pages from what the engine itself reckons: a hoop with legs left long, tubes thin and
/// thick, several targets at one end, a branch set aside on its header so that part of its wall misses, rectangular tubes, plates small and
/// too large for the paper, and holes near an end, round a tube and far apart.
const DOCUMENT: &str = r#"{
    "format": "matchmark-design/1", "name": "Fenrunner Two",
    "materials": {"cds": {"name": "cold-drawn seamless", "density": 7850}},
    "sections": {
        "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds", "springback": 2.5, "clamp": 70},
        "brace": {"round": {"od": 38, "wall": 2.5}, "material": "cds"},
        "web": {"round": {"od": 20, "wall": 1.5}, "material": "cds"},
        "spine": {"round": {"od": 60.3, "wall": 3}, "material": "cds"},
        "box": {"rect": {"width": 30, "height": 20, "wall": 2, "corner": 4}, "material": "cds"}
    },
    "points": {
        "foot.L": [0, 560, 0], "top.L": [0, 440, 1200], "stay_top.L": [0, 460, 1000], "stay_foot.L": [-760, 345, 40],
        "waist": [0, 0, 1200], "tail": [-900, 0, 500], "mid.L": [-380, 402.5, 520], "aside.L": [-380, 418.5, 520], "low.L": [-380, 500, 40],
        "beam.L": [-570, 373.75, 280], "strut_foot.L": [-570, 200, 280], "strut_top.L": [-640, 260, 520]
    },
    "members": [
        {"id": "main_hoop", "section": "hoop", "path": ["foot.L", "top.L", "top.R", "foot.R"], "radius": 152,
         "ends": {"from": "square", "to": "square"}, "leave_long": {"from": 40, "to": 40}, "note": "Check spread and rise first."},
        {"id": "back_stay.L", "section": "hoop", "from": "stay_top.L", "to": "stay_foot.L", "mirror": true,
         "ends": {"to": {"mitre": {"normal": [0, 0, 1]}}}},
        {"id": "spine", "section": "spine", "from": "waist", "to": "tail", "ends": {"from": {"mitre": {"normal": [0, 0, 1]}}, "to": "square"}},
        {"id": "stay_cross", "section": "brace", "from": "mid.L", "to": "mid.R"},
        {"id": "web_brace.L", "section": "web", "from": "mid.L", "to": "tail", "mirror": true},
        {"id": "drop.L", "section": "brace", "from": "aside.L", "to": "low.L", "mirror": true, "ends": {"to": "square"}},
        {"id": "beam", "section": "box", "from": "beam.L", "to": "beam.R"},
        {"id": "strut.L", "section": "box", "from": "strut_foot.L", "to": "strut_top.L", "mirror": true, "ends": {"to": "square"}}
    ],
    "holes": {
        "belt": {"member": "stay_cross", "station": 200, "clock": 0, "diameter": 8.5, "both_walls": true, "note": "belt"},
        "seam_clip": {"member": "stay_cross", "station": 240, "clock": 45, "diameter": 5},
        "bolt.L": {"member": "strut.L", "station": 30, "clock": 90, "offset": 2, "diameter": 6.5, "mirror": true},
        "low_bolt.L": {"member": "strut.L", "station": 32, "clock": 180, "diameter": 6.5, "mirror": true},
        "vent.L": {"member": "drop.L", "station": 40, "clock": 200, "diameter": 10, "mirror": true},
        "lamp.L": {"member": "back_stay.L", "station": 150, "clock": 70, "diameter": 12.5, "mirror": true},
        "first": {"member": "spine", "station": 150, "clock": 0, "diameter": 10},
        "last": {"member": "spine", "station": 1000, "clock": 300, "diameter": 10, "note": "far from the first"}
    },
    "plates": {
        "foot.L": {
            "thickness": 4, "material": "cds", "mirror": true, "note": "Bolt it down first.",
            "outline": [{"at": [-65, -60], "round": 12}, {"at": [65, -60], "round": 12}, {"at": [65, 60], "round": 12}, {"at": [-65, 60], "round": 12}],
            "holes": [{"at": [-48, -44], "diameter": 10.5}, {"at": [48, -44], "diameter": 10.5}, {"at": [48, 44], "diameter": 10.5}],
            "place": {"at": [0, 560, -44], "normal": [0, 0, 1], "along": [1, 0, 0]}
        },
        "pad.L": {
            "thickness": 5, "material": "cds", "mirror": true,
            "outline": [[-35, -12], [25, -12], {"to": [25, 12], "through": [37, 0]}, [-15, 12]],
            "holes": [{"at": [22, 0], "diameter": 11, "countersink": 16}],
            "place": {"on": "spine", "station": 500, "clock": 90}
        },
        "panel": {
            "thickness": 2, "material": "cds", "outline": [[0, 0], [160, 0], [160, 90], [0, 90]],
            "holes": [{"at": [15, 15], "diameter": 6}], "place": {"at": [-300, 0, -80], "normal": [0, 0, 1], "along": [1, 0, 0]}
        },
        "floor": {
            "thickness": 2, "material": "cds", "outline": [[-300, -200], [300, -200], [300, 200], [-300, 200]],
            "holes": [{"at": [-280, -180], "diameter": 6.5}, {"at": [280, 180], "diameter": 6.5, "countersink": 12}],
            "place": {"at": [-400, 0, -120], "normal": [0, 0, 1], "along": [1, 0, 0]}
        }
    },
    "checks": {
        "feet": {"what": "Width over the feet of the hoop", "between": ["foot.L", "foot.R"], "class": "A"},
        "long_diagonal": {"between": ["foot.L", "stay_foot.R"]}
    }
}"#;

/// Sheets that the engine reckons from a small document.
pub(super) fn reckoned_sheets() -> Sheets {
    let mut evaluation = crate::evaluate(DOCUMENT);
    evaluation.number(None);
    let findings = evaluation.findings;
    evaluation.sheets.unwrap_or_else(|| panic!("the document has errors: {findings:?}"))
}
