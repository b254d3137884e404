//! The work of a notice for a kit with measured values: what its pages are worked out for, and what is said of that.

use super::rework_done::text;
use crate::browser::Browser;
use crate::fixtures::{a_recall, builder_token, create_design, create_kit, publish_document};
use crate::kits::standing::{OneKit, gauged};
use crate::packs::seals::codes;
use crate::server::Server;
use serde_json::{Value, json};

/// A kit of a design whose posts become 10 mm shorter.
pub fn shortened() -> OneKit {
    let server = Server::start();
    let publisher = server.publisher();
    create_design(&server, &publisher, "frame");
    publish_document(&server, &publisher, "frame", &gauged(0));
    let shorter = gauged(0).replace("[0,0,900]", "[0,0,890]").replace("[500,0,800]", "[500,0,790]");
    assert_ne!(shorter, gauged(0));
    publish_document(&server, &publisher, "frame", &shorter);
    create_kit(&server, &publisher, "K-1", "frame", "A");
    let kit = OneKit { builder: builder_token(&server, &publisher, "K-1"), server, publisher };
    kit.issue(&json!({}));
    kit
}

/// By hand: the post of the pack is 900 mm long, since nothing was measured then. It stands 4 mm higher than drawn, so that the new one is
/// 890 + 4 = 894 mm: 6 mm come off it. Of the other post, which nobody measured, 800 - 790 = 10 mm come off.
#[test]
fn rework_pages_are_worked_out_for_the_kit_as_measured_and_say_so() {
    let kit = shortened();
    kit.raise("mandatory");
    let pages = || text(&kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).expect(200).body);
    let work = || kit.server.get("/v1/kits/K-1/notices", &kit.builder).expect(200).json()["notices"][0].clone();
    let said = pages();
    assert_eq!(said.matches("10.0 mm all round").count(), 2, "{said}");
    assert!(!said.contains("this list is worked out with them"), "{said}");
    assert_eq!(work()["as_designed"], false, "{}", work());
    let page = Browser::with_token(&kit.server, &kit.builder);
    page.get("/kits/K-1").says_nothing_of("as designed");

    kit.measure(904.0);
    let said = pages();
    assert_eq!(said.matches("10.0 mm all round").count(), 1, "{said}");
    assert_eq!(said.matches("6.0 mm all round").count(), 1, "{said}");
    assert!(said.contains("this list is worked out with them, not for the frame as designed."), "{said}");
    assert!(said.contains("Its work is in the list of what changed"), "{said}");
    assert_eq!(work()["as_designed"], true, "{}", work());
    page.get("/kits/K-1").says("worked out for the frame as designed").says("for the kit as measured");
    // What a pack says of the notice points to its pages.
    kit.issue(&json!({}));
    let account = kit.server.get("/v1/kits/K-1/packs/2/manifest", &kit.publisher).expect(200).json();
    let texts = account["pages"].as_array().unwrap().iter().flat_map(|page| page["texts"].as_array().unwrap());
    let texts = texts.map(|text| text.as_str().unwrap()).collect::<Vec<_>>().join(" ");
    assert!(texts.contains("The pages of this notice are worked out for the kit as measured"), "{texts}");
}

/// The gauge came with the later revision: the earlier frame is compared as it was drawn.
#[test]
fn a_value_that_the_earlier_revision_cannot_have_keeps_no_rework_pages_from_being_drawn() {
    let server = Server::start();
    let publisher = server.publisher();
    create_design(&server, &publisher, "frame");
    let mut plain: Value = serde_json::from_str(&gauged(0)).unwrap();
    plain.as_object_mut().unwrap().remove("gauges");
    publish_document(&server, &publisher, "frame", &plain.to_string());
    publish_document(&server, &publisher, "frame", &gauged(0).replace("[0,0,900]", "[0,0,890]"));
    create_kit(&server, &publisher, "K-1", "frame", "A");
    let kit = OneKit { builder: builder_token(&server, &publisher, "K-1"), server, publisher };
    kit.issue(&json!({}));
    kit.raise("mandatory");
    kit.move_to("B");
    kit.measure(904.0);
    let said = text(&kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).expect(200).body);
    assert!(said.contains("6.0 mm all round"), "{said}");
}

