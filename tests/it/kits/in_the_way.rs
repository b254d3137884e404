//! What stands in the way of building is said wherever a pack is named: at the pack before, at the kit that came back, at a kit on hold.

use super::standing::{OneKit, one_kit};
use crate::browser::Browser;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

#[test]
fn whoever_is_led_to_another_pack_reads_what_stands_in_its_way() {
    let kit = one_kit();
    kit.issue(&json!({}));
    assert!(kit.stands(1).1.ends_with("cross out every page of pack 1."));
    kit.measure(905.0);
    let (state, words) = kit.stands(1);
    assert_eq!(state, "superseded");
    assert!(words.contains("Use pack 2") && words.contains("Out of date: \"Post"), "{words}");
    kit.raise("mandatory");
    assert!(kit.stands(1).1.contains("Do notice 1 first"));
    // Where the kit was moved as well.
    kit.move_to("B");
    kit.issue(&json!({}));
    assert!(kit.stands(1).1.ends_with("cross out every page of pack 1."), "pack 3 has the change and the value");
    kit.measure(906.0);
    assert!(kit.stands(1).1.contains("Use pack 3") && kit.stands(1).1.contains("pack 3 was drawn without it"));
}

#[test]
fn parts_that_a_notice_asks_for_are_used_though_the_kit_came_back() {
    let kit = one_kit();
    kit.raise("mandatory");
    kit.move_to("B");
    kit.issue(&json!({}));
    kit.move_to("A");
    let (state, words) = kit.stands(1);
    assert_eq!(state, "notice-first");
    let except = "use only parts whose numbers stand in pack 1 too and have no /M, and those that notice 1 asks for.";
    assert!(words.contains(except), "{words}");
    kit.server.send("POST", "/v1/kits/K-1/notices/1/completion", &kit.builder, &[], None).expect(200);
    assert!(kit.stands(1).1.contains(except), "{}", kit.stands(1).1);
}

fn hold(kit: &OneKit) {
    let body = json!({"reason": "Reported stolen.", "ask": "the office"});
    kit.server.post("/v1/kits/K-1/holds", &kit.publisher, &body).expect(201);
}

#[test]
fn whoever_scans_a_page_of_a_kit_on_hold_reads_to_cut_nothing() {
    let kit = one_kit();
    kit.raise("recommended");
    let (code, file) = (kit.code(1), kit.server.get("/v1/kits/K-1/packs/1/file", &kit.builder).expect(200).body);
    let notice = kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).expect(200).body;
    let of_notice = crate::packs::seals::codes(&notice)[0].clone();
    hold(&kit);
    let held = "On hold: the supplier holds kit K-1. Cut nothing for it until the supplier lets it go.";
    let get = |path: &str| kit.server.get(path, "").expect(200);
    for code in [&code, &of_notice] {
        let said = get(&format!("/v1/pages/{code}")).json();
        assert!(said["words"].as_str().unwrap().starts_with(held) && said["on_hold"] == true, "{said}");
        let page = String::from_utf8(get(&format!("/P/{code}")).body).unwrap();
        assert!(page.contains(held) && page.contains("On hold: cut nothing") && !page.contains("stolen"), "{page}");
    }
    let sum = data_encoding::HEXLOWER.encode(&Sha256::digest(&file));
    let said = get(&format!("/v1/files/{sum}")).json();
    assert!(said["words"].as_str().unwrap().contains(held) && !said.to_string().contains("stolen"), "{said}");
    let words = |value: &Value| value["words"].as_str().unwrap().to_owned();
    let said = kit.server.get("/v1/kits/K-1/packs/1", &kit.builder).expect(200).json();
    assert!(words(&said).starts_with(held), "{said}");
    // The page of the kit does not promise drawings that are not handed out.
    kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).problem(409, "kit-on-hold");
    let page = Browser::with_token(&kit.server, &kit.builder);
    let work = "keep it, and fit it to the new measures";
    let shown = page.get("/kits/K-1").expect(200);
    shown
        .says("the words of notices")
        .says("drawings of a notice are not handed out")
        .says("The foot stands 10 mm further out.")
        .says("On hold: do none of the work of this notice")
        .says_nothing_of(work);
    kit.server.post("/v1/kits/K-1/holds/1/lifting", &kit.publisher, &json!({"reason": "Found."})).expect(200);
    page.get("/kits/K-1").expect(200).says(work).says_nothing_of("On hold");
    let said = get(&format!("/v1/pages/{code}")).json();
    assert!(said["on_hold"] == false && words(&said).starts_with("Current"), "{said}");
}
