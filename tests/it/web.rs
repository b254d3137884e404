//! The pages for people, through their forms.

use crate::browser::{Browser, Page};
use crate::fixtures::{TwoKits, frame, publish_document, put_draft, recall, two_kits};
use crate::server::Server;
use serde_json::json;

fn card(kits: &TwoKits, serial: &str) -> String {
    let path = format!("/v1/kits/{serial}/access-code");
    let card = kits.server.send("POST", &path, &kits.support, &[], None).expect(201).json();
    card["access_code"].as_str().unwrap().to_owned()
}

fn builder<'s>(kits: &'s TwoKits, serial: &str) -> Browser<'s> {
    let code = card(kits, serial);
    let mut browser = Browser::at(&kits.server);
    let entered = browser.send_form("/sign-in", &[("serial", serial), ("access_code", &code)]).expect(303);
    assert_eq!(entered.leads_to(), format!("/kits/{serial}"));
    browser
}

#[test]
fn a_builder_signs_in_with_the_card_reads_downloads_and_signs_out() {
    let kits = two_kits();
    let mut browser = Browser::at(&kits.server);
    let away = browser.get("/kits/K-1").expect(303);
    assert_eq!(away.leads_to(), "/sign-in?then=/kits/K-1");
    let code = card(&kits, "K-1");
    // What was typed stays, but for the code of another kit nobody gets in.
    let wrong = browser.send_form("/sign-in", &[("serial", "K-2"), ("access_code", &code)]).expect(422);
    wrong.says("value=\"K-2\"").says("do not belong together");
    let entered =
        browser.send_form("/sign-in", &[("serial", "k-1"), ("access_code", &code.to_lowercase())]).expect(303);
    let set = entered.answer.header("set-cookie").to_owned();
    for wanted in ["HttpOnly", "SameSite=Lax", "Path=/", "Max-Age="] {
        assert!(set.contains(wanted), "{set}");
    }

    let page = browser.get(entered.leads_to()).expect(200);
    assert_eq!(page.answer.header("cache-control"), "no-store");
    let page = page.says("K-1").says("The design has a newer revision, B").says("Download pack 1 (PDF, ");
    assert!(page.text.len() < 50_000);
    let file = browser.get("/kits/K-1/packs/1").expect(200);
    assert_eq!(file.answer.header("content-type"), "application/pdf");
    assert_eq!(kits.server.get("/v1/kits/K-1/packs/1", &kits.first).json()["downloads"], 1);

    for foreign in
        ["/kits/K-2", "/kits/K-2/packs/1", "/kits/K-404", "/kits", "/designs", "/support", "/notices", "/jobs"]
    {
        let page = browser.get(foreign).expect(404).says("Not found");
        assert!(page.answer.header("content-type").starts_with("text/html"));
    }
    let before = browser.cookie().to_owned();
    browser.fill_in("/kits/K-1", "/sign-out", &[]).expect(303);
    browser.get("/kits/K-1").expect(303);
    kits.server.send("GET", "/kits/K-1", "", &[("cookie", &before)], None).expect(303);
}

#[test]
fn a_session_ends_with_its_token() {
    let kits = two_kits();
    // A new card ends what was signed in with the one before.
    let signed_in = builder(&kits, "K-1");
    signed_in.get("/kits/K-1").expect(200);
    kits.server.send("POST", "/v1/kits/K-1/access-code", &kits.publisher, &[], None).expect(201);
    signed_in.get("/kits/K-1").expect(303);
    let browser = Browser::with_token(&kits.server, &kits.support);
    browser.get("/kits").expect(200);
    // A session opens pages alone, a token the API alone.
    kits.server.send("GET", "/v1/kits", "", &[("cookie", browser.cookie())], None).problem(401, "token-needed");
    kits.server.get("/kits", &kits.support).expect(303);
    let secret = browser.cookie().split_once('=').unwrap().1;
    kits.server.get("/v1/kits", secret).problem(401, "token-needed");
    let tokens = kits.server.get("/v1/tokens", &kits.publisher).json();
    let support = tokens["tokens"].as_array().unwrap().iter().find(|token| token["role"] == "support").unwrap();
    let path = format!("/v1/tokens/{}", support["id"].as_str().unwrap());
    kits.server.send("DELETE", &path, &kits.publisher, &[], None).expect(204);
    browser.get("/kits").expect(303);
}

