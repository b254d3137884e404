//! The facts of one issue of a pack, given by the caller: what it is, whose, when, signed by whom.

use super::{OnPage, Print};
use crate::seal::SealKey;
use crate::sheets::Changes;
use serde::Serialize;
use std::collections::BTreeMap;

/// What is printed on every page besides its content.
#[derive(Debug, Clone, PartialEq)]
pub struct Issue {
    /// The supplier who issues the pack.
    pub supplier: String,
    /// Whom its reader is to ask, and how, a line each; empty when the supplier has not said.
    pub contact: String,
    /// Name of the design.
    pub design: String,
    /// Revision letter; empty for a draft.
    pub revision: String,
    /// Date of issue, `YYYY-MM-DD`.
    pub date: String,
    /// Serial of the kit; empty when the pack is for no kit.
    pub kit: String,
    /// What sets the kit apart: its choices and measured values.
    pub kit_facts: Vec<KitFact>,
    /// The day on which each measured value of the kit was told, `YYYY-MM-DD`, by gauge.
    pub measured_on: BTreeMap<String, String>,
    /// Number of the pack; empty when it was not issued.
    pub pack_number: String,
    /// What the pack may be used for.
    pub status: Status,
    /// How it is printed.
    pub print: Print,
    /// What it is signed with; a pack without it has no codes.
    pub seal: Option<Seal>,
    /// Which pages of a notice these are; `None` for a pack.
    pub notice_pages: Option<NoticePages>,
    /// What changed since the pack that the kit had before; `None` when there was none or nothing is known of it.
    pub since: Option<Since>,
    /// Notices to the holder of the kit, oldest first: those not done yet, and those done of a change that the pack's revision does not
    /// have.
    pub notices: Vec<Notice>,
    /// Recalls that concern the kit: of its revision, or of one that it has packs or parts of.
    pub recalls: Vec<Recall>,
    /// SHA-256 of the canonical design document, lower-case hex.
    pub design_sha256: String,
}

/// Something that sets a kit apart.
#[derive(Debug, Clone, PartialEq)]
pub enum KitFact {
    /// A choice.
    Choice {
        /// Name of the option.
        option: String,
        /// What is chosen.
        choice: String,
    },
    /// A measured value.
    Measured {
        /// Name of the gauge.
        gauge: String,
        /// What was measured, mm.
        value: f64,
    },
    /// That these are the rework pages of a notice, and no pack.
    ReworkPages {
        /// Number of the notice.
        notice: i64,
        /// Its class.
        class: NoticeClass,
        /// Letter of the revision before the change.
        from: String,
        /// Letter of the revision with the change.
        to: String,
    },
    /// That the work of the notice was reported as done.
    NoticeDone {
        /// Number of the notice.
        notice: i64,
        /// When, `YYYY-MM-DD`.
        day: String,
        /// By whom; `None` where that is not known any more.
        by: Option<DoneBy>,
        /// Whether values of the kit were told after that which make a difference.
        is_remeasured: bool,
    },
}

/// Who reported the work of a notice as done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DoneBy {
    /// The holder of the kit.
    Holder,
    /// The supplier, on behalf of the holder.
    Supplier,
}

impl Issue {
    /// What is always needed, of an issue to no kit, after no other and without a signature. The rest is added by struct update:
    /// `Issue { kit, ..Issue::new(...) }`.
    #[must_use]
    pub fn new(
        supplier: impl Into<String>,
        design: impl Into<String>,
        date: impl Into<String>,
        status: Status,
        print: Print,
    ) -> Self {
        Self {
            supplier: supplier.into(),
            contact: String::new(),
            design: design.into(),
            revision: String::new(),
            date: date.into(),
            kit: String::new(),
            kit_facts: Vec::new(),
            measured_on: BTreeMap::new(),
            pack_number: String::new(),
            status,
            print,
            seal: None,
            notice_pages: None,
            since: None,
            notices: Vec::new(),
            recalls: Vec::new(),
            design_sha256: String::new(),
        }
    }

    /// Number of the notice whose pages these are; `None` for a pack.
    pub(in crate::pack) fn notice(&self) -> Option<i64> {
        self.notice_pages.map(|pages| pages.notice)
    }

    /// When the work of the notice whose pages these are was reported as done.
    pub(in crate::pack) fn notice_done(&self) -> Option<&str> {
        self.kit_facts.iter().find_map(|fact| match fact {
            KitFact::NoticeDone { day, .. } => Some(day.as_str()),
            _ => None,
        })
    }
}

