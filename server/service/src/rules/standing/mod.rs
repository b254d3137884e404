//! How a pack stands, and with it its kit and each of its pages: one state and one sentence, said the same everywhere.

pub(crate) mod facts;
pub(crate) mod hands;
mod in_the_way;
pub(crate) mod words;

use crate::ServiceError;
use crate::rules::drawn_with::{RecordedInputs, print_of};
use crate::rules::holder_news::day;
use crate::rules::lookup::known_document;
use crate::rules::measured_set::known_by;
use crate::rules::states::{self, RevisionState, States};
use crate::words::Words;
use facts::{Fact, Hand, Told};
use matchmark_core::document::Gauge;
use matchmark_core::pack::Hands;
use matchmark_store::kits::KitRow;
use matchmark_store::measurements::{self, MeasuredRow};
use matchmark_store::notices::{self, NoticeKitRow};
use matchmark_store::packs::{self, PackRow};
use matchmark_store::{Conn, holds, revisions, states as recorded};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
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
    /// Something is to be read, asked or done first: a stop sheet of another revision, a mandatory notice, a mandatory change of a later
    /// revision that no notice tells of yet, or a whole pack where the pages that a pack of changes keeps were recalled.
    NoticeFirst,
    /// A later pack of its kit's revision was issued, or the kit was moved to another revision.
    Superseded,
    /// Its revision was withdrawn: no more kits are sold with it.
    Withdrawn,
    /// Its revision was recalled: nobody goes on with it before having read the stop sheet.
    Recalled,
}

/// How a pack stands.
#[derive(Debug)]
pub(crate) struct PackStanding {
    /// Whether it is still right.
    pub state: PackState,
    /// What holds, in the order in which it is told.
    pub facts: Vec<Fact>,
}

