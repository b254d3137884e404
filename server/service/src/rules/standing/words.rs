//! The sentences that say how a pack or a kit stands. They say what to do, and name no customer.

use crate::rules::drawn_with::print_of;
use crate::rules::states::LastSaid;
use matchmark_core::pack::Hands;
use matchmark_store::kits::KitRow;
use matchmark_store::notices::NoticeKitRow;
use matchmark_store::packs::PackRow;

/// Of everything of a recalled revision.
pub(crate) fn recalled(serial: &str, letter: &str) -> String {
    format!(
        "Recalled: stop. Revision {letter} was recalled by the supplier. Read the stop sheet for kit {serial}, and do what it says, before you cut, weld or use anything."
    )
}

/// Of a kit whose recall was not read.
pub(crate) fn unread(serial: &str, letters: &[String]) -> String {
    match letters {
        [one] => format!(
            "Stop sheet first: revision {one} was recalled, and its stop sheet for kit {serial} is not acknowledged. Read it to the end; nothing to build from is handed out before that."
        ),
        more => format!(
            "Stop sheets first: revisions {} were recalled, and their stop sheets for kit {serial} are not acknowledged. Read them to the end; nothing to build from is handed out before that.",
            more.join(" and ")
        ),
    }
}

/// Of a pack of changes whose kept pages are of a recalled revision.
pub(crate) fn base_recalled(number: i64, letter: &str) -> String {
    format!(
        "Have a whole pack issued first: pack {number} holds only changes, and the pages that it belongs with are of revision {letter}, which was recalled."
    )
}

/// Of a notice that was done, and whose revision was recalled after that.
pub(crate) fn done_then_recalled(notice: &NoticeKitRow) -> String {
    format!(
        "Stop: notice {} was done on {}, but revision {}, from which its parts were made, has since been recalled. Use none of them until the supplier says how.",
        notice.number,
        day(notice.done_at.as_deref().unwrap_or_default()),
        notice.to_revision
    )
}

/// Of a notice that is not done, and whose revision was recalled.
pub(crate) fn stopped(serial: &str, notice: &NoticeKitRow) -> String {
    format!(
        "Stop: notice {} is mandatory for kit {serial}, but revision {}, which has its change, has since been recalled. Make none of the parts that it names, old or new, until the supplier says how.",
        notice.number, notice.to_revision
    )
}

/// Of notices that are to be done before anything else.
pub(crate) fn do_first(serial: &str, open: &[&NoticeKitRow]) -> String {
    let (they_are, they_name) = if open.len() == 1 { ("it is", "it names") } else { ("they are", "they name") };
    format!(
        "Do {} first: {they_are} mandatory for kit {serial}, and no part that {they_name} may be made from pages drawn before the change.",
        listed("notice", &numbers(open)),
    )
}

/// Of a pack that does not say so yet.
pub(crate) fn drawn_before(number: i64) -> String {
    format!(" Pack {number} was drawn earlier and does not say so.")
}

/// Of notices whose change the kit's revision has, and that are not done.
pub(crate) fn not_done(revision: &str, notices: &[&NoticeKitRow]) -> String {
    let (subject, verb, pronoun) = match notices {
        [_] => ("Notice", "is", "it"),
        _ => ("Notices", "are", "they"),
    };
    format!(
        "{subject} {} {verb} not done: revision {revision} has the change, but parts made before it must not be used until {pronoun} {verb} done.",
        joined(&numbers(notices)),
    )
}

/// Of a notice that is done while the kit's revision does not have its change.
pub(crate) fn reworked(notice: &NoticeKitRow, pack: Option<i64>) -> String {
    format!(
        "Notice {} was done on {}: make the parts that it names from its own pages, and do not use their templates{}.",
        notice.number,
        day(notice.done_at.as_deref().unwrap_or_default()),
        pack.map(|pack| format!(" in pack {pack}")).unwrap_or_default(),
    )
}

/// Of later revisions with a mandatory change of which nothing was told.
pub(crate) fn untold(serial: &str, letters: &[String]) -> String {
    let have = match letters {
        [one] => format!("revision {one} has"),
        more => format!("revisions {} have", more.join(", ")),
    };
    format!(
        "Ask the supplier first: {have} a change that is mandatory for earlier revisions, and nobody has said yet what it means for kit {serial}. Cut and weld nothing until you know."
    )
}

