//! A lattice of equal tubes drawn as bare centrelines: its ends decided, and the frame as it then is checked. Wall and processor time.

#![allow(clippy::disallowed_methods, clippy::disallowed_types, reason = "a bench reads files and clocks")]

#[allow(dead_code, reason = "another bench takes the other frames")]
#[path = "support/lattice.rs"]
mod lattice;

use matchmark_core::document::Severity;
use std::time::{Duration, Instant};

const SIZES: [u32; 4] = [200, 700, 2_000, 6_000];

/// Runs of each size, of which the quickest counts.
const RUNS: u32 = 5;

// As in the service.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() {
    println!("members   resolved, ms     CPU, ms   and checked, ms     CPU, ms");
    for size in SIZES {
        let text = lattice::badly_fitting(usize::try_from(size).unwrap_or(usize::MAX));
        let resolved = quickest(|| drop(std::hint::black_box(matchmark_core::nodes::resolve(&text))));
        let checked = quickest(|| {
            let resolution = matchmark_core::nodes::resolve(&text);
            let document = resolution.document.unwrap_or_default();
            let found = matchmark_core::evaluate(&document).findings;
            let is_bad = |severity: Severity, code: &str| severity == Severity::Error || code.starts_with("cope-");
            let bad = resolution.findings.iter().chain(&found).find(|finding| is_bad(finding.severity, &finding.code));
            assert!(bad.is_none(), "every joint closes: {bad:?}");
        });
        println!(
            "{size:7}  {:13.1} {:11.1} {:17.1} {:11.1}",
            1e3 * resolved.0.as_secs_f64(),
            resolved.1,
            1e3 * checked.0.as_secs_f64(),
            checked.1
        );
    }
}

/// Wall time, and processor time in ms.
fn quickest(mut work: impl FnMut()) -> (Duration, f64) {
    let mut best = (Duration::MAX, f64::INFINITY);
    for _ in 0..RUNS {
        let (started, spent) = (Instant::now(), processor_ms());
        work();
        let run = (started.elapsed(), processor_ms() - spent);
        best = (best.0.min(run.0), best.1.min(run.1));
    }
    best
}

/// What the process has spent on all processors, in ms; hundredths of a second are counted.
fn processor_ms() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after_name = stat.rsplit_once(") ").map_or("", |(_, fields)| fields);
    after_name.split(' ').skip(11).take(2).filter_map(|ticks| ticks.parse::<f64>().ok()).sum::<f64>() * 10.0
}
