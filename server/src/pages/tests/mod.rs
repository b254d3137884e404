//! All pages of the demo, read in the pseudo-language by everyone who may: what they say outside « » is data.

mod browser;
mod outside;
mod problems;

use crate::config::{Callers, Sources};
use crate::pages::kits::import::EXAMPLE;
use crate::router;
use axum::http::StatusCode;
use browser::{Browser, Page};
use matchmark_core::seal::SealKey;
use matchmark_service::{Demo, IdempotentCall, Principal, Role, Sealing, Service};
use matchmark_store::clock::{Clock, SystemClock};
use matchmark_store::{BlobsAt, Store, secret};
use outside::{Data, said_outside};
use std::collections::{BTreeSet, VecDeque};
use std::num::NonZeroU32;
use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

/// What pages show of each kit, as the API answers it.
const OF_KITS: [&str; 5] = ["", "/measurements", "/packs", "/notices", "/stop-sheets"];

/// What pages show besides.
const ANSWERS: [&str; 11] = [
    "/v1/kits",
    "/v1/designs/fenrunner-two/revisions",
    "/v1/designs/fenrunner-two/revisions/A/document",
    "/v1/designs/fenrunner-two/revisions/B/document",
    "/v1/designs/fenrunner-two/revisions/A/figures",
    "/v1/designs/fenrunner-two/revisions/B/figures",
    "/v1/designs/fenrunner-two/notices",
    "/v1/designs/fenrunner-two/draft/findings?all_choices=true",
    "/v1/designs/fenrunner-two/draft/touched",
    "/v1/pack-jobs/2/kits",
    "/v1/pages/none",
];

/// What people write in forms.
const WRITTEN: [&str; 5] = ["Look again.", "The desk.", "It breaks.", "Stop.", "A new one."];

/// Those who act, by their place among the people.
const PUBLISHER: usize = 0;
const SUPPORT: usize = 1;
const BUILDER: usize = 2;
const OTHER: usize = 3;

const DONE: StatusCode = StatusCode::SEE_OTHER;
const WRONG: StatusCode = StatusCode::UNPROCESSABLE_ENTITY;

struct Walk {
    people: Vec<Browser>,
    publisher: String,
    /// Those of builders, by their kits.
    tokens: Vec<(String, String)>,
    /// The code of a page.
    code: String,
    data: Data,
    seen: BTreeSet<String>,
    outside: BTreeSet<String>,
}

impl Walk {
    /// Reads a page.
    fn read(&mut self, who: &str, place: &str, page: &Page) {
        if !page.text.starts_with("<!DOCTYPE html>") {
            return;
        }
        self.seen.insert(shape(place));
        // The handbook is written in English, as its own files.
        if place.starts_with("/handbook") {
            return;
        }
        for text in said_outside(&page.text, &self.data) {
            self.outside.insert(format!("{who} at {place}: {text}"));
        }
    }

    /// Everyone goes wherever pages lead.
    async fn go_everywhere(&mut self) {
        let of_kit = |kit: &str| {
            let support = format!("/v1/support/lookup?q={kit}");
            OF_KITS.map(|part| format!("/v1/kits/{kit}{part}")).into_iter().chain([support]).collect::<Vec<_>>()
        };
        let of_kits =
            self.tokens.iter().flat_map(|(kit, token)| of_kit(kit).into_iter().map(move |place| (place, token)));
        let besides = ANSWERS.map(|place| (place.to_owned(), &self.publisher));
        for (place, token) in of_kits.clone().map(|(place, _)| (place, &self.publisher)).chain(of_kits).chain(besides) {
            self.data.add_all(&self.people[PUBLISHER].json(token, &place).await);
        }
        let code = self.code.clone();
        self.data.add_all(&self.people[PUBLISHER].json(&self.publisher, &format!("/v1/pages/{code}")).await);
        self.data.add(&code);
        let people = std::mem::take(&mut self.people);
        for browser in &people {
            let mut known = BTreeSet::new();
            let mut ahead = VecDeque::from(["/", "/sign-in", "/nothing", "/P/none"].map(str::to_owned));
            ahead.push_back(format!("/P/{code}"));
            if ["publisher", "support"].contains(&browser.name) {
                ahead.extend(
                    ["/support?q=QF-0101", "/support?q=QF-0107", "/support?q=QF", "/support?q=none"].map(str::to_owned),
                );
                ahead.push_back(format!("/support?q={code}"));
            }
            while let Some(place) = ahead.pop_front() {
                if !known.insert(place.clone()) || is_no_page(&place) {
                    continue;
                }
                let page = browser.get(&place).await;
                self.read(browser.name, &place, &page);
                let links =
                    page.text.split("<a ").skip(1).filter_map(|link| link.split_once("href=\"")?.1.split('"').next());
                ahead.extend(links.map(|link| link.replace("&amp;", "&")).filter(|link| link.starts_with('/')));
                ahead.extend(Some(page.place).filter(|place| !place.is_empty()));
            }
        }
        self.people = people;
    }

