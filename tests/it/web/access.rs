//! Who reaches which page and form.

use crate::browser::{Browser, Page};
use crate::fixtures::two_kits;
use std::collections::BTreeSet;

/// Statuses for: nobody, publisher, support, the builder of K-1, the builder of K-2.
const PAGES: &[(&str, [u16; 5])] = &[
    ("/kits/K-1", [303, 200, 200, 200, 404]),
    ("/kits/K-1/measurements", [303, 200, 200, 200, 404]),
    ("/kits/K-1/files/cut-sheet.csv", [303, 200, 200, 200, 404]),
    ("/kits/K-1/holds", [303, 200, 403, 404, 404]),
    ("/kits/K-1/packs", [303, 200, 200, 200, 404]),
    ("/kits/K-1/packs/1", [303, 200, 200, 200, 404]),
    ("/kits/K-1/packs/9", [303, 404, 404, 404, 404]),
    ("/kits/K-1/notices/9/pages", [303, 404, 404, 404, 404]),
    ("/kits/K-1/stop-sheets/A", [303, 404, 404, 404, 404]),
    ("/kits/K-1/stop-sheets/A/print", [303, 404, 404, 404, 404]),
    ("/kits/K-404", [303, 404, 404, 404, 404]),
    ("/kits", [303, 200, 200, 404, 404]),
    ("/kits/new", [303, 200, 403, 404, 404]),
    ("/kits/import", [303, 200, 403, 404, 404]),
    ("/designs", [303, 200, 200, 404, 404]),
    ("/designs/frame", [303, 200, 200, 404, 404]),
    ("/designs/frame/draft", [303, 200, 200, 404, 404]),
    ("/designs/frame/publish", [303, 200, 403, 404, 404]),
    ("/designs/frame/revisions/A", [303, 200, 200, 404, 404]),
    ("/designs/frame/revisions/A/figures", [303, 200, 200, 404, 404]),
    ("/designs/frame/revisions/A/files/cut-sheet.csv", [303, 200, 200, 404, 404]),
    ("/designs/frame/notices/new", [303, 200, 403, 404, 404]),
    ("/designs/none", [303, 404, 404, 404, 404]),
    ("/contact", [303, 200, 200, 404, 404]),
    ("/notices", [303, 200, 200, 404, 404]),
    ("/jobs", [303, 200, 200, 404, 404]),
    ("/jobs/1", [303, 404, 404, 404, 404]),
    ("/support", [303, 200, 200, 404, 404]),
    ("/support?q=K-1", [303, 200, 200, 404, 404]),
];

