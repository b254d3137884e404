//! How a pack stands, said in the same words by the API, the code of its pages, the page of its kit and the desk.

use crate::browser::Browser;
use crate::fixtures::{builder_token, create_design, create_kit, publish_document, recall, two_kits};
use crate::server::Server;
use serde_json::{Value, json};

/// A post whose height is measured, and made to 900 mm; `foot` is where it stands.
pub fn gauged(foot: u32) -> String {
    json!({
        "format": "matchmark-design/1",
        "name": "Measured Frame",
        "materials": {"cds": {"name": "cold drawn seamless", "density": 7850}},
        "sections": {"tube": {"round": {"od": 45, "wall": 2.5}, "material": "cds"}},
        "points": {"a": [0, foot, 0], "b": [0, foot, 900], "c": [500, 0, 0], "d": [500, 0, 800]},
        "gauges": {"height": {"what": "Post, foot to top", "nominal": 900, "least": 890, "most": 910, "moves": {"b": [0, 0, 1]}}},
        "members": [
            {"id": "post", "section": "tube", "from": "a", "to": "b", "ends": {"from": "square", "to": "square"}},
            {"id": "other", "section": "tube", "from": "c", "to": "d", "ends": {"from": "square", "to": "square"}}
        ]
    })
    .to_string()
}

/// One kit, K-1 on revision A of two, with a pack.
pub struct OneKit {
    pub server: Server,
    pub publisher: String,
    pub builder: String,
}

pub fn one_kit() -> OneKit {
    let server = Server::start();
    let publisher = server.publisher();
    create_design(&server, &publisher, "frame");
    publish_document(&server, &publisher, "frame", &gauged(0));
    publish_document(&server, &publisher, "frame", &gauged(10));
    create_kit(&server, &publisher, "K-1", "frame", "A");
    let kit = OneKit { builder: builder_token(&server, &publisher, "K-1"), server, publisher };
    kit.issue(&json!({}));
    kit
}

impl OneKit {
    pub fn issue(&self, body: &Value) -> Value {
        self.server.post("/v1/kits/K-1/packs", &self.publisher, body).expect(201).json()
    }

    pub fn move_to(&self, revision: &str) {
        let body = json!({"revision": revision, "reason": "For a test."});
        self.server.post("/v1/kits/K-1/moves", &self.publisher, &body).expect(201);
    }

    pub fn measure(&self, value: f64) {
        self.server.post("/v1/kits/K-1/measurements", &self.builder, &json!({"height": value})).expect(200);
    }

    pub fn raise(&self, class: &str) {
        let body = json!({"from": "A", "to": "B", "class": class, "text": "The foot stands 10 mm further out."});
        self.server.post("/v1/designs/frame/notices", &self.publisher, &body).expect(201);
    }

    /// State and words of a pack, the same wherever they are said.
    #[track_caller]
    pub fn stands(&self, number: u32) -> (String, String) {
        let (server, builder) = (&self.server, &self.builder);
        let text = |value: &Value| value.as_str().unwrap_or_else(|| panic!("no text: {value}")).to_owned();
        let pack = server.get(&format!("/v1/kits/K-1/packs/{number}"), builder).expect(200).json();
        let said = (text(&pack["state"]), text(&pack["words"]));
        let listed = server.get("/v1/kits/K-1/packs", builder).expect(200).json();
        let listed = listed["packs"].as_array().unwrap().iter().find(|pack| pack["number"] == number).unwrap().clone();
        assert_eq!((text(&listed["state"]), text(&listed["words"])), said, "the list");
        let code = self.code(number);
        let scanned = server.get(&format!("/v1/pages/{code}"), "").expect(200).json();
        assert_eq!((text(&scanned["state"]), text(&scanned["words"])), said, "the code of its first page");
        let html = said.1.replace('"', "&quot;");
        let page = String::from_utf8(server.get(&format!("/P/{code}"), "").expect(200).body).unwrap();
        assert!(page.contains(&html), "{html:?} in {page}");
        let desk = Browser::with_token(server, &self.publisher);
        desk.get("/support?q=K-1").expect(200).says(&html);
        desk.get("/kits/K-1").expect(200).says(&html);
        let answer = server.get("/v1/support/lookup?q=K-1", &self.publisher).expect(200).json();
        let kit = &answer["kits"][0];
        let among = kit["packs"].as_array().unwrap().iter().find(|pack| pack["number"] == number).unwrap();
        assert_eq!(text(&among["words"]), said.1, "the desk");
        let alone = server.get("/v1/kits/K-1", builder).expect(200).json();
        assert_eq!(alone["standing"], kit["standing"]);
        if kit["standing"]["pack"] == number {
            let standing = (text(&kit["standing"]["state"]), text(&kit["standing"]["words"]));
            // Where it stands worse than this pack, that is by the pack of the other hand.
            let of_other = |pack: &Value| (text(&pack["state"]), text(&pack["words"])) == standing;
            let is_worse = said.0 == "current" && standing.0 != "current";
            assert!(standing == said || is_worse && kit["packs"].as_array().unwrap().iter().any(of_other), "{kit}");
        }
        said
    }

