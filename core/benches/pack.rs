//! Packs to PDF on one core, the whole one on all of them too: every page of the demo's pack, and its wraps alone. Beside them a
//! plain writer of content streams and printpdf used plainly, both given as many pages with a line of 400 points, 90 ticks and 60
//! lines of text; after them the same by two writers from PyPI.

#![allow(clippy::disallowed_methods, clippy::disallowed_types, reason = "a bench reads files and clocks")]

use divan::{Bencher, black_box};
use flate2::{Compression, write::ZlibEncoder};
use matchmark_core::pack::{self, Issue, Print, Seal, Status};
use matchmark_core::seal::SealKey;
use matchmark_core::sheets::Sheets;
use matchmark_core::view::{Look, Scene};
use printpdf::{
    BuiltinFont, Line, LinePoint, Mm, Op, PdfDocument, PdfFontHandle, PdfPage, PdfSaveOptions, Point, Pt, TextItem,
};
use std::io::Write;

// As in the service.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn main() {
    match rayon::ThreadPoolBuilder::new().num_threads(1).build_global() {
        Ok(()) => {
            divan::main();
            others();
        }
        Err(error) => eprintln!("not on one core: {error}"),
    }
}

/// The same pages by writers from PyPI, where `MATCHMARK_PYTHON` names a Python that has them.
fn others() {
    let Some(python) = std::env::var_os("MATCHMARK_PYTHON") else { return };
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/benches/pack_peers.py");
    if let Err(error) = std::process::Command::new(python).arg(script).status() {
        eprintln!("no others: {error}");
    }
}

fn sheets() -> Sheets {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../server/demo/rev_b.json");
    let text = std::fs::read_to_string(path).unwrap_or_default();
    let mut evaluation = matchmark_core::evaluate(&text);
    evaluation.number(None);
    evaluation.sheets.unwrap_or_default()
}

fn issue(sealed: bool) -> Issue {
    let seal =
        Seal { key: SealKey::new([1; 32]), design_id: "bench".into(), address: "HTTPS://PACKS.EXAMPLE/P/".into() };
    Issue {
        contact: "ask@bench.example".into(),
        revision: "A".into(),
        kit: "BW-0001".into(),
        pack_number: "1".into(),
        seal: sealed.then_some(seal),
        design_sha256: "0".repeat(64),
        ..Issue::new("Bench Works", "Bench frame", "2026-11-25", Status::Issued, Print::default())
    }
}

fn wraps_only() -> Sheets {
    Sheets { wraps: sheets().wraps, ..Sheets::default() }
}

#[divan::bench(args = [false, true])]
fn whole_demo_pack(bencher: Bencher<'_, '_>, sealed: bool) {
    let (sheets, issue) = (sheets(), issue(sealed));
    let pages = pack::render(&sheets, &issue).map_or(0, |pack| pack.manifest.pages.len());
    bencher.counter(divan::counter::ItemsCount::new(pages)).bench(|| pack::render(black_box(&sheets), &issue));
}

/// As the service does it.
#[divan::bench(args = [false, true])]
fn whole_demo_pack_on_all_cores(bencher: Bencher<'_, '_>, sealed: bool) {
    let (sheets, issue) = (sheets(), issue(sealed));
    let all = std::thread::available_parallelism().map_or(1, usize::from);
    let Ok(cores) = rayon::ThreadPoolBuilder::new().num_threads(all).build() else { return };
    let pages = pack::render(&sheets, &issue).map_or(0, |pack| pack.manifest.pages.len());
    bencher
        .counter(divan::counter::ItemsCount::new(pages))
        .bench(|| cores.install(|| pack::render(black_box(&sheets), &issue)));
}

#[divan::bench(args = [false, true])]
fn wraps_alone(bencher: Bencher<'_, '_>, sealed: bool) {
    let (sheets, issue) = (wraps_only(), issue(sealed));
    let pages = pack::render(&sheets, &issue).map_or(0, |pack| pack.manifest.pages.len());
    bencher.counter(divan::counter::ItemsCount::new(pages)).bench(|| pack::render(black_box(&sheets), &issue));
}

