//! What a builder reads and answers.

use super::builder;
use crate::browser::Browser;
use crate::fixtures::two_kits;
use crate::server::Server;
use serde_json::json;

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
    browser.get(&format!("{sheet}/print")).expect(200);
    browser.fill_in(sheet, sheet, &[]).expect(303);
    let page = browser.get("/kits/K-1").says("New posts.").says("acknowledged").says("by the holder");
    page.says("There is no pack to work from").says_nothing_of("Download pack").says("href=\"/kits/K-1/packs/1\"");
    browser.get("/kits/K-1/packs/1").expect(200);
    publisher.get(revision).says_nothing_of("not yet");
    browser.get("/kits/K-2/stop-sheets/A").expect(404);
}

/// What the page of kit K-1 says while its pack must not be built from: no other, and nothing large that invites to download it.
#[track_caller]
fn must_not_invite(browser: &Browser, says: &str) -> String {
    let page = browser.get("/kits/K-1").expect(200).says("Latest pack").says("No. 1, ").says(says);
    page.says_nothing_of("Pack to build from").says_nothing_of("button great").text
}

#[test]
fn a_pack_that_must_not_be_built_from_now_is_not_called_the_one_to_build_from() {
    let kits = two_kits();
    let post = |path: &str, body: &serde_json::Value| kits.server.post(path, &kits.publisher, body);
    let browser = builder(&kits, "K-1");
    browser.get("/kits/K-1").says("Pack to build from").says("button great").says_nothing_of("Latest pack");

    let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "Longer posts."});
    post("/v1/designs/frame/notices", &notice).expect(201);
    let page = must_not_invite(&browser, ": first do what it says below");
    assert!(page.contains("href=\"/kits/K-1/packs/1\"") && page.contains("Do notice 1 first"), "{page}");

    post("/v1/kits/K-1/holds", &json!({"reason": "Not paid.", "ask": "the office"})).expect(201);
    must_not_invite(&browser, ": held");
    let support = Browser::with_token(&kits.server, &kits.support);
    must_not_invite(&support, ": held");
    post("/v1/kits/K-1/holds/1/lifting", &json!({"reason": "Paid."})).expect(200);

    post("/v1/designs/frame/revisions/A/recall", &crate::fixtures::a_recall()).expect(200);
    must_not_invite(&browser, ": recalled, do not build from it");
    post("/v1/kits/K-1/holds", &json!({"reason": "Not paid.", "ask": "the office"})).expect(201);
    must_not_invite(&browser, ": recalled, do not build from it");
    post("/v1/kits/K-1/holds/2/lifting", &json!({"reason": "Paid."})).expect(200);
    let mut reader = builder(&kits, "K-1");
    let sheet = "/kits/K-1/stop-sheets/A";
    reader.fill_in(sheet, sheet, &[]).expect(303);
    must_not_invite(&reader, ": recalled, do not build from it");
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
    browser.get("/kits/K-1").says("Posts are &lt;4 mm&gt; too short.").says("post.L").says("Download the rework pages");
    let pages = browser.get("/kits/K-1/notices/1/pages").expect(200);
    assert_eq!(pages.answer.header("content-type"), "application/pdf");
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
    again.says("href=\"#measured-hoop_height\"").says("Give 1194 to 1206 mm").says("value=\"1124,5\"");
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
