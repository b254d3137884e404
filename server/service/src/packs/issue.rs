//! Issuing a pack: its number is taken first, it is drawn outside every write, and recorded only if all that went into the drawing
//! is still so. A number whose pack could not be recorded is void for good.

use crate::designs::sheets::RevisionSheets;
use crate::packs::drawn_with::DrawnWith;
use crate::packs::pages_before::OtherHand;
use crate::rules::drawn_with::RecordedInputs;
use crate::rules::events::{EventType, Happened};
use crate::rules::idempotency::Numbered;
use crate::rules::lookup::{one_kit_facts, readable_kit};
use crate::rules::measured_set::are_same;
use crate::rules::release::{must_be_open, must_not_be_held};
use crate::rules::standing::hands::with_other_hand;
use crate::rules::states::{self, RevisionState};
use crate::words::of_problems;
use crate::{FieldError, IdempotentCall, NewPack, PackView, Principal, Role, Service, ServiceError};
use matchmark_core::pack::{Pack, Seal, Since};
use matchmark_store::Conn;
use matchmark_store::audit::{self, Act};
use matchmark_store::clock::Stamp;
use matchmark_store::kits::KitRow;
use matchmark_store::pack_numbers::{self, TakenRow};
use matchmark_store::packs::{self, PackRow};
use matchmark_store::signing_keys::Purpose;
use time::Duration;

/// How often a pack is drawn again because something changed meanwhile, or its blobs were swept away.
const ATTEMPTS: usize = 10;

/// How long a number stays taken for a pack that is being drawn. When its process dies it is void after that.
const NUMBER_LASTS: Duration = Duration::minutes(10);

/// Over which time the packs that builders have drawn are counted.
const DAY: Duration = Duration::hours(24);

/// A pack on its way.
struct Drawn {
    kit: KitRow,
    with: DrawnWith,
    since_revision: String,
    stamp: Stamp,
    sha256: String,
    size: i64,
    pages: i64,
    manifest_sha256: String,
}

impl Service {
    /// Refuses to have a pack issued for a kit, before anything is asked about it.
    pub async fn may_issue_pack(&self, who: &Principal, serial: &str) -> Result<(), ServiceError> {
        let mut read = self.store.read().await?;
        let kit = readable_kit(&mut read, who, serial).await?;
        may_issue(&mut read, who, &kit).await
    }

    /// Lets builders have so many packs of their kit drawn in 24 hours.
    pub fn drawing_for_builders(self, packs_a_day: usize) -> Self {
        Self { builder_packs: packs_a_day, ..self }
    }

    /// Issues a pack for a kit: drawn, kept, then recorded. A builder may have that of their own kit drawn again.
    pub async fn issue_pack(
        &self,
        who: &Principal,
        serial: &str,
        new: &NewPack,
        once: &IdempotentCall,
    ) -> Result<PackView, ServiceError> {
        who.may_read_kit(serial)?;
        let _turn = once.turn(&self.in_flight).await;
        // One pack of a kit after the other, so that none is drawn from what the one before is about to change.
        let _of_kit = self.in_flight.turn(format!("packs of {serial}")).lock_owned().await;
        let mut number = None;
        let done = self.issue(who, serial, new, once, &mut number).await;
        if let (Err(_), Some(number)) = (&done, number)
            && let Err(error) = self.make_void(who, serial, number).await
        {
            // It is void all the same when its time is over.
            tracing::warn!(%error, serial, number, "a number without a pack could not be made void yet");
        }
        self.pack_now(serial, done?).await
    }