    /// One fills in the form of a page, and says yes when asked whether it is meant.
    async fn act(&mut self, who: usize, at: &str, place: &str, fields: &[(&str, &str)], wanted: StatusCode) {
        let mut page = self.people[who].get(at).await;
        let mut fields = fields;
        loop {
            page = self.people[who].fill(&page, place, fields).await;
            let name = self.people[who].name;
            self.read(name, place, &page);
            if !page.text.contains("name=\"sure\"") {
                break;
            }
            fields = &[("sure", "yes")];
        }
        assert_eq!(page.status, wanted, "{place}: {}", page.text);
    }

    /// What people do while all is well, and everywhere again in between.
    async fn act_in_peace(&mut self) {
        self.go_everywhere().await;

        let text = [("text", "Look again.")];
        self.act(SUPPORT, "/support?q=QF-0101", "/support/QF-0101/notes", &text, DONE).await;
        self.act(SUPPORT, "/support?q=QF-0101", "/support/QF-0101/person", &[], StatusCode::OK).await;
        self.act(SUPPORT, "/kits/QF-0102", "/kits/QF-0102/card", &[], StatusCode::OK).await;
        let raise = "/designs/fenrunner-two/notices/new";
        self.act(PUBLISHER, raise, raise, &[("from", "A"), ("to", "B"), ("class", "")], WRONG).await;
        let step = [("from", "A"), ("to", "B"), ("class", "mandatory"), ("text", "Look again.")];
        self.act(PUBLISHER, raise, raise, &step, DONE).await;
        self.go_everywhere().await;
        self.act(BUILDER, "/kits/QF-0101", "/kits/QF-0101/notices/1/seen", &[], DONE).await;
        self.act(PUBLISHER, "/kits/QF-0101", "/kits/QF-0101/notices/1/done", &[], DONE).await;
        let measure = "/kits/QF-0107/measurements";
        self.act(OTHER, measure, measure, &[("measured-hoop_spread", "x"), ("measured-hoop_height", "1")], WRONG).await;
        self.act(OTHER, measure, measure, &[("measured-hoop_spread", "1121.5")], DONE).await;
        let redraw = "/kits/QF-0107/packs";
        self.act(OTHER, redraw, redraw, &[("check_bars-across", "x")], WRONG).await;
        self.act(SUPPORT, redraw, redraw, &[("paper", "a4"), ("hands", "left")], DONE).await;
        for (at, place) in [
            ("/designs/fenrunner-two/revisions/B", "/designs/fenrunner-two/revisions/B/jobs"),
            ("/jobs/1", "/jobs/1/cancel"),
            ("/designs/fenrunner-two/revisions/A", "/designs/fenrunner-two/revisions/A/jobs"),
        ] {
            self.act(PUBLISHER, at, place, &[], DONE).await;
        }
        self.go_everywhere().await;
    }

