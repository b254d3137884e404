//! What holds of a pack, of its kit and of its pages. The sentences of it are said in `words`.

use matchmark_core::pack::Hands;

/// One thing that holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Fact {
    /// The revision was recalled.
    Recalled { serial: String, letter: String },
    /// Stop sheets of these revisions to the kit were not acknowledged.
    Unread { serial: String, letters: Vec<String> },
    /// The pages that a pack of changes keeps are of a recalled revision.
    BaseRecalled { pack: i64, letter: String },
    /// A notice was done, and its revision was recalled after that.
    DoneThenRecalled { notice: i64, day: String, letter: String },
    /// A notice is not done, and its revision was recalled.
    Stopped { serial: String, notice: i64, letter: String },
    /// Notices are to be done before anything else.
    DoFirst { serial: String, notices: Vec<i64> },
    /// A pack does not say so yet.
    DrawnBefore { pack: i64 },
    /// Notices whose change the kit's revision has are not done.
    NotDone { revision: String, notices: Vec<i64> },
    /// A notice is done while the kit's revision does not have its change; `told` is what was measured, or taken back, since.
    Reworked { notice: i64, day: String, pack: Option<i64>, told: Vec<Told> },
    /// A notice whose change the kit's revision has was done before values were told.
    MadeBefore { notice: i64, day: String, told: Vec<Told> },
    /// Later revisions have a mandatory change of which nothing was told.
    Untold { serial: String, letters: Vec<String> },
    /// A pack was drawn before values were measured, or taken back; `hand` where it stays for one hand alone.
    Outdated { pack: i64, hand: Option<Hand>, told: Vec<Told> },
    /// The kit is on hold.
    OnHold { serial: String },
    /// The revision was withdrawn.
    Withdrawn { serial: String, revision: String, reason: Option<String> },
    /// The revision was put in force again.
    InForceAgain { revision: String, was_recalled: bool, day: String, reason: String },
    /// The design has gone on.
    LaterRevision { newer: String },
    /// The kit has no pack of its revision.
    NoPack { serial: String, revision: String },
    /// The pack is the one to build from, and nothing else is to be said of it; `hand` where it has the templates of one alone.
    Current { serial: String, pack: i64, day: String, revision: String, hand: Option<Hand> },
    /// Later packs of its revision took the place of a pack.
    Replaced { serial: String, pack: i64, later: Vec<i64> },
    /// A pack has templates of one hand, `gone`, of which a later one has those that hold.
    OtherHandReplaced { pack: i64, later: i64, gone: Hand },
    /// A page is of the hand of a later pack, or of neither.
    PageReplaced { page: u16, pack: i64, later: i64 },
    /// A page has templates of the hand that stays, and others.
    PageStaysInPart { stays: Hand },
    /// The templates of a hand are in another pack; it may be out of date.
    OtherHandIn { hand: Hand, pack: i64, is_outdated: bool },
    /// No pack has the templates of a hand.
    OtherHandNowhere { hand: Hand },
    /// The kit had another revision in between; `asking` are the notices that ask for parts of that one.
    CameBack { pack: i64, between: String, asking: Vec<i64> },
    /// The kit has another revision than a pack.
    MovedOn { serial: String, revision: String, pack: i64, earlier: String },
    /// The revision that the kit has instead was recalled.
    MovedToRecalled { serial: String, revision: String },
    /// The new pack holds what changed alone.
    ReadWhatStays { own: i64, pack: i64 },
    /// The new pack is whole.
    UseInstead { own: i64, pack: i64 },
    /// There is no new pack.
    AskForNew { pack: i64 },
    /// A pack of changes, `beside`, keeps a page, whole or but for what is crossed out; `is_right` where that pack is the one to build
    /// from without more ado.
    Kept { page: u16, pack: i64, beside: i64, revision: String, cross_out: Option<String>, is_right: bool },
    /// A pack of changes, `beside`, does not keep a page.
    NotKept { page: u16, pack: i64, beside: i64, revision: String },
}

/// One hand of two.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Hand {
    Left,
    Right,
}

impl Hand {
    /// The one hand that templates are of; `None` for both.
    pub fn of(hands: Hands) -> Option<Self> {
        match hands {
            Hands::Both => None,
            Hands::Left => Some(Self::Left),
            Hands::Right => Some(Self::Right),
        }
    }
}

/// A value that came, or was taken back, after a pack was drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Told {
    /// What is measured.
    pub what: String,
    /// When it was told.
    pub day: String,
    /// Whether it was taken back then.
    pub is_taken_back: bool,
}
