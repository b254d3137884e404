//! Reading documents: every finding in one go, and a JSON Schema that says the same as the reader.

use matchmark_core::document::{self, Severity};
use serde_json::{Value, json};

fn good() -> Value {
    json!({
        "format": "matchmark-design/1", "name": "Bench frame", "description": "For tests", "notes": ["One note"],
        "materials": {"cds": {"name": "Cold drawn seamless", "density": 7850, "tensile": 500}},
        "sections": {
            "hoop": {"round": {"od": 45, "wall": 2.5}, "material": "cds", "springback": 2.5, "clamp": 60},
            "box": {"rect": {"width": 40, "height": 20, "wall": 2, "corner": 4}, "material": "cds"},
            "spigot": {"round": {"od": 39.5, "wall": 3}, "material": "cds"},
        },
        "stock": [{"section": "hoop", "lengths": [6000, 7500]}, {"section": "box", "lengths": [6000]}, {"section": "spigot", "lengths": [3000]}],
        "points": {"a.L": [0, 500, 0], "b.L": [0, 500, 900], "c": [0, 0, 450], "d": [900, 0, 450]},
        "members": [
            {"id": "hoop", "section": "hoop", "path": ["a.L", "b.L", "b.R", "a.R"], "radius": 135, "leave_long": {"from": 40, "to": 40}},
            {"id": "bar.L", "section": "hoop", "from": [0, 500, 300], "to": "c", "mirror": true, "gap": 0.5, "note": "Tack first",
             "ends": {"from": {"cope": ["hoop"]}, "to": {"mitre": {"normal": [0, 1, 0], "through": "c"}}}},
            {"id": "tail", "section": "hoop", "from": "c", "to": "d", "ends": {"to": "square"}},
            {"id": "spigot", "section": "spigot", "from": [850, 0, 450], "to": [1000, 0, 450], "when": {"tow": "fitted"},
             "ends": {"from": {"plug": {"into": "tail", "depth": 40}}, "to": "square"}},
            {"id": "post", "section": "box", "from": [400, 0, 450], "to": [400, 0, 700], "roll": 15, "part": "P-7", "roll_structure": "brace",
             "ends": {"from": {"face": {"of": "tail", "clock": 0}}, "to": {"cope": ["foot"], "mitre": {"normal": [0, 0, 1]}}}},
            {"id": "rod", "section": "spigot", "from": [1900, 0, 0], "to": [2050, 0, 0]},
            {"id": "collar", "section": "hoop", "from": [2000, 0, 0], "to": [2200, 0, 0], "ends": {"from": {"sleeve": {"over": "rod", "depth": 10}}, "to": "square"}},
        ],
        "plates": {
            "foot": {"thickness": 4, "material": "cds", "outline": [[-60, -60], {"at": [60, -60], "round": 8}, {"to": [60, 60], "through": [70, 0]}, [-60, 60]],
                "place": {"at": [400, 0, 690], "normal": [0, 0, 1], "along": [1, 0, 0]},
                "holes": [{"at": [40, 0], "diameter": 9, "countersink": 14}], "part": "P-8", "note": "Bolt first"},
            "tab.L": {"thickness": 3, "material": "cds", "outline": [[0, 0], [30, 0], [0, 30]], "mirror": true, "after": "tail", "when": {"tow": "fitted"},
                "place": {"on": "bar.L", "station": 100, "clock": 90}},
        },
        "holes": {"h.L": {"member": "bar.L", "station": 120, "clock": 90, "diameter": 6.5, "both_walls": true, "mirror": true, "note": "Clip", "when": {"tow": "none"}},
            "side": {"member": "post", "station": 100, "clock": 90, "offset": 2, "diameter": 5}},
        "gauges": {"spread": {"what": "Foot to foot", "nominal": 1000, "least": 990, "most": 1010, "moves": {"a.L": [0, 0.5, 0]}}},
        "checks": {"width": {"what": "Width", "between": ["a.L", "a.R"], "along": "y", "class": "A"}, "free": {"between": ["c", [0, 0, 0]]}},
        "tolerance": "B", "base": -4, "part_prefix": "BF",
        "steps": [{"what": "Measure both diagonals.", "after": "bar.R", "checks": ["width"], "when": {"tow": "fitted"}}],
        "options": {"tow": {"what": "Tow sockets", "choices": ["fitted", "none"]}},
    })
}

