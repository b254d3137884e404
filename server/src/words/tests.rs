use super::{EN, marked};
use maud::html;
use std::collections::BTreeMap;

#[test]
fn no_group_says_the_same_twice() {
    let mut twice = Vec::new();
    for (group, phrases) in EN.each() {
        assert!(!phrases.is_empty());
        let mut names: BTreeMap<&str, &str> = BTreeMap::new();
        for (name, template) in phrases {
            if let Some(other) = names.insert(template, name).filter(|other| *other != name) {
                twice.push(format!("{group}: {other} and {name}"));
            }
        }
    }
    assert!(twice.is_empty(), "one phrase has one name: {twice:#?}");
}

#[test]
fn a_slot_with_markup_is_not_escaped_and_all_else_is() {
    let said = marked("A & {part} of {whole}", &[("part", &html! { b { "x < y" } }), ("whole", &"<z>")]);
    assert_eq!(said.into_string(), "A &amp; <b>x &lt; y</b> of &lt;z&gt;");
}
