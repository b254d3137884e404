//! Times, sizes and states as people read them.

use crate::words::Words;
use matchmark_core::pack::Paper;
use matchmark_service::{Answered, ChangeClass, Counts, PackState, RevisionState};
use maud::{Markup, html};

/// The day of a recorded time.
pub fn day(at: &str) -> &str {
    at.get(..10).unwrap_or(at)
}

/// Day and minute of a recorded time, in UTC.
pub fn minute(words: &Words, at: &str) -> String {
    match (at.get(..10), at.get(11..16)) {
        (Some(day), Some(time)) => words.values.minute(day, time),
        _ => at.to_owned(),
    }
}

/// A recorded time that machines can read too.
pub fn time(words: &Words, at: &str) -> Markup {
    html! { time datetime=(at) { (minute(words, at)) } }
}

/// When something was answered, in words, and by whom.
pub fn answered(words: &Words, when: &str, by: Option<&Answered>) -> String {
    let says = &words.answers;
    let Some(by) = by else { return when.to_owned() };
    match (by.role.as_deref(), &by.name) {
        (None, _) => says.by_gone(when),
        (Some("builder"), _) => says.by_holder(when),
        (Some(desk), None) => says.on_behalf(when, role(words, desk)),
        (Some(desk), Some(name)) => says.on_behalf_named(when, role(words, desk), name),
    }
}

/// The day on which something was answered, and by whom.
pub fn answered_on(words: &Words, at: Option<&str>, by: Option<&Answered>) -> String {
    answered(words, at.map(day).unwrap_or_default(), by)
}

/// What a role of the API is called.
pub fn role<'a>(words: &Words, role: &'a str) -> &'a str {
    match role {
        "publisher" => words.answers.role_publisher(),
        "support" => words.answers.role_support(),
        "builder" => words.answers.role_builder(),
        other => other,
    }
}

/// The size of a file.
pub fn size(words: &Words, bytes: i64) -> String {
    match bytes {
        ..1_000 => words.values.bytes(many(bytes), bytes),
        1_000..1_000_000 => words.values.kilobytes((bytes + 500) / 1_000),
        _ => words.values.megabytes(format!("{}.{}", bytes / 1_000_000, bytes % 1_000_000 / 100_000)),
    }
}

/// A length or a part of one, as a slot takes it.
pub fn number(value: f64) -> String {
    value.to_string()
}

/// How many there are, as a phrase that hangs on a count takes it.
pub fn many(number: i64) -> usize {
    usize::try_from(number).unwrap_or_default()
}

/// The state of a revision: a shape and a word.
pub fn state(words: &Words, state: RevisionState) -> Markup {
    let says = &words.revision_state;
    let (class, mark, word) = match state {
        RevisionState::Published => ("tag good", "\u{25cf}", says.published()),
        RevisionState::Superseded => ("tag", "\u{25cb}", says.superseded()),
        RevisionState::Withdrawn => ("tag", "\u{25b3}", says.withdrawn()),
        RevisionState::Recalled => ("tag stop", "\u{25a0}", says.recalled()),
    };
    tag(class, mark, word)
}

/// A shape and a word.
pub fn tag(class: &str, mark: &str, word: &str) -> Markup {
    html! { span class=(class) { span aria-hidden="true" { (mark) " " } (word) } }
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
pub fn pack_state(words: &Words, state: PackState) -> Markup {
    let says = &words.pack_state;
    let (class, word) = match state {
        PackState::Current => ("tag good", says.current()),
        PackState::Superseded => ("tag", says.superseded()),
        PackState::Outdated => ("tag", says.outdated()),
        PackState::Withdrawn => ("tag", says.withdrawn()),
        PackState::NoticeFirst => ("tag stop", says.notice_first()),
        PackState::Recalled => ("tag stop", says.recalled()),
    };
    tag(class, pack_mark(state).1, word)
}

/// A paper, by its name in the API.
pub fn paper<'a>(words: &Words, name: &'a str) -> &'a str {
    match Paper::ALL.into_iter().find(|paper| paper.name() == name) {
        None => name,
        Some(Paper::A4) => words.paper.a4(),
        Some(Paper::A3) => words.paper.a3(),
        Some(Paper::Letter) => words.paper.letter(),
        Some(Paper::Tabloid) => words.paper.tabloid(),
        Some(Paper::Roll) => words.paper.roll(),
    }
}

/// How much a change matters: a shape and a word.
pub fn class(words: &Words, class: ChangeClass) -> Markup {
    let says = &words.change_class;
    let (style, mark, word) = match class {
        ChangeClass::Mandatory => ("tag stop", "\u{25a0}", says.mandatory()),
        ChangeClass::Recommended => ("tag good", "\u{25b2}", says.recommended()),
        ChangeClass::Optional => ("tag", "\u{25cb}", says.optional()),
    };
    tag(style, mark, word)
}

/// The class with this name.
pub fn class_named(name: &str) -> Option<ChangeClass> {
    [ChangeClass::Mandatory, ChangeClass::Recommended, ChangeClass::Optional]
        .into_iter()
        .find(|class| class.name() == name)
}

/// The classes to choose from.
pub fn classes(words: &Words) -> [(String, String); 4] {
    let says = &words.change_class;
    [
        ("", says.choose()),
        (ChangeClass::Mandatory.name(), says.choose_mandatory()),
        (ChangeClass::Recommended.name(), says.choose_recommended()),
        (ChangeClass::Optional.name(), says.choose_optional()),
    ]
    .map(|(value, words)| (value.to_owned(), words.to_owned()))
}

/// Parts by what becomes of them, in a sentence.
pub fn counts(words: &Words, counts: &Counts) -> String {
    let says = &words.changes;
    let Counts { unchanged, moved, rework, replace, added, removed } = *counts;
    let sums = [
        (unchanged, says.unchanged(unchanged, unchanged)),
        (moved, says.moved(moved, moved)),
        (rework, says.to_rework(rework, rework)),
        (replace, says.to_replace(replace, replace)),
        (added, says.added(added, added)),
        (removed, says.removed(removed, removed)),
    ];
    list(words, sums.map(|(count, said)| (count > 0, said))).unwrap_or_else(|| says.none().to_owned())
}

/// Those that are to be said, one after the other; `None` when there are none.
pub fn list<const N: usize>(words: &Words, said: [(bool, String); N]) -> Option<String> {
    joined(words, said.into_iter().filter(|(is_said, _)| *is_said).map(|(_, said)| said))
}

/// One after the other; `None` when there are none.
pub fn joined(words: &Words, said: impl Iterator<Item = String>) -> Option<String> {
    said.reduce(|begun, next| words.values.list(begun, next))
}
