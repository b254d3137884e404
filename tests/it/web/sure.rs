//! Deeds that end something are asked once more, and count once however often they are sent.

use super::builder;
use crate::browser::{Browser, Page};
use crate::fixtures::{TwoKits, recall, two_kits};
use serde_json::json;

/// The code on the page of a card.
fn code(page: &Page) -> String {
    page.text.split("<span class=\"code\">").nth(2).unwrap().split('<').next().unwrap().to_owned()
}

fn opens(kits: &TwoKits, code: &str) -> bool {
    let card = json!({"serial": "K-1", "access_code": code});
    kits.server.post("/v1/sign-in", "", &card).status == 201
}

#[test]
fn a_card_that_is_reloaded_stays_the_card_of_the_kit() {
    let kits = two_kits();
    let mut desk = Browser::with_token(&kits.server, &kits.support);
    let (kit, action) = ("/kits/K-1", "/kits/K-1/card");
    let asked =
        desk.begin(kit, action, &[]).expect(200).says("its code ends at once").says_nothing_of("class=\"code\"");
    let card = desk.answer(&asked, action, "yes").expect(200);
    let first = code(&card);
    for _ in 0..3 {
        assert_eq!(code(&desk.answer(&asked, action, "yes").expect(200)), first);
    }
    assert!(opens(&kits, &first));
    // Only a new form makes a new card; the old one, sent again, then says so and ends nothing.
    let second = code(&desk.fill_in(kit, action, &[]).expect(200));
    assert_ne!(first, second);
    desk.answer(&asked, action, "yes").expect(409).says("has since ended or been replaced");
    assert!(opens(&kits, &second) && !opens(&kits, &first));
    // The code follows from what only this browser shows.
    let mut other = Browser::with_token(&kits.server, &kits.support);
    let hidden = asked.hidden(action);
    let once = hidden.iter().find(|(name, _)| name == "once").unwrap().1.as_str();
    let mark = other.get(kit).hidden("/sign-out")[0].1.clone();
    other.send_form(action, &[("mark", &mark), ("once", once), ("sure", "yes")]).expect(422);
    assert!(opens(&kits, &second), "the same form of another session makes no card");
}

#[test]
fn what_was_filled_in_stays_whatever_is_answered() {
    let kits = two_kits();
    let mut publisher = Browser::with_token(&kits.server, &kits.publisher);
    let revision = "/designs/frame/revisions/A";
    let action = "/designs/frame/revisions/A/recall";
    let words = [
        ("hazard", "Posts < 3 mm \"break\" & fall."),
        ("what_to_do", "Stop.\r\nKeep all."),
        ("remedies", "New posts."),
    ];
    let asked = publisher.begin(revision, action, &words).expect(200);
    let asked = asked.says("1 kit has it").says("Posts &lt; 3 mm &quot;break&quot; &amp; fall.");
    let state = || kits.server.get("/v1/designs/frame/revisions/A", &kits.publisher).json()["state"].clone();
    assert_eq!(state(), "superseded", "nothing is done before it was answered");
    let back = publisher.answer(&asked, action, "no").expect(200);
    back.says("Posts &lt; 3 mm &quot;break&quot; &amp; fall.").says("New posts.").says("Recall revision");
    assert_eq!(state(), "superseded");
    for _ in 0..2 {
        assert_eq!(publisher.answer(&asked, action, "yes").expect(303).leads_to(), revision);
    }
    assert_eq!(state(), "recalled");
    let ledger = kits.server.get("/v1/designs/frame/revisions/A/recall", &kits.publisher).json();
    assert_eq!((&ledger["open"], ledger["kits"].as_array().unwrap().len()), (&json!(1), 1));
    let sheet = kits.server.get("/v1/kits/K-1/stop-sheets/A", &kits.first).json();
    assert_eq!(sheet["hazard"], "Posts < 3 mm \"break\" & fall.");
    assert_eq!(sheet["what_to_do"], "Stop.\nKeep all.");
}