    async fn issue(
        &self,
        who: &Principal,
        serial: &str,
        new: &NewPack,
        once: &IdempotentCall,
        number: &mut Option<i64>,
    ) -> Result<i64, ServiceError> {
        for _ in 0..ATTEMPTS {
            let (kit, with, seal) = {
                let mut read = self.store.read().await?;
                let kit = readable_kit(&mut read, who, serial).await?;
                if let Some(Numbered { number }) = once.answered(&mut read).await? {
                    return Ok(number);
                }
                may_issue(&mut read, who, &kit).await?;
                let with = DrawnWith::read(&mut read, &kit, new).await?;
                let seal = self.seal(&mut read, &kit.design).await?;
                (kit, with, seal)
            };
            let sheets = self.known_sheets(&with.design, &with.revision, with.kit.clone()).await?;
            // What cannot be drawn takes no number.
            sheets.evaluated().sheets()?;
            let since = self.since(serial, &with, &sheets, new.only_changes).await?;
            let taken = self.take_number(who, &kit, once, *number).await?;
            *number = Some(taken);
            let drawn = self.draw(kit, with, seal, taken, &sheets, since).await?;
            if let Some(number) = self.record(who, new, once, taken, drawn).await? {
                return Ok(number);
            }
        }
        Err(ServiceError::Busy)
    }

    /// The number of the next pack: the one that was taken before for this call, while no later pack is recorded, else the next.
    async fn take_number(
        &self,
        who: &Principal,
        kit: &KitRow,
        once: &IdempotentCall,
        before: Option<i64>,
    ) -> Result<i64, ServiceError> {
        let (serial, call) = (kit.serial.as_str(), once.call());
        let (now, good_until) = (self.clock.stamp(), self.clock.stamp_in(NUMBER_LASTS));
        let mut write = self.store.write().await?;
        make_void_what_is_left(&mut write, &now).await?;
        let before = match before {
            Some(number) if pack_numbers::is_good(&mut write, serial, number, now.at()).await? => Some(number),
            _ if call.is_empty() => None,
            _ => pack_numbers::of_call(&mut write, serial, &call, now.at()).await?,
        };
        let last = packs::last(&mut write, serial).await?.map_or(0, |last| last.number);
        let number = match before {
            Some(number) if number > last => {
                pack_numbers::keep(&mut write, serial, number, good_until.at()).await?;
                number
            }
            before => {
                if let Some(number) = before {
                    record_void(&mut write, serial, number, &who.token, &now).await?;
                }
                self.must_have_packs_left(&mut write, who, serial).await?;
                let number = pack_numbers::next(&mut write, serial).await?;
                let row = TakenRow {
                    kit: serial,
                    number,
                    call: &call,
                    taken_at: now.at(),
                    taken_by: &who.token,
                    good_until: good_until.at(),
                };
                pack_numbers::take(&mut write, &row).await?;
                number
            }
        };
        write.commit().await?;
        Ok(number)
    }

    /// Refuses a builder who had as many packs drawn lately as they may.
    async fn must_have_packs_left(&self, conn: &mut Conn, who: &Principal, serial: &str) -> Result<(), ServiceError> {
        if !matches!(who.role, Role::Builder { .. }) {
            return Ok(());
        }
        let drawn = pack_numbers::by_builders(conn, serial, self.clock.stamp_in(-DAY).at()).await?;
        if drawn.len() < self.builder_packs {
            return Ok(());
        }
        let now = self.clock.stamp();
        // As many as leave room for one must be a day old first.
        let oldest = drawn.get(drawn.len().saturating_sub(self.builder_packs)).map_or(now.at(), String::as_str);
        let left = DAY - now.since(oldest);
        Err(ServiceError::PacksUsedUp {
            most: self.builder_packs,
            again: now.after(left).at().get(..16).unwrap_or_default().replace('T', " "),
            seconds: left.whole_seconds().max(0) + 1,
        })
    }

    async fn draw(
        &self,
        kit: KitRow,
        with: DrawnWith,
        seal: Option<Seal>,
        number: i64,
        sheets: &RevisionSheets,
        since: Option<Since>,
    ) -> Result<Drawn, ServiceError> {
        let stamp = self.clock.stamp();
        let mut issue = sheets.issue(&self.supplier, with.print, stamp.date());
        issue.kit.clone_from(&kit.serial);
        issue.pack_number = number.to_string();
        issue.kit_facts = one_kit_facts(&with.kit);
        issue.seal = seal;
        let since_revision = since.as_ref().map(|since| since.revision.clone()).unwrap_or_default();
        issue.since = since;
        with.told.put(&mut issue);
        issue.notices.extend_from_slice(&with.done_before);
        let Pack { pdf, manifest } = self.engine.pack(sheets.evaluated(), issue).await?;
        let size = i64::try_from(pdf.len()).unwrap_or(i64::MAX);
        let pages = i64::try_from(manifest.pages.len()).unwrap_or(i64::MAX);
        let manifest = serde_json::to_vec(&manifest)
            .map_err(|_| ServiceError::Inconsistent("the account of a pack cannot be written"))?;
        let [manifest_sha256, sha256] = self.store.keep([manifest, pdf], self.clock.stamp().at()).await?;
        Ok(Drawn { kit, with, since_revision, stamp, sha256, size, pages, manifest_sha256 })
    }