/// The views of all drawings of a pack: three orthographic ones, and the pictorial that serves every step of the fit-up order.
#[divan::bench]
fn views_of_the_demo(bencher: Bencher<'_, '_>) {
    let sheets = sheets();
    let Some(made) = &sheets.made else { return };
    let looks = [Look::LEFT, Look::TOP, Look::FRONT, Look::pictorial()];
    bencher.bench(|| {
        let scene = Scene::of(black_box(made));
        looks.map(|look| scene.seen(&look, 5.0).runs.len())
    });
}

const POINTS: u32 = 400;
const TICKS: u32 = 90;
const TEXTS: u32 = 60;
const PAGES: u32 = 100;

fn curve(page: u32) -> impl Iterator<Item = (f64, f64)> {
    (0..POINTS).map(move |step| {
        let turn = f64::from(step) / f64::from(POINTS) * std::f64::consts::TAU;
        (60.0 + 30.0 * turn, 300.0 + 60.0 * (turn + f64::from(page)).sin())
    })
}

#[divan::bench]
fn plain_content_streams(bencher: Bencher<'_, '_>) {
    bencher
        .counter(divan::counter::ItemsCount::new(PAGES))
        .bench(|| (0..PAGES).map(plain_page).map(|page| page.len()).sum::<usize>());
}

fn plain_page(page: u32) -> Vec<u8> {
    let mut text = String::new();
    for (step, (x, y)) in curve(page).enumerate() {
        text.push_str(&format!("{x:.3} {y:.3} {}\n", if step == 0 { "m" } else { "l" }));
    }
    text.push_str("S\n");
    for tick in 0..TICKS {
        let x = 60.0 + 2.0 * f64::from(tick);
        text.push_str(&format!("{x:.3} 200 m {x:.3} 205 l S\n"));
    }
    for line in 0..TEXTS {
        let y = 780.0 - 9.0 * f64::from(line);
        text.push_str(&format!(
            "BT /F 8 Tf 40 {y:.3} Td (line {line} of page {page}: overall 812.4 mm, set-out 437 mm) Tj ET\n"
        ));
    }
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(6));
    let _ = encoder.write_all(text.as_bytes());
    encoder.finish().unwrap_or_default()
}

#[divan::bench]
fn printpdf_plainly(bencher: Bencher<'_, '_>) {
    bencher.counter(divan::counter::ItemsCount::new(PAGES)).bench(|| {
        let mut document = PdfDocument::new("bench");
        let pages = (0..PAGES).map(printpdf_page).collect();
        document.with_pages(pages).save(&PdfSaveOptions::default(), &mut Vec::new())
    });
}

#[allow(clippy::cast_possible_truncation)]
fn printpdf_page(page: u32) -> PdfPage {
    let at = |x: f64, y: f64| LinePoint { p: Point { x: Pt(x as f32), y: Pt(y as f32) }, bezier: false };
    let line = |points: Vec<LinePoint>| Op::DrawLine { line: Line { points, is_closed: false } };
    let mut ops = vec![line(curve(page).map(|(x, y)| at(x, y)).collect())];
    for tick in 0..TICKS {
        let x = 60.0 + 2.0 * f64::from(tick);
        ops.push(line(vec![at(x, 200.0), at(x, 205.0)]));
    }
    let font = || PdfFontHandle::Builtin(BuiltinFont::Helvetica);
    for number in 0..TEXTS {
        let words = format!("line {number} of page {page}: overall 812.4 mm, set-out 437 mm");
        ops.extend([
            Op::StartTextSection,
            Op::SetFont { font: font(), size: Pt(8.0) },
            Op::SetTextCursor { pos: Point { x: Pt(40.0), y: Pt(780.0 - 9.0 * number as f32) } },
            Op::ShowText { items: vec![TextItem::Text(words)] },
            Op::EndTextSection,
        ]);
    }
    PdfPage::new(Mm(210.0), Mm(297.0), ops)
}