#[test]
fn a_form_counts_only_when_it_comes_from_a_page_of_ours() {
    let kits = two_kits();
    let browser = Browser::with_token(&kits.server, &kits.support);
    let action = "/support/K-1/notes";
    let hidden = browser.get("/support?q=K-1").expect(200).hidden(action);
    let mark = hidden.iter().find(|(name, _)| name == "mark").unwrap().1.clone();
    let send = |headers: &[(&str, &str)], mark: &str| {
        browser.send_with(action, headers, &[("mark", mark), ("text", "Sent from somewhere.")])
    };
    let here = format!("http://{}", kits.server.address());
    let refused: [&[(&str, &str)]; 7] = [
        &[],
        &[("sec-fetch-site", "cross-site")],
        &[("sec-fetch-site", "same-site")],
        &[("sec-fetch-site", "none")],
        &[("origin", "http://elsewhere.example")],
        &[("origin", "null")],
        // What says more counts.
        &[("origin", &here), ("sec-fetch-site", "cross-site")],
    ];
    for headers in refused {
        send(headers, &mark).expect(403).says("did not come from a page of this service");
    }
    send(&[("sec-fetch-site", "same-origin")], "0").expect(403).says("of another session");
    let other = Browser::with_token(&kits.server, &kits.publisher);
    let theirs = other.get("/support?q=K-1").hidden(action).into_iter().find(|(name, _)| name == "mark").unwrap().1;
    send(&[("sec-fetch-site", "same-origin")], &theirs).expect(403);
    // Nor is anybody signed in from elsewhere.
    let stranger = Browser::at(&kits.server);
    stranger
        .send_with("/sign-in/token", &[("sec-fetch-site", "cross-site")], &[("token", &kits.publisher)])
        .expect(403);
    let notes = || kits.server.get("/v1/kits/K-1/notes", &kits.support).json()["notes"].as_array().unwrap().len();
    assert_eq!(notes(), 0);
    // A browser that says only its origin, as one does without TLS.
    send(&[("origin", &here)], &mark).expect(303);
    send(&[("sec-fetch-site", "same-origin")], &mark).expect(303);
    assert_eq!(notes(), 2);
    // Reading changes nothing, whatever it is called.
    for path in ["/sign-out", "/kits/K-1/card", action] {
        browser.get(path).expect(405);
    }
}

#[test]
fn a_form_sent_twice_has_one_effect() {
    let kits = two_kits();
    let mut browser = Browser::with_token(&kits.server, &kits.publisher);
    let action = "/support/K-1/notes";
    let hidden = browser.get("/support?q=K-1").hidden(action);
    let mut fields: Vec<(&str, &str)> = hidden.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    fields.push(("text", "Rang about the scale bars."));
    for _ in 0..3 {
        browser.send_form(action, &fields).expect(303);
    }
    let notes = kits.server.get("/v1/kits/K-1/notes", &kits.support).json();
    assert_eq!(notes["notes"].as_array().unwrap().len(), 1);

    let hidden = browser.get("/kits/new").hidden("/kits/new");
    let mut fields: Vec<(&str, &str)> = hidden.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    fields.extend([("serial", "K-7"), ("design", "frame"), ("revision", "b"), ("choices", ""), ("order_number", "")]);
    fields.extend([("customer-name", "O. Hahn"), ("customer-email", "hahn@example.com")]);
    for _ in 0..2 {
        assert_eq!(browser.send_form("/kits/new", &fields).expect(303).leads_to(), "/kits/K-7");
    }
    let issue = browser.get("/kits/K-7").hidden("/kits/K-7/packs");
    let issue: Vec<(&str, &str)> = issue.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    for _ in 0..2 {
        browser.send_form("/kits/K-7/packs", &issue).expect(303);
    }
    let packs = kits.server.get("/v1/kits/K-7/packs", &kits.support).json();
    assert_eq!(packs["packs"].as_array().unwrap().len(), 1);
}