/// What was made for a notice is made to the values of then.
#[test]
fn a_value_that_comes_after_a_notice_was_done_asks_to_compare_what_was_made_for_it() {
    let kit = shortened();
    kit.measure(904.0);
    kit.raise("mandatory");
    kit.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kit.builder, &[], None).expect(200);
    kit.issue(&json!({}));
    let said = kit.stands(2).1;
    assert!(said.contains("Notice 1 was done on") && !said.contains("After it was raised"), "{said}");
    kit.measure(906.0);
    kit.issue(&json!({}));
    let said = kit.stands(3).1;
    assert!(said.contains("After it was raised \"Post, foot to top\" was measured on"), "{said}");
    assert!(said.contains("parts made for it from earlier pages may not fit any more"), "{said}");
    // Told as it was when the work was done, all of it fits again.
    kit.measure(904.0);
    kit.issue(&json!({}));
    assert!(!kit.stands(4).1.contains("After it was raised"));
}

fn fetched(kit: &OneKit) -> Vec<u8> {
    kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).expect(200).body
}

/// What is said of the first page of a file.
fn scan(kit: &OneKit, pdf: &[u8]) -> Value {
    let code = codes(pdf).remove(0);
    kit.server.get(&format!("/v1/pages/{code}"), "").expect(200).json()
}

/// The signed code of a set's pages holds how many values were told, so that the day does not matter.
#[test]
fn pages_of_a_notice_that_were_fetched_before_a_value_of_the_same_day_are_superseded() {
    let kit = shortened();
    kit.raise("mandatory");
    let (fetch, scanned) = (|| fetched(&kit), |pdf: &[u8]| scan(&kit, pdf));
    let first = fetch();
    assert_eq!(scanned(&first)["state"], "current", "{}", scanned(&first));
    assert!(text(&first).contains("N1/P1/0"), "its pieces bear which set they are of");
    kit.measure(904.0);
    let second = fetch();
    assert!(text(&second).contains("N1/P1/1") && !text(&second).contains("N1/P1/0"));
    assert_eq!(scanned(&first)["state"], "superseded", "{}", scanned(&first));
    assert_eq!(scanned(&second)["state"], "current", "{}", scanned(&second));
    assert_eq!(scanned(&second)["page"]["told"], 1);
    // Told as before, the pages of then are right.
    kit.measure(905.0);
    assert_eq!(scanned(&second)["state"], "superseded");
    kit.measure(904.0);
    assert_eq!(scanned(&second)["state"], "current");
    assert!(text(&fetch()).contains("N1/P1/1"));
}

/// Of three sets one shows the parts as they were made.
#[test]
fn what_a_page_of_a_notice_says_once_it_is_done_depends_on_the_values_that_it_is_drawn_with() {
    let kit = shortened();
    kit.raise("mandatory");
    let plain = fetched(&kit);
    kit.measure(904.0);
    let made = fetched(&kit);
    kit.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kit.builder, &[], None).expect(200);
    let words = |pdf: &[u8]| scan(&kit, pdf)["words"].as_str().unwrap().to_owned();
    assert!(words(&made).contains("made from pages of the same set as this one stay"), "{}", words(&made));
    assert!(words(&plain).contains("drawn with other measured values than the kit has now"), "{}", words(&plain));
    let said = text(&fetched(&kit));
    assert!(said.contains("do none of it again") && said.contains("made from pages of this set stay"), "{said}");
    kit.measure(906.0);
    let later = fetched(&kit);
    assert!(words(&made).contains("drawn with other measured values than the kit has now"), "{}", words(&made));
    assert!(words(&later).starts_with("Compare:"), "{}", words(&later));
    // As they were when the notice was raised, all parts were made to them.
    kit.server.post("/v1/kits/K-1/measurements", &kit.builder, &json!({"height": null})).expect(200);
    let said = scan(&kit, &plain);
    assert!(said["state"] == "kept" && said["words"].as_str().unwrap().contains("Keep it"), "{said}");
    assert!(text(&fetched(&kit)).contains("are made as these pages show"));
    kit.measure(906.0);
    // A pack of the revision with the change does not say to leave them as they are.
    kit.issue(&json!({}));
    kit.move_to("B");
    kit.issue(&json!({}));
    let pack = text(&kit.server.get("/v1/kits/K-1/packs/3/file", &kit.builder).expect(200).body);
    assert!(pack.contains("the parts listed below may be made to other values"), "{pack}");
    assert!(!pack.contains("leave it as it was made") && !pack.contains("no longer those of this pack"), "{pack}");
    let said = kit.stands(3).1;
    assert!(said.contains("and since then") && said.contains("parts made for it may not fit any more"), "{said}");
}