    /// Records a pack, unless what it was drawn with is so no longer; then `None`.
    async fn record(
        &self,
        who: &Principal,
        new: &NewPack,
        once: &IdempotentCall,
        number: i64,
        drawn: Drawn,
    ) -> Result<Option<i64>, ServiceError> {
        let Drawn { kit, with, since_revision, stamp, sha256, size, pages, manifest_sha256 } = drawn;
        let serial = kit.serial.as_str();
        let mut write = self.store.write().await?;
        if let Some(Numbered { number }) = once.answered(&mut write).await? {
            return Ok(Some(number));
        }
        let now = readable_kit(&mut write, who, serial).await?;
        may_issue(&mut write, who, &now).await?;
        self.must_sign(&mut write, Purpose::Pages).await?;
        let blobs = self.store.blobs();
        // Without its blobs a sweep came between: see `matchmark_store::sweep`.
        let kept = blobs.has(&sha256).await? && blobs.has(&manifest_sha256).await?;
        let is_good = pack_numbers::is_good(&mut write, serial, number, self.clock.stamp().at()).await?;
        if !kept || !is_good || DrawnWith::read(&mut write, &now, new).await? != with {
            return Ok(None);
        }
        let row = PackRow {
            kit: kit.serial.clone(),
            number,
            drawn_with: serde_json::to_string(&with.kept()).unwrap_or_default(),
            design: with.design,
            revision: with.revision,
            paper: with.print.paper.name().to_owned(),
            sha256,
            size,
            engine: env!("CARGO_PKG_VERSION").to_owned(),
            issued_at: stamp.at().to_owned(),
            issued_by: who.token.clone(),
            print: serde_json::to_string(&with.print).unwrap_or_default(),
            pages,
            manifest_sha256,
            since_revision,
            only_changes: i64::from(new.only_changes),
        };
        pack_numbers::fill(&mut write, serial, number).await?;
        packs::insert(&mut write, &row).await?;
        let subject = format!("kits/{serial}/packs/{number}/{}", row.sha256);
        let act = Act { at: stamp.at(), actor: &who.token, action: "issue-pack", subject: &subject };
        audit::append(&mut write, act).await?;
        let happened = Happened::to_kit(EventType::PackIssued, serial, &row.design, &row.revision);
        let happened = happened.at(&format!("/packs/{number}")).with(|facts| {
            (facts.pack, facts.sha256) = (Some(number), Some(row.sha256.clone()));
        });
        self.happened(&mut write, happened, &stamp).await?;
        once.record(&mut write, &Numbered { number }, stamp.at()).await?;
        write.commit().await?;
        self.metrics.pack_issued();
        Ok(Some(number))
    }

    async fn make_void(&self, who: &Principal, serial: &str, number: i64) -> Result<(), ServiceError> {
        let now = self.clock.stamp();
        let mut write = self.store.write().await?;
        record_void(&mut write, serial, number, &who.token, &now).await?;
        Ok(write.commit().await?)
    }

    /// Makes void what was taken for packs whose process is gone.
    pub(crate) async fn make_void_what_is_left(&self) -> Result<(), ServiceError> {
        let now = self.clock.stamp();
        let mut write = self.store.write().await?;
        make_void_what_is_left(&mut write, &now).await?;
        Ok(write.commit().await?)
    }

