//! Checks a plan against its request by the rules of the saw alone, in whole ten-thousandths of a millimetre.

use matchmark_core::stock::{Plan, Request};
use std::collections::BTreeMap;

fn whole(value: f64) -> i64 {
    (value * 10_000.0).round() as i64
}

/// Stops the test at the first thing that the plan does against its request.
pub fn check(request: &Request, plan: &Plan) {
    let (kerf, trim) = (whole(request.kerf), whole(request.trim));
    let mut cut: BTreeMap<&str, u32> = BTreeMap::new();
    let mut used: BTreeMap<i64, u32> = BTreeMap::new();
    for pattern in &plan.patterns {
        let mut saw = trim;
        let mut parts = 0;
        for cuts in &pattern.cuts {
            let part = request.parts.iter().find(|part| part.id == cuts.id).expect("a part of the request");
            for _ in 0..cuts.count {
                saw += whole(part.length) + if parts > 0 { kerf } else { 0 };
                parts += 1;
            }
            *cut.entry(part.id.as_str()).or_default() += cuts.count * pattern.count;
        }
        assert!(parts > 0 && pattern.count > 0, "a bar for nothing: {pattern:?}");
        let rest = whole(pattern.stock_length) - saw;
        assert!(rest == 0 || rest >= kerf, "the last cut leaves the bar: {pattern:?}");
        assert_eq!(whole(pattern.remnant), (rest - kerf).max(0), "{pattern:?}");
        *used.entry(whole(pattern.stock_length)).or_default() += pattern.count;
    }
    for part in &request.parts {
        assert_eq!(cut.get(part.id.as_str()), Some(&part.count), "part {}", part.id);
    }
    let mut cost = 0.0;
    for (length, count) in &used {
        // Bars of one length are taken where they are cheapest.
        let mut entries: Vec<_> = request.stock.iter().filter(|entry| whole(entry.length) == *length).collect();
        entries.sort_by(|a, b| a.price.partial_cmp(&b.price).expect("prices can be compared"));
        let mut left = *count;
        for entry in entries {
            let taken = left.min(entry.count.unwrap_or(left));
            cost += f64::from(taken) * entry.price.unwrap_or(entry.length);
            left -= taken;
        }
        assert_eq!(left, 0, "more bars of {length} than there are");
    }
    assert_eq!(plan.bars, used.values().sum::<u32>());
    assert!((plan.cost - cost).abs() < 1e-3, "{} is not {cost}", plan.cost);
    assert!(plan.bound <= plan.cost + 1e-9);
    assert_eq!(plan.optimal, plan.bound >= plan.cost);
}

/// Least cost by going through all sets of parts (dynamic programming over subsets), for a dozen parts and bars without a count.
pub fn least_cost(request: &Request) -> f64 {
    let (kerf, trim) = (whole(request.kerf), whole(request.trim));
    let parts: Vec<i64> =
        request.parts.iter().flat_map(|part| std::iter::repeat_n(whole(part.length), part.count as usize)).collect();
    let all = 1_usize << parts.len();
    let one_bar = |set: usize| -> f64 {
        let lengths: Vec<i64> = (0..parts.len()).filter(|part| set >> part & 1 == 1).map(|part| parts[part]).collect();
        let saw = trim + lengths.iter().sum::<i64>() + kerf * (lengths.len() as i64 - 1);
        let fits = request.stock.iter().filter(|entry| {
            let rest = whole(entry.length) - saw;
            rest == 0 || rest >= kerf
        });
        fits.map(|entry| entry.price.unwrap_or(entry.length)).fold(f64::INFINITY, f64::min)
    };
    let bars: Vec<f64> = (0..all).map(|set| if set == 0 { 0.0 } else { one_bar(set) }).collect();
    let mut least = vec![0.0; all];
    for set in 1..all {
        let first = set & set.wrapping_neg();
        let rest = set ^ first;
        let mut some = rest;
        let mut best = f64::INFINITY;
        loop {
            best = best.min(bars[some | first] + least[rest ^ some]);
            if some == 0 {
                break;
            }
            some = (some - 1) & rest;
        }
        least[set] = best;
    }
    least[all - 1]
}
