use super::{EN, marked};
use matchmark_core::words::{TemplateSpan, pieces, said_twice};
use maud::html;

#[test]
fn no_group_says_the_same_twice() {
    assert_eq!(said_twice(&EN.each()), [""; 0], "one phrase has one name");
}

#[test]
fn a_slot_with_markup_is_not_escaped_and_all_else_is() {
    let said = marked("A & {part} of {whole}", &[("part", &html! { b { "x < y" } }), ("whole", &"<z>")]);
    assert_eq!(said.into_string(), "A &amp; <b>x &lt; y</b> of &lt;z&gt;");
}

/// Slots for how many there are.
const COUNTS: [&str; 15] = [
    "count",
    "number",
    "kits",
    "parts",
    "packs",
    "pages",
    "errors",
    "warnings",
    "all",
    "open",
    "seen",
    "done",
    "far",
    "acknowledged",
    "untouched",
];

/// Whether a template says a noun or a verb of many right after a count.
fn speaks_of_many(template: &str) -> bool {
    let pieces: Vec<TemplateSpan> = pieces(template).collect();
    let follows = |pair: &[TemplateSpan]| {
        let [TemplateSpan::Slot(slot), TemplateSpan::Text(text)] = pair else { return false };
        let word = text.strip_prefix(' ').and_then(|text| text.split(|c: char| !c.is_alphabetic()).next());
        let is_of_many = |word: &str| {
            ["are", "have", "were"].contains(&word)
                || (word.ends_with('s') && !["as", "is", "was", "has"].contains(&word))
        };
        COUNTS.contains(slot) && word.is_some_and(is_of_many)
    };
    pieces.windows(2).any(follows)
}

#[test]
fn what_hangs_on_a_count_is_said_for_one_too() {
    for (template, is) in [
        ("{count} kits", true),
        ("{open} have not", true),
        ("{count} as before", false),
        ("{count} of {all}", false),
        ("{letter} kits", false),
    ] {
        assert_eq!(speaks_of_many(template), is, "{template}");
    }
    let mut wrong = Vec::new();
    for (group, phrases) in EN.each() {
        for (name, template) in &phrases {
            // A counted phrase has two templates, of which the first is for one.
            let first = phrases.iter().find(|(other, _)| other == name).map(|(_, template)| *template);
            let is_counted = phrases.iter().filter(|(other, _)| other == name).count() == 2;
            if speaks_of_many(template) && (!is_counted || first == Some(*template)) {
                wrong.push(format!("{group}.{name}: {template}"));
            }
        }
    }
    assert!(wrong.is_empty(), "declare them counted, or say them otherwise: {wrong:#?}");
}