    /// What changed since the last pack of a kit that has been moved to another revision.
    async fn since(
        &self,
        serial: &str,
        with: &DrawnWith,
        sheets: &RevisionSheets,
        only: bool,
    ) -> Result<Option<Since>, ServiceError> {
        let Some((revision, number)) = &with.before else {
            if only {
                return Err(ServiceError::Invalid(vec![FieldError {
                    pointer: "/only_changes".to_owned(),
                    detail: of_problems().new_pack.nothing_changed().to_owned(),
                }]));
            }
            return Ok(None);
        };
        let packs = packs::list(&mut self.store.read().await?, serial).await?;
        let before = packs.iter().find(|pack| pack.number == *number);
        let before = before.ok_or(ServiceError::Inconsistent("the pack before is no longer there"))?;
        let states = states::of_design(&mut self.store.read().await?, &with.design).await?;
        let mut values = Vec::new();
        for pack in with_other_hand(before, &packs).into_iter().filter(|_| only) {
            values.push(RecordedInputs::of(&mut self.store.read().await?, pack).await?.measured);
        }
        let says = &of_problems().new_pack;
        let why = match before {
            _ if !only => None,
            before if before.only_changes != 0 => Some(says.on_changes(number)),
            before if matches!(OtherHand::of(before, &packs), OtherHand::AmongBoth | OtherHand::Nowhere) => {
                Some(says.changes_of_one_hand(number))
            }
            _ if values.windows(2).any(|two| !matches!(two, [one, other] if are_same(one, other))) => {
                Some(says.changes_of_other_values(number))
            }
            _ if states.of(revision) == RevisionState::Recalled => Some(says.on_recalled(revision)),
            _ => None,
        };
        if let Some(detail) = why {
            return Err(ServiceError::Invalid(vec![FieldError { pointer: "/only_changes".to_owned(), detail }]));
        }
        // What the pack before holds is drawn with what was measured until then.
        let kit = self.kit_at(before, with.kit.clone()).await?;
        let old = self.known_sheets(&with.design, revision, kit).await?;
        let changes = self.engine.changes(old.evaluated(), sheets.evaluated()).await?;
        let pages = if only { self.pages_before(before, &packs).await? } else { Vec::new() };
        Ok(changes.map(|changes| Since {
            revision: revision.clone(),
            pack_number: number.to_string(),
            changes,
            only,
            pages,
            stale: Vec::new(),
            moved_to: None,
        }))
    }
}

/// No pack of a recalled revision is issued, nor one for a kit on hold. A builder gets another one of the revision that they have one of,
/// once they have acknowledged its stop sheet.
async fn may_issue(conn: &mut Conn, who: &Principal, kit: &KitRow) -> Result<(), ServiceError> {
    if matches!(who.role, Role::Builder { .. }) {
        must_be_open(conn, who, kit, &kit.revision).await?;
    }
    let states = states::of_design(conn, &kit.design).await?;
    if states.of(&kit.revision) == RevisionState::Recalled {
        return Err(ServiceError::IssuesNoPacks(kit.revision.clone()));
    }
    must_not_be_held(conn, kit).await?;
    if matches!(who.role, Role::Builder { .. }) {
        let has_one = packs::list(conn, &kit.serial).await?.iter().any(|pack| pack.revision == kit.revision);
        if !has_one {
            return Err(ServiceError::NoPackYet { kit: kit.serial.clone(), letter: kit.revision.clone() });
        }
    }
    Ok(())
}

/// Makes a number void, if it is not yet and no pack has it.
async fn record_void(conn: &mut Conn, serial: &str, number: i64, by: &str, now: &Stamp) -> Result<(), ServiceError> {
    if !pack_numbers::is_open(conn, serial, number).await? {
        return Ok(());
    }
    pack_numbers::make_void(conn, serial, number, now.at()).await?;
    let subject = format!("kits/{serial}/packs/{number}");
    Ok(audit::append(conn, Act { at: now.at(), actor: by, action: "void-pack", subject: &subject }).await?)
}

async fn make_void_what_is_left(conn: &mut Conn, now: &Stamp) -> Result<(), ServiceError> {
    for row in pack_numbers::left_behind(conn, now.at()).await? {
        record_void(conn, &row.kit, row.number, "system", now).await?;
    }
    Ok(())
}
