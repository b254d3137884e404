//! The pages in a real browser: what only a browser can tell.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "the steps that tests share fail the test, as the tests themselves do"
)]

#[path = "../it/bucket.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod bucket;
#[path = "../it/cable.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod cable;
mod devtools;
#[path = "../it/fixtures.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod fixtures;
#[path = "../it/place.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod place;
#[path = "../it/server.rs"]
#[allow(dead_code, reason = "shared with other tests")]
mod server;

use devtools::Chromium;
use fixtures::{TwoKits, frame, put_draft, recall, two_kits};
use serde_json::json;
use std::io::{Read, Write};
use std::net::TcpListener;

const LOOK: &str = include_str!("look.js");

/// Telephone, tablet, desk.
const SCREENS: [(u32, u32); 3] = [(320, 640), (768, 1024), (1280, 900)];

fn kits() -> TwoKits {
    let kits = two_kits();
    put_draft(&kits.server, &kits.publisher, "frame", &frame(908));
    let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "Posts are 4 mm too short: ask for new ones before you weld."});
    kits.server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
    kits
}

fn address(kits: &TwoKits, path: &str) -> String {
    format!("http://{}{path}", kits.server.address())
}

fn sign_in_with_token(browser: &mut Chromium, kits: &TwoKits, token: &str) {
    browser.open(&address(kits, "/sign-in"));
    browser.run(&format!("document.querySelector('#token').value = '{token}'"));
    browser.go_by("document.querySelector('form[action=\"/sign-in/token\"] button').click()");
    let here = browser.run("location.pathname");
    assert_ne!(here, "/sign-in");
}

fn look_at(browser: &mut Chromium, kits: &TwoKits, paths: &[&str]) {
    for (width, height) in SCREENS {
        browser.screen(width, height);
        for path in paths {
            browser.open(&address(kits, path));
            let wrong = browser.run(LOOK);
            assert_eq!(wrong, json!([]), "{path} at {width} x {height}");
        }
    }
    assert_eq!(browser.complaints, [] as [&str; 0]);
}

#[test]
fn pages_fit_every_screen_and_can_be_read_and_hit() {
    let kits = kits();
    let mut browser = Chromium::start();
    look_at(
        &mut browser,
        &kits,
        &["/", "/sign-in", "/problems", "/P/AAAA", "/handbook", "/handbook/packs", "/handbook/api"],
    );
    sign_in_with_token(&mut browser, &kits, &kits.first);
    look_at(&mut browser, &kits, &["/kits/K-1", "/kits/K-1/measurements"]);
    recall(&kits, "A");
    look_at(&mut browser, &kits, &["/kits/K-1", "/kits/K-1/stop-sheets/A"]);
    let hold = json!({"reason": "Reported stolen.", "ask": "Test Frames, kits@mail.example, between 9 and 17 h."});
    kits.server.post("/v1/kits/K-1/holds", &kits.publisher, &hold).expect(201);
    look_at(&mut browser, &kits, &["/kits/K-1"]);
}

#[test]
fn the_suppliers_pages_fit_every_screen_too() {
    let kits = kits();
    let mut browser = Chromium::start();
    sign_in_with_token(&mut browser, &kits, &kits.publisher);
    let paths = [
        "/kits",
        "/kits/new",
        "/kits/import",
        "/kits/K-1/holds",
        "/designs/frame",
        "/designs/frame/draft",
        "/designs/frame/publish",
        "/designs/frame/revisions/B",
        "/notices",
        "/contact",
        "/jobs",
        "/support?q=K-1",
        "/kits/K-2",
    ];
    look_at(&mut browser, &kits, &paths);
    let freeze = "/v1/designs/frame/draft/freeze";
    kits.server.send("POST", freeze, &kits.publisher, &[("if-match", "*")], None).expect(200);
    let hold = json!({"reason": "Reported stolen.", "ask": "Test Frames."});
    kits.server.post("/v1/kits/K-1/holds", &kits.publisher, &hold).expect(201);
    look_at(&mut browser, &kits, &["/designs/frame", "/kits/K-1/holds", "/support?q=K-1"]);
}

