#![allow(clippy::all, clippy::disallowed_methods, missing_docs)]
fn main() {
    let args: Vec<String> = std::env::args().skip(1).collect();
    // answers design report files...
    let answers = std::fs::read_to_string(&args[0]).unwrap();
    let files: Vec<_> = args[3..]
        .iter()
        .map(|p| matchmark_import::SourceFile {
            name: p.rsplit('/').next().unwrap().to_owned(),
            bytes: std::fs::read(p).unwrap(),
        })
        .collect();
    let start = std::time::Instant::now();
    let done = matchmark_import::import_text(&files, Some(&answers), None, matchmark_core::Stop::NEVER).unwrap();
    eprintln!("{:?}", start.elapsed());
    let _ = std::fs::remove_file(&args[1]);
    if let Some(d) = &done.design {
        std::fs::write(&args[1], serde_json::to_string_pretty(d).unwrap()).unwrap();
    }
    std::fs::write(&args[2], serde_json::to_string_pretty(&done.report).unwrap()).unwrap();
    std::process::exit(if done.design.is_some() { 0 } else { 1 });
}
