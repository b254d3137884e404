use super::{EN, PSEUDO, Words, answer_in, joined, of_problems};
use crate::ServiceError;
use crate::notices::message;
use crate::packs::page_facts::{LoosePage, Unknown};
use crate::rules::outbox::ToHolder;
use crate::rules::reasons::Recall;
use crate::rules::standing::facts::{Fact, Hand, Told};
use crate::rules::standing::words::said;
use matchmark_core::seal::SealError;
use matchmark_core::words::{TemplateSpan, pieces, said_twice};

#[test]
fn no_group_says_the_same_twice() {
    assert_eq!(said_twice(&EN.each()), [""; 0], "one phrase has one name");
}

#[test]
fn things_are_listed_with_an_and_before_the_last() {
    let list = |numbers: &[i64]| joined(&EN.lists, numbers);
    assert_eq!([list(&[]), list(&[4]), list(&[4, 5]), list(&[4, 5, 7])], ["", "4", "4 and 5", "4, 5 and 7"]);
}

/// What can hold of packs, kits and their pages, in each way in which it is said.
fn facts() -> Vec<Fact> {
    let text = str::to_owned;
    let (serial, letter) = (text("K-1"), text("B"));
    let day = text("2026-11-28");
    let told = |is_taken_back| Told { what: text("across the feet"), day: day.clone(), is_taken_back };
    let mut facts = vec![
        Fact::Recalled { serial: serial.clone(), letter: letter.clone() },
        Fact::BaseRecalled { pack: 3, letter: letter.clone() },
        Fact::DoneThenRecalled { notice: 4, day: day.clone(), letter: letter.clone() },
        Fact::Stopped { serial: serial.clone(), notice: 4, letter: letter.clone() },
        Fact::DrawnBefore { pack: 3 },
        Fact::MadeBefore { notice: 4, day: day.clone(), told: vec![told(false)] },
        Fact::OnHold { serial: serial.clone() },
        Fact::LaterRevision { newer: letter.clone() },
        Fact::NoPack { serial: serial.clone(), revision: letter.clone() },
        Fact::PageReplaced { page: 2, pack: 3, later: 5 },
        Fact::MovedOn { serial: serial.clone(), revision: letter.clone(), pack: 3, earlier: text("A") },
        Fact::MovedToRecalled { serial: serial.clone(), revision: letter.clone() },
        Fact::ReadWhatStays { own: 5, pack: 3 },
        Fact::UseInstead { own: 5, pack: 3 },
        Fact::AskForNew { pack: 3 },
        Fact::NotKept { page: 2, pack: 3, beside: 5, revision: letter.clone() },
    ];
    for some in [1, 2, 3] {
        let letters: Vec<String> = ["B", "C", "D"].into_iter().take(some).map(text).collect();
        let notices: Vec<i64> = (1..).take(some).collect();
        facts.extend([
            Fact::Unread { serial: serial.clone(), letters: letters.clone() },
            Fact::Untold { serial: serial.clone(), letters },
            Fact::DoFirst { serial: serial.clone(), notices: notices.clone() },
            Fact::NotDone { revision: letter.clone(), notices: notices.clone() },
            Fact::Replaced { serial: serial.clone(), pack: 3, later: notices.clone() },
            Fact::CameBack { pack: 3, between: letter.clone(), asking: notices },
        ]);
    }
    facts.push(Fact::CameBack { pack: 3, between: letter.clone(), asking: Vec::new() });
    for (is_so, some) in [(false, None), (true, Some(text("The foot is too weak.")))] {
        facts.extend([
            Fact::Withdrawn { serial: serial.clone(), revision: letter.clone(), reason: some.clone() },
            Fact::InForceAgain {
                revision: letter.clone(),
                was_recalled: is_so,
                day: day.clone(),
                reason: text("It is sound."),
            },
            Fact::Reworked { notice: 4, day: day.clone(), pack: is_so.then_some(3), told: vec![told(true)] },
        ]);
        for is_right in [false, true] {
            let (revision, cross_out) = (letter.clone(), some.clone());
            facts.push(Fact::Kept { page: 2, pack: 3, beside: 5, revision, cross_out, is_right });
        }
    }
    for hand in [None, Some(Hand::Left), Some(Hand::Right)] {
        let (serial, revision) = (serial.clone(), letter.clone());
        facts.push(Fact::Current { serial, pack: 3, day: day.clone(), revision, hand });
        facts.push(Fact::Outdated { pack: 3, hand, told: vec![told(false)] });
        facts.push(Fact::Outdated { pack: 3, hand, told: vec![told(false), told(true)] });
        let Some(hand) = hand else { continue };
        facts.extend([
            Fact::OtherHandReplaced { pack: 3, later: 5, gone: hand },
            Fact::PageStaysInPart { stays: hand },
            Fact::OtherHandIn { hand, pack: 3, is_outdated: false },
            Fact::OtherHandIn { hand, pack: 3, is_outdated: true },
            Fact::OtherHandNowhere { hand },
        ]);
    }
    facts
}