impl PackStanding {
    /// One thing that holds, and nothing else.
    fn one(state: PackState, fact: Fact) -> Self {
        Self { state, facts: vec![fact] }
    }
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

/// A notice that is done, and what was known of its kit when it was raised: its parts were made to that or to later values.
struct Reworked {
    notice: NoticeKitRow,
    /// Measured value by gauge, mm.
    measured: BTreeMap<String, f64>,
    /// The same when it was reported as done.
    measured_when_done: BTreeMap<String, f64>,
}

/// All that is on record about how the packs of a kit stand.
pub(crate) struct Standings {
    kit: KitRow,
    states: States,
    packs: Vec<(PackRow, RecordedInputs)>,
    gauges: BTreeMap<String, Gauge>,
    /// What was said last of each gauge.
    measured: BTreeMap<String, MeasuredRow>,
    /// Mandatory ones that are not done.
    notices: Vec<NoticeKitRow>,
    /// Mandatory ones that are done.
    reworked: Vec<Reworked>,
    /// Number and revision of each notice, of any class, that asks for parts of a later revision than the kit has.
    asked: Vec<(i64, String)>,
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
            let kept = RecordedInputs::of(conn, &row).await?;
            of_kit.push((row, kept));
        }
        let told = measurements::list(conn, &kit.serial).await?;
        let measured = measurements::last(told.iter().cloned());
        let mut gauges = BTreeMap::new();
        if !measured.is_empty() {
            let document = known_document(conn, &kit.design, &kit.revision).await?;
            let design = matchmark_core::document::read(&document).design;
            gauges = design.and_then(|design| design.gauges).unwrap_or_default();
        }
        let states = states::of_design(conn, &kit.design).await?;
        let mut notices = notices::of_kit(conn, &kit.serial).await?;
        let asking = notices.iter().filter(|notice| {
            states.comes_before(&kit.revision, &notice.to_revision)
                && states.of(&notice.to_revision) != RevisionState::Recalled
        });
        let asked = asking.map(|notice| (notice.number, notice.to_revision.clone())).collect();
        notices.retain(|notice| notice.class == "mandatory");
        let (reworked, open): (Vec<_>, Vec<_>) = notices.into_iter().partition(|notice| notice.done_at.is_some());
        let reworked = reworked.into_iter().map(|notice| {
            let measured = known_by(&told, &notice.at);
            let measured_when_done = known_by(&told, notice.done_at.as_deref().unwrap_or_default());
            Reworked { notice, measured, measured_when_done }
        });
        let reworked = reworked.collect();
        let untold = untold(conn, &kit, &states).await?;
        let on_hold = holds::standing(conn, &kit.serial).await?.is_some();
        let recalls = recorded::recalls_of_kit(conn, &kit.serial).await?;
        let unread = recalls.into_iter().filter(|row| row.acknowledged_at.is_none()).map(|row| row.letter).collect();
        Ok(Self {
            states,
            on_hold,
            unread,
            packs: of_kit,
            gauges,
            measured,
            notices: open,
            reworked,
            asked,
            untold,
            kit,
        })
    }

    /// The packs of the kit, oldest first.
    pub fn packs(&self) -> impl Iterator<Item = &PackRow> {
        self.packs.iter().map(|(pack, _)| pack)
    }

    /// The pack to build from: the last one of the kit's revision.
    pub fn in_force(&self) -> Option<&PackRow> {
        self.packs().filter(|pack| pack.revision == self.kit.revision).last()
    }

    /// How a pack of the kit stands, and that the kit is on hold.
    pub fn of_pack(&self, pack: &PackRow) -> PackStanding {
        let PackStanding { state, facts } = self.but_for_hold(pack);
        PackStanding { state, facts: self.held(facts, state == PackState::Recalled) }
    }

    /// What holds, with a hold before it; after it of what is recalled.
    pub fn held(&self, facts: Vec<Fact>, is_recalled: bool) -> Vec<Fact> {
        let held = self.on_hold.then(|| Fact::OnHold { serial: self.kit.serial.clone() });
        if is_recalled { facts.into_iter().chain(held).collect() } else { held.into_iter().chain(facts).collect() }
    }

    /// Whether a revision of the kit's design is recalled.
    pub fn is_recalled(&self, letter: &str) -> bool {
        self.states.of(letter) == RevisionState::Recalled
    }

    /// What stops all work on the kit, whatever is in hand: a recall of its revision, or what is to be read or asked first.
    pub fn stopped(&self) -> Option<(PackState, Vec<Fact>)> {
        if self.is_recalled(&self.kit.revision) {
            return Some((PackState::Recalled, vec![self.recalled(&self.kit.revision)]));
        }
        let stops = self.stops();
        (!stops.is_empty()).then_some((PackState::NoticeFirst, stops))
    }

    /// Whether a hold on the kit stands.
    pub fn is_on_hold(&self) -> bool {
        self.on_hold
    }

    /// How a pack of the kit stands, whether the kit is on hold or not.
    pub fn but_for_hold(&self, pack: &PackRow) -> PackStanding {
        if self.states.of(&pack.revision) == RevisionState::Recalled {
            return PackStanding::one(PackState::Recalled, self.recalled(&pack.revision));
        }
        if pack.revision != self.kit.revision {
            return PackStanding { state: PackState::Superseded, facts: self.left_behind(pack) };
        }
        let later = self.in_place_of(pack);
        if !later.is_empty() {
            let serial = self.kit.serial.clone();
            let mut facts = vec![Fact::Replaced { serial, pack: pack.number, later: later.clone() }];
            facts.extend(self.in_the_way_of(&later));
            return PackStanding { state: PackState::Superseded, facts };
        }
        self.of_right_one(Some(pack))
    }

    fn recalled(&self, letter: &str) -> Fact {
        Fact::Recalled { serial: self.kit.serial.clone(), letter: letter.to_owned() }
    }

    /// How the kit stands, in words: as its pack does, or the one of the other hand where that stands worse.
    pub fn of_kit(&self, words: &Words) -> KitStanding {
        let pack = self.in_force();
        let PackStanding { state, facts } = match pack {
            _ if self.states.of(&self.kit.revision) == RevisionState::Recalled => {
                PackStanding::one(PackState::Recalled, self.recalled(&self.kit.revision))
            }
            Some(pack) => self.worse_hand(pack),
            None => self.of_right_one(None),
        };
        let facts = self.held(facts, state == PackState::Recalled);
        let has_state = pack.is_some() || state == PackState::Recalled;
        let (state, pack) = (has_state.then_some(state), pack.map(|pack| pack.number));
        KitStanding { state, words: words::said(words, &facts), pack, on_hold: self.on_hold }
    }

    /// How the pack in force stands, or the one of the other hand beside it where that stands worse.
    fn worse_hand(&self, pack: &PackRow) -> PackStanding {
        let own = self.but_for_hold(pack);
        let other = self.beside_it(pack).map(|beside| self.but_for_hold(beside));
        match other {
            Some(other) if own.state == PackState::Current && other.state != PackState::Current => other,
            _ => own,
        }
    }

    /// What stands in the way of packs that are to be used instead of others.
    fn in_the_way_of(&self, numbers: &[i64]) -> Vec<Fact> {
        let mut found: Vec<Vec<Fact>> = Vec::new();
        for pack in self.packs().filter(|pack| numbers.contains(&pack.number)) {
            for (_, facts) in self.in_the_way(Some(pack)) {
                if !found.contains(&facts) {
                    found.push(facts);
                }
            }
        }
        found.concat()
    }

    /// The newest of the packs that take the place of one.
    pub fn superseded_by(&self, pack: &PackRow) -> Option<i64> {
        if pack.revision != self.kit.revision {
            return self.in_force().map(|pack| pack.number);
        }
        self.in_place_of(pack).last().copied()
    }

    /// What a pack of the kit was drawn with.
    fn kept(&self, pack: &PackRow) -> Option<&RecordedInputs> {
        self.packs.iter().find(|(own, _)| own.number == pack.number).map(|(_, kept)| kept)
    }

    /// What holds of a pack whose kit has another revision now.
    fn left_behind(&self, pack: &PackRow) -> Vec<Fact> {
        let KitRow { serial, revision, .. } = self.kit.clone();
        let (number, earlier) = (pack.number, pack.revision.clone());
        let mut facts =
            vec![Fact::MovedOn { serial: serial.clone(), revision: revision.clone(), pack: number, earlier }];
        match self.in_force() {
            _ if self.states.of(&revision) == RevisionState::Recalled => {
                facts.push(Fact::MovedToRecalled { serial, revision });
            }
            Some(own) if own.only_changes != 0 && self.is_base(own, pack) => {
                facts.push(Fact::ReadWhatStays { own: own.number, pack: number });
            }
            Some(own) => {
                facts.push(Fact::UseInstead { own: own.number, pack: number });
                facts.extend(self.in_the_way_of(&[own.number]));
            }
            None => facts.push(Fact::AskForNew { pack: number }),
        }
        facts
    }

    /// The pack of changes alone that a pack of the revision before may go on beside.
    pub fn beside(&self, pack: &PackRow) -> Option<&PackRow> {
        let delta = self.in_force().filter(|own| own.only_changes != 0);
        delta.filter(|own| pack.revision != own.revision && pack.number < own.number)
    }

    /// Whether one of the changes alone goes with a pack: with the one before it, and where that has the templates of one hand, with
    /// that of the other hand too.
    fn is_base(&self, delta: &PackRow, pack: &PackRow) -> bool {
        let Some(before) = self.packs().filter(|pack| pack.number < delta.number).last() else { return false };
        let (hands, others) = (print_of(before).hands, print_of(pack).hands);
        let is_beside = hands != Hands::Both && others == hands.other() && pack.revision == before.revision;
        pack.number == before.number || (is_beside && pack.number < before.number && self.in_place_of(pack).is_empty())
    }

    /// The recalled revision whose pages one of the changes alone goes with.
    fn recalled_base(&self, delta: &PackRow) -> Option<&str> {
        let before = self.packs().filter(|pack| delta.only_changes != 0 && pack.number < delta.number).last()?;
        (self.states.of(&before.revision) == RevisionState::Recalled).then_some(before.revision.as_str())
    }

    /// What holds of a pack that is the one to build from, or of a kit that has none of its revision yet.
    fn of_right_one(&self, pack: Option<&PackRow>) -> PackStanding {
        let KitRow { serial, revision, .. } = &self.kit;
        let found = self.in_the_way(pack);
        let (_, in_pack) = self.notices_by_change();
        let state = found.first().map(|(state, _)| *state).unwrap_or_default();
        let mut facts: Vec<Fact> = found.into_iter().flat_map(|(_, facts)| facts).collect();
        match pack {
            None => facts.insert(0, Fact::NoPack { serial: serial.clone(), revision: revision.clone() }),
            Some(pack) if facts.is_empty() => facts.push(Fact::Current {
                serial: serial.clone(),
                pack: pack.number,
                day: day(&pack.issued_at),
                revision: pack.revision.clone(),
                hand: Hand::of(print_of(pack).hands),
            }),
            Some(_) => {}
        }
        if let Some(pack) = pack {
            facts.extend(self.of_other_hand(pack));
            facts.extend(self.came_back(pack));
        }
        let pack = pack.map(|pack| pack.number);
        facts.extend(self.made_before().map(|(notice, day, told)| Fact::MadeBefore { notice, day, told }));
        // Of one that was recalled since it is said to use none of its parts.
        let stands = |made: &&Reworked| self.states.of(&made.notice.to_revision) != RevisionState::Recalled;
        facts.extend(self.reworked().filter(stands).map(|made| Fact::Reworked {
            notice: made.notice.number,
            day: done_on(&made.notice),
            pack,
            told: self.told_since(&made.measured),
        }));
        let back = self.states.said_of(revision).filter(|_| self.states.of(revision).takes_kits());
        facts.extend(back.map(|said| Fact::InForceAgain {
            revision: revision.clone(),
            was_recalled: said.before == "recalled",
            day: day(&said.at),
            reason: said.reason.clone(),
        }));
        if !in_pack.is_empty() {
            facts.push(Fact::NotDone { revision: revision.clone(), notices: numbers(&in_pack) });
        }
        let newer = self.states.current().filter(|newer| self.states.comes_before(revision, newer));
        facts.extend(newer.map(|newer| Fact::LaterRevision { newer: newer.to_owned() }));
        PackStanding { state, facts }
    }

    /// Mandatory notices that are done, of a change that the kit's revision does not have.
    fn reworked(&self) -> impl Iterator<Item = &Reworked> {
        self.reworked.iter().filter(|made| self.states.comes_before(&self.kit.revision, &made.notice.to_revision))
    }

    /// Number, day and values told since of the mandatory notices that are done, of a change that the kit's revision has.
    fn made_before(&self) -> impl Iterator<Item = (i64, String, Vec<Told>)> {
        let in_pack = |made: &&Reworked| !self.states.comes_before(&self.kit.revision, &made.notice.to_revision);
        let made = self.reworked.iter().filter(in_pack);
        let made =
            made.map(|made| (made.notice.number, done_on(&made.notice), self.told_since(&made.measured_when_done)));
        made.filter(|(.., told)| !told.is_empty())
    }

    /// What holds of a pack whose kit had another revision after it was issued.
    fn came_back(&self, pack: &PackRow) -> Option<Fact> {
        let between = self.packs().find(|other| other.number > pack.number && other.revision != pack.revision)?;
        let asking = self.asked.iter().filter(|(_, to)| *to == between.revision);
        let asking: Vec<i64> = asking.map(|(number, _)| *number).collect();
        Some(Fact::CameBack { pack: pack.number, between: between.revision.clone(), asking })
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

fn numbers(notices: &[&NoticeKitRow]) -> Vec<i64> {
    notices.iter().map(|notice| notice.number).collect()
}

fn done_on(notice: &NoticeKitRow) -> String {
    notice.done_at.as_deref().map(day).unwrap_or_default()
}
