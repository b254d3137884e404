//! How a pack stands, and with it its kit and each of its pages: one state and one sentence, said the same everywhere.

use super::ServiceError;
use super::drawn_with::{Kept, is_same};
use super::packs::print_of;
use super::revisions::known_document;
use super::states::{self, RevisionState, States};
use matchmark_core::document::Gauge;
use matchmark_core::pack::Hands;
use matchmark_store::Conn;
use matchmark_store::holds;
use matchmark_store::kits::KitRow;
use matchmark_store::measurements::{self, MeasuredRow};
use matchmark_store::notices::{self, NoticeKitRow};
use matchmark_store::packs::{self, PackRow};
use matchmark_store::revisions;
use matchmark_store::states as recorded;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use utoipa::ToSchema;

/// Whether a pack is still right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum PackState {
    /// It is the last one of its kit's revision, or has the templates of a hand that no later one has, and all of it holds.
    #[default]
    Current,
    /// Something of its kit was measured since it was drawn, so that not all of its parts fit.
    Outdated,
    /// Something is to be read or done first: a stop sheet of another revision, a mandatory notice, or a mandatory change of a later
    /// revision that no notice tells of yet.
    NoticeFirst,
    /// A later pack of its kit's revision was issued, or the kit was moved to another revision.
    Superseded,
    /// Its revision was withdrawn: no more kits are sold with it.
    Withdrawn,
    /// Its revision was recalled: nobody goes on with it before having read the stop sheet.
    Recalled,
}

impl PackState {
    /// The words for it.
    pub fn name(self) -> &'static str {
        match self {
            Self::Current => "current",
            Self::Outdated => "out of date",
            Self::NoticeFirst => "notice first",
            Self::Superseded => "superseded",
            Self::Withdrawn => "withdrawn",
            Self::Recalled => "recalled",
        }
    }
}

/// How a pack stands.
#[derive(Debug)]
pub(super) struct PackStanding {
    /// Whether it is still right.
    pub state: PackState,
    /// That in sentences which say what to do. They name no customer.
    pub words: String,
}

/// How a kit stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct KitStanding {
    /// Whether its pack is still right; absent while there is none of its revision.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub state: Option<PackState>,
    /// That in sentences which say what to do; those of its pack.
    pub words: String,
    /// Number of the pack to build from.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pack: Option<i64>,
    /// True while a hold on the kit stands: nothing to build from is handed out, however its pack stands.
    pub on_hold: bool,
}

/// All that is on record about how the packs of a kit stand.
pub(super) struct Standings {
    kit: KitRow,
    states: States,
    packs: Vec<(PackRow, Kept)>,
    gauges: BTreeMap<String, Gauge>,
    measured: Vec<MeasuredRow>,
    /// Mandatory ones that are not done.
    notices: Vec<NoticeKitRow>,
    /// Mandatory ones that are done, of a change that the kit's revision does not have.
    reworked: Vec<NoticeKitRow>,
    on_hold: bool,
    /// Recalled revisions whose stop sheet to the kit is not acknowledged.
    unread: Vec<String>,
    /// Later revisions with a mandatory change that no notice tells of yet, oldest first.
    untold: Vec<String>,
}

impl Standings {
    /// What is on record now.
    pub async fn read(conn: &mut Conn, kit: KitRow) -> Result<Self, ServiceError> {
        let mut of_kit = Vec::new();
        for row in packs::list(conn, &kit.serial).await? {
            let kept = Kept::of(conn, &row).await?;
            of_kit.push((row, kept));
        }
        let measured = measurements::list(conn, &kit.serial).await?;
        let mut gauges = BTreeMap::new();
        if !measured.is_empty() {
            let document = known_document(conn, &kit.design, &kit.revision).await?;
            let design = matchmark_core::document::read(&document).design;
            gauges = design.and_then(|design| design.gauges).unwrap_or_default();
        }
        let states = states::of_design(conn, &kit.design).await?;
        let mut notices = notices::of_kit(conn, &kit.serial).await?;
        notices.retain(|notice| notice.class == "mandatory");
        let (mut reworked, open): (Vec<_>, Vec<_>) = notices.into_iter().partition(|notice| notice.done_at.is_some());
        reworked.retain(|notice| states.comes_before(&kit.revision, &notice.to_revision));
        let untold = untold(conn, &kit, &states).await?;
        let on_hold = holds::list(conn, &kit.serial).await?.iter().any(|hold| hold.lifted_at.is_none());
        let recalls = recorded::recalls_of_kit(conn, &kit.serial).await?;
        let unread = recalls.into_iter().filter(|row| row.acknowledged_at.is_none()).map(|row| row.letter).collect();
        Ok(Self { states, on_hold, unread, packs: of_kit, gauges, measured, notices: open, reworked, untold, kit })
    }