    pub fn code(&self, number: u32) -> String {
        let path = format!("/v1/kits/K-1/packs/{number}/manifest");
        let account = self.server.get(&path, &self.publisher).expect(200).json();
        account["pages"][0]["code"].as_str().unwrap().to_owned()
    }

    pub fn state(&self, number: u32) -> String {
        self.stands(number).0
    }
}

#[test]
fn a_kit_that_comes_back_to_a_revision_has_its_pack_of_that_again() {
    let kit = one_kit();
    kit.move_to("B");
    let (state, words) = kit.stands(1);
    assert_eq!(state, "superseded");
    assert!(words.contains("has revision B now") && words.contains("Ask the supplier for its new pack"), "{words}");
    kit.issue(&json!({}));
    assert!(kit.stands(1).1.contains("Use pack 2"));
    kit.move_to("A");
    assert_eq!((kit.state(1), kit.state(2)), ("current".to_owned(), "superseded".to_owned()));
    assert!(kit.stands(2).1.contains("Use pack 1"), "the one of its own revision, though it is older");
    let second = kit.server.get("/v1/kits/K-1/packs/2", &kit.builder).json();
    assert_eq!(second["superseded_by"], 1);
    let page = Browser::with_token(&kit.server, &kit.builder);
    page.get("/kits/K-1").says("Download pack 1").says_nothing_of("Download pack 2");
    // A pack of its own revision takes its place as ever.
    kit.issue(&json!({}));
    assert_eq!((kit.state(1), kit.state(3)), ("superseded".to_owned(), "current".to_owned()));
}

#[test]
fn what_was_measured_since_makes_a_pack_out_of_date_if_it_makes_a_difference() {
    let kit = one_kit();
    assert_eq!(kit.state(1), "current");
    // The nominal value, as the pack was drawn.
    kit.measure(900.0);
    assert_eq!(kit.state(1), "current");
    kit.measure(905.0);
    let (state, words) = kit.stands(1);
    assert_eq!(state, "outdated");
    assert!(words.starts_with("Out of date: \"Post, foot to top\" was measured on 20"), "{words}");
    assert!(words.contains("pack 1 was drawn without it"), "{words}");
    let page = Browser::with_token(&kit.server, &kit.builder);
    page.get("/kits/K-1").says("Out of date").says_nothing_of("Right for your kit").says_nothing_of("Current:");
    kit.issue(&json!({}));
    assert_eq!((kit.state(1), kit.state(2)), ("superseded".to_owned(), "current".to_owned()));
    // The same again, and then back to what the first was drawn with.
    kit.measure(905.0);
    assert_eq!(kit.state(2), "current");
    kit.measure(900.0);
    assert_eq!(kit.state(2), "outdated");
}

#[test]
fn packs_of_two_hands_go_together_while_they_are_drawn_with_the_same_values() {
    let kit = one_kit();
    kit.issue(&json!({"hands": "left"}));
    kit.measure(904.0);
    kit.issue(&json!({"hands": "right"}));
    // No other pack has the left hand, and this one is from before the value.
    assert_eq!((kit.state(2), kit.state(3)), ("outdated".to_owned(), "current".to_owned()));
    kit.issue(&json!({"hands": "left"}));
    assert_eq!(kit.state(2), "superseded");
    assert_eq!((kit.state(3), kit.state(4)), ("current".to_owned(), "current".to_owned()));
    kit.measure(903.0);
    assert_eq!((kit.state(3), kit.state(4)), ("outdated".to_owned(), "outdated".to_owned()));
}

