//! The whole way from a document to its sheets for frames of 60 to 20,000 members, and how the time grows with them; the same for
//! frames of equal tubes that hardly fit anywhere, and for `matchmark check` as a process where `MATCHMARK_BINARY` names it.
//!
//! The growth exponent between two sizes is the logarithm of the times' ratio over that of the sizes': 1 when twice the members
//! take twice the time.

#![allow(clippy::disallowed_methods, clippy::disallowed_types, reason = "a bench reads files and clocks")]

#[path = "support/lattice.rs"]
mod lattice;

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

const SIZES: [u32; 4] = [60, 500, 5_000, 20_000];

/// Sizes of frames that fit badly.
const BAD_SIZES: [u32; 4] = [200, 700, 2_000, 6_000];

/// Runs of each size, of which the quickest counts: as many as fit in about two seconds.
const LONGEST: Duration = Duration::from_secs(2);

// As in the service.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() {
    let mut well = |size| {
        let text = lattice::document(size);
        quickest(|| {
            let evaluation = matchmark_core::evaluate(std::hint::black_box(&text));
            assert!(evaluation.sheets.is_some(), "a lattice has sheets: {:?}", evaluation.findings.first());
        })
    };
    table("document to sheets", &SIZES, &mut well);
    let mut badly = |size| {
        let text = lattice::badly_fitting(size);
        quickest(|| assert!(!matchmark_core::evaluate(std::hint::black_box(&text)).findings.is_empty()))
    };
    table("badly fitting, to findings", &BAD_SIZES, &mut badly);
    let Ok(binary) = std::env::var("MATCHMARK_BINARY") else { return };
    let mut checked = |size| {
        let file = std::env::temp_dir().join(format!("matchmark-growth-{}.json", std::process::id()));
        let written = std::fs::write(&file, lattice::badly_fitting(size));
        assert!(written.is_ok(), "no place for the document: {written:?}");
        let time = quickest(|| check(&binary, &file));
        // What cannot be removed is left in the folder of temporary files.
        let _ = std::fs::remove_file(&file);
        time
    };
    table("badly fitting, check as a process", &BAD_SIZES, &mut checked);
}

fn table(what: &str, sizes: &[u32], seconds: &mut dyn FnMut(usize) -> Duration) {
    println!("members  {what:>34}  per member   exponent");
    let mut before: Option<(f64, f64)> = None;
    let mut first = None;
    for &size in sizes {
        let (members, seconds) = (f64::from(size), seconds(usize::try_from(size).unwrap_or(usize::MAX)).as_secs_f64());
        let exponent = before.map(|before| exponent(before, (members, seconds)));
        let shown = exponent.map_or_else(String::new, |exponent| format!("{exponent:8.3}"));
        println!("{size:7}  {:31.2} ms  {:7.1} us   {shown}", 1e3 * seconds, 1e6 * seconds / members);
        first.get_or_insert((members, seconds));
        before = Some((members, seconds));
    }
    if let (Some(first), Some(last)) = (first, before) {
        println!("growth exponent from {} to {} members: {:.3}", first.0, last.0, exponent(first, last));
    }
}

fn check(binary: &str, file: &Path) {
    let done = Command::new(binary).arg("check").arg(file).stdout(Stdio::null()).status();
    assert!(done.is_ok_and(|status| matches!(status.code(), Some(0 | 1))), "it reads a frame that fits badly");
}

fn quickest(mut work: impl FnMut()) -> Duration {
    let started = Instant::now();
    let mut best = Duration::MAX;
    let mut runs = 0;
    while runs < 3 || (started.elapsed() < LONGEST && runs < 50) {
        let run = Instant::now();
        work();
        best = best.min(run.elapsed());
        runs += 1;
    }
    best
}

fn exponent(from: (f64, f64), to: (f64, f64)) -> f64 {
    (to.1 / from.1).ln() / (to.0 / from.0).ln()
}