#[test]
fn pages_of_a_notice_stop_with_their_kit_and_go_with_one_pack() {
    let kit = shortened();
    kit.raise("recommended");
    let first = fetched(&kit);
    kit.issue(&json!({}));
    let said = scan(&kit, &first);
    assert!(said["state"] == "superseded" && said["words"].as_str().unwrap().contains("got another pack"), "{said}");
    let second = fetched(&kit);
    assert_eq!(scan(&kit, &second)["state"], "current");
    kit.move_to("B");
    let said = scan(&kit, &second);
    assert!(said["words"].as_str().unwrap().contains("only to change parts that were made before that"), "{said}");
    assert!(!text(&fetched(&kit)).contains("What stays valid of pack 2"));
    kit.move_to("A");
    kit.server.post("/v1/designs/frame/revisions/A/recall", &kit.publisher, &a_recall()).expect(200);
    let said = scan(&kit, &second);
    assert!(said["state"] == "recalled" && said["words"].as_str().unwrap().starts_with("Recalled: stop"), "{said}");
}

/// By hand: the third post is measured too and no part of the notice: the pack has it 4 mm shorter than it is to be.
#[test]
fn rework_pages_cross_out_what_values_changed_since_the_pack_beside_them() {
    let kit = with_a_third_post("third");
    kit.raise("mandatory");
    assert!(!text(&fetched(&kit)).contains("are not in these pages"));
    kit.server.post("/v1/kits/K-1/measurements", &kit.builder, &json!({"third": 704.0})).expect(200);
    let said = text(&fetched(&kit));
    assert!(said.contains("they change parts that are not in these pages: third."), "{said}");
    let wraps = |named: &str| said.matches(named).count();
    assert_eq!(wraps("Wrap third"), 0, "it is no work of the notice: {said}");
    kit.issue(&json!({}));
    assert!(!text(&fetched(&kit)).contains("are not in these pages"), "pack 2 has it");
}

/// A pack of the other hand is out of date by itself, whatever the last pack knows.
#[test]
fn rework_pages_cross_out_what_values_changed_since_the_pack_of_the_other_hand() {
    let kit = with_a_third_post("third.L");
    kit.issue(&json!({"hands": "left"}));
    kit.raise("mandatory");
    kit.server.post("/v1/kits/K-1/measurements", &kit.builder, &json!({"third": 704.0})).expect(200);
    kit.issue(&json!({"hands": "right"}));
    let said = text(&fetched(&kit));
    assert!(
        said.contains("after pack 2 was drawn, and they change parts that are not in these pages: third.L."),
        "{said}"
    );
    kit.move_to("B");
    let refused = kit.server.post("/v1/kits/K-1/packs", &kit.publisher, &json!({"only_changes": true}));
    let refused = refused.problem(422, "invalid-request");
    assert!(refused["errors"][0]["detail"].as_str().unwrap().contains("other measured values"), "{refused}");
}

/// The kit of [`shortened`] with a post whose height is measured and that the change leaves alone.
fn with_a_third_post(mark: &str) -> OneKit {
    let frame = |post: &str| {
        let mut frame: Value = serde_json::from_str(&gauged(0).replace("[0,0,900]", post)).unwrap();
        frame["points"]["e"] = json!([900, 0, 0]);
        frame["points"]["f"] = json!([900, 0, 700]);
        frame["gauges"]["third"] =
            json!({"what": "Third post", "nominal": 700, "least": 690, "most": 710, "moves": {"f": [0, 0, 1]}});
        let ends = json!({"from": "square", "to": "square"});
        let third = json!({"id": mark, "section": "tube", "from": "e", "to": "f", "ends": ends});
        frame["members"].as_array_mut().unwrap().push(third);
        frame.to_string()
    };
    let server = Server::start();
    let publisher = server.publisher();
    create_design(&server, &publisher, "frame");
    publish_document(&server, &publisher, "frame", &frame("[0,0,900]"));
    publish_document(&server, &publisher, "frame", &frame("[0,0,890]"));
    create_kit(&server, &publisher, "K-1", "frame", "A");
    let kit = OneKit { builder: builder_token(&server, &publisher, "K-1"), server, publisher };
    kit.issue(&json!({}));
    kit
}
