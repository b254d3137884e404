//! Stock plans against published families of problems, against going through all sets of parts, and against the rules of the saw.

mod checker;
mod draw;
mod mitres;
mod solids;

use checker::{check, least_cost};
use draw::{Draw, bins};
use matchmark_core::stock::{Plan, Progress, Request, solve};

/// A budget in questions asked instead of seconds, so that the outcome is the same on every machine.
fn plan(request: &Request, questions: u32) -> Plan {
    let mut asked = 0;
    let plan = solve(request, &mut |_| {
        asked += 1;
        asked > questions
    })
    .unwrap();
    check(request, &plan);
    plan
}

/// Bound of Martello and Toth for bins (Discrete Applied Mathematics 28, 1990; from memory): parts over half a bin stay apart.
fn martello_toth(capacity: f64, sizes: &[f64]) -> f64 {
    let mut most: f64 = 0.0;
    for &small in sizes.iter().filter(|&&size| size <= capacity / 2.0).chain(&[0.0]) {
        let large = sizes.iter().filter(|&&size| size > capacity - small).count() as f64;
        let middle: Vec<f64> =
            sizes.iter().copied().filter(|&size| size <= capacity - small && size > capacity / 2.0).collect();
        let rest: f64 = sizes.iter().filter(|&&size| size <= capacity / 2.0 && size >= small).sum();
        let free = middle.len() as f64 * capacity - middle.iter().sum::<f64>();
        most = most.max(large + middle.len() as f64 + ((rest - free) / capacity).ceil().max(0.0));
    }
    most
}

/// Triplets (Falkenauer, Journal of Heuristics 2, 1996; rule from memory): bins of 1000 filled by three parts each, so n/3 is least.
#[test]
fn triplets_are_packed_without_waste() {
    for (thirds, seed) in [(20, 1), (20, 2), (40, 3), (40, 4), (83, 5)] {
        let mut draw = Draw(seed);
        let mut sizes = Vec::new();
        for _ in 0..thirds {
            let first = draw.whole(380, 490);
            let second = draw.whole(250, (1_000 - first) / 2);
            sizes.extend([first as f64, second as f64, (1_000 - first - second) as f64]);
        }
        let plan = plan(&bins(1_000.0, &sizes), 100_000);
        assert_eq!((plan.bars, plan.optimal), (thirds, true), "seed {seed}");
    }
}

/// Uniform sizes (Falkenauer 1996: 20 to 100 in bins of 150; Scholl, Klein and Juergens, Computers and Operations Research 24, 1997, set 1:
/// 1, 20 or 30 to 100 in bins of 100, 120 or 150; rules from memory).
#[test]
fn uniform_sizes_are_proven_and_their_bounds_hold() {
    for (capacity, least) in
        [(150, 20), (100, 1), (120, 1), (150, 1), (100, 20), (120, 20), (100, 30), (120, 30), (150, 30)]
    {
        for count in [50, 120, 250] {
            let mut draw = Draw(capacity * 1_000 + least * 10 + count);
            let sizes: Vec<f64> = (0..count).map(|_| draw.whole(least, 100) as f64).collect();
            let capacity = capacity as f64;
            let plan = plan(&bins(capacity, &sizes), 100_000);
            assert!(plan.optimal, "{count} of {least} to 100 in {capacity}");
            assert!(martello_toth(capacity, &sizes) <= plan.cost);
            assert!(plan.bound >= (sizes.iter().sum::<f64>() / capacity).ceil());
        }
    }
}

#[test]
fn small_plans_cost_what_going_through_all_sets_of_parts_says() {
    for seed in 0..200 {
        let mut draw = Draw(seed);
        let parts = draw.whole(3, 10);
        let mut request = draw.kit(parts);
        // A wide kerf makes bars that would end within it common.
        request.kerf = draw.of(&[0.0, 3.0, 25.0, 60.0, 150.0]);
        if draw.whole(0, 1) == 1 {
            for part in &mut request.parts {
                part.length = (part.length / 50.0).ceil() * 50.0;
            }
        }
        let plan = plan(&request, 100_000);
        assert!(plan.optimal, "seed {seed}");
        assert!((plan.cost - least_cost(&request)).abs() < 1e-3, "seed {seed}: {} {}", plan.cost, least_cost(&request));
    }
}

#[test]
fn of_kits_nineteen_in_twenty_are_proven() {
    let mut proven = 0;
    for seed in 0..100 {
        let mut draw = Draw(seed);
        let parts = draw.whole(10, 60);
        proven += u32::from(plan(&draw.kit(parts), 20_000).optimal);
    }
    assert!(proven >= 95, "{proven} of 100");
}

