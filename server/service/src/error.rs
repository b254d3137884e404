//! Why a use case was refused, in words for the caller. The API gives each its status.

use crate::engine::EngineError;
use matchmark_core::document::Finding;
use matchmark_store::{DiskFault, StoreError};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// One value of a request that will not do.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct FieldError {
    /// JSON Pointer (RFC 6901) to the value in the request's body.
    pub pointer: String,
    /// What to do about it.
    pub detail: String,
}

/// A refusal.
#[derive(Debug, thiserror::Error)]
pub enum ServiceError {
    /// Not there, or not for this caller: both look the same.
    #[error("There is nothing at this address that your token may see.")]
    Hidden,
    /// The caller may see it but not do this.
    #[error("This takes a publisher's token; a support token reads, issues packs and hands out builder tokens.")]
    Forbidden,
    /// The token only reads.
    #[error("This token only reads; it takes one that may change things.")]
    ReadsOnly,
    /// No design with this id.
    #[error("There is no design {0}; GET /v1/designs lists those there are.")]
    UnknownDesign(String),
    /// The design has no draft yet.
    #[error("Design {0} has no draft yet; PUT one with If-None-Match: *.")]
    NoDraft(String),
    /// No such save of the draft.
    #[error("The draft has no save {0}; GET its saves lists them.")]
    UnknownSave(String),
    /// No recall of this revision that stands, or none that concerns the kit.
    #[error("No recall of revision {0} stands here.")]
    NotRecalled(String),
    /// The state of a revision does not allow the step.
    #[error("{what} is {state}, so that this cannot be done to it now. {possible}")]
    StateForbids {
        /// `Revision B`, or `The draft`.
        what: String,
        /// Its state.
        state: &'static str,
        /// A sentence that says what can be done.
        possible: &'static str,
    },
    /// A second person must look at a draft before it is published.
    #[error(
        "This service publishes only what a second person has looked at. Freeze the draft; then somebody else, who neither wrote nor froze it, publishes it."
    )]
    FreezeFirst,
    /// An import brings in revisions that nobody here has looked at.
    #[error(
        "This service publishes only what a second person has looked at, and a design file brings in revisions that nobody here has. Import it with second-approver off, which goes on record, or write its documents as drafts."
    )]
    ImportedAlone,
    /// The caller is no second person.
    #[error(
        "You wrote or froze this draft, so that somebody else has to publish it, with a publisher's token of their own that was made on the machine of the service (`matchmark token`)."
    )]
    SecondPerson,
    /// No kit may be sold with the revision or moved to it.
    #[error("Revision {letter} is {state}: it takes no more kits. Choose one that is in force.")]
    TakesNoKits {
        /// Letter.
        letter: String,
        /// Its state.
        state: &'static str,
    },
    /// No pack of a recalled revision is issued.
    #[error(
        "Revision {0} is recalled: no pack of it is issued. Its stop sheet says what to do; the supplier can move the kit to a revision that is in force."
    )]
    IssuesNoPacks(String),
    /// The revision that a notice leads to was recalled since.
    #[error(
        "Revision {letter}, which has the change of notice {number}, was recalled: its pages are not handed out, and it cannot be reported as done. Do none of its work until the supplier says how."
    )]
    NoticeStopped {
        /// Number of the notice.
        number: i64,
        /// Letter of the revision.
        letter: String,
    },
    /// A stop sheet must be acknowledged first.
    #[error(
        "Revision {letter} is recalled. Read its stop sheet for kit {kit} to its end and acknowledge it: nothing is handed out before. (API: /v1/kits/{kit}/stop-sheets/{letter})"
    )]
    StopSheetFirst {
        /// Serial of the kit.
        kit: String,
        /// Letter of the revision.
        letter: String,
    },
    /// Nothing of the kit is handed out for the present.
    #[error(
        "Kit {kit} is on hold: the supplier hands out nothing to build it from for the present. Whom to ask: {ask} (Stop sheets, and what notices say, stay open; their pages to work from do not.)"
    )]
    OnHold {
        /// Serial.
        kit: String,
        /// Whom to ask.
        ask: String,
    },
    /// A kit has one hold at a time.
    #[error("Kit {kit} is on hold already; lift hold {number} before you put another.")]
    HeldAlready {
        /// Serial.
        kit: String,
        /// Number of the hold that stands.
        number: i64,
    },
    /// No such hold.
    #[error("Kit {kit} has no hold {number}; GET its holds lists them.")]
    UnknownHold {
        /// Serial.
        kit: String,
        /// Number asked for.
        number: String,
    },
    /// A design file that does not hold.
    #[error("This design file is not as it was exported, so nothing of it was taken in; see errors.")]
    FileRefused(Vec<FieldError>),
    /// No such revision.
    #[error("Design {design} has no revision {letter}; GET its revisions lists those published.")]
    UnknownRevision {
        /// Design.
        design: String,
        /// Letter asked for.
        letter: String,
    },
    /// No such member in the revision.
    #[error("This revision has no member {0}; its cut sheet lists all members.")]
    UnknownMember(String),
    /// No wrap for this end.
    #[error(
        "{}",
        if matches!(end.as_str(), "from" | "to") {
            format!("The {end} end of {member} has no wrap: it is sawn square, or there is no such member.")
        } else {
            format!("A tube has the ends `from` and `to`, and no `{end}`.")
        }
    )]
    UnknownWrap {
        /// Member.
        member: String,
        /// `from` or `to`, as asked for.
        end: String,
    },
    /// No kit with this serial.
    #[error("There is no kit {0}; GET /v1/kits finds kits by the beginning of their serial.")]
    UnknownKit(String),
    /// No such customer.
    #[error("There is no customer {0}; GET /v1/customers finds them by name or address.")]
    UnknownCustomer(String),
    /// The kit has the revision already.
    #[error("Kit {kit} has revision {letter} already.")]
    IsThere {
        /// Serial.
        kit: String,
        /// Letter.
        letter: String,
    },
    /// A file of kits with faults.
    #[error("The file has faults, so no kit of it was registered; errors names each by its line.")]
    KitsNotImported(Vec<FieldError>),
    /// No such notice.
    #[error("There is no notice {0} here; GET the notices lists them.")]
    UnknownNotice(String),
    /// The kit was moved to another revision after the job was asked for.
    #[error("Kit {kit} has revision {letter} now; issue its pack by itself, or ask for a job of that revision.")]
    KitHasMoved {
        /// Serial.
        kit: String,
        /// Letter of the revision that it has now.
        letter: String,
    },
    /// No such delivery.
    #[error("There is no delivery {0}; GET /v1/deliveries lists them.")]
    UnknownDelivery(String),
    /// A delivery that was taken by its receiver.
    #[error("Delivery {0} was sent; it is not sent again.")]
    SentAlready(String),
    /// No such job.
    #[error("There is no pack job {0}; GET /v1/pack-jobs lists them.")]
    UnknownJob(String),
    /// A number that no pack has.
    #[error("{0}")]
    VoidPack(String),
    /// A builder asks for the first pack of a revision.
    #[error("No pack of revision {letter} has been issued for kit {kit} yet: ask the supplier for the first one.")]
    NoPackYet {
        /// Serial.
        kit: String,
        /// Letter of the revision.
        letter: String,
    },
    /// A builder had as many packs drawn as they may.
    #[error(
        "A builder may have {most} packs of their kit drawn in 24 hours, and that many were. The next can be drawn after {again} UTC; the supplier can issue one at any time."
    )]
    PacksUsedUp {
        /// How many.
        most: usize,
        /// When the next can be drawn, day and minute.
        again: String,
        /// In how many seconds that is.
        seconds: i64,
    },
    /// No such pack of the kit.
    #[error("Kit {kit} has no pack {number}; GET its packs lists those issued.")]
    UnknownPack {
        /// Kit.
        kit: String,
        /// Number asked for.
        number: String,
    },
    /// The id is taken.
    #[error("There is a design {0} already; choose another id.")]
    DesignExists(String),
    /// The serial is taken.
    #[error("There is a kit {0} already; give each kit a serial of its own.")]
    KitExists(String),
    /// This version of the engine computes other figures than were recorded when the revision was published.
    #[error(
        "Revision {letter} of {design} is held: this version of the service computes other figures for {parts} of its parts than version {engine} did, which the revision was recorded with. A publisher looks at /v1/designs/{design}/revisions/{letter}/figures and takes them, or the operator goes back to the version before. Nothing to build from is handed out until then."
    )]
    FiguresDiffer {
        /// Id of the design.
        design: String,
        /// Letter of the revision.
        letter: String,
        /// How many parts.
        parts: usize,
        /// Version whose figures are recorded.
        engine: String,
    },
    /// The draft is what was published last.
    #[error("The draft is the same as revision {0}; change it before publishing again.")]
    NothingChanged(String),
    /// A conditional request without its condition.
    #[error("{0}")]
    ConditionMissing(&'static str),
    /// The condition does not hold.
    #[error("{0}")]
    ConditionFailed(&'static str),
    /// Values that will not do.
    #[error("Some values of the request will not do; see errors.")]
    Invalid(Vec<FieldError>),
    /// Errors in the design.
    #[error("The design has errors; mend what findings name and try again.")]
    DesignHasErrors(Vec<Finding>),
    /// Measured values that the design cannot take.
    #[error("These measured values cannot be taken into account; findings name the limits.")]
    NotMeasurable(Vec<Finding>),
    /// Warnings not acknowledged.
    #[error("The design has warnings; read them and name their codes in acknowledge if they are as meant.")]
    WarningsNotAcknowledged(Vec<Finding>),
    /// A pack or wrap could not be drawn.
    #[error("It could not be drawn: {message}")]
    NotDrawn {
        /// Stable code of the cause.
        code: &'static str,
        /// The cause.
        message: String,
    },
    /// A joint that cannot be computed.
    #[error("{message}")]
    JointRefused {
        /// Stable code of the cause.
        code: &'static str,
        /// Place in the request's body.
        pointer: String,
        /// The cause.
        message: String,
    },
    /// A described joint that cannot be made.
    #[error("The joint cannot be made as described; mend what findings name and try again.")]
    JointHasErrors(Vec<Finding>),
    /// A stock plan that cannot be made.
    #[error("{message}")]
    StockRefused {
        /// Stable code of the cause.
        code: &'static str,
        /// Place in the request's body.
        pointer: String,
        /// The cause.
        message: String,
    },
    /// The key was used for another request.
    #[error("This Idempotency-Key was used for another request; take a new key for a new request.")]
    KeyReused,
    /// What a repeated request made, a card or a token, has ended since.
    #[error(
        "{0} that this request made cannot be shown again: it has ended or was replaced since. Make a new one if you need it."
    )]
    NotShownAgain(String),
    /// A sign-in that does not hold.
    #[error(
        "Serial and access code do not belong together, or the kit has no code. Check both on the card of the kit; the supplier can make a new one."
    )]
    WrongCode,
    /// Too many failed sign-ins.
    #[error(
        "Too many sign-ins failed. Wait {seconds} seconds and try again, or sign in from elsewhere; check serial and code on the card first."
    )]
    TooManyAttempts {
        /// How long to wait.
        seconds: i64,
    },
    /// The last publisher's token.
    #[error("This is the last publisher's token; make another before you end it, or nobody could publish any more.")]
    LastPublisher,
    /// A token that has ended cannot be rotated.
    #[error("This token has ended already; make a new one.")]
    TokenEnded,
    /// Too much work at once.
    #[error("The service is busy; try again in a few seconds.")]
    Busy,
    /// The database, or the store of issued packs, is out of reach.
    #[error(
        "{0} cannot be reached at present, and what was asked for may be done or not. Try again in a few seconds, a change with the same Idempotency-Key."
    )]
    StoreAway(&'static str),
    /// No room is left.
    #[error(
        "There is no room left on the disk of the service, so that nothing was changed. Reading goes on; its operator has to make room."
    )]
    NoRoom,
    /// The disk refused.
    #[error(
        "The disk of the service failed, so that nothing was changed. Try again; if it stays so, tell its operator."
    )]
    DiskFailed,
    /// The disk did not confirm a write.
    #[error(
        "The disk did not confirm what was written. The service stops, so that nothing is built on what may not be there; its operator has to look at the disk."
    )]
    NotSynced,
    /// What is kept is at odds with itself.
    #[error("what is kept is at odds with itself: {0}")]
    Inconsistent(&'static str),
    /// The process signs with a key that is not in force any more.
    #[error(
        "Another signing key was put in force since this process was started, or its own was revoked, so that it signs nothing. Its operator has to start it again with the key that is in force."
    )]
    KeyNotInForce,
    /// The store failed.
    #[error(transparent)]
    Store(StoreError),
    /// A computation took longer than there is time for one.
    #[error(
        "This takes longer to compute than the {seconds} seconds there are for it, and was given up. Ask for less at once, or try again when there is less to do; the operator can allow more (compute-seconds)."
    )]
    OutOfTime {
        /// Seconds that there are.
        seconds: u64,
    },
    /// A computation failed in a way that is our fault.
    #[error("a computation was cut off")]
    CutOff,
}