#[test]
fn what_was_filled_in_stays_when_it_will_not_do() {
    let kits = two_kits();
    let mut browser = Browser::with_token(&kits.server, &kits.publisher);
    let fields = [
        ("serial", "k 7"),
        ("design", "frame"),
        ("revision", "B"),
        ("choices", ""),
        ("order_number", "2026-\"9\""),
        ("customer-name", "<b>Ine's & co</b>"),
        ("customer-email", "nobody"),
    ];
    let again = browser.fill_in("/kits/new", "/kits/new", &fields).expect(422);
    again
        .says("role=\"alert\"")
        .says("href=\"#serial\"")
        .says("href=\"#customer-email\"")
        .says("value=\"k 7\"")
        .says("value=\"2026-&quot;9&quot;\"")
        .says("&lt;b&gt;Ine's &amp; co&lt;/b&gt;")
        .says_nothing_of("<b>Ine");
    let file = "serial,design,revision,customer_name,customer_email\nK-8,frame,A,A,a@example.com\nK-1,frame,Y,B,b\n";
    let again = browser.fill_in("/kits/import", "/kits/import", &[("file", file)]).expect(422);
    let again =
        again.says("No kit was registered").says("Line 3, serial").says("Line 3, revision").says("K-8,frame,A,A");
    assert_eq!(again.text.matches("Line 2").count(), 0);
    let mended = file.lines().take(2).collect::<Vec<_>>().join("\r\n");
    browser.fill_in("/kits/import", "/kits/import", &[("file", &mended)]).expect(200).says("1 kits registered");
    kits.server.get("/v1/kits/K-8", &kits.support).expect(200);
    let again = browser.fill_in("/support?q=K-1", "/support/K-1/notes", &[("text", "  ")]).expect(422);
    again.says("Say it in 1 to 2000 characters");
}

#[test]
fn a_publisher_sees_whom_a_draft_touches_before_it_is_published() {
    let kits = two_kits();
    put_draft(&kits.server, &kits.publisher, "frame", &frame(908));
    let mut browser = Browser::with_token(&kits.server, &kits.publisher);
    let page = browser.get("/designs/frame/publish").expect(200);
    page.says("2 kits touched").says("K-1").says("K-2").says("to replace");
    let without = browser.fill_in(
        "/designs/frame/publish",
        "/designs/frame/publish",
        &[("change_note", "Longer."), ("class", "")],
    );
    without.expect(422).says("href=\"#class\"").says("Longer.");
    // Someone writes the draft anew while the form is open.
    let hidden = browser.get("/designs/frame/publish").hidden("/designs/frame/publish");
    put_draft(&kits.server, &kits.publisher, "frame", &frame(912));
    let mut fields: Vec<(&str, &str)> = hidden.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    fields.extend([("change_note", "Longer."), ("class", "mandatory")]);
    browser.send_form("/designs/frame/publish", &fields).expect(422).says("no longer the one");
    let done = browser.fill_in(
        "/designs/frame/publish",
        "/designs/frame/publish",
        &[("change_note", "Longer."), ("class", "mandatory")],
    );
    assert_eq!(done.expect(303).leads_to(), "/designs/frame/revisions/C");
    browser.get("/designs/frame").expect(200).says("Revision C").says("published").says("superseded");

    let revision = "/designs/frame/revisions/C";
    let withdrawal = format!("{revision}/withdrawal");
    browser.fill_in(revision, &withdrawal, &[("reason", "")]).expect(422);
    browser.fill_in(revision, &withdrawal, &[("reason", "Too long.")]).expect(303);
    browser.get(revision).says("withdrawn");
    browser.fill_in(revision, &format!("{revision}/reinstatement"), &[("reason", "It is not.")]).expect(303);
    let jobs = format!("{revision}/jobs");
    let job = browser.fill_in(revision, &jobs, &[]).expect(303);
    assert_eq!(job.leads_to(), "/jobs/1");
    browser.get("/jobs/1").expect(200).says("Job 1");
    browser.get("/jobs").expect(200).says("Job 1");

    // Support reads all of it and changes none.
    let mut support = Browser::with_token(&kits.server, &kits.support);
    support.get(revision).expect(200).says_nothing_of("Recall revision");
    support.get("/designs/frame/publish").expect(403);
    support.get("/kits/new").expect(403);
    let mark = support.get(revision).hidden("/sign-out");
    let fields: Vec<(&str, &str)> =
        mark.iter().map(|(name, value)| (name.as_str(), value.as_str())).chain([("reason", "x")]).collect();
    support.send_form(&withdrawal, &fields).expect(403);
}

