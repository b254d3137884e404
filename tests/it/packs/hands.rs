//! Packs of two hands that go together, and one of both hands of which a later one replaced one.

use crate::fixtures::two_kits;
use crate::kits::standing::one_kit;
use crate::notices::rework_done::text;
use serde_json::{Value, json};

#[test]
fn a_kit_stands_as_the_worse_of_its_hands() {
    let kit = one_kit();
    kit.issue(&json!({"hands": "left"}));
    kit.measure(904.0);
    kit.issue(&json!({"hands": "right"}));
    let standing = || kit.server.get("/v1/kits/K-1", &kit.builder).expect(200).json()["standing"].clone();
    let said = standing();
    assert_eq!((&said["state"], &said["pack"]), (&json!("outdated"), &json!(3)), "{said}");
    let words = said["words"].as_str().unwrap();
    assert!(words.starts_with("Out of date:") && words.contains("pack 2 was drawn without it"), "{words}");
    assert!(words.contains("Have the pack with the left-hand templates drawn again"), "{words}");
    let right = kit.server.get("/v1/kits/K-1/packs/3", &kit.builder).expect(200).json();
    let words = right["words"].as_str().unwrap();
    assert!(right["state"] == "current" && words.contains("in pack 2, which is out of date"), "{words}");
    kit.issue(&json!({"hands": "left"}));
    assert_eq!(standing()["state"], "current");
    // A whole pack that goes on for one hand is of that hand.
    kit.issue(&json!({"hands": "both"}));
    kit.measure(905.0);
    kit.issue(&json!({"hands": "left"}));
    let said = standing();
    assert_eq!(said["state"], "outdated", "{said}");
    assert!(said["words"].as_str().unwrap().contains("the pack with the right-hand templates drawn again"), "{said}");
}

#[test]
fn a_page_that_a_pack_of_one_hand_replaced_is_superseded_though_its_pack_goes_on() {
    let kits = two_kits();
    let account = kits.server.get("/v1/kits/K-1/packs/1/manifest", &kits.first).expect(200).json();
    let pages = account["pages"].as_array().unwrap();
    let said = |page: &Value| {
        let code = page["code"].as_str().unwrap();
        kits.server.get(&format!("/v1/pages/{code}"), "").expect(200).json()
    };
    assert!(pages.iter().all(|page| said(page)["state"] == "current"));
    kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({"hands": "left"})).expect(201);
    let mut seen = [0; 4];
    for page in pages {
        let (title, said) = (page["title"].as_str().unwrap(), said(page));
        let (state, words) = (said["state"].as_str().unwrap(), said["words"].as_str().unwrap());
        let (has_left, has_right) = (title.contains("post.L"), title.contains("post.R"));
        let is_template = page["true_scale"] == true;
        match (title == "Cover", is_template && has_right, has_left) {
            (true, ..) => {
                seen[0] += 1;
                assert!(state == "current" && words.contains("use pack 1 for the right hand"), "{title}: {said}");
            }
            (_, true, true) => {
                seen[1] += 1;
                let part = "Of this page only the right-hand templates stay: cross out the rest of it.";
                assert!(state == "current" && words.starts_with(part), "{title}: {said}");
            }
            (_, true, false) => {
                seen[2] += 1;
                assert!(state == "current" && words.starts_with("Current"), "{title}: {said}");
            }
            (_, false, _) => {
                seen[3] += 1;
                let gone = format!("Superseded: pack 2 replaced page {} of pack 1.", page["page"]);
                assert!(state == "superseded" && words.starts_with(&gone), "{title}: {said}");
            }
        }
    }
    assert!(seen[0] > 0 && seen[1] + seen[2] > 0 && seen[3] > 1, "{seen:?}");
}

/// Or a wrap of the other hand would be in no page that stays valid.
#[test]
fn a_pack_of_changes_and_one_of_one_hand_come_together_only_where_all_templates_stay() {
    let kit = one_kit();
    let refused = |body: &Value, pointer: &str, said: &str| {
        let problem = kit.server.post("/v1/kits/K-1/packs", &kit.publisher, body).problem(422, "invalid-request");
        let fault = &problem["errors"][0];
        assert!(fault["pointer"] == pointer && fault["detail"].as_str().unwrap().contains(said), "{problem}");
    };
    let changes = json!({"only_changes": true});
    // Pack 1 has both hands, and pack 2 replaced one of them.
    kit.issue(&json!({"hands": "left"}));
    kit.move_to("B");
    refused(&changes, "/only_changes", "The kit's last pack, 2, has the templates of one hand");
    // On revision B pack 3 has one hand alone, and no pack the other.
    kit.issue(&json!({"hands": "left"}));
    kit.move_to("A");
    refused(&changes, "/only_changes", "The kit's last pack, 3, has the templates of one hand");
    // Packs 3 and 4 are one of each, and pack 5 holds what changed of both.
    kit.move_to("B");
    kit.issue(&json!({"hands": "right"}));
    kit.move_to("A");
    kit.issue(&changes);
    refused(&json!({"hands": "left"}), "/hands", "The kit's last pack, 5, holds only changes");
    kit.issue(&json!({}));
}

#[test]
fn the_pages_of_a_notice_name_both_packs_that_they_go_with() {
    let kits = two_kits();
    kits.server.post("/v1/kits/K-1/packs", &kits.support, &json!({"hands": "left"})).expect(201);
    let notice = json!({"from": "A", "to": "B", "class": "mandatory", "text": "The posts are 4 mm longer."});
    kits.server.post("/v1/designs/frame/notices", &kits.publisher, &notice).expect(201);
    let text = text(&kits.server.get("/v1/kits/K-1/notices/1/pages", &kits.first).expect(200).body);
    assert!(text.contains("for the holder of packs 1 and 2 of revision A"), "{text}");
    assert!(!text.contains("0 of them"), "{text}");
}
