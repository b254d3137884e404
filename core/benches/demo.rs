//! The demo's design from its text to its sheets.

use divan::{Bencher, black_box};

// As in the service.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() {
    divan::main();
}

#[divan::bench]
fn document_to_sheets(bencher: Bencher<'_, '_>) {
    let text = include_str!("../../server/demo/rev_b.json");
    bencher.bench(|| matchmark_core::evaluate(black_box(text)));
}

#[divan::bench]
fn document_alone(bencher: Bencher<'_, '_>) {
    let text = include_str!("../../server/demo/rev_b.json");
    bencher.bench(|| matchmark_core::document::read(black_box(text)));
}