#[test]
fn a_batch_of_forty_kits_is_within_one_percent() {
    for seed in 0..3 {
        let mut request = Draw(seed).kit(50);
        for part in &mut request.parts {
            part.count *= 40;
        }
        let plan = plan(&request, 20_000);
        assert!(plan.cost <= 1.01 * plan.bound, "seed {seed}: {} {}", plan.cost, plan.bound);
    }
}

#[test]
fn remnants_on_the_rack_are_used_but_not_twice() {
    for seed in 0..50 {
        let mut draw = Draw(seed);
        let parts = draw.whole(10, 40);
        let mut request = draw.kit(parts);
        let priced = request.stock[0].price.is_some();
        for _ in 0..draw.whole(1, 6) {
            let mut remnant = request.stock[0].clone();
            remnant.length = draw.whole(1_500, 4_500) as f64;
            remnant.price = priced.then_some(0.0);
            remnant.count = Some(draw.whole(1, 2) as u32);
            request.stock.push(remnant);
        }
        plan(&request, 3_000);
    }
}

#[test]
fn the_same_request_gives_the_same_plan_and_no_time_still_gives_one() {
    let request = Draw(7).kit(60);
    assert_eq!(plan(&request, 20_000), plan(&request, 20_000));
    let hasty = plan(&request, 0);
    assert!(hasty.bound > 0.8 * hasty.cost, "{} {}", hasty.bound, hasty.cost);
}

/// Inches come to whole numbers of the unit: 96 times 1/16 in (1.5875 mm) is 6 in exactly (derivable).
#[test]
fn sixteenths_of_an_inch_add_up() {
    let mut request = Draw(0).kit(10);
    request.kerf = 0.0;
    request.trim = 0.0;
    request.stock.truncate(1);
    request.stock[0].length = 152.4;
    request.parts.truncate(1);
    request.parts[0].length = 1.5875;
    request.parts[0].count = 96;
    assert_eq!(plan(&request, 1_000).bars, 1);
    // A third of a bar that is no whole number is rounded up, and three of them are too long.
    request.parts[0].length = 152.4 / 3.0 + 0.000_01;
    request.parts[0].count = 3;
    assert_eq!(solve(&request, &mut |_| false).unwrap().bars, 2);
}

/// Two bars of 6000 take 2 x 2500 and 1 x 2500 of 5 mm trim and 2 mm kerf (derivable): remnants 991 and 3493, each of 1 saw stroke to
/// trim, 1 a part.
#[test]
fn a_full_answer_counts_strokes_and_says_where_the_material_goes() {
    let mut request = bins(6_000.0, &[2_500.0, 2_500.0, 2_500.0]);
    request.kerf = 2.0;
    request.trim = 5.0;
    let short = plan(&request, 1_000);
    request.min_remnant = Some(1_000.0);
    request.bundle = Some(4);
    let full = plan(&request, 1_000);
    assert!(short.totals.is_none() && short.patterns.iter().all(|pattern| pattern.sawing.is_none()));
    let told: Vec<_> = full
        .patterns
        .iter()
        .map(|pattern| {
            let sawing = pattern.sawing.as_ref().unwrap();
            (pattern.remnant, sawing.keep_remnant, sawing.bundles, sawing.strokes, sawing.kerf)
        })
        .collect();
    assert_eq!(told, [(991.0, false, 1, 3, 4.0), (3_493.0, true, 1, 2, 2.0)]);
    let totals = full.totals.unwrap();
    assert_eq!((totals.stock, totals.parts, totals.trim, totals.kerf), (12_000.0, 7_500.0, 10.0, 6.0));
    assert_eq!((totals.offcuts, totals.remnants, totals.remnants_kept, totals.strokes), (991.0, 3_493.0, 1, 5));
    // Ten equal bars in bundles of four are three bundles.
    request.parts[0].count = 20;
    let plan = plan(&request, 1_000);
    let sawing = plan.patterns[0].sawing.as_ref().unwrap();
    assert_eq!((plan.patterns.len(), sawing.bundles, sawing.strokes), (1, 3, 9));
    let at: Vec<f64> = sawing.saw.iter().map(|cut| cut.at).collect();
    assert_eq!(at, [3.0, 2_505.0, 5_007.0]);
}