/// What can hold of pages for which no pack speaks.
fn pages() -> Vec<LoosePage> {
    let text = str::to_owned;
    let (serial, letter, day, notice) = (|| text("K-1"), || text("B"), || text("2026-11-28"), || text("4"));
    let unknown = [
        Unknown::NotSigning,
        Unknown::NotSigned(SealError::NotReadable),
        Unknown::NotSigned(SealError::Form(9)),
        Unknown::NotSigned(SealError::Signature),
        Unknown::NotSigned(SealError::Key),
        Unknown::Revoked,
        Unknown::VoidPack { serial: serial(), pack: 3 },
        Unknown::NoPack,
        Unknown::NotOfPack { serial: serial(), pack: text("3") },
        Unknown::NoRecall,
        Unknown::NoNotice,
    ];
    let known = [
        LoosePage::RecalledAgain { serial: serial(), letter: letter(), day: day() },
        LoosePage::StopSheet { serial: serial(), letter: letter(), page: 1, pages: 2 },
        LoosePage::RecallEnded { serial: serial(), letter: letter(), day: day(), reason: text("It is sound.") },
        LoosePage::NoticeStopped { serial: serial(), notice: notice(), letter: letter() },
        LoosePage::Done { serial: serial(), notice: notice(), day: day() },
        LoosePage::DoneThenMeasured { serial: serial(), notice: notice(), day: day() },
        LoosePage::Compare { serial: serial(), notice: notice(), day: day() },
        LoosePage::PackSince { serial: serial(), notice: notice() },
        LoosePage::KitMoved { serial: serial(), notice: notice(), revision: letter() },
        LoosePage::MeasuredSince { serial: serial(), notice: notice() },
        LoosePage::Current { serial: serial(), notice: notice(), letter: letter(), page: 1, pages: 2, day: day() },
    ];
    unknown.into_iter().map(LoosePage::Unknown).chain(known).collect()
}

/// All of that in a language.
fn all_said(words: &Words) -> Vec<String> {
    let of_packs = facts().into_iter().map(|fact| said(words, &[fact]));
    of_packs.chain(pages().iter().map(|page| page.said(words))).collect()
}

/// Whether a sentence is made of a template: its words stand there in their order.
fn is_of(sentence: &str, template: &str) -> bool {
    let mut rest = sentence;
    pieces(template).all(|piece| match piece {
        TemplateSpan::Slot(_) => true,
        TemplateSpan::Text(text) => rest.split_once(text).map(|(_, after)| rest = after).is_some(),
    })
}

#[test]
fn each_phrase_of_how_things_stand_is_said() {
    let said = all_said(&EN);
    let mut unsaid = Vec::new();
    for (group, phrases) in EN.each() {
        if ["standing", "hands", "moved", "before", "page", "loose_page"].contains(&group) {
            let unknown = phrases.iter().filter(|(_, template)| !said.iter().any(|said| is_of(said, template)));
            unsaid.extend(unknown.map(|(name, _)| format!("{group}.{name}")));
        }
    }
    assert!(unsaid.is_empty(), "{unsaid:#?}");
}

/// What a text says outside « ».
pub fn outside(text: &str) -> String {
    let mut depth = 0_usize;
    let mut outside = String::new();
    for letter in text.chars() {
        match letter {
            '\u{ab}' => depth += 1,
            '\u{bb}' => depth = depth.saturating_sub(1),
            _ if depth == 0 => outside.push(letter),
            _ => {}
        }
    }
    outside.trim().to_owned()
}