/// Of a value that came after the pack was drawn.
pub(crate) fn measured_on(what: &str, at: &str) -> String {
    format!("\"{what}\" was measured on {}", day(at))
}

/// Of a value that was taken back after the pack was drawn.
pub(crate) fn taken_back_on(what: &str, at: &str) -> String {
    format!("the measured value of \"{what}\" was taken back on {}", day(at))
}

/// Of a pack that was drawn before values were measured, or taken back.
pub(crate) fn outdated(number: i64, hands: Hands, measured: &[String], has_taken_back: bool) -> String {
    let how = if has_taken_back { "before that" } else { "without it" };
    let what = match hands {
        Hands::Both => "the pack".to_owned(),
        hands => format!("the pack with the {}-hand templates", hands.name()),
    };
    format!(
        "Out of date: {}, and pack {number} was drawn {how}. Have {what} drawn again, and cut the parts that this changes from the new one.",
        measured.join(", ")
    )
}

/// Of a kit on hold, before all else that is said of its packs.
pub(crate) fn on_hold(serial: &str) -> String {
    format!("On hold: the supplier holds kit {serial}. Cut nothing for it until the supplier lets it go.")
}

/// Of a withdrawn revision.
pub(crate) fn withdrawn(serial: &str, revision: &str, reason: Option<&str>) -> String {
    let why = reason.map(|reason| format!(" The supplier says why: \"{reason}\"")).unwrap_or_default();
    format!(
        "Withdrawn: no more kits are sold with revision {revision}.{why} Ask the supplier whether kit {serial} goes on with it before you cut."
    )
}

/// Of a revision that was put in force again.
pub(crate) fn in_force_again(revision: &str, said: &LastSaid) -> String {
    format!(
        "Revision {revision} was {} earlier and was put in force again on {}: \"{}\"",
        said.before,
        day(&said.at),
        said.reason
    )
}

/// Of a kit whose design has gone on.
pub(crate) fn later_revision(newer: &str) -> String {
    format!(
        "The design has a later revision, {newer}; a kit keeps its own until the supplier moves it. Never mix pages of both."
    )
}

/// Of a kit without a pack of its revision.
pub(crate) fn no_pack(serial: &str, revision: &str) -> String {
    format!(
        "No pack yet: none of revision {revision} has been issued for kit {serial}. Ask the supplier for one, and build from no other."
    )
}

/// Of the pack to build from, of which nothing else is to be said.
pub(crate) fn current(serial: &str, pack: &PackRow) -> String {
    let hands = match print_of(pack).hands {
        Hands::Both => String::new(),
        hands => format!(" with {}-hand templates", hands.name()),
    };
    format!(
        "Current: pack {} of {} is the last of revision {}{hands} for kit {serial}, which has that revision.",
        pack.number,
        day(&pack.issued_at),
        pack.revision,
    )
}

/// Of a pack with later ones of its revision.
pub(crate) fn replaced(serial: &str, number: i64, later: &[i64]) -> String {
    let (they, was) = (listed("pack", later), if later.len() == 1 { "was" } else { "were" });
    format!(
        "Superseded: {they} {was} issued for kit {serial} after pack {number}. Use {they}, and cross out every page of pack {number}."
    )
}

/// Of a pack of both hands whose templates of one hand, `gone`, are those of a later one.
pub(crate) fn other_hand_replaced(number: i64, later: i64, gone: Hands) -> String {
    format!(
        "Pack {later} replaced its {}-hand templates and the parts of neither hand: use pack {number} for the {} hand only, and cross out the rest of it.",
        gone.name(),
        gone.other().name(),
    )
}

/// Of a page of a pack of both hands that is of the hand of a later one, or of neither.
pub(crate) fn page_replaced(page: u16, of: i64, later: i64) -> String {
    format!(
        "Superseded: pack {later} replaced page {page} of pack {of}. Cross the page out, and use pack {later} instead."
    )
}

/// Of a page with templates of the hand that stays and others.
pub(crate) fn page_stays_in_part(stays: Hands, standing: &str) -> String {
    format!("Of this page only the {}-hand templates stay: cross out the rest of it. {standing}", stays.name())
}

