//! Lays a plan's cuts out as solids along the bar, from what is printed alone: half-spaces cut the bar, each blade is the slab between two.

use matchmark_core::stock::{
    EndName, Mitre, Plan, PlanPattern, RectSize, Request, RoundSize, SawCut, Size, WantedPart,
};
use std::collections::BTreeMap;

/// What lengths may differ by, mm: the plan counts in ten-thousandths.
const CLOSE: f64 = 2e-3;

/// Points round the tube, as heights in the directions of clock angles 0 and 90.
fn outline(size: Size) -> Vec<[f64; 2]> {
    match size {
        Size::Round(RoundSize { od }) => (0..720)
            .map(|step| f64::from(step).to_radians() / 2.0)
            .map(|clock| [od / 2.0 * clock.cos(), od / 2.0 * clock.sin()])
            .collect(),
        Size::Rect(RectSize { width, height, corner }) => (0..720)
            .map(|step| f64::from(step).to_radians() / 2.0)
            .map(|clock| {
                let [cos, sin] = [clock.cos(), clock.sin()];
                [
                    (height / 2.0 - corner) * cos.signum() + corner * cos,
                    (width / 2.0 - corner) * sin.signum() + corner * sin,
                ]
            })
            .collect(),
    }
}

/// A plane across the bar: where it crosses the axis, and its rise in the directions of clock angles 0 and 90 of the bar.
#[derive(Clone, Copy, Debug)]
struct Plane {
    axis: f64,
    rise: [f64; 2],
}

impl Plane {
    fn at(&self, point: [f64; 2]) -> f64 {
        self.axis + self.rise[0] * point[0] + self.rise[1] * point[1]
    }
}

fn rise(angle: f64, clock: f64) -> [f64; 2] {
    let (tan, clock) = (angle.to_radians().tan(), clock.to_radians());
    [tan * clock.cos(), tan * clock.sin()]
}

/// A solid cut from the bar: which part, its planes, and which end leads.
struct Solid<'a> {
    part: &'a WantedPart,
    leads: EndName,
    planes: [Plane; 2],
}

/// Stops the test at the first thing that the cuts of a plan do against its request.
pub fn check_solids(request: &Request, plan: &Plan) {
    let mut made: BTreeMap<&str, u32> = BTreeMap::new();
    for pattern in &plan.patterns {
        for (id, count) in check_bar(request, pattern) {
            *made.entry(id).or_default() += count * pattern.count;
        }
    }
    for part in &request.parts {
        assert_eq!(made.get(part.id.as_str()), Some(&part.count), "part {}", part.id);
    }
    let bars: u32 = plan.patterns.iter().map(|pattern| pattern.count).sum();
    assert_eq!(plan.bars, bars);
    for stock in &request.stock {
        let used: u32 = plan
            .patterns
            .iter()
            .filter(|pattern| pattern.stock_length == stock.length)
            .map(|pattern| pattern.count)
            .sum();
        assert!(stock.count.is_none_or(|count| used <= count));
    }
    assert!(plan.bound <= plan.cost + 1e-9);
}

fn check_bar<'a>(request: &'a Request, pattern: &'a PlanPattern) -> Vec<(&'a str, u32)> {
    let outline = outline(request.section.unwrap());
    let sawing = pattern.sawing.as_ref().unwrap();
    let mut turned = 0.0;
    let mut blades: Vec<[Plane; 2]> = Vec::new();
    let mut solids: Vec<Solid> = Vec::new();
    let mut begun: Option<(&WantedPart, EndName, Plane)> = None;
    let part = |id: &str| request.parts.iter().find(|part| part.id == id).unwrap();
    if sawing.saw.first().is_none_or(|cut| cut.ends.is_some()) {
        let first = part(&pattern.cuts[0].id);
        // No cut tells which end leads where the bar itself begins the part: the end that the first cut does not make.
        let made = sawing.saw.first().and_then(|cut| cut.ends.as_ref()).map(|ends| ends.end);
        let leads = if made == Some(EndName::From) { EndName::To } else { EndName::From };
        begun = Some((first, leads, Plane { axis: 0.0, rise: [0.0; 2] }));
    }
    for cut in &sawing.saw {
        turned += cut.turn_deg;
        let SawCut { at, width, angle_deg, .. } = *cut;
        assert!((width - request.kerf / angle_deg.to_radians().cos()).abs() < 2e-4, "{cut:?}");
        let rise = rise(angle_deg, -turned);
        let blade = [Plane { axis: at, rise }, Plane { axis: at + width, rise }];
        if let Some(ends) = &cut.ends {
            let (part, leads, plane) = begun.take().expect("a part was begun");
            assert_eq!(ends.id, part.id);
            assert_ne!(ends.end, leads);
            solids.push(Solid { part, leads, planes: [plane, blade[0]] });
        }
        if let Some(begins) = &cut.begins {
            assert!(begun.is_none(), "two parts begin without an end between: {pattern:?}");
            begun = Some((part(&begins.id), begins.end, blade[1]));
        }
        blades.push(blade);
    }
    if let Some((part, leads, plane)) = begun {
        let flush = Plane { axis: pattern.stock_length, rise: [0.0; 2] };
        solids.push(Solid { part, leads, planes: [plane, flush] });
    }
    for solid in &solids {
        check_part(request, solid, &outline);
        for blade in &blades {
            assert!(apart(solid.planes, *blade, &outline), "a blade runs into part {}: {pattern:?}", solid.part.id);
        }
    }
    for two in solids.windows(2) {
        assert!(apart(two[0].planes, two[1].planes, &outline));
    }
    let least = |plane: Plane| outline.iter().map(|point| plane.at(*point)).fold(f64::INFINITY, f64::min);
    let most = |plane: Plane| outline.iter().map(|point| plane.at(*point)).fold(f64::NEG_INFINITY, f64::max);
    assert!(least(solids[0].planes[0]) >= request.trim - CLOSE, "the trim: {pattern:?}");
    let rest = pattern.stock_length - most(solids[solids.len() - 1].planes[1]);
    let last = sawing.saw.last().map_or(0.0, |cut| cut.width);
    assert!(rest.abs() < CLOSE || rest > last - CLOSE, "the last cut leaves the bar: {pattern:?}");
    assert!((pattern.remnant - (rest - last).max(0.0)).abs() < CLOSE, "{rest} {pattern:?}");
    let listed: Vec<&str> =
        pattern.cuts.iter().flat_map(|cut| std::iter::repeat_n(cut.id.as_str(), cut.count as usize)).collect();
    let cut: Vec<&str> = solids.iter().map(|solid| solid.part.id.as_str()).collect();
    assert_eq!(listed, cut);
    cut.into_iter().map(|id| (id, 1)).collect()
}