#[test]
fn after_a_recall_the_stop_sheet_comes_first() {
    let kits = two_kits();
    let mut publisher = Browser::with_token(&kits.server, &kits.publisher);
    let revision = "/designs/frame/revisions/A";
    let place = format!("{revision}/recall");
    let soft = [("hazard", "A precautionary step."), ("what_to_do", "Stop."), ("remedies", "New posts.")];
    publisher.fill_in(revision, &place, &soft).expect(422).says("href=\"#hazard\"").says("A precautionary step.");
    let hard = [("hazard", "The posts can break."), ("what_to_do", "Stop."), ("remedies", "New posts.")];
    publisher.fill_in(revision, &place, &hard).expect(303);
    publisher.get(revision).says("not yet");

    let mut browser = builder(&kits, "K-1");
    browser
        .get("/kits/K-1")
        .expect(200)
        .says("Recalled: stop")
        .says_nothing_of("Download pack")
        .says_nothing_of("/kits/K-1/packs/1");
    browser.get("/kits/K-1/packs/1").expect(409).says("Read the stop sheet first");
    let sheet = "/kits/K-1/stop-sheets/A";
    browser.get(sheet).expect(200).says("Product safety recall").says("The posts can break.");
    browser.fill_in(sheet, sheet, &[]).expect(303);
    browser.get("/kits/K-1").says("Download pack 1").says("do what it says");
    browser.get("/kits/K-1/packs/1").expect(200);
    publisher.get(revision).says_nothing_of("not yet");
    browser.get("/kits/K-2/stop-sheets/A").expect(404);
}

#[test]
fn a_builder_answers_notices() {
    let kits = two_kits();
    let mut publisher = Browser::with_token(&kits.server, &kits.publisher);
    let form = "/designs/frame/notices/new";
    let text = ("text", "Posts are <4 mm> too short.");
    let without = publisher.fill_in(form, form, &[("from", "A"), ("to", "B"), ("class", ""), text]).expect(422);
    without.says("href=\"#class\"").says("&lt;4 mm&gt;");
    publisher
        .fill_in(form, form, &[("from", "B"), ("to", "A"), ("class", "mandatory"), text])
        .expect(422)
        .says("href=\"#to\"");
    let raised = publisher.fill_in(form, form, &[("from", "A"), ("to", "B"), ("class", "mandatory"), text]).expect(303);
    assert_eq!(raised.leads_to(), "/notices?design=frame&notice=1");
    let mut browser = builder(&kits, "K-1");
    browser.get("/kits/K-1").says("Posts are &lt;4 mm&gt; too short.").says("post.L");
    browser.fill_in("/kits/K-1", "/kits/K-1/notices/1/seen", &[]).expect(303);
    let desk = Browser::with_token(&kits.server, &kits.support);
    desk.get("/notices").expect(200).says("K-1").says("seen");
    browser.fill_in("/kits/K-1", "/kits/K-1/notices/1/done", &[]).expect(303);
    browser.get("/kits/K-1").says("Notice 1, done").says_nothing_of("/notices/1/seen");
    desk.get("/notices").says_nothing_of("K-1");
    desk.get("/notices?design=frame&notice=1").says("K-1").says("done");
}

#[test]
fn measured_values_are_taken_within_their_limits() {
    let server = Server::demo();
    let token =
        server.printed.lines().find_map(|line| line.trim().strip_prefix("publisher ")).unwrap().trim().to_owned();
    let mut browser = Browser::with_token(&server, &token);
    let form = "/kits/QF-0101/measurements";
    let page = browser.get("/kits/QF-0101").expect(200).says("Main hoop, foot to foot").says("not yet");
    assert!(page.text.contains("1112 to 1132"));
    let both = [("measured-hoop_height", "1300"), ("measured-hoop_spread", "1124,5")];
    let again = browser.fill_in(form, form, &both).expect(422);
    again.says("href=\"#measured-hoop_height\"").says("Between 1194 and 1206 mm").says("value=\"1124,5\"");
    let read = || server.get("/v1/kits/QF-0101/measurements", &token).json()["measured"].clone();
    assert_eq!(read(), json!({}), "all of them or none");
    browser.fill_in(form, form, &[("measured-hoop_height", ""), ("measured-hoop_spread", "1124,5")]).expect(303);
    assert_eq!(read(), json!({"hoop_spread": 1124.5}));
    browser.get("/kits/QF-0101").says("1124.5");
    // Sent again with nothing new, nothing is added.
    browser.fill_in(form, form, &[("measured-hoop_spread", "1124.5")]).expect(303);
    let history = server.get("/v1/kits/QF-0101/measurements/history", &token).json();
    assert_eq!(history["measurements"].as_array().unwrap().len(), 1);
}