#[test]
fn progress_comes_nearer_and_ends_at_the_plan() {
    let mut told_all = 0;
    for seed in 0..20 {
        let request = Draw(seed).kit(60);
        let mut told: Vec<Progress> = Vec::new();
        let plan = solve(&request, &mut |progress| {
            told.push(progress);
            told.len() > 2_000
        })
        .unwrap();
        for two in told.windows(2) {
            assert!(two[0].bound <= two[1].bound);
            assert!(two[1].best.unwrap_or(f64::INFINITY) <= two[0].best.unwrap_or(f64::INFINITY));
        }
        let last = told.last().unwrap();
        assert!(last.bound <= plan.bound && last.best.is_none_or(|best| best >= plan.cost), "seed {seed}");
        told_all += u32::from(last.bound > 0.0 && last.best.is_some());
    }
    assert!(told_all > 0);
}

#[test]
fn what_cannot_be_planned_is_refused_by_code_and_place() {
    let refused = |spoil: &dyn Fn(&mut Request)| {
        let mut request = Draw(3).kit(12);
        request.stock.truncate(1);
        spoil(&mut request);
        let error = solve(&request, &mut |_| false).unwrap_err();
        (error.code(), error.pointer().to_owned())
    };
    let told = |code, pointer: &str| (code, pointer.to_owned());
    assert_eq!(refused(&|request| request.kerf = -1.0), told("stock-length", "/kerf"));
    assert_eq!(refused(&|request| request.trim = f64::NAN), told("stock-length", "/trim"));
    assert_eq!(refused(&|request| request.parts[2].length = 9_000.0), told("stock-part-too-long", "/parts/2/length"));
    assert_eq!(refused(&|request| request.parts[2].count = 0), told("stock-count", "/parts/2/count"));
    assert_eq!(refused(&|request| request.parts[1].id = "P0".into()), told("stock-part-twice", "/parts/1/id"));
    assert_eq!(refused(&|request| request.parts.clear()), told("stock-many", "/parts"));
    assert_eq!(refused(&|request| request.stock.clear()), told("stock-many", "/stock"));
    assert_eq!(refused(&|request| request.stock[0].length = 0.0), told("stock-length", "/stock/0/length"));
    assert_eq!(refused(&|request| request.stock[0].price = Some(-1.0)), told("stock-price", "/stock/0/price"));
    assert_eq!(refused(&|request| request.stock[0].count = Some(1)), told("stock-too-few", "/stock"));
    assert_eq!(refused(&|request| request.time_limit_s = Some(0.0)), told("stock-time", "/time_limit_s"));
    let read = Request::read(r#"{"kerf": 2, "stock": [{"length": "long"}], "parts": []}"#).unwrap_err();
    assert_eq!((read.code(), read.pointer()), ("stock-request", "/stock/0/length"));
}

/// What is left of every bar in every way to cut parts from so many bars: the greatest least of them, by going through all.
fn greatest_least(sizes: &[f64], kerf: f64, left: &mut Vec<f64>) -> f64 {
    let Some((&size, rest)) = sizes.split_first() else {
        return left.iter().copied().fold(f64::INFINITY, f64::min);
    };
    let mut most = f64::NEG_INFINITY;
    for bar in 0..left.len() {
        // Bars that are still alike are one choice.
        if left[..bar].contains(&left[bar]) || left[bar] < size + kerf {
            continue;
        }
        left[bar] -= size + kerf;
        most = most.max(greatest_least(rest, kerf, left));
        left[bar] += size + kerf;
    }
    most
}

#[test]
fn of_plans_that_cost_the_same_the_one_with_the_greatest_least_reserve_is_taken() {
    let mut better = 0;
    for seed in 0..60 {
        let mut draw = Draw(seed);
        let sizes: Vec<f64> = (0..draw.whole(4, 9)).map(|_| draw.whole(150, 620) as f64).collect();
        let request = Request { kerf: 2.0, min_remnant: Some(300.0), ..bins(1_000.0, &sizes) };
        let plan = plan(&request, 20_000);
        let least = plan.patterns.iter().map(|pattern| pattern.remnant).fold(f64::INFINITY, f64::min);
        let wanted = greatest_least(&sizes, 2.0, &mut vec![1_000.0; plan.bars as usize]);
        // Where even the fullest bar ends flush nothing is kept: the last cut need not fit.
        assert!(least >= wanted - 1.0, "seed {seed}: {least} of {wanted} on {} bars", plan.bars);
        better += usize::from(wanted > 1.0);
    }
    assert!(better > 40, "{better}");
}