#[test]
fn all_findings_come_in_one_go() {
    let mut text = good();
    text["colour"] = "red".into();
    text["sections"]["hoop"]["round"]["wall"] = (-1).into();
    text["points"]["bad name"] = json!([0, 0, 0]);
    text["members"][0]["radius"] = "135".into();
    text["members"][1]["gapp"] = 0.5.into();
    text["members"][2]["to"] = json!([1, 2]);
    let reading = document::read(&text.to_string());
    let found: Vec<(String, String)> =
        reading.findings.into_sorted().into_iter().map(|finding| (finding.pointer, finding.code)).collect();
    for wanted in [
        ("/colour", "unknown-field"),
        ("/sections/hoop/round/wall", "out-of-range"),
        ("/points/bad name", "bad-name"),
        ("/members/0/radius", "wrong-kind"),
        ("/members/1/gapp", "unknown-field"),
        ("/members/2/to", "wrong-kind"),
    ] {
        assert!(found.contains(&(wanted.0.to_owned(), wanted.1.to_owned())), "{wanted:?} is not among {found:?}");
    }
    assert_eq!(found.len(), 6, "{found:?}");
}

#[test]
fn a_document_may_name_its_schema_for_editors() {
    let mut text = good();
    text["$schema"] = "https://packs.example/v1/schemas/design".into();
    assert_eq!(document::read(&text.to_string()).findings.into_sorted(), []);
    text["$schema"] = 1.into();
    text["members"][0]["$schema"] = "https://packs.example/v1/schemas/design".into();
    let findings = document::read(&text.to_string()).findings.into_sorted();
    let places: Vec<&str> = findings.iter().map(|finding| finding.pointer.as_str()).collect();
    assert_eq!(places, ["/$schema", "/members/0/$schema"]);
}

#[test]
fn all_wrong_names_come_in_one_go_with_a_suggestion() {
    let mut text = good();
    text["sections"]["hoop"]["material"] = "cdz".into();
    text["members"][0]["path"][1] = "b.Left".into();
    text["members"][1]["ends"]["from"]["cope"][0] = "hop".into();
    text["members"][2]["section"] = "hoops".into();
    let findings = document::read(&text.to_string()).findings.into_sorted();
    let codes: Vec<&str> = findings.iter().map(|finding| finding.code.as_str()).collect();
    assert_eq!(codes, ["unknown-material", "unknown-point", "unknown-member", "unknown-section"]);
    assert!(
        findings.iter().all(|finding| finding.severity == Severity::Error && finding.message.contains("Did you mean"))
    );
    assert_eq!(findings[2].pointer, "/members/1/ends/from/cope/0");
}

#[test]
fn what_cannot_be_read_hides_nothing_else() {
    let mut text = good();
    text["sections"]["hoop"]["round"]["wall"] = (-2.5).into();
    text["members"][0]["note"] = 7.into();
    text["members"][2]["section"] = "hop".into();
    text["members"][1]["to"] = "e".into();
    let findings = document::read(&text.to_string()).findings.into_sorted();
    let found: Vec<(&str, &str)> =
        findings.iter().map(|finding| (finding.pointer.as_str(), finding.code.as_str())).collect();
    assert_eq!(
        found,
        [
            ("/sections/hoop/round/wall", "out-of-range"),
            ("/members/0/note", "wrong-kind"),
            ("/members/1/to", "unknown-point"),
            ("/members/2/section", "unknown-section"),
        ]
    );
}

#[test]
fn twice_given_names_and_broken_text_are_refused() {
    let twice =
        good().to_string().replacen("\"name\":\"Bench frame\"", "\"name\":\"Bench frame\",\"name\":\"Other\"", 1);
    let findings = document::read(&twice).findings.into_sorted();
    assert_eq!((findings[0].code.as_str(), findings[0].pointer.as_str()), ("duplicate-name", "/name"));
    let broken = document::read("{\"format\": ").findings.into_sorted();
    assert_eq!(broken[0].code, "not-json");
    let deep = "[".repeat(100_000);
    assert_eq!(document::read(&deep).findings.into_sorted()[0].code, "not-json");
}

/// RFC 8259, section 8.1: a parser may pass over a byte order mark rather than treat it as an error.
#[test]
fn a_byte_order_mark_changes_nothing() {
    let (plain, marked) = (good().to_string(), format!("\u{feff}{}", good()));
    let read = document::read(&marked);
    assert!(read.design.is_some(), "{:?}", read.findings.into_sorted());
    let hash = |text: &str| document::read(text).canonical.expect("JSON").sha256;
    assert_eq!(hash(&marked), hash(&plain));
    assert_eq!(document::read("{}\u{feff}").findings.into_sorted()[0].code, "not-json", "elsewhere it is no space");
}