    /// The packs of the kit, oldest first.
    pub fn packs(&self) -> impl Iterator<Item = &PackRow> {
        self.packs.iter().map(|(pack, _)| pack)
    }

    /// The pack to build from: the last one of the kit's revision.
    pub fn in_force(&self) -> Option<&PackRow> {
        self.packs().filter(|pack| pack.revision == self.kit.revision).last()
    }

    /// How a pack of the kit stands.
    pub fn of_pack(&self, pack: &PackRow) -> PackStanding {
        let (serial, number) = (&self.kit.serial, pack.number);
        if self.states.of(&pack.revision) == RevisionState::Recalled {
            return PackStanding { state: PackState::Recalled, words: recalled(serial, &pack.revision) };
        }
        if pack.revision != self.kit.revision {
            return PackStanding { state: PackState::Superseded, words: self.left_behind(pack) };
        }
        let later = self.in_place_of(pack);
        if !later.is_empty() {
            let (they, was) = (listed("pack", &later), if later.len() == 1 { "was" } else { "were" });
            let words = format!(
                "Superseded: {they} {was} issued for kit {serial} after pack {number}. Use {they}, and cross out every page of pack {number}."
            );
            return PackStanding { state: PackState::Superseded, words };
        }
        self.of_right_one(Some(pack))
    }

    /// How the kit stands: as its pack does.
    pub fn of_kit(&self) -> KitStanding {
        let pack = self.in_force();
        let PackStanding { state, words } = match pack {
            _ if self.states.of(&self.kit.revision) == RevisionState::Recalled => {
                PackStanding { state: PackState::Recalled, words: recalled(&self.kit.serial, &self.kit.revision) }
            }
            Some(pack) => self.of_pack(pack),
            None => self.of_right_one(None),
        };
        let has_state = pack.is_some() || state == PackState::Recalled;
        let (state, pack) = (has_state.then_some(state), pack.map(|pack| pack.number));
        KitStanding { state, words, pack, on_hold: self.on_hold }
    }

    /// The newest of the packs that take the place of one.
    pub fn superseded_by(&self, pack: &PackRow) -> Option<i64> {
        if pack.revision != self.kit.revision {
            return self.in_force().map(|pack| pack.number);
        }
        self.in_place_of(pack).last().copied()
    }

    /// Numbers of the packs that take the place of one, in order: of the kit's own revision alone, so that a kit that comes back to a
    /// revision has its pack of that again. A whole pack stays beside one of the changes alone, and a pack stays until there are
    /// later ones with all the hands that it has.
    fn in_place_of(&self, pack: &PackRow) -> Vec<i64> {
        let later: Vec<&PackRow> = self.packs().filter(|later| takes_place(later, pack)).collect();
        let newest = |hand: Hands| later.iter().filter(|later| has_hand(later, hand)).map(|later| later.number).max();
        let hands = [Hands::Left, Hands::Right].into_iter().filter(|hand| has_hand(pack, *hand));
        let found: Option<BTreeSet<i64>> = hands.map(newest).collect();
        found.unwrap_or_default().into_iter().collect()
    }

    /// What is to be said of the hand that a pack leaves to others: one that stays for one hand alone, or that holds one.
    fn of_other_hand(&self, pack: &PackRow) -> Option<String> {
        let number = pack.number;
        match print_of(pack).hands {
            Hands::Both => {
                let later = self.packs().filter(|later| takes_place(later, pack)).last()?;
                let gone = print_of(later).hands;
                Some(format!(
                    "Pack {} took the place of its {}-hand templates and of the parts of neither hand: use pack {number} for the {} hand alone, and cross out the rest of it.",
                    later.number,
                    gone.name(),
                    gone.other().name(),
                ))
            }
            hands => {
                let other = hands.other();
                let has_other = |of: &&PackRow| {
                    of.revision == pack.revision && has_hand(of, other) && self.in_place_of(of).is_empty()
                };
                let name = other.name();
                Some(match self.packs().filter(has_other).last() {
                    Some(beside) => format!("The {name}-hand templates are those of pack {}.", beside.number),
                    None => format!("No pack in force has the {name}-hand templates: have one issued for them."),
                })
            }
        }
    }

