//! Times, sizes and states as people read them.

use matchmark_service::{Answered, ChangeClass, Counts, PackState, RevisionState};
use maud::{Markup, html};

/// The day of a recorded time.
pub fn day(at: &str) -> &str {
    at.get(..10).unwrap_or(at)
}

/// Day and minute of a recorded time, in UTC.
pub fn minute(at: &str) -> String {
    match (at.get(..10), at.get(11..16)) {
        (Some(day), Some(time)) => format!("{day} {time} UTC"),
        _ => at.to_owned(),
    }
}

/// A recorded time that machines can read too.
pub fn time(at: &str) -> Markup {
    html! { time datetime=(at) { (minute(at)) } }
}

/// When something was answered, and by whom.
pub fn answered(at: Option<&str>, by: Option<&Answered>) -> String {
    let words = by.map(|by| format!(" {}", by.words())).unwrap_or_default();
    format!("{}{words}", at.map(day).unwrap_or_default())
}

/// The size of a file.
pub fn size(bytes: i64) -> String {
    match bytes {
        ..1_000 => format!("{bytes} bytes"),
        1_000..1_000_000 => format!("{} kB", (bytes + 500) / 1_000),
        _ => format!("{}.{} MB", bytes / 1_000_000, bytes % 1_000_000 / 100_000),
    }
}

/// A number and what it counts.
pub fn count(number: i64, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// The state of a revision: a shape and a word.
pub fn state(state: RevisionState) -> Markup {
    let (class, mark) = match state {
        RevisionState::Published => ("tag good", "\u{25cf}"),
        RevisionState::Superseded => ("tag", "\u{25cb}"),
        RevisionState::Withdrawn => ("tag", "\u{25b3}"),
        RevisionState::Recalled => ("tag stop", "\u{25a0}"),
    };
    html! { span class=(class) { span aria-hidden="true" { (mark) " " } (state.name()) } }
}

/// The box that says how a pack stands, and its shape.
pub fn pack_mark(state: PackState) -> (&'static str, &'static str) {
    match state {
        PackState::Current => ("state", "\u{25cf}"),
        PackState::Superseded => ("state warn", "\u{2717}"),
        PackState::Outdated => ("state warn", "\u{25d2}"),
        PackState::Withdrawn => ("state warn", "\u{25b3}"),
        PackState::NoticeFirst => ("state stop", "\u{25b2}"),
        PackState::Recalled => ("state stop", "\u{25a0}"),
    }
}

/// The state of a pack: a shape and a word.
pub fn pack_state(state: PackState) -> Markup {
    let class = match state {
        PackState::Current => "tag good",
        PackState::Superseded | PackState::Outdated | PackState::Withdrawn => "tag",
        PackState::NoticeFirst | PackState::Recalled => "tag stop",
    };
    let (_, mark) = pack_mark(state);
    html! { span class=(class) { span aria-hidden="true" { (mark) " " } (state.name()) } }
}

/// How much a change matters: a shape and a word.
pub fn class(class: ChangeClass) -> Markup {
    let (style, mark) = match class {
        ChangeClass::Mandatory => ("tag stop", "\u{25a0}"),
        ChangeClass::Recommended => ("tag good", "\u{25b2}"),
        ChangeClass::Optional => ("tag", "\u{25cb}"),
    };
    html! { span class=(style) { span aria-hidden="true" { (mark) " " } (class.name()) } }
}

/// The class with this name.
pub fn class_named(name: &str) -> Option<ChangeClass> {
    [ChangeClass::Mandatory, ChangeClass::Recommended, ChangeClass::Optional]
        .into_iter()
        .find(|class| class.name() == name)
}

/// The classes to choose from.
pub fn classes() -> [(String, String); 4] {
    [
        ("", "Choose"),
        ("mandatory", "Mandatory: the old parts must not be used as they are"),
        ("recommended", "Recommended: the frame is better for it"),
        ("optional", "Optional: a matter of taste or convenience"),
    ]
    .map(|(value, words)| (value.to_owned(), words.to_owned()))
}

/// Parts by what becomes of them, in a sentence.
pub fn counts(counts: &Counts) -> String {
    let Counts { unchanged, moved, rework, replace, added, removed } = *counts;
    let named = [
        (unchanged, "unchanged"),
        (moved, "moved in place"),
        (rework, "to rework"),
        (replace, "to replace"),
        (added, "added"),
        (removed, "removed"),
    ];
    let said: Vec<String> =
        named.into_iter().filter(|(count, _)| *count > 0).map(|(count, word)| format!("{count} {word}")).collect();
    if said.is_empty() { "no parts".to_owned() } else { said.join(", ") }
}
