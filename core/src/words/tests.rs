use super::{Plural, fill_slots, has_slots, said_twice, same_slots, slots_are_among};

crate::phrases! {
    /// Words on a box.
    Carton {
        heading();
        packed_on(day, place);
    } + counted {
        tubes(count);
    }
}

static EN: Carton = Carton {
    heading: "Box",
    packed_on: "Packed on {day} in {place}",
    tubes: Plural { one: "{count} tube", other: "{count} tubes" },
}
.checked();

#[test]
fn a_phrase_is_said_with_its_slots() {
    assert_eq!(EN.heading(), "Box");
    assert_eq!(EN.packed_on("2026-11-28", String::from("Leeds")), "Packed on 2026-11-28 in Leeds");
    assert_eq!([EN.tubes(0, 0_usize), EN.tubes(1, 1_usize), EN.tubes(2, "two")], ["0 tubes", "1 tube", "two tubes"]);
    assert_eq!(EN.each().len(), 4);
}

#[test]
fn a_slot_that_is_missing_or_misspelt_is_refused() {
    assert!(has_slots("of {day}, {day} and {place}", &["day", "place"]));
    for (template, names) in [
        ("of {day}", &["day", "place"][..]),
        ("of {dya}", &["day"]),
        ("of {day", &["day"]),
        ("{da}", &["day"]),
        ("{day} {x}", &["day"]),
    ] {
        assert!(!has_slots(template, names), "{template}");
    }
    assert!(has_slots("plain", &[]));
}

#[test]
fn a_translation_has_the_slots_of_what_it_translates() {
    assert!(same_slots("of {day} in {place}", "in {place}, {day}: {place}") && same_slots("plain", "other"));
    for other in ["of {day}", "of {day} in {place} by {whom}", "of {day} in {plce}", "of {day} in {place"] {
        assert!(!same_slots("of {day} in {place}", other) && !same_slots(other, "of {day} in {place}"), "{other}");
    }
    assert!(slots_are_among("of {day}", &["day", "place"]) && !slots_are_among("of {dya}", &["day", "place"]));
}

#[test]
fn a_pseudo_language_changes_every_template() {
    let loud = EN.map(&|template| Box::leak(format!("\u{ab}{template}\u{bb}").into_boxed_str()));
    assert_eq!(loud.packed_on("today", "here"), "\u{ab}Packed on today in here\u{bb}");
    assert_eq!(loud.tubes(1, "1"), "\u{ab}1 tube\u{bb}");
}

#[test]
fn what_is_no_slot_stays() {
    assert_eq!(fill_slots("a {b} c", &[("b", &"{x}")]), "a {x} c");
}

#[test]
fn no_group_says_the_same_twice() {
    assert_eq!(said_twice(&super::EN.each()), [""; 0], "one phrase has one name");
}

#[test]
fn what_two_phrases_say_is_found_and_a_slot_alone_says_nothing() {
    let group = |phrases: &[(&'static str, &'static str)]| vec![("carton", phrases.to_vec())];
    assert_eq!(said_twice(&group(&[("one", "Box"), ("other", "Box"), ("third", "Lid")])), ["carton: one and other"]);
    assert_eq!(said_twice(&group(&[("one", "{what}"), ("other", "{what}"), ("third", "a"), ("third", "a")])), [""; 0]);
    assert_eq!(said_twice(&group(&[])), ["carton says nothing"]);
}