#[test]
fn an_open_mandatory_notice_comes_first_for_packs_of_before_its_change() {
    let kit = one_kit();
    kit.raise("recommended");
    assert_eq!(kit.state(1), "current", "a recommendation stops nobody");
    kit.raise("mandatory");
    let (state, words) = kit.stands(1);
    assert_eq!(state, "notice-first");
    assert!(words.starts_with("Do notice 2 first") && words.contains("Pack 1 was drawn earlier"), "{words}");
    // One that shows it has it to be done first all the same.
    kit.issue(&json!({}));
    let (state, words) = kit.stands(2);
    assert_eq!(state, "notice-first");
    assert!(!words.contains("was drawn earlier"), "{words}");
    kit.measure(905.0);
    let (state, words) = kit.stands(2);
    assert_eq!(state, "notice-first");
    assert!(words.contains("Out of date"), "both are said: {words}");
    kit.issue(&json!({}));
    // The pages of a revision that has the change are right; what was made before is not.
    kit.move_to("B");
    kit.issue(&json!({}));
    let (state, words) = kit.stands(4);
    assert_eq!(state, "current");
    assert!(words.contains("Notice 2 is not done") && words.contains("revision B has the change"), "{words}");
    kit.server.send("POST", "/v1/kits/K-1/notices/2/completion", &kit.builder, &[], None).expect(200);
    assert!(!kit.stands(4).1.contains("otice 2"));
    kit.move_to("A");
    assert_eq!(kit.state(3), "current", "done is done");
}

#[test]
fn the_worst_is_said_first_and_nothing_is_kept_back() {
    let kit = one_kit();
    let revision = |step: &str, body: Value| {
        kit.server.post(&format!("/v1/designs/frame/revisions/A/{step}"), &kit.publisher, &body).expect(200);
    };
    revision("withdrawal", json!({"reason": "For a test."}));
    assert_eq!(kit.state(1), "withdrawn");
    kit.measure(905.0);
    let (state, words) = kit.stands(1);
    assert_eq!(state, "outdated");
    assert!(words.contains("Withdrawn:"), "{words}");
    kit.raise("mandatory");
    assert_eq!(kit.state(1), "notice-first");
    kit.issue(&json!({}));
    assert_eq!(kit.state(1), "superseded");
    revision("recall", crate::fixtures::a_recall());
    assert_eq!((kit.state_of_code(1), kit.state_of_code(2)), ("recalled".to_owned(), "recalled".to_owned()));
}

impl OneKit {
    /// The state that a scan says, by a code that was read before the packs were closed.
    fn state_of_code(&self, number: u32) -> String {
        let pack = self.server.get(&format!("/v1/kits/K-1/packs/{number}"), &self.builder).expect(200).json();
        pack["state"].as_str().unwrap().to_owned()
    }
}

#[test]
fn a_kit_without_a_pack_of_its_revision_says_so() {
    let kits = two_kits();
    let body = json!({"revision": "B", "reason": "For a test."});
    kits.server.post("/v1/kits/K-1/moves", &kits.publisher, &body).expect(201);
    let page = Browser::with_token(&kits.server, &kits.first);
    page.get("/kits/K-1").says("No pack yet: none of revision B has been issued for kit K-1");
    let answer = kits.server.get("/v1/support/lookup?q=K-1", &kits.support).expect(200).json();
    let standing = &answer["kits"][0]["standing"];
    assert!(standing.get("state").is_none() && standing.get("pack").is_none(), "{standing}");
    recall(&kits, "B");
    page.get("/kits/K-1").says("Recalled: stop");
}

/// A pack of before what it was drawn with was kept: it is told by the days.
#[tokio::test(flavor = "multi_thread")]
async fn a_pack_of_an_earlier_version_is_told_by_what_was_on_record_when_it_was_issued() {
    let kit = one_kit();
    kit.measure(905.0);
    kit.issue(&json!({}));
    kit.measure(906.0);
    let OneKit { server, publisher, builder } = kit;
    let data = server.stop();
    let mut records = data.open().await;
    let trigger = if crate::place::on_postgres() {
        ["ALTER TABLE packs DISABLE TRIGGER packs_never_change", "ALTER TABLE packs ENABLE TRIGGER packs_never_change"]
    } else {
        [
            "DROP TRIGGER packs_never_change",
            "CREATE TRIGGER packs_never_change BEFORE UPDATE ON packs BEGIN SELECT RAISE(ABORT, 'an issued pack never changes'); END",
        ]
    };
    for statement in [trigger[0], "UPDATE packs SET drawn_with = ''", trigger[1]] {
        records.execute(statement).await.unwrap();
    }
    drop(records);
    let kit = OneKit { server: Server::start_in(data), publisher, builder };
    assert_eq!(kit.state(2), "outdated");
    kit.measure(905.0);
    assert_eq!(kit.state(2), "current");
}