#[test]
fn white_space_and_order_of_names_never_change_the_hash_and_order_of_members_does() {
    let hash = |text: &str| document::read(text).canonical.expect("JSON").sha256;
    let value = good();
    let mut turned = serde_json::Map::new();
    for (name, entry) in value.as_object().expect("an object").iter().rev() {
        turned.insert(name.clone(), entry.clone());
    }
    assert_eq!(hash(&value.to_string()), hash(&serde_json::to_string_pretty(&turned).expect("JSON")));
    assert_eq!(hash(&value.to_string()), hash(&value.to_string().replace("2.5", "2.50")));
    let mut swapped = value.clone();
    swapped["members"].as_array_mut().expect("a list").swap(0, 2);
    assert_ne!(hash(&value.to_string()), hash(&swapped.to_string()), "build order is part of the design");
}

/// Every way to spoil one value: taken out, of another kind, out of range, or with a field too many.
fn spoiled(value: &Value) -> Vec<Value> {
    fn walk(value: &Value, rebuild: &dyn Fn(Value) -> Value, out: &mut Vec<Value>) {
        let others = [
            json!(null),
            json!(true),
            json!(-5),
            json!(1e9),
            json!("odd value!"),
            json!("mild"),
            json!([]),
            json!({}),
            json!([1, 2, 3]),
        ];
        out.extend(others.into_iter().map(rebuild));
        match value {
            Value::Object(entries) => {
                let mut more = entries.clone();
                more.insert("another".to_owned(), json!(1));
                out.push(rebuild(Value::Object(more)));
                for name in entries.keys() {
                    let mut fewer = entries.clone();
                    fewer.remove(name);
                    out.push(rebuild(Value::Object(fewer)));
                    let inner = |new: Value| {
                        let mut changed = entries.clone();
                        changed.insert(name.clone(), new);
                        rebuild(Value::Object(changed))
                    };
                    walk(&entries[name], &inner, out);
                }
            }
            Value::Array(items) => {
                for index in 0..items.len() {
                    let inner = |new: Value| {
                        let mut changed = items.clone();
                        changed[index] = new;
                        rebuild(Value::Array(changed))
                    };
                    walk(&items[index], &inner, out);
                }
            }
            _ => {}
        }
    }
    let mut out = vec![value.clone()];
    walk(value, &|new| new, &mut out);
    out
}

#[test]
fn the_schema_and_the_reader_say_the_same_of_every_spoiled_document() {
    let schema = document::schema();
    let validator = jsonschema::draft202012::new(&schema).expect("the schema is one");
    // What no schema can say: what names refer to, and how the fields of one member go together.
    let beyond_schema = [
        "unknown-material",
        "unknown-section",
        "unknown-point",
        "unknown-member",
        "duplicate-member",
        "wall-too-thick",
        "zero-direction",
        "fitted-to-itself",
        "fitted-to-later",
        "mitre-unclear",
        "member-unclear",
        "radius-without-path",
        "short-path",
        "mirror-name",
        "mirror-member",
        "unknown-option",
        "unknown-choice",
        "unknown-check",
        "section-unclear",
        "corner-impossible",
        "place-unclear",
        "after-plate",
        "gauge-limits",
        "moved-twice",
        "check-points",
        "option-choices",
    ];
    let documents = spoiled(&good());
    assert!(documents.len() > 500);
    let (mut right, mut wrong) = (0, 0);
    for document in documents {
        let findings = document::read(&document.to_string()).findings.into_sorted();
        let structural: Vec<_> = findings
            .iter()
            .filter(|finding| !beyond_schema.contains(&finding.code.as_str()))
            .filter(|finding| {
                !(finding.code == "missing-field" && finding.message.contains("`radius` is missing here: a path"))
            })
            .collect();
        let valid = validator.is_valid(&document);
        assert_eq!(valid, structural.is_empty(), "schema says {valid}, reader says {structural:?} of {document}");
        if valid { right += 1 } else { wrong += 1 }
    }
    assert!(right > 50 && wrong > 300, "{right} {wrong}");
}

#[test]
fn a_pair_of_points_moves_once() {
    let mut document: Value = serde_json::from_str(include_str!("../../server/demo/rev_a.json")).unwrap();
    assert!(document::read(&document.to_string()).findings.into_sorted().is_empty());
    let moves = |document: &mut Value, moves: Value| document["gauges"]["hoop_spread"]["moves"] = moves;
    moves(&mut document, json!({"hoop_foot.L": [0, 0.5, 0], "hoop_foot.R": [0, -0.5, 0]}));
    let findings = document::read(&document.to_string()).findings.into_sorted();
    let [finding] = findings.as_slice() else { panic!("{findings:?}") };
    assert_eq!(finding.code, "moved-twice");
    assert_eq!(finding.pointer, "/gauges/hoop_spread/moves/hoop_foot.R");
    // Points that are both given move each by themselves.
    let right = json!([0, -560, 0]);
    document["points"]["hoop_foot.R"] = right;
    assert!(document::read(&document.to_string()).findings.into_sorted().is_empty());
}