    /// What a pack of the kit was drawn with.
    fn kept(&self, pack: &PackRow) -> Option<&Kept> {
        self.packs.iter().find(|(own, _)| own.number == pack.number).map(|(_, kept)| kept)
    }

    /// What is said of a pack whose kit has another revision now.
    fn left_behind(&self, pack: &PackRow) -> String {
        let KitRow { serial, revision, .. } = &self.kit;
        let number = pack.number;
        let has = format!(
            "Superseded: kit {serial} has revision {revision} now, and pack {number} is of revision {}.",
            pack.revision
        );
        if self.states.of(revision) == RevisionState::Recalled {
            return format!(
                "{has} Stop: revision {revision} was recalled by the supplier. Read the stop sheet for kit {serial}, and cut from no pack of it until the supplier says from which."
            );
        }
        match self.in_force() {
            Some(own) if own.only_changes != 0 && self.before(own) == Some(number) => format!(
                "{has} Pack {} holds what changed: its pages take the place of those that they name in pack {number}. Read its first page before you cut from either.",
                own.number
            ),
            Some(own) => format!("{has} Use pack {}, and cross out every page of pack {number}.", own.number),
            None => format!("{has} Ask the supplier for its new pack, and cross out every page of pack {number}."),
        }
    }

    /// The pack that one of the changes alone goes with.
    fn before(&self, delta: &PackRow) -> Option<i64> {
        self.packs().filter(|pack| pack.number < delta.number).map(|pack| pack.number).max()
    }

    /// What stops all work on the kit: a stop sheet that was not read, and parts of a revision that was recalled after they were made.
    fn stops(&self) -> Vec<(PackState, String)> {
        let serial = &self.kit.serial;
        let mut said = Vec::new();
        if !self.unread.is_empty() {
            let words = format!(
                "Stop: revision {} was recalled, and its stop sheet for kit {serial} is not acknowledged. Read it to its end; nothing to build from is handed out before.",
                self.unread.join(" and revision ")
            );
            said.push((PackState::NoticeFirst, words));
        }
        let stopped =
            self.reworked.iter().filter(|notice| self.states.of(&notice.to_revision) == RevisionState::Recalled);
        for notice in stopped {
            let words = format!(
                "Stop: notice {} was done on {}, and revision {}, from which its parts were made, was recalled since. Use none of them until the supplier says how.",
                notice.number,
                day(notice.done_at.as_deref().unwrap_or_default()),
                notice.to_revision
            );
            said.push((PackState::NoticeFirst, words));
        }
        said
    }