/// Forms that change something, with the statuses of all but those who may: support, the builder of K-1, that of K-2.
const FORMS: &[(&str, [Option<u16>; 3])] = &[
    ("/kits/new", [Some(403), Some(404), Some(404)]),
    ("/kits/import", [Some(403), Some(404), Some(404)]),
    ("/kits/K-1/card", [None, Some(404), Some(404)]),
    ("/kits/K-1/holds", [Some(403), Some(404), Some(404)]),
    ("/kits/K-1/holds/1/lifting", [Some(403), Some(404), Some(404)]),
    ("/kits/K-1/packs", [None, None, Some(404)]),
    ("/kits/K-1/measurements", [None, None, Some(404)]),
    ("/kits/K-1/notices/1/seen", [None, None, Some(404)]),
    ("/kits/K-1/notices/1/done", [None, None, Some(404)]),
    ("/kits/K-1/stop-sheets/A", [None, None, Some(404)]),
    ("/contact", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/draft/freeze", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/draft/thaw", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/publish", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/notices/new", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/figures", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/withdrawal", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/recall", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/reinstatement", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/jobs", [None, Some(404), Some(404)]),
    ("/jobs/1/cancel", [None, Some(404), Some(404)]),
    ("/support/K-1/notes", [None, Some(404), Some(404)]),
    ("/support/K-1/person", [None, Some(404), Some(404)]),
];

/// The routers of the pages, by area.
const ROUTERS: [&str; 6] = [
    include_str!("../../../server/src/pages/designs/mod.rs"),
    include_str!("../../../server/src/pages/house/mod.rs"),
    include_str!("../../../server/src/pages/kits/mod.rs"),
    include_str!("../../../server/src/pages/notices/mod.rs"),
    include_str!("../../../server/src/pages/packs/mod.rs"),
    include_str!("../../../server/src/pages/people/mod.rs"),
];

/// Open to everyone.
const OPEN: &[&str] = &[
    "GET /",
    "GET /style.css",
    "GET /icon.svg",
    "GET /handbook",
    "GET /handbook/{}",
    "GET /handbook/pictures/{}",
    "GET /problems",
    "GET /problems/{}",
    "GET /P/{}",
    "GET /sign-in",
    "POST /sign-in",
    "POST /sign-in/token",
    "POST /sign-out",
];

/// A route with a mark for each value in it.
fn shape(path: &str) -> String {
    let path = path.split('?').next().unwrap();
    let value = |step: &str| {
        let ours =
            ["K-1", "K-404", "A", "frame", "none", "1", "9", "cut-sheet.csv"].contains(&step) || step.starts_with('{');
        if ours { "{}".to_owned() } else { step.to_owned() }
    };
    path.split('/').map(value).collect::<Vec<_>>().join("/")
}

#[test]
fn every_page_and_form_has_its_row() {
    let mut served = BTreeSet::new();
    let routers = ROUTERS.concat();
    for route in routers.split(".route(").skip(1) {
        let (path, handlers) = route.trim_start().strip_prefix('"').unwrap().split_once('"').unwrap();
        for (method, call) in [("GET", "get("), ("POST", "post(")] {
            if handlers.contains(call) {
                served.insert(format!("{method} {}", shape(path)));
            }
        }
    }
    assert!(served.len() > 40, "{served:?}");
    let pages = PAGES.iter().map(|(path, _)| format!("GET {}", shape(path)));
    let forms = FORMS.iter().map(|(path, _)| format!("POST {}", shape(path)));
    let open = OPEN.iter().map(|&route| route.to_owned());
    let named: BTreeSet<String> = pages.chain(forms).chain(open).collect();
    let without_row: Vec<_> = served.difference(&named).collect();
    assert!(without_row.is_empty(), "give a row to {without_row:?}");
    let without_route: Vec<_> = named.difference(&served).collect();
    assert!(without_route.is_empty(), "no route for {without_route:?}");
}

#[test]
fn every_page_answers_every_role_as_the_table_says() {
    let kits = two_kits();
    let callers = [
        Browser::at(&kits.server),
        Browser::with_token(&kits.server, &kits.publisher),
        Browser::with_token(&kits.server, &kits.support),
        Browser::with_token(&kits.server, &kits.first),
        Browser::with_token(&kits.server, &kits.second),
    ];
    let mut wrong = Vec::new();
    for (path, statuses) in PAGES {
        for (browser, status) in callers.iter().zip(statuses) {
            let answer = browser.get(path).answer;
            if answer.status != *status {
                wrong.push(format!("{path}: {} instead of {status}", answer.status));
            }
        }
    }
    for (path, statuses) in FORMS {
        let here = [("sec-fetch-site", "same-origin")];
        let stranger = callers[0].send_with(path, &here, &[]).expect(303);
        assert!(stranger.leads_to().starts_with("/sign-in"));
        for (browser, status) in callers[2..].iter().zip(statuses) {
            let Some(status) = status else { continue };
            let mark = browser.get(path.split('?').next().unwrap());
            // Every page of someone who is signed in has the form to sign out, with their mark.
            let page = if mark.answer.status == 200 { mark } else { own_page(browser) };
            let mark = page.hidden("/sign-out")[0].1.clone();
            let reason = [("mark", mark.as_str()), ("reason", "x"), ("text", "x"), ("change_note", "x")];
            let recall = [("hazard", "x"), ("what_to_do", "x"), ("remedies", "x"), ("file", "serial")];
            let answer = browser.send_with(path, &here, &[reason.as_slice(), &recall].concat()).answer;
            if answer.status != *status {
                wrong.push(format!(
                    "POST {path}: {} instead of {status}: {}",
                    answer.status,
                    String::from_utf8_lossy(&answer.body)
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The page that someone begins with.
fn own_page(browser: &Browser) -> Page {
    let first = browser.get("/").expect(303);
    browser.get(first.leads_to()).expect(200)
}