/// Of a pack of one hand: where the templates of the other are.
pub(crate) fn other_hand(other: Hands, beside: Option<i64>, is_out_of_date: bool) -> String {
    let name = other.name();
    match beside {
        Some(beside) if is_out_of_date => format!(
            "The {name}-hand templates are in pack {beside}, which is out of date: have the pack with the {name}-hand templates drawn again."
        ),
        Some(beside) => format!("The {name}-hand templates are in pack {beside}."),
        None => format!("No pack in force has the {name}-hand templates: have one issued for them."),
    }
}

/// Of a pack whose kit had another revision in between; `asking` are the notices that ask for parts of that one.
pub(crate) fn came_back(number: i64, between: &str, asking: &[i64]) -> String {
    let kept = match asking {
        [] => String::new(),
        some => format!(
            ", except the parts that {} {} for",
            listed("notice", some),
            if some.len() == 1 { "asks" } else { "ask" }
        ),
    };
    format!(
        "The kit had revision {between} in between: use nothing that was made to that revision{kept}. If you crossed out pages of pack {number} then, have it issued again."
    )
}

/// Of a pack whose kit has another revision now.
pub(crate) fn moved_on(kit: &KitRow, pack: &PackRow) -> String {
    format!(
        "Superseded: kit {} has revision {} now, and pack {} is of revision {}.",
        kit.serial, kit.revision, pack.number, pack.revision
    )
}

/// What follows [`moved_on`] where the kit's revision was recalled.
pub(crate) fn moved_to_recalled(kit: &KitRow) -> String {
    format!(
        " Stop: revision {} was recalled by the supplier. Read the stop sheet for kit {}, and cut from none of its packs until the supplier says which to use.",
        kit.revision, kit.serial
    )
}

/// Of a page that a pack of changes keeps, whole or but for what is crossed out; `standing` is how that pack stands, and `is_right`
/// whether it is the one to build from without more ado.
pub(crate) fn kept(
    page: u16,
    of: i64,
    beside: &PackRow,
    cross_out: Option<&str>,
    standing: &str,
    is_right: bool,
) -> String {
    let but = cross_out.map(|what| format!(" once you have crossed out on this page: {what}")).unwrap_or_default();
    let kept = format!(
        "page {page} of pack {of} stays valid beside pack {} of revision {}, which holds the changes{but}.",
        beside.number, beside.revision
    );
    if is_right { format!("Kept: {kept} {standing}") } else { format!("{standing} But for that, {kept}") }
}

/// Of a page that a pack of changes does not keep.
pub(crate) fn not_kept(page: u16, of: i64, beside: &PackRow) -> String {
    format!(
        "Superseded: pack {} of revision {} holds the changes and does not keep page {page} of pack {of}. Cross the page out, and use pack {} instead.",
        beside.number, beside.revision, beside.number
    )
}

/// What follows it where the new pack holds what changed alone.
pub(crate) fn read_what_stays(own: i64, number: i64) -> String {
    format!(
        " Pack {own} holds the changes. Its pages \"What changed\" say which pages of pack {number} stay valid and which it replaces. Read them before you cut from either."
    )
}

/// What follows it where the new pack is whole.
pub(crate) fn use_instead(own: i64, number: i64) -> String {
    format!(" Use pack {own}, and cross out every page of pack {number}.")
}

/// What follows it where there is no new pack.
pub(crate) fn ask_for_new(number: i64) -> String {
    format!(" Ask the supplier for its new pack, and cross out every page of pack {number}.")
}

fn numbers(notices: &[&NoticeKitRow]) -> Vec<i64> {
    notices.iter().map(|notice| notice.number).collect()
}

/// `pack 4`, or `packs 4 and 5`.
fn listed(what: &str, numbers: &[i64]) -> String {
    let plural = if numbers.len() == 1 { "" } else { "s" };
    format!("{what}{plural} {}", joined(numbers))
}

/// `4`, or `4, 5 and 7`.
fn joined(numbers: &[i64]) -> String {
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    match numbers.split_last() {
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// The day of a time as RFC 3339 writes it.
fn day(at: &str) -> &str {
    at.get(..10).unwrap_or_default()
}
