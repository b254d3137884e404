//! The whole way from a document to its sheets for frames of 60 to 20,000 members, and how the time grows with them.
//!
//! The growth exponent between two sizes is the logarithm of the times' ratio over that of the sizes': 1 when twice the members
//! take twice the time.

#[path = "support/lattice.rs"]
mod lattice;

use std::time::{Duration, Instant};

const SIZES: [u32; 4] = [60, 500, 5_000, 20_000];

/// Runs of each size, of which the quickest counts: as many as fit in about two seconds.
const LONGEST: Duration = Duration::from_secs(2);

// As in the service.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() {
    println!("members  document to sheets  per member   exponent");
    let mut before: Option<(f64, f64)> = None;
    let mut first = None;
    for size in SIZES {
        let text = lattice::document(usize::try_from(size).unwrap_or(usize::MAX));
        let (members, seconds) = (f64::from(size), quickest(&text).as_secs_f64());
        let exponent = before.map(|before| exponent(before, (members, seconds)));
        let shown = exponent.map_or_else(String::new, |exponent| format!("{exponent:8.3}"));
        println!("{size:7}  {:15.2} ms  {:7.1} us   {shown}", 1e3 * seconds, 1e6 * seconds / members);
        first.get_or_insert((members, seconds));
        before = Some((members, seconds));
    }
    if let (Some(first), Some(last)) = (first, before) {
        println!("growth exponent from {} to {} members: {:.3}", first.0, last.0, exponent(first, last));
    }
}

fn quickest(text: &str) -> Duration {
    let started = Instant::now();
    let mut best = Duration::MAX;
    let mut runs = 0;
    while runs < 3 || (started.elapsed() < LONGEST && runs < 50) {
        let run = Instant::now();
        let evaluation = matchmark_core::evaluate(std::hint::black_box(text));
        best = best.min(run.elapsed());
        assert!(evaluation.sheets.is_some(), "a lattice has sheets: {:?}", evaluation.findings.first());
        runs += 1;
    }
    best
}

fn exponent(from: (f64, f64), to: (f64, f64)) -> f64 {
    (to.1 / from.1).ln() / (to.0 / from.0).ln()
}