#[tokio::test]
async fn support_finds_a_kit_by_anything_and_sees_whose_it_is_only_when_asking() {
    let kits = two_kits();
    let mut browser = Browser::with_token(&kits.server, &kits.support);
    let code = kits.server.get("/v1/kits/K-1/packs/1/manifest", &kits.first).json()["pages"][0]["code"].clone();
    for q in ["K-1", "k-1", "https%3A%2F%2Fshop.example%2FK-1", code.as_str().unwrap()] {
        let page = browser.get(&format!("/support?q={q}")).expect(200);
        if q == code.as_str().unwrap() {
            continue;
        }
        page.says("K-1").says("The newest in force is").says_nothing_of("A. Builder").says_nothing_of("builder@");
    }
    let both = browser.get("/support?q=builder%40example.com").expect(200);
    both.says("Which of these?").says("/support?q=K-2").says_nothing_of("A. Builder");
    browser.get("/support?q=nothing-like-it").says("Nothing is like that");
    browser
        .fill_in("/support?q=K-1", "/support/K-1/person", &[])
        .expect(200)
        .says("A. Builder")
        .says("builder@example.com");
    let mut records = kits.server.data.open().await;
    let shown = records.lines("SELECT subject FROM audit WHERE action = 'show-customer'").await;
    assert_eq!(shown, ["kits/K-1"]);
}

#[test]
fn the_card_is_shown_once_and_opens_the_kit() {
    let kits = two_kits();
    let mut desk = Browser::with_token(&kits.server, &kits.support);
    let card = desk.fill_in("/kits/K-1", "/kits/K-1/card", &[]).expect(200);
    assert_eq!(card.answer.header("cache-control"), "no-store");
    let code = card.text.split("<span class=\"code\">").nth(2).unwrap().split('<').next().unwrap().to_owned();
    let mut browser = Browser::at(&kits.server);
    browser.send_form("/sign-in", &[("serial", "K-1"), ("access_code", &code)]).expect(303);
}

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

/// Statuses for: nobody, publisher, support, the builder of K-1, the builder of K-2.
const PAGES: &[(&str, [u16; 5])] = &[
    ("/kits/K-1", [303, 200, 200, 200, 404]),
    ("/kits/K-1/measurements", [303, 200, 200, 200, 404]),
    ("/kits/K-1/packs/1", [303, 200, 200, 200, 404]),
    ("/kits/K-1/packs/9", [303, 404, 404, 404, 404]),
    ("/kits/K-1/stop-sheets/A", [303, 404, 404, 404, 404]),
    ("/kits/K-404", [303, 404, 404, 404, 404]),
    ("/kits", [303, 200, 200, 404, 404]),
    ("/kits/new", [303, 200, 403, 404, 404]),
    ("/kits/import", [303, 200, 403, 404, 404]),
    ("/designs", [303, 200, 200, 404, 404]),
    ("/designs/frame", [303, 200, 200, 404, 404]),
    ("/designs/frame/draft", [303, 200, 200, 404, 404]),
    ("/designs/frame/publish", [303, 200, 403, 404, 404]),
    ("/designs/frame/revisions/A", [303, 200, 200, 404, 404]),
    ("/designs/frame/notices/new", [303, 200, 403, 404, 404]),
    ("/designs/none", [303, 404, 404, 404, 404]),
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
    ("/kits/K-1/packs", [None, Some(404), Some(404)]),
    ("/kits/K-1/measurements", [None, None, Some(404)]),
    ("/kits/K-1/notices/1/seen", [None, None, Some(404)]),
    ("/kits/K-1/notices/1/done", [None, None, Some(404)]),
    ("/kits/K-1/stop-sheets/A", [None, None, Some(404)]),
    ("/designs/frame/publish", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/notices/new", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/withdrawal", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/recall", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/reinstatement", [Some(403), Some(404), Some(404)]),
    ("/designs/frame/revisions/A/jobs", [None, Some(404), Some(404)]),
    ("/jobs/1/cancel", [None, Some(404), Some(404)]),
    ("/support/K-1/notes", [None, Some(404), Some(404)]),
    ("/support/K-1/person", [None, Some(404), Some(404)]),
];

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
