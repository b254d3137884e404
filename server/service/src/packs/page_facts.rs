//! What holds of a page by its code, where no pack speaks for it, and the sentences of that.

use crate::PageState;
use crate::rules::standing::PackState;
use crate::rules::standing::facts::Fact;
use crate::rules::standing::words::said;
use crate::words::{Words, sentences};
use matchmark_core::seal::SealError;

/// Why it cannot be told how a page stands.
#[derive(Debug)]
pub(crate) enum Unknown {
    /// No page is signed here.
    NotSigning,
    /// We did not sign this code.
    NotSigned(SealError),
    /// Only a revoked key vouches for it.
    Revoked,
    /// Its pack was never issued.
    VoidPack { serial: String, pack: i64 },
    /// Its pack is not on record.
    NoPack,
    /// Its pack has another page in its place.
    NotOfPack { serial: String, pack: String },
    /// Its recall is not on record.
    NoRecall,
    /// Its notice is not on record.
    NoNotice,
}

impl Unknown {
    /// Why, and what to do.
    pub fn said(&self, words: &Words) -> String {
        let says = &words.page;
        let why = match self {
            Self::NotSigning => says.not_signing().to_owned(),
            Self::NotSigned(SealError::NotReadable | SealError::TooLong(_)) => says.not_readable().to_owned(),
            Self::NotSigned(SealError::Form(form)) => says.form_unknown(form),
            Self::NotSigned(SealError::Signature) => says.signature_wrong().to_owned(),
            Self::NotSigned(SealError::Key) => says.key_broken().to_owned(),
            Self::Revoked => says.revoked().to_owned(),
            Self::VoidPack { serial, pack } => says.void(words.standing.void(pack, serial)),
            Self::NoPack => says.no_pack().to_owned(),
            Self::NotOfPack { serial, pack } => says.not_of_pack(pack, serial),
            Self::NoRecall => says.no_recall().to_owned(),
            Self::NoNotice => says.no_notice().to_owned(),
        };
        sentences(&[why, says.do_not_cut().to_owned()])
    }
}

/// What holds of a page that belongs to no pack.
#[derive(Debug)]
pub(crate) enum LoosePage {
    /// It cannot be told.
    Unknown(Unknown),
    /// The revision of a stop sheet was recalled once more after the sheet was drawn.
    RecalledAgain { serial: String, letter: String, day: String },
    /// A page of the stop sheet of a recall that stands.
    StopSheet { serial: String, letter: String, page: u16, pages: u16 },
    /// The revision of a stop sheet was put in force again.
    RecallEnded { serial: String, letter: String, day: String, reason: String },
    /// The revision of a notice was recalled.
    NoticeStopped { serial: String, notice: String, letter: String },
    /// The work of a notice is done.
    Done { serial: String, notice: String, day: String },
    /// Something of the kit is to be read or asked before all else.
    Stopped { state: PackState, facts: Vec<Fact> },
    /// The work of a notice is done as the page shows it, and values of the kit were told since.
    DoneThenMeasured { serial: String, notice: String, day: String },
    /// The work of a notice is done, and the page is drawn with values that were told since.
    Compare { serial: String, notice: String, day: String },
    /// The kit got another pack of the revision before the change since.
    PackSince { serial: String, notice: String },
    /// The kit has another revision than when the notice was raised.
    KitMoved { serial: String, notice: String, revision: String },
    /// A value of the kit was measured or taken back since.
    MeasuredSince { serial: String, notice: String },
    /// A page of a notice that holds, drawn on a day.
    Current { serial: String, notice: String, letter: String, page: u16, pages: u16, day: String },
}

impl LoosePage {
    /// Whether the page is still right.
    pub fn state(&self) -> PageState {
        match self {
            Self::Unknown(_) => PageState::Unknown,
            Self::RecalledAgain { .. } | Self::StopSheet { .. } | Self::NoticeStopped { .. } => PageState::Recalled,
            Self::RecallEnded { .. }
            | Self::DoneThenMeasured { .. }
            | Self::PackSince { .. }
            | Self::MeasuredSince { .. } => PageState::Superseded,
            Self::Done { .. } => PageState::Kept,
            Self::Stopped { state, .. } => (*state).into(),
            Self::Current { .. } | Self::Compare { .. } | Self::KitMoved { .. } => PageState::Current,
        }
    }

    /// That in sentences which say what to do.
    pub fn said(&self, words: &Words) -> String {
        let says = &words.loose_page;
        match self {
            Self::Unknown(why) => why.said(words),
            Self::RecalledAgain { serial, letter, day } => says.recalled_again(letter, day, serial),
            Self::StopSheet { serial, letter, page, pages } => says.stop_sheet(page, pages, letter, serial),
            Self::RecallEnded { serial, letter, day, reason } => says.recall_ended(letter, serial, day, reason),
            Self::NoticeStopped { serial, notice, letter } => says.notice_stopped(letter, notice, serial),
            Self::Done { serial, notice, day } => says.done(notice, serial, day),
            Self::Stopped { facts, .. } => said(words, facts),
            Self::DoneThenMeasured { serial, notice, day } => says.done_then_measured(notice, serial, day),
            Self::Compare { serial, notice, day } => says.compare(notice, serial, day),
            Self::PackSince { serial, notice } => says.pack_since(serial, notice),
            Self::KitMoved { serial, notice, revision } => says.kit_moved(notice, serial, revision),
            Self::MeasuredSince { serial, notice } => says.measured_since(serial, notice),
            Self::Current { serial, notice, letter, page, pages, day } => {
                says.current(page, pages, notice, serial, letter, day)
            }
        }
    }
}