    /// What is said of a pack that is the one to build from, or of a kit that has none of its revision yet.
    fn of_right_one(&self, pack: Option<&PackRow>) -> PackStanding {
        let KitRow { serial, revision, .. } = &self.kit;
        let mut said = self.stops();
        let (open, in_pack): (Vec<_>, Vec<_>) =
            self.notices.iter().partition(|notice| self.states.comes_before(revision, &notice.to_revision));
        if !open.is_empty() {
            let shown = pack.and_then(|pack| self.kept(pack)).map(|kept| kept.notices.as_slice());
            let missing = shown.is_some_and(|shown| open.iter().any(|notice| !shown.contains(&notice.number)));
            let mut words = self.notice_first(&open);
            if let Some(pack) = pack.filter(|_| missing) {
                words.push_str(&format!(" Pack {} was drawn before and does not say so.", pack.number));
            }
            said.push((PackState::NoticeFirst, words));
        }
        if !self.untold.is_empty() {
            let words = format!(
                "Ask the supplier first: {} a change that is mandatory for earlier revisions, and what it means for kit {serial} was not told yet. Cut and weld nothing until you know.",
                if self.untold.len() == 1 {
                    format!("revision {} has", self.untold[0])
                } else {
                    format!("revisions {} have", self.untold.join(", "))
                }
            );
            said.push((PackState::NoticeFirst, words));
        }
        if let Some(pack) = pack
            && let Some(words) = self.outdated(pack)
        {
            said.push((PackState::Outdated, words));
        }
        if self.states.of(revision) == RevisionState::Withdrawn {
            let words = format!(
                "Withdrawn: no more kits are sold with revision {revision}.{} Ask the supplier whether kit {serial} goes on with it before you cut.",
                match self.states.said_of(revision) {
                    Some(said) => format!(" The supplier says why: \"{}\"", said.reason),
                    None => String::new(),
                }
            );
            said.push((PackState::Withdrawn, words));
        }
        let state = said.first().map(|(state, _)| *state).unwrap_or_default();
        let mut words: Vec<String> = said.into_iter().map(|(_, words)| words).collect();
        match pack {
            None => words.insert(0, format!(
                "No pack yet: none of revision {revision} has been issued for kit {serial}. Ask the supplier for it, and build from no other."
            )),
            Some(pack) if words.is_empty() => words.push(self.current(pack)),
            Some(_) => {}
        }
        if let Some(pack) = pack {
            words.extend(self.of_other_hand(pack));
            words.extend(self.came_back(pack));
        }
        words.extend(self.reworked.iter().map(|notice| {
            format!(
                "Notice {} was done on {}: the parts that it names are those of its own pages, and their templates{} are not to be used.",
                notice.number,
                day(notice.done_at.as_deref().unwrap_or_default()),
                pack.map(|pack| format!(" in pack {}", pack.number)).unwrap_or_default(),
            )
        }));
        if self.states.of(revision).takes_kits()
            && let Some(said) = self.states.said_of(revision)
        {
            words.push(format!(
                "Revision {revision} was {} before, and put in force again on {}: \"{}\"",
                said.before,
                day(&said.at),
                said.reason
            ));
        }
        if !in_pack.is_empty() {
            words.push(format!(
                "{} not done: revision {revision} has the change, but parts made before it must not be used until {} done.",
                named(&in_pack, " is", " are"),
                if in_pack.len() == 1 { "it is" } else { "they are" },
            ));
        }
        if let Some(newer) = self.states.current().filter(|newer| self.states.comes_before(revision, newer)) {
            words.push(format!(
                "The design has a later revision, {newer}; a kit keeps its own until the supplier moves it. Never mix pages of both."
            ));
        }
        PackStanding { state, words: words.join(" ") }
    }

    /// What is said of a pack whose kit had another revision after it was issued.
    fn came_back(&self, pack: &PackRow) -> Option<String> {
        let between = self.packs().find(|other| other.number > pack.number && other.revision != pack.revision)?;
        let kept = self.reworked.iter().find(|notice| notice.to_revision == between.revision);
        let kept = kept.map(|notice| format!(", but for the parts of notice {}", notice.number)).unwrap_or_default();
        Some(format!(
            "The kit had revision {} in between: use nothing that was made to that{kept}. Where pages of pack {} were crossed out then, have it issued again.",
            between.revision, pack.number
        ))
    }

    fn current(&self, pack: &PackRow) -> String {
        let hands = match print_of(pack).hands {
            Hands::Both => String::new(),
            hands => format!(" with {}-hand templates", hands.name()),
        };
        format!(
            "Current: pack {} of {} is the last of revision {}{hands} for kit {}, which has that revision.",
            pack.number,
            day(&pack.issued_at),
            pack.revision,
            self.kit.serial
        )
    }

    /// Which notices are to be done before anything else; one whose revision was recalled since is to be left alone.
    fn notice_first(&self, open: &[&NoticeKitRow]) -> String {
        let serial = &self.kit.serial;
        let is_recalled = |notice: &&&NoticeKitRow| self.states.of(&notice.to_revision) == RevisionState::Recalled;
        let (stopped, open): (Vec<&NoticeKitRow>, Vec<&NoticeKitRow>) = open.iter().partition(is_recalled);
        let mut said = Vec::new();
        if !open.is_empty() {
            let (they_are, they_name) = if open.len() == 1 { ("it is", "it names") } else { ("they are", "they name") };
            said.push(format!(
                "Do {} first: {they_are} mandatory for kit {serial}, and no part that {they_name} may be made from pages of before the change.",
                named(&open, "", ""),
            ));
        }
        for notice in stopped {
            said.push(format!(
                "Stop: notice {} is mandatory for kit {serial}, and revision {}, which has its change, was recalled since. Make none of the parts that it names, old or new, until the supplier says how.",
                notice.number, notice.to_revision
            ));
        }
        said.join(" ")
    }