/// Whether two slabs share no more than a face anywhere in the tube.
fn apart(a: [Plane; 2], b: [Plane; 2], outline: &[[f64; 2]]) -> bool {
    outline.iter().all(|point| a[1].at(*point) <= b[0].at(*point) + CLOSE || b[1].at(*point) <= a[0].at(*point) + CLOSE)
}

/// The solid is the part: its length, and its ends' planes as some turn that the bar allows lays them.
fn check_part(request: &Request, solid: &Solid, outline: &[[f64; 2]]) {
    let [near, far] = solid.planes;
    let first = outline.iter().map(|point| near.at(*point)).fold(f64::INFINITY, f64::min);
    let last = outline.iter().map(|point| far.at(*point)).fold(f64::NEG_INFINITY, f64::max);
    assert!(
        (last - first - solid.part.length).abs() < CLOSE,
        "{} {} {}",
        solid.part.id,
        last - first,
        solid.part.length
    );
    let flipped = solid.leads == EndName::To;
    let ends = if flipped { [solid.part.to, solid.part.from] } else { [solid.part.from, solid.part.to] };
    let turns: Vec<f64> = match request.section.unwrap() {
        Size::Round(RoundSize { .. }) => vec![free_turn(ends, flipped, solid.planes)],
        Size::Rect(RectSize { width, height, .. }) if width == height => vec![0.0, 90.0, 180.0, 270.0],
        Size::Rect(RectSize { .. }) => vec![0.0, 180.0],
    };
    let close = |turn: f64| {
        let wanted = wanted(ends, flipped, turn);
        (0..2).all(|end| {
            (0..2).all(|axis| {
                (wanted[end][axis] - solid.planes[end].rise[axis]).abs() < 1e-4 * (1.0 + wanted[end][axis].abs())
            })
        })
    };
    assert!(turns.iter().any(|turn| close(*turn)), "no turn makes part {} of {:?}", solid.part.id, solid.planes);
}

/// Rises of both faces of a part laid with a turn. At the leading face the tube is longest where the plane lies furthest back.
fn wanted(ends: [Option<Mitre>; 2], flipped: bool, turn: f64) -> [[f64; 2]; 2] {
    let rise_of = |mitre: Option<Mitre>, more: f64| {
        mitre.map_or([0.0; 2], |mitre| {
            // Turned over about clock angle 0, clock angles run the other way.
            let clock = if flipped { -mitre.long_side_deg } else { mitre.long_side_deg };
            rise(mitre.mitre_deg, clock + turn + more)
        })
    };
    [rise_of(ends[0], 180.0), rise_of(ends[1], 0.0)]
}

/// The turn of a round part that its first sloped face shows.
fn free_turn(ends: [Option<Mitre>; 2], flipped: bool, planes: [Plane; 2]) -> f64 {
    let bare = wanted(ends, flipped, 0.0);
    let clock = |rise: [f64; 2]| rise[1].atan2(rise[0]).to_degrees();
    let sloped = (0..2).find(|&end| bare[end] != [0.0; 2]);
    sloped.map_or(0.0, |end| clock(planes[end].rise) - clock(bare[end]))
}