#[test]
fn how_things_stand_is_said_by_the_catalogue_alone() {
    assert_eq!(outside("\u{ab}K\u{ef}t \u{ab}K-1\u{bb}\u{bb} and \u{ab}x\u{bb}"), "and");
    let found: Vec<String> = all_said(&PSEUDO).into_iter().filter(|said| !outside(said).is_empty()).collect();
    assert!(found.is_empty(), "{found:#?}");
}

/// The subject and the lines of what is told of a recall, or of a notice of a class.
fn letter(words: &Words, class: &str) -> Vec<String> {
    let text = str::to_owned;
    let is_recall = class.is_empty();
    let told = ToHolder {
        event: text(if is_recall { "recall" } else { "notice" }),
        kit: text("K-1"),
        design: text("hoop"),
        revision: text("B"),
        class: text(class),
        text: text(if is_recall { "" } else { "Trim it." }),
        recall: is_recall.then(|| Recall {
            hazard: text("It breaks."),
            what_to_do: text("Stop."),
            remedies: text("A new one."),
        }),
    };
    let (subject, body) = message::letter(words, "A Works", &told, "https://a.example/kits/K-1", "The desk").unwrap();
    std::iter::once(subject.as_str()).chain(body.lines()).map(text).collect()
}

#[test]
fn letters_are_said_by_the_catalogue_and_the_supplier_alone() {
    let data =
        ["It breaks.", "Stop.", "A new one.", "Trim it.", "A Works", "https://a.example/kits/K-1", "The desk", ""];
    for class in ["", "mandatory", "recommended", "optional"] {
        for line in letter(&PSEUDO, class) {
            let outside = outside(&line);
            assert!(data.contains(&outside.as_str()), "{class}: {line}");
        }
    }
    assert_eq!(
        letter(&EN, "optional")[..2],
        ["A Works: an optional notice for kit K-1", "An optional notice concerns your kit."]
    );
    assert!(
        letter(&EN, "")
            .join("\n")
            .contains("\n\nHAZARD\nIt breaks.\n\nWHAT TO DO\nStop.\n\nWHAT WE OFFER\nA new one.\n\n")
    );
}

/// Refusals with facts of every type.
fn refusals() -> Vec<ServiceError> {
    let text = str::to_owned;
    vec![
        ServiceError::Hidden,
        ServiceError::UnknownDesign(text("hoop")),
        ServiceError::UnknownRevision { design: text("hoop"), letter: text("B") },
        ServiceError::NoWrap { member: text("sill"), end: 2 },
        ServiceError::VoidPack { kit: text("K-1"), pack: 3 },
        ServiceError::PacksUsedUp { most: 9, again: text("10:00"), seconds: 60 },
        ServiceError::Invalid(Vec::new()),
        ServiceError::StopSheetFirst { kit: text("K-1"), letter: text("B") },
        ServiceError::OutOfTime { seconds: 9 },
    ]
}

#[test]
fn refusals_are_said_by_the_catalogue_alone_and_carry_their_facts() {
    for error in refusals() {
        let said = [Some(error.said(&PSEUDO)), error.in_the_api(&PSEUDO)];
        let kind = [error.kind().title(&PSEUDO), error.kind().about(&PSEUDO)].map(str::to_owned);
        let said: Vec<String> = said.into_iter().flatten().collect();
        assert!(said.iter().all(|said| !said.contains('{')), "a fact is missing: {said:#?}");
        assert!(said.iter().chain(&kind).all(|said| outside(said).is_empty()), "{said:#?} {kind:#?}");
    }
    let [_, _, revision, wrap, .., sheet, _] = &refusals()[..] else { unreachable!() };
    assert_eq!(revision.to_string(), "Design hoop has no revision B.");
    assert!(wrap.to_string().starts_with("End 2 of sill has no wrap"), "{wrap}");
    assert!(sheet.in_the_api(&EN).unwrap().starts_with("GET /v1/kits/K-1/stop-sheets/B reads it"));
}

#[tokio::test]
async fn what_is_wrong_is_said_in_the_words_of_the_request() {
    assert_eq!(of_problems().fields.nul(), EN.fields.nul());
    let said = answer_in(&PSEUDO, async { of_problems().fields.nul() }).await;
    assert_eq!(said, PSEUDO.fields.nul());
}