/// The pages of a notice, which belong to no pack. Those that are drawn with other measured values are another set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NoticePages {
    /// Number of the notice.
    pub notice: i64,
    /// Number of the pack of the kit that they go with; 0 where it has none.
    pub beside: i64,
    /// How many times a value of the kit had been told or taken back when it first had the measured values that they are drawn with.
    pub told: usize,
}

/// What a pack may be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// A preview of a draft: not for cutting, and marked so on every page.
    Draft,
    /// A published revision.
    Issued,
}

/// What changed since the pack before.
#[derive(Debug, Clone, PartialEq)]
pub struct Since {
    /// Letter of the revision before.
    pub revision: String,
    /// Number of the pack before; empty when there was none.
    pub pack_number: String,
    /// What changed.
    pub changes: Changes,
    /// True for a pack that holds only what changed, to go with the pack before.
    pub only: bool,
    /// The pages that the kit's holder has of the revision before, of which a pack of what changed says which stay valid; empty when
    /// they are not known.
    pub pages: Vec<PageBefore>,
    /// What measured values changed since packs before were drawn, and these pages do not bring, by number of the pack.
    pub stale: Vec<(String, Changes)>,
    /// Letter of the revision that the kit has, where that is another than the one before: what stays valid is said elsewhere then.
    pub moved_to: Option<String>,
}

impl Since {
    /// All for which the pages of a pack from before hold no more.
    pub(in crate::pack) fn outdated(&self, pack: &str) -> Changes {
        let mut all = self.changes.clone();
        for (_, stale) in self.stale.iter().filter(|(of, _)| of == pack) {
            all.parts.extend(stale.parts.iter().cloned());
            all.checks.extend(stale.checks.iter().cloned());
        }
        all
    }
}

/// A page of a pack before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PageBefore {
    /// Number of its pack.
    pub pack: String,
    /// Its number in that pack, from 1.
    pub page: usize,
    /// Its title.
    pub title: String,
    /// What stands on it.
    pub holds: Vec<OnPage>,
    /// What of that a later pack has in its place.
    pub replaced: Vec<OnPage>,
}

/// What the supplier told the holder of a kit about a change.
#[derive(Debug, Clone, PartialEq)]
pub struct Notice {
    /// Number of the notice within the design.
    pub number: i64,
    /// How much it matters.
    pub class: NoticeClass,
    /// When it was raised, `YYYY-MM-DD`.
    pub date: String,
    /// Letter of the revision before the change.
    pub from: String,
    /// Letter of the revision with the change.
    pub to: String,
    /// What the builder is told.
    pub text: String,
    /// Whether the revision of the pack has the change; if not, its pages of the parts concerned must not be used.
    pub is_in_pack: bool,
    /// Whether the revision with the change was recalled since, so that none of its work is to be done.
    pub is_stopped: bool,
    /// When its work was reported as done, `YYYY-MM-DD`; `None` while it was not.
    pub done: Option<String>,
    /// Whether values of the kit were told after that which make a difference.
    pub is_remeasured: bool,
    /// What is to be done to the kit; `None` when that could not be told for it.
    pub work: Option<Changes>,
    /// Parts of that work which were made anew already for other notices.
    pub made_already: Vec<MadeAlready>,
}

/// Parts that a notice names and that another one, which is done, had made anew.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct MadeAlready {
    /// Number of the notice that is done.
    pub notice: i64,
    /// When it was reported as done, `YYYY-MM-DD`.
    pub day: String,
    /// Ids of the members and plates.
    pub parts: Vec<String>,
}

/// How much a notice matters to those who hold a kit from before its change.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NoticeClass {
    /// The old parts must not be used as they are.
    Mandatory,
    /// The frame is better for it.
    Recommended,
    /// A matter of taste or convenience.
    Optional,
}

/// A revision that the supplier recalled.
#[derive(Debug, Clone, PartialEq)]
pub struct Recall {
    /// Letter of the revision.
    pub revision: String,
    /// When it was recalled, `YYYY-MM-DD`.
    pub date: String,
    /// What can happen.
    pub hazard: String,
    /// What to do now.
    pub what_to_do: String,
    /// What the supplier offers.
    pub remedies: String,
}

/// The supplier's key, and where the status of a page is answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Seal {
    /// The key.
    pub key: SealKey,
    /// Id by which the design is known there.
    pub design_id: String,
    /// Address before a page's code, such as `HTTPS://PACKS.EXAMPLE/P/`; empty when the code stands alone. Capitals, digits and
    /// the signs `$%*+-./:` make the smallest code.
    pub address: String,
}
