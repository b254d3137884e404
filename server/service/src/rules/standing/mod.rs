//! How a pack stands, and with it its kit and each of its pages: one state and one sentence, said the same everywhere.

pub(crate) mod words;
use crate::ServiceError;
use crate::rules::drawn_with::{RecordedInputs, is_same, print_of};
use crate::rules::lookup::known_document;
use crate::rules::states::{self, RevisionState, States};
use matchmark_core::document::Gauge;
use matchmark_core::pack::Hands;
use matchmark_store::kits::KitRow;
use matchmark_store::measurements::{self, MeasuredRow};
use matchmark_store::notices::{self, NoticeKitRow};
use matchmark_store::packs::{self, PackRow};
use matchmark_store::{Conn, holds, revisions, states as recorded};
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
pub(crate) struct Standings {
    kit: KitRow,
    states: States,
    packs: Vec<(PackRow, RecordedInputs)>,
    gauges: BTreeMap<String, Gauge>,
    /// What was said last of each gauge.
    measured: BTreeMap<String, MeasuredRow>,
    /// Mandatory ones that are not done.
    notices: Vec<NoticeKitRow>,
    /// Mandatory ones that are done, of a change that the kit's revision does not have.
    reworked: Vec<NoticeKitRow>,
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
        let measured = measurements::last(measurements::list(conn, &kit.serial).await?);
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
        let (mut reworked, open): (Vec<_>, Vec<_>) = notices.into_iter().partition(|notice| notice.done_at.is_some());
        reworked.retain(|notice| states.comes_before(&kit.revision, &notice.to_revision));
        let untold = untold(conn, &kit, &states).await?;
        let on_hold = holds::list(conn, &kit.serial).await?.iter().any(|hold| hold.lifted_at.is_none());
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
        let PackStanding { state, words } = self.but_for_hold(pack);
        PackStanding { state, words: self.held(words, state == PackState::Recalled) }
    }

    /// What is said, with what is to be said of a hold before it; of what is recalled after it.
    pub fn held(&self, said: String, is_recalled: bool) -> String {
        let held = words::on_hold(&self.kit.serial);
        match (self.on_hold, is_recalled) {
            (false, _) => said,
            (true, false) => format!("{held} {said}"),
            (true, true) => format!("{said} {held}"),
        }
    }

    /// Whether a hold on the kit stands.
    pub fn is_on_hold(&self) -> bool {
        self.on_hold
    }

    /// How a pack of the kit stands, whether the kit is on hold or not.
    pub fn but_for_hold(&self, pack: &PackRow) -> PackStanding {
        let (serial, number) = (&self.kit.serial, pack.number);
        if self.states.of(&pack.revision) == RevisionState::Recalled {
            return PackStanding { state: PackState::Recalled, words: words::recalled(serial, &pack.revision) };
        }
        if pack.revision != self.kit.revision {
            return PackStanding { state: PackState::Superseded, words: self.left_behind(pack) };
        }
        let later = self.in_place_of(pack);
        if !later.is_empty() {
            let words = words::replaced(serial, number, &later) + &self.in_the_way_of(&later);
            return PackStanding { state: PackState::Superseded, words };
        }
        self.of_right_one(Some(pack))
    }

    /// How the kit stands: as its pack does, or the one of the other hand where that stands worse.
    pub fn of_kit(&self) -> KitStanding {
        let pack = self.in_force();
        let PackStanding { state, words } = match pack {
            _ if self.states.of(&self.kit.revision) == RevisionState::Recalled => PackStanding {
                state: PackState::Recalled,
                words: words::recalled(&self.kit.serial, &self.kit.revision),
            },
            Some(pack) => self.worse_hand(pack),
            None => self.of_right_one(None),
        };
        let words = self.held(words, state == PackState::Recalled);
        let has_state = pack.is_some() || state == PackState::Recalled;
        let (state, pack) = (has_state.then_some(state), pack.map(|pack| pack.number));
        KitStanding { state, words, pack, on_hold: self.on_hold }
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

    /// What is said of a page of a whole pack that a later one of one hand replaced.
    pub fn page_replaced(&self, page: u16, pack: &PackRow, later: &PackRow) -> String {
        words::page_replaced(page, pack.number, later.number) + &self.in_the_way_of(&[later.number])
    }

    /// What stands in the way of packs that are to be used instead of others.
    fn in_the_way_of(&self, numbers: &[i64]) -> String {
        let mut said: Vec<String> = Vec::new();
        for pack in self.packs().filter(|pack| numbers.contains(&pack.number)) {
            for (_, words) in self.in_the_way(Some(pack)) {
                if !said.contains(&words) {
                    said.push(words);
                }
            }
        }
        said.iter().map(|words| format!(" {words}")).collect()
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
                let later = self.replaced_in_part(pack)?;
                Some(words::other_hand_replaced(number, later.number, print_of(later).hands))
            }
            hands => {
                let beside = self.beside_it(pack);
                let is_out_of_date = beside.is_some_and(|beside| self.outdated(beside).is_some());
                Some(words::other_hand(hands.other(), beside.map(|beside| beside.number), is_out_of_date))
            }
        }
    }

    /// The pack of one hand that took the place of what a whole one has of that hand and of neither.
    pub fn replaced_in_part(&self, pack: &PackRow) -> Option<&PackRow> {
        let is_right = pack.revision == self.kit.revision && self.in_place_of(pack).is_empty();
        self.packs().filter(|later| is_right && takes_place(later, pack)).last()
    }

    /// The hands whose templates a pack is the last to have.
    fn hands_of(&self, pack: &PackRow) -> Hands {
        match (print_of(pack).hands, self.replaced_in_part(pack)) {
            (Hands::Both, Some(later)) => print_of(later).hands.other(),
            (hands, _) => hands,
        }
    }

    /// The pack with the templates of the hand that a pack of one hand leaves to others.
    fn beside_it(&self, pack: &PackRow) -> Option<&PackRow> {
        let other = Some(print_of(pack).hands.other()).filter(|other| *other != Hands::Both)?;
        let has_other =
            |of: &&PackRow| of.revision == pack.revision && has_hand(of, other) && self.in_place_of(of).is_empty();
        self.packs().filter(has_other).last()
    }

    /// What a pack of the kit was drawn with.
    fn kept(&self, pack: &PackRow) -> Option<&RecordedInputs> {
        self.packs.iter().find(|(own, _)| own.number == pack.number).map(|(_, kept)| kept)
    }

    /// What is said of a pack whose kit has another revision now.
    fn left_behind(&self, pack: &PackRow) -> String {
        let mut said = words::moved_on(&self.kit, pack);
        said.push_str(&match self.in_force() {
            _ if self.states.of(&self.kit.revision) == RevisionState::Recalled => words::moved_to_recalled(&self.kit),
            Some(own) if own.only_changes != 0 && self.is_base(own, pack) => {
                words::read_what_stays(own.number, pack.number)
            }
            Some(own) => words::use_instead(own.number, pack.number) + &self.in_the_way_of(&[own.number]),
            None => words::ask_for_new(pack.number),
        });
        said
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

    /// What stops all work on the kit: a stop sheet that was not read, and parts of a revision that was recalled after they were made.
    fn stops(&self) -> Vec<(PackState, String)> {
        let is_recalled = |notice: &&NoticeKitRow| self.states.of(&notice.to_revision) == RevisionState::Recalled;
        let unread = (!self.unread.is_empty()).then(|| words::unread(&self.kit.serial, &self.unread));
        let stopped = self.reworked.iter().filter(is_recalled).map(words::done_then_recalled);
        unread.into_iter().chain(stopped).map(|said| (PackState::NoticeFirst, said)).collect()
    }

    /// What is to be done or asked first of a pack that is the one to build from, or of a kit that has none of its revision yet; the
    /// worst first.
    fn in_the_way(&self, pack: Option<&PackRow>) -> Vec<(PackState, String)> {
        let KitRow { serial, revision, .. } = &self.kit;
        let mut said = self.stops();
        if let Some((pack, letter)) = pack.and_then(|pack| Some((pack, self.recalled_base(pack)?))) {
            said.push((PackState::NoticeFirst, words::base_recalled(pack.number, letter)));
        }
        let (open, _) = self.notices_by_change();
        if !open.is_empty() {
            let shown = pack.and_then(|pack| self.kept(pack)).map(|kept| kept.notices.as_slice());
            let missing = shown.is_some_and(|shown| open.iter().any(|notice| !shown.contains(&notice.number)));
            let mut said_of_open = self.notice_first(&open);
            if let Some(pack) = pack.filter(|_| missing) {
                said_of_open.push_str(&words::drawn_before(pack.number));
            }
            said.push((PackState::NoticeFirst, said_of_open));
        }
        if !self.untold.is_empty() {
            said.push((PackState::NoticeFirst, words::untold(serial, &self.untold)));
        }
        if let Some(pack) = pack
            && let Some(words) = self.outdated(pack)
        {
            said.push((PackState::Outdated, words));
        }
        if self.states.of(revision) == RevisionState::Withdrawn {
            let reason = self.states.said_of(revision).map(|said| said.reason.as_str());
            said.push((PackState::Withdrawn, words::withdrawn(serial, revision, reason)));
        }
        said
    }

    /// The mandatory notices that are not done: those of a change that the kit's revision does not have, and the others.
    fn notices_by_change(&self) -> (Vec<&NoticeKitRow>, Vec<&NoticeKitRow>) {
        self.notices.iter().partition(|notice| self.states.comes_before(&self.kit.revision, &notice.to_revision))
    }

    /// What is said of a pack that is the one to build from, or of a kit that has none of its revision yet.
    fn of_right_one(&self, pack: Option<&PackRow>) -> PackStanding {
        let KitRow { serial, revision, .. } = &self.kit;
        let said = self.in_the_way(pack);
        let (_, in_pack) = self.notices_by_change();
        let state = said.first().map(|(state, _)| *state).unwrap_or_default();
        let mut sentences: Vec<String> = said.into_iter().map(|(_, words)| words).collect();
        match pack {
            None => sentences.insert(0, words::no_pack(serial, revision)),
            Some(pack) if sentences.is_empty() => sentences.push(words::current(serial, pack)),
            Some(_) => {}
        }
        if let Some(pack) = pack {
            sentences.extend(self.of_other_hand(pack));
            sentences.extend(self.came_back(pack));
        }
        sentences.extend(self.reworked.iter().map(|notice| words::reworked(notice, pack.map(|pack| pack.number))));
        let back = self.states.said_of(revision).filter(|_| self.states.of(revision).takes_kits());
        sentences.extend(back.map(|said| words::in_force_again(revision, said)));
        if !in_pack.is_empty() {
            sentences.push(words::not_done(revision, &in_pack));
        }
        let newer = self.states.current().filter(|newer| self.states.comes_before(revision, newer));
        sentences.extend(newer.map(words::later_revision));
        PackStanding { state, words: sentences.join(" ") }
    }

    /// What is said of a pack whose kit had another revision after it was issued.
    fn came_back(&self, pack: &PackRow) -> Option<String> {
        let between = self.packs().find(|other| other.number > pack.number && other.revision != pack.revision)?;
        let asking = self.asked.iter().filter(|(_, to)| *to == between.revision);
        let asking: Vec<i64> = asking.map(|(number, _)| *number).collect();
        Some(words::came_back(pack.number, &between.revision, &asking))
    }

    /// Which notices are to be done before anything else; one whose revision was recalled since is to be left alone.
    fn notice_first(&self, open: &[&NoticeKitRow]) -> String {
        let serial = &self.kit.serial;
        let is_recalled = |notice: &&&NoticeKitRow| self.states.of(&notice.to_revision) == RevisionState::Recalled;
        let (stopped, open): (Vec<&NoticeKitRow>, Vec<&NoticeKitRow>) = open.iter().partition(is_recalled);
        let first = (!open.is_empty()).then(|| words::do_first(serial, &open));
        let stopped = stopped.into_iter().map(|notice| words::stopped(serial, notice));
        first.into_iter().chain(stopped).collect::<Vec<_>>().join(" ")
    }

    /// What was measured since a pack was drawn and makes a difference to it.
    fn outdated(&self, pack: &PackRow) -> Option<String> {
        let kept = self.kept(pack)?;
        let known = self.measured.iter().filter(|(_, last)| last.taken_back.is_none());
        let now: BTreeMap<String, f64> = known.map(|(gauge, last)| (gauge.clone(), last.value)).collect();
        let differing = self.differing(&kept.measured, &now);
        let said: Vec<String> = differing
            .iter()
            .map(|gauge| {
                let what = self.gauges.get(*gauge).map_or(*gauge, |gauge| gauge.what.as_str());
                let last = self.measured.get(*gauge);
                let at = last.map(|last| last.at.as_str()).unwrap_or_default();
                if self.is_taken_back(gauge) { words::taken_back_on(what, at) } else { words::measured_on(what, at) }
            })
            .collect();
        let has_taken_back = differing.iter().any(|gauge| self.is_taken_back(gauge));
        (!said.is_empty()).then(|| words::outdated(pack.number, self.hands_of(pack), &said, has_taken_back))
    }

    fn is_taken_back(&self, gauge: &str) -> bool {
        self.measured.get(gauge).is_some_and(|last| last.taken_back.is_some())
    }

    /// The gauges of the kit's revision in which two sets of measured values differ. Where nothing was measured, the nominal value counts.
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
