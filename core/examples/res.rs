//! Timing, not kept.
#![allow(clippy::all, clippy::disallowed_methods)]
use std::time::Instant;
#[global_allocator]
static A: mimalloc::MiMalloc = mimalloc::MiMalloc;
fn main() {
    let file = std::env::args().nth(1).unwrap();
    let text = std::fs::read_to_string(&file).unwrap();
    let t = Instant::now();
    let r = matchmark_core::nodes::resolve(&text);
    println!("resolve {:?}", t.elapsed());
    let d = r.document.unwrap_or_default();
    let t = Instant::now();
    let e = matchmark_core::evaluate(&d);
    println!("check {:?}", t.elapsed());
    let mut n = std::collections::BTreeMap::new();
    for f in e.findings.iter().chain(&r.findings) {
        *n.entry((f.code.clone(), f.severity)).or_insert(0) += 1;
    }
    println!("{n:?}");
    for f in e.findings.iter().filter(|f| f.severity != matchmark_core::document::Severity::Information).take(6) {
        println!("{}", f.message);
    }
}