    /// A job that comes to its end.
    async fn finish_job(&mut self) {
        while self.people[PUBLISHER].json(&self.publisher, "/v1/pack-jobs/2").await["state"] != "done" {
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        self.go_everywhere().await;
    }

    /// A hold and a recall.
    async fn act_in_need(&mut self) {
        let hold = "/kits/QF-0101/holds";
        self.act(PUBLISHER, hold, hold, &[("reason", "Look again."), ("ask", "The desk.")], DONE).await;
        self.go_everywhere().await;
        self.act(PUBLISHER, hold, "/kits/QF-0101/holds/1/lifting", &[("reason", "Look again.")], DONE).await;
        let revision = "/designs/fenrunner-two/revisions/A";
        let recall = [("hazard", "It breaks."), ("what_to_do", "Stop."), ("remedies", "A new one.")];
        self.act(PUBLISHER, revision, "/designs/fenrunner-two/revisions/A/recall", &recall, DONE).await;
        self.go_everywhere().await;
        let sheet = "/kits/QF-0101/stop-sheets/A";
        self.act(SUPPORT, sheet, sheet, &[], DONE).await;
        self.go_everywhere().await;
    }
}

/// What is handed out as a file, or by others than the pages.
fn is_no_page(place: &str) -> bool {
    let path = place.split(['?', '#']).next().unwrap_or_default();
    let is_pack =
        path.rsplit_once('/').is_some_and(|(rest, last)| rest.ends_with("/packs") && last.parse::<u32>().is_ok());
    ["/docs", "/openapi", "/v1"].iter().any(|other| path.starts_with(other))
        || ["/pages", "/print"].iter().any(|file| path.ends_with(file))
        || is_pack
}

/// A place without what it is about.
fn shape(place: &str) -> String {
    let path = place.split(['?', '#']).next().unwrap_or_default();
    let of = |step: &str| {
        let is_about =
            step.starts_with("QF-") || step.len() > 40 || step.len() == 1 && step != "P" || step == Demo::DESIGN;
        if is_about { "{}".to_owned() } else { step.to_owned() }
    };
    path.split('/').map(of).collect::<Vec<_>>().join("/")
}

async fn service(data: &Path) -> Arc<Service> {
    std::fs::create_dir(data).unwrap();
    let store = Store::open(data, None, &BlobsAt::Directory, SystemClock.stamp().at()).await.unwrap();
    let key = || SealKey::new(secret::key());
    let sealing = Sealing::new(key(), key(), "http://demo.invalid");
    let service = Service::new(store, Arc::new(SystemClock), Demo::SUPPLIER.to_owned(), Duration::from_secs(600));
    let service = service.sealed_with(sealing).drawing_for_builders(9);
    service.first_contact(Demo::CONTACT).await.unwrap();
    Arc::new(service)
}

#[tokio::test(flavor = "multi_thread")]
async fn pages_say_nothing_outside_the_catalogue() {
    let place = tempfile::tempdir().unwrap();
    let service = service(&place.path().join("data")).await;
    let demo = service.load_demo().await.unwrap();
    let usual = Callers::from_sources(&Sources::defaults().unwrap()).unwrap();
    let callers = Callers { requests_per_token: NonZeroU32::MAX, requests_per_address: NonZeroU32::MAX, ..usual };
    let router = router::router(Arc::clone(&service), &callers, &[]);
    let builder = |serial: &str| &demo.builders.iter().find(|builder| builder.serial == serial).unwrap().token;
    let mut data = Data::default();
    for text in
        [Demo::SUPPLIER, Demo::CONTACT, Demo::DESIGN, "Fenrunner Two", "Matchmark", EXAMPLE].into_iter().chain(WRITTEN)
    {
        data.add(text);
    }
    let who = Principal { token: "test".to_owned(), role: Role::Support, read_only: false };
    let once = IdempotentCall::new(&who.token, String::new(), None, &[]);
    let card = service.new_access_code(&who, "QF-0102", &once).await.unwrap();
    card.lines.iter().for_each(|line| data.add(line));
    let people = vec![
        Browser::with_token(&router, "publisher", &demo.publisher).await,
        Browser::with_token(&router, "support", &demo.support).await,
        Browser::with_token(&router, "builder", builder("QF-0101")).await,
        Browser::with_token(&router, "other builder", builder("QF-0107")).await,
        Browser::at(&router, "nobody"),
    ];
    let (publisher, seen, outside) = (demo.publisher.clone(), BTreeSet::new(), BTreeSet::new());
    let tokens = demo.builders.iter().map(|builder| (builder.serial.clone(), builder.token.clone())).collect();
    let manifest = people[PUBLISHER].json(&publisher, "/v1/kits/QF-0101/packs/1/manifest").await;
    let code = manifest["pages"][0]["code"].as_str().unwrap().to_owned();
    let mut walk = Walk { people, publisher, tokens, code, data, seen, outside };
    walk.act_in_peace().await;
    let jobs = tokio::spawn(Arc::clone(&service).work_on_pack_jobs());
    walk.finish_job().await;
    jobs.abort();
    walk.act_in_need().await;
    assert!(walk.outside.is_empty(), "say it in the catalogue: {:#?}", walk.outside);
    for place in [
        "/",
        "/kits/{}",
        "/kits/{}/holds",
        "/kits/{}/measurements",
        "/kits/{}/packs",
        "/kits/{}/stop-sheets/{}",
        "/kits/new",
        "/kits/import",
        "/designs/{}/draft",
        "/designs/{}/publish",
        "/designs/{}/revisions/{}/figures",
        "/jobs/{}/cancel",
        "/notices",
        "/contact",
        "/support/{}/person",
        "/P/{}",
        "/sign-in",
        "/problems/not-found",
    ] {
        assert!(walk.seen.contains(place), "{place} was not seen among {:?}", walk.seen);
    }
}