#[test]
fn every_deed_that_ends_something_is_asked_first() {
    let kits = two_kits();
    let server = &kits.server;
    let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "Posts grew."});
    server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
    let mut publisher = Browser::with_token(server, &kits.publisher);
    let reason = [("reason", "A test."), ("ask", "The supplier.")];
    let packs = || server.get("/v1/kits/K-1/packs", &kits.support).json()["packs"].as_array().unwrap().len();
    let before = packs();
    for (page, action, wanted) in [
        ("/kits/K-1/packs", "/kits/K-1/packs", "is replaced"),
        ("/kits/K-1", "/kits/K-1/notices/1/done", "on behalf of the holder"),
        ("/kits/K-1/holds", "/kits/K-1/holds", "nobody can issue or download a pack of the kit"),
        ("/designs/frame/revisions/A", "/designs/frame/revisions/A/withdrawal", "No kit can be sold with it"),
    ] {
        let asked = publisher.begin(page, action, &reason).expect(200).says(wanted);
        assert_eq!(asked.answer.header("cache-control"), "no-store");
    }
    assert_eq!(packs(), before);
    assert_eq!(server.get("/v1/kits/K-1/holds", &kits.support).json()["holds"], json!([]));
    assert_eq!(server.get("/v1/designs/frame/revisions/A", &kits.publisher).json()["state"], "superseded");
    assert_eq!(server.get("/v1/kits/K-1/notices", &kits.first).json()["notices"][0]["state"], "open");

    // One pack, however often it is sent; what was sent with other words is said and can be sent anew.
    let action = "/kits/K-1/packs";
    let asked = publisher.begin(action, action, &[("paper", "letter"), ("units", "mm"), ("hands", "both")]).expect(200);
    for _ in 0..3 {
        publisher.answer(&asked, action, "yes").expect(303);
    }
    assert_eq!(packs(), before + 1);
    let hidden = asked.hidden(action);
    let changed: Vec<(&str, &str)> = hidden
        .iter()
        .map(|(name, value)| (name.as_str(), if name == "paper" { "a3" } else { value.as_str() }))
        .chain([("sure", "yes")])
        .collect();
    let refused = publisher.send_form(action, &changed).expect(422).says("You sent this form before with other values");
    assert_eq!(packs(), before + 1);
    let anew = refused.hidden(action);
    let mut anew: Vec<(&str, &str)> = anew.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    anew.extend([("paper", "a3"), ("units", "mm"), ("hands", "both")]);
    let asked = publisher.send_form(action, &anew).expect(200);
    publisher.answer(&asked, action, "yes").expect(303);
    let last =
        server.get("/v1/kits/K-1/packs", &kits.support).json()["packs"].as_array().unwrap().last().unwrap().clone();
    assert_eq!((packs(), &last["paper"]), (before + 2, &json!("a3")));
}

#[tokio::test(flavor = "multi_thread")]
async fn what_support_answers_is_said_to_be_on_behalf_of_the_holder() {
    let kits = two_kits();
    let server = &kits.server;
    let new = json!({"role": "support", "name": "Ann"});
    let ann = server.post("/v1/tokens", &kits.publisher, &new).expect(201).json();
    let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "Posts grew."});
    server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
    recall(&kits, "A");
    let mut desk = Browser::with_token(server, ann["token"].as_str().unwrap());
    let sheet = "/kits/K-1/stop-sheets/A";
    let asked = desk.begin(sheet, sheet, &[]).expect(200).says("on behalf of the holder of kit K-1");
    assert!(server.get("/v1/kits/K-1/stop-sheets/A", &kits.first).json()["acknowledged_at"].is_null());
    desk.answer(&asked, sheet, "yes").expect(303);
    desk.get("/kits/K-1").says("Answer only when the holder of the kit has told you so");
    desk.fill_in("/kits/K-1", "/kits/K-1/notices/1/seen", &[]).expect(303);
    desk.get("/notices").expect(200).says("by support Ann, on behalf of the holder");
    desk.fill_in("/kits/K-1", "/kits/K-1/notices/1/done", &[]).expect(303);

    let words = "by support Ann, on behalf of the holder";
    for page in [sheet, "/kits/K-1", "/notices?design=frame&notice=1", "/designs/frame/revisions/A"] {
        desk.get(page).expect(200).says(words);
    }
    // The holder is told so as well, without a name.
    let holder = builder(&kits, "K-1");
    for page in [sheet, "/kits/K-1"] {
        holder.get(page).expect(200).says("by support, on behalf of the holder").says_nothing_of("Ann");
    }
    let read = |path: &str, token: &str| server.get(path, token).expect(200).json();
    for (answered, own) in [
        (read("/v1/kits/K-1/stop-sheets/A", &kits.first)["acknowledged_by"].clone(), false),
        (read("/v1/kits/K-1/notices", &kits.first)["notices"][0]["done_by"].clone(), false),
        (read("/v1/kits/K-1/notices", &kits.support)["notices"][0]["acknowledged_by"].clone(), true),
        (read("/v1/designs/frame/revisions/A/recall", &kits.support)["kits"][0]["acknowledged_by"].clone(), true),
    ] {
        let mut wanted = json!({"role": "support", "on_behalf_of_holder": true});
        if own {
            wanted["token"] = ann["id"].clone();
            wanted["name"] = json!("Ann");
        }
        assert_eq!(answered, wanted);
    }
    let mut records = server.data.open().await;
    let acts = records.lines("SELECT action FROM audit WHERE action LIKE '%-for-holder' ORDER BY number").await;
    assert_eq!(acts, ["acknowledge-recall-for-holder", "acknowledge-notice-for-holder", "finish-notice-for-holder"]);
}

#[test]
fn what_the_holder_answers_is_theirs() {
    let kits = two_kits();
    recall(&kits, "A");
    kits.server.send("POST", "/v1/kits/K-1/stop-sheets/A/acknowledgement", &kits.first, &[], None).expect(200);
    let sheet = kits.server.get("/v1/kits/K-1/stop-sheets/A", &kits.first).json();
    assert_eq!(sheet["acknowledged_by"], json!({"role": "builder", "on_behalf_of_holder": false}));
    builder(&kits, "K-1").get("/kits/K-1").says("by the holder");
}