/// Each check of the page must be able to fail.
#[test]
fn planted_faults_are_seen() {
    let kits = kits();
    let mut browser = Chromium::start();
    browser.screen(320, 640);
    for (planted, seen) in [
        ("document.querySelector('main').style.width = '500px'", "wide on a screen"),
        (
            "document.querySelector('main button').style.minHeight = '10px'; document.querySelector('main button').style.padding = '0'",
            " high",
        ),
        (
            "document.querySelector('main p').style.color = '#aaa'; document.querySelector('h1').style.color = '#aaa'",
            "contrast",
        ),
    ] {
        browser.open(&address(&kits, "/sign-in"));
        browser.run(planted);
        let wrong = browser.run(LOOK).to_string();
        assert!(wrong.contains(seen), "{planted}: {wrong}");
    }
}

#[test]
fn a_builder_gets_by_with_the_keyboard_alone() {
    let kits = kits();
    let card = kits.server.send("POST", "/v1/kits/K-1/access-code", &kits.support, &[], None).expect(201).json();
    let mut browser = Chromium::start();
    browser.screen(1280, 900);
    browser.open(&address(&kits, "/sign-in"));
    // Every control in the order of the page, each to be seen when it has the focus.
    let order = "[...document.querySelectorAll('a[href], button, input:not([type=hidden])')].map((e) => e.outerHTML.slice(0, 80))";
    let order = browser.run(order);
    let mut walked = Vec::new();
    for _ in 0..order.as_array().unwrap().len() {
        browser.press("Tab");
        let focus = "(() => { const e = document.activeElement, b = e.getBoundingClientRect(), s = getComputedStyle(e); \
                     if (b.left < 0 || b.top < 0 || parseFloat(s.outlineWidth) < 2) return 'unseen: ' + e.outerHTML; return e.outerHTML.slice(0, 80) })()";
        walked.push(browser.run(focus));
    }
    assert_eq!(json!(walked), order);

    browser.run("document.querySelector('#serial').value = 'K-1'");
    browser.run(&format!("document.querySelector('#access_code').value = {}", card["access_code"]));
    browser.run("document.querySelector('#access_code').focus()");
    browser.leaving();
    browser.press("Enter");
    browser.arrived();
    assert_eq!(browser.run("location.pathname"), "/kits/K-1");
    browser.go_by("document.querySelector('form[action$=\"/notices/1/done\"] button').click()");
    // It ends the notice, and is asked once more.
    assert_eq!(browser.run("document.querySelector('h1').textContent"), "Is all the work of notice 1 done on kit K-1?");
    for (width, height) in [(1280, 900), (390, 844), (320, 640)] {
        browser.screen(width, height);
        assert_eq!(browser.run(LOOK), json!([]), "{width} x {height}");
    }
    browser.go_by("document.querySelector('button[value=yes]').click()");
    let done = kits.server.get("/v1/kits/K-1/notices", &kits.first).json();
    assert_eq!(done["notices"][0]["state"], "done");
    assert_eq!(browser.complaints, [] as [&str; 0]);
}

#[test]
fn a_form_on_another_site_moves_nobody() {
    let kits = kits();
    let mut browser = Chromium::start();
    sign_in_with_token(&mut browser, &kits, &kits.publisher);
    // Another site, as far as a browser is concerned: another port is another origin, another name another site.
    let listener = TcpListener::bind("127.0.0.1:0").unwrap();
    let port = listener.local_addr().unwrap().port();
    let action = address(&kits, "/designs/frame/revisions/B/withdrawal");
    std::thread::spawn(move || {
        for stream in listener.incoming() {
            let Ok(mut stream) = stream else { return };
            let page = format!("<form method=post action=\"{action}\"><input name=reason value=x></form>");
            // A browser opens connections that it may never use.
            std::thread::spawn(move || {
                let mut request = [0; 4096];
                let _ = stream.read(&mut request);
                let head = "HTTP/1.1 200 OK\r\ncontent-type: text/html\r\nconnection: close";
                let _ = write!(stream, "{head}\r\ncontent-length: {}\r\n\r\n{page}", page.len());
            });
        }
    });
    for host in ["127.0.0.1", "localhost"] {
        browser.open(&format!("http://{host}:{port}/"));
        browser.go_by("document.forms[0].submit()");
        assert_eq!(browser.run("document.querySelector('h1').textContent"), "The form was refused");
    }
    let revision = kits.server.get("/v1/designs/frame/revisions/B", &kits.publisher).json();
    assert_eq!(revision["state"], "published");
}
