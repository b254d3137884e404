//! Whether every page can be read by everyone.

use super::builder;
use crate::browser::{Browser, Page};
use crate::fixtures::{frame, publish_document, put_draft, recall, two_kits};

#[test]
fn every_page_is_built_to_be_read_by_everyone() {
    let kits = two_kits();
    put_draft(&kits.server, &kits.publisher, "frame", &frame(908));
    recall(&kits, "A");
    let desk = Browser::with_token(&kits.server, &kits.publisher);
    let builder = builder(&kits, "K-1");
    let open = Browser::at(&kits.server);
    for (browser, path) in [
        (&open, "/"),
        (&open, "/sign-in"),
        (&open, "/problems"),
        (&open, "/P/AAAA"),
        (&open, "/nowhere"),
        (&builder, "/kits/K-1"),
        (&builder, "/kits/K-1/stop-sheets/A"),
        (&builder, "/kits/K-1/measurements"),
        (&desk, "/kits"),
        (&desk, "/kits/new"),
        (&desk, "/kits/K-1/holds"),
        (&desk, "/kits/import"),
        (&desk, "/designs"),
        (&desk, "/designs/frame"),
        (&desk, "/designs/frame/draft"),
        (&desk, "/designs/frame/publish"),
        (&desk, "/designs/frame/notices/new"),
        (&desk, "/designs/frame/revisions/A"),
        (&desk, "/designs/frame/revisions/B"),
        (&desk, "/notices"),
        (&desk, "/jobs"),
        (&desk, "/support"),
        (&desk, "/support?q=K-1"),
        (&desk, "/kits/K-2"),
    ] {
        well_built(&browser.get(path), path);
    }
}

/// What every page keeps to, whoever reads it and however.
#[track_caller]
fn well_built(page: &Page, path: &str) {
    let text = &page.text;
    assert_eq!(text.matches("<h1").count(), 1, "{path} has not one main heading");
    for once in ["<html lang=\"en\">", "<main ", "<header>", "<footer>", "<title>", "name=\"viewport\""] {
        assert_eq!(text.matches(once).count(), 1, "{path}: {once}");
    }
    for none in ["<script", " style=", "javascript:", " onclick", "<img"] {
        assert!(!text.contains(none), "{path}: {none}");
    }
    assert_eq!(
        text.matches("<th").count() - text.matches("<thead").count(),
        text.matches(" scope=\"").count(),
        "{path}: a heading of a table without scope"
    );
    assert_eq!(text.matches("<table").count(), text.matches("<caption").count(), "{path}: a table without caption");
    let attribute = |tag: &str, name: &str| {
        let (_, rest) = tag.split_once(&format!("{name}=\""))?;
        rest.split('"').next().map(str::to_owned)
    };
    for kind in ["<input ", "<textarea ", "<select "] {
        for tag in text.split(kind).skip(1).map(|rest| rest.split('>').next().unwrap()) {
            if ["type=\"hidden\"", "type=\"checkbox\""].iter().any(|hidden| tag.contains(hidden)) {
                continue;
            }
            let id = attribute(tag, " id").or_else(|| attribute(tag, "id")).unwrap_or_else(|| panic!("{path}: {tag}"));
            assert!(text.contains(&format!("<label for=\"{id}\"")), "{path}: no label for {id}");
            let about = attribute(tag, "aria-describedby").unwrap();
            assert!(text.contains(&format!("id=\"{about}\"")), "{path}: nothing has the id {about}");
        }
    }
    let mut ids: Vec<&str> = text.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    let count = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), count, "{path}: an id twice");
}

#[test]
fn a_page_of_a_paper_pack_looks_like_the_others() {
    let kits = two_kits();
    publish_document(&kits.server, &kits.publisher, "frame", &frame(920));
    let manifest = kits.server.get("/v1/kits/K-1/packs/1/manifest", &kits.first).json();
    let code = manifest["pages"][0]["code"].as_str().unwrap();
    let open = Browser::at(&kits.server);
    open.get(&format!("/P/{code}")).expect(200).says("Current").says("/style.css").says_nothing_of("A. Builder");
    let sheet = kits.server.get("/style.css", "").expect(200);
    assert!(sheet.header("content-type").starts_with("text/css"));
}