impl From<StoreError> for ServiceError {
    fn from(error: StoreError) -> Self {
        match error {
            StoreError::Busy(cause) => {
                tracing::warn!(%cause, "a request gave up waiting for the database");
                Self::Busy
            }
            StoreError::DatabaseAway(cause) => {
                tracing::error!(%cause, "the database cannot be reached");
                Self::StoreAway("The database")
            }
            StoreError::ObjectsAway(cause) => {
                tracing::error!(%cause, "the store of issued packs cannot be reached");
                Self::StoreAway("The store of issued packs")
            }
            StoreError::ObjectsClosed(cause) => {
                tracing::error!(%cause, "the store of issued packs lets nothing in or out: check s3-bucket, s3-key-id and s3-secret");
                Self::StoreAway("The store of issued packs")
            }
            StoreError::NulInText => Self::Invalid(vec![FieldError {
                pointer: String::new(),
                detail: "Leave out the character U+0000.".to_owned(),
            }]),
            other => {
                let fault = other.disk_fault();
                if let Some(fault) = fault {
                    tracing::error!(error = %other, ?fault, "the disk failed");
                }
                match fault {
                    Some(DiskFault::Full) => Self::NoRoom,
                    Some(DiskFault::Broken) => Self::DiskFailed,
                    Some(DiskFault::NotSynced) => Self::NotSynced,
                    None => Self::Store(other),
                }
            }
        }
    }
}

impl From<EngineError> for ServiceError {
    fn from(error: EngineError) -> Self {
        match error {
            EngineError::Busy => Self::Busy,
            EngineError::CutOff => Self::CutOff,
            EngineError::OutOfTime { seconds } => Self::OutOfTime { seconds },
            EngineError::NotDrawn { code, message } => Self::NotDrawn { code, message },
            EngineError::JointFindings(findings) => Self::JointHasErrors(findings),
            EngineError::Joint { code, pointer, message } => Self::JointRefused { code, pointer, message },
            EngineError::Stock { code, pointer, message } => Self::StockRefused { code, pointer, message },
        }
    }
}
