//! A measured value that was a mistake is taken back, and all that was drawn with it says so.

use super::standing::{OneKit, one_kit};
use crate::browser::Browser;
use crate::packs::seals::codes;
use serde_json::{Value, json};

const MEASUREMENTS: &str = "/v1/kits/K-1/measurements";

fn send(kit: &OneKit, body: &Value) -> Value {
    kit.server.post(MEASUREMENTS, &kit.builder, body).expect(200).json()
}

fn drawn_with(kit: &OneKit, number: u32) -> String {
    let path = format!("/v1/kits/K-1/packs/{number}/manifest");
    let account = kit.server.get(&path, &kit.builder).expect(200).json();
    account["pages"].as_array().unwrap().iter().map(|page| page["texts"].to_string()).collect()
}

#[test]
fn null_takes_a_value_back_and_the_history_keeps_both() {
    let kit = one_kit();
    assert_eq!(send(&kit, &json!({"height": null}))["measured"], json!({}), "there is none to take back");
    kit.measure(905.0);
    kit.issue(&json!({}));
    assert!(drawn_with(&kit, 2).contains("905 mm"), "drawn with the value");
    let said = send(&kit, &json!({"height": null}));
    assert_eq!((&said["measured"], &said["affected"]), (&json!({}), &json!([])), "{said}");
    assert!(said["taken_back"]["height"].as_str().unwrap().starts_with("20"), "{said}");
    assert_eq!(kit.server.get(MEASUREMENTS, &kit.builder).expect(200).json(), said);
    let history = kit.server.get(&format!("{MEASUREMENTS}/history"), &kit.builder).expect(200).json();
    let rows = history["measurements"].as_array().unwrap();
    assert_eq!(rows.iter().map(|row| row["value"].clone()).collect::<Vec<_>>(), [json!(905.0), Value::Null]);
    assert!(rows.iter().all(|row| row["at"].is_string() && row["by"] == rows[0]["by"]), "{history}");

    let (state, words) = kit.stands(2);
    assert_eq!(state, "outdated");
    assert!(words.contains("the measured value of \"Post, foot to top\" was taken back on 20"), "{words}");
    assert!(words.contains("pack 2 was drawn before that"), "{words}");
    kit.issue(&json!({}));
    assert_eq!(kit.state(3), "current");
    assert!(!drawn_with(&kit, 3).contains("905 mm"), "drawn to the figure again");
    // A value that comes later counts as ever.
    kit.measure(906.0);
    assert_eq!(kit.state(3), "outdated");
    let said = kit.server.get(MEASUREMENTS, &kit.builder).expect(200).json();
    assert!(said["measured"]["height"] == 906.0 && said.get("taken_back").is_none(), "{said}");
}

#[test]
fn an_emptied_field_takes_a_value_back_and_the_page_says_so() {
    let kit = one_kit();
    let mut page = Browser::with_token(&kit.server, &kit.builder);
    let form = "/kits/K-1/measurements";
    page.get(form).expect(200).says("To take a value back, empty its field");
    page.fill_in(form, form, &[("measured-height", "905")]).expect(303);
    kit.issue(&json!({}));
    page.get("/kits/K-1").says(">905<");
    assert_eq!(page.fill_in(form, form, &[("measured-height", "")]).expect(303).leads_to(), "/kits/K-1");
    page.get("/kits/K-1").says("taken back on 20").says("Out of date").says_nothing_of(">905<");
    assert_eq!(send(&kit, &json!({}))["measured"], json!({}));
    // A form that was opened while there was no value takes none back that came since.
    let opened = page.get(form).expect(200).hidden(form);
    kit.measure(904.0);
    let mut fields: Vec<(&str, &str)> = opened.iter().map(|(name, value)| (name.as_str(), value.as_str())).collect();
    fields.push(("measured-height", ""));
    page.send_form(form, &fields).expect(303);
    assert_eq!(send(&kit, &json!({}))["measured"], json!({"height": 904.0}));
}

#[test]
fn the_pages_of_a_notice_are_drawn_without_a_value_that_was_taken_back() {
    let kit = one_kit();
    kit.raise("mandatory");
    let pages = || kit.server.get("/v1/kits/K-1/notices/1/pages", &kit.builder).expect(200).body;
    let without = pages();
    kit.measure(905.0);
    let with = pages();
    assert_ne!(with, without);
    send(&kit, &json!({"height": null}));
    assert_eq!(pages(), without);
    let code = codes(&with)[0].clone();
    let said = kit.server.get(&format!("/v1/pages/{code}"), "").expect(200).json();
    assert!(said["words"].as_str().unwrap().contains("measured or taken back"), "{said}");
}