    /// What was measured since a pack was drawn and makes a difference to it.
    fn outdated(&self, pack: &PackRow) -> Option<String> {
        let kept = self.kept(pack)?;
        let now: BTreeMap<String, f64> = self.measured.iter().map(|value| (value.gauge.clone(), value.value)).collect();
        let said: Vec<String> = self
            .differing(&kept.measured, &now)
            .into_iter()
            .map(|gauge| {
                let what = self.gauges.get(gauge).map_or(gauge, |gauge| gauge.what.as_str());
                let newest = self.measured.iter().rfind(|value| value.gauge == *gauge);
                format!("\"{what}\" was measured on {}", newest.map(|value| day(&value.at)).unwrap_or_default())
            })
            .collect();
        (!said.is_empty()).then(|| {
            format!(
                "Out of date: {}, and pack {} was drawn without it. Have the pack drawn again, and cut what this changes from the new one.",
                said.join(", "),
                pack.number
            )
        })
    }

    /// The gauges of the kit's revision in which two sets of measured values differ. What was not measured is made to the figure.
    fn differing<'a>(&'a self, one: &BTreeMap<String, f64>, other: &BTreeMap<String, f64>) -> Vec<&'a str> {
        let value = |of: &BTreeMap<String, f64>, name: &str, gauge: &Gauge| {
            of.get(name).copied().unwrap_or_else(|| gauge.nominal.get())
        };
        let differs =
            |(name, gauge): &(&'a String, &'a Gauge)| !is_same(value(one, name, gauge), value(other, name, gauge));
        self.gauges.iter().filter(differs).map(|(name, _)| name.as_str()).collect()
    }
}

/// Later revisions, still in force or superseded, whose change is mandatory and that no notice tells of.
async fn untold(conn: &mut Conn, kit: &KitRow, states: &States) -> Result<Vec<String>, ServiceError> {
    let later = revisions::list(conn, &kit.design).await?.into_iter().filter(|revision| {
        revision.class.as_deref() == Some("mandatory")
            && states.comes_before(&kit.revision, &revision.letter)
            && states.of(&revision.letter).takes_kits()
    });
    let later: Vec<String> = later.map(|revision| revision.letter).collect();
    if later.is_empty() {
        return Ok(later);
    }
    let told = notices::list(conn, &kit.design).await?;
    let is_told = |letter: &String| told.iter().any(|notice| !states.comes_before(&notice.to_revision, letter));
    Ok(later.into_iter().filter(|letter| !is_told(letter)).collect())
}

/// Whether a pack is issued after another of its revision and not one of the changes alone beside a whole one.
fn takes_place(later: &PackRow, pack: &PackRow) -> bool {
    let is_beside = later.only_changes != 0 && pack.only_changes == 0;
    later.number > pack.number && later.revision == pack.revision && !is_beside
}

fn has_hand(pack: &PackRow, hand: Hands) -> bool {
    let hands = print_of(pack).hands;
    hands == Hands::Both || hands == hand
}

/// `pack 4`, or `packs 4 and 5`.
fn listed(what: &str, numbers: &[i64]) -> String {
    let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    match numbers.split_last() {
        Some((last, [])) => format!("{what} {last}"),
        Some((last, rest)) => format!("{what}s {} and {last}", rest.join(", ")),
        None => String::new(),
    }
}

/// What is said of everything of a recalled revision.
fn recalled(serial: &str, letter: &str) -> String {
    format!(
        "Recalled: stop. Revision {letter} was recalled by the supplier. Read the stop sheet for kit {serial}, and do what it says, before you cut, weld or use anything."
    )
}

/// `Notice 1 is`, or `notices 1 and 3 are`, as the words after it want.
fn named(notices: &[&NoticeKitRow], one: &str, more: &str) -> String {
    let numbers: Vec<String> = notices.iter().map(|notice| notice.number.to_string()).collect();
    let start = if one.is_empty() { "n" } else { "N" };
    match numbers.split_last() {
        Some((last, [])) => format!("{start}otice {last}{one}"),
        Some((last, rest)) => format!("{start}otices {} and {last}{more}", rest.join(", ")),
        None => String::new(),
    }
}

/// The day of a time as RFC 3339 writes it.
fn day(at: &str) -> &str {
    at.get(..10).unwrap_or_default()
}
