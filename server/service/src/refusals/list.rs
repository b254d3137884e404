//! Every refusal, with its kind: the one list of them, and the catalogue of problems with the English of each.
//!
//! A refusal carries facts. Its sentences stand here in English, with the facts in their slots; another language says all of them in a
//! [`Refusals`] of its own, which does not compile while one is missing or has other slots. The details of single values ([`FieldError`])
//! and the causes of [`ServiceError::NotDrawn`], [`ServiceError::JointRefused`] and [`ServiceError::StockRefused`] are text already: the
//! catalogue in `words` has the former, and that of the core the latter.

use super::texts::{self, Fact};
use super::{Cause, FieldError, Kind, KindText, RefusalText, bound, given, refusals, slot_of};
use crate::words::Words;
use matchmark_core::document::Finding;
use matchmark_store::StoreError;

refusals! {
    NOT_FOUND = Absent "not-found" "Not found"
        "There is nothing at this address, or nothing that your token may see. Check the address; a builder's token opens only its own kit." {
        /// Not there, or not for this caller: both look the same.
        Hidden => ("There is nothing at this address that your token may see.");
    }
    UNKNOWN_DESIGN = Absent "unknown-design" "Unknown design"
        "No design has this id. GET /v1/designs lists all designs." {
        /// No design with this id.
        UnknownDesign(String) => ("There is no design {0}.") in the API "GET /v1/designs lists all designs.";
    }
    NO_DRAFT = Absent "no-draft" "No draft yet"
        "The design has no draft. PUT the first one with If-None-Match: *." {
        /// The design has no draft yet.
        NoDraft(String) => ("Design {0} has no draft yet. PUT one with If-None-Match: *.");
    }
    UNKNOWN_REVISION = Absent "unknown-revision" "Unknown revision"
        "The design has no revision with this letter. GET /v1/designs/{design}/revisions lists its revisions." {
        /// No such revision.
        UnknownRevision { design: String, letter: String } => ("Design {design} has no revision {letter}.") in the API "GET /v1/designs/{design}/revisions lists its revisions.";
    }
    UNKNOWN_SAVE = Absent "unknown-save" "Unknown save"
        "The draft has no save with this number. GET /v1/designs/{design}/draft/saves lists its saves." {
        /// No such save of the draft.
        UnknownSave(String) => ("The draft has no save {0}.") in the API "GET the draft's saves to see them all.";
    }
    NOT_RECALLED = Absent "not-recalled" "No such recall"
        "The revision is not recalled, or the recall does not concern this kit." {
        /// No recall of this revision that stands, or none that concerns the kit.
        NotRecalled(String) => ("Revision {0} is not recalled, or its recall does not concern this kit.");
    }
    UNKNOWN_MEMBER = Absent "unknown-member" "Unknown member"
        "The revision has no member with this id. Its cut sheet lists all members." {
        /// No such member in the revision.
        UnknownMember(String) => ("This revision has no member {0}. Its cut sheet lists all members.");
    }
    UNKNOWN_WRAP = Absent "unknown-wrap" "No such wrap"
        "The end is sawn square and needs no wrap, or the member or end does not exist. GET the revision's wraps to see them all." {
        /// No wrap for this end.
        NoWrap { member: String, end: usize } => ("End {end} of {member} has no wrap: it is sawn square, or there is no such member.");
        /// Neither end of a tube.
        UnknownEnd(String) => ("A tube has no end `{0}`. Its ends are `from` and `to`.");
    }
    UNKNOWN_FILE = Absent "unknown-file" "Unknown file"
        "The revision or kit has no file of this name. Its list of files has all of them." {
        /// No such file of a revision or kit.
        UnknownFile(String) => ("There is no file {0} here. The list of files has all of them.");
    }
    UNKNOWN_KIT = Absent "unknown-kit" "Unknown kit"
        "No kit has this serial. GET /v1/kits finds kits by the start of their serial." {
        /// No kit with this serial.
        UnknownKit(String) => ("There is no kit {0}.") in the API "GET /v1/kits finds kits by the start of their serial.";
    }
    UNKNOWN_NOTICE = Absent "unknown-notice" "Unknown notice"
        "No notice with this number concerns the design or kit. GET its notices to see them all." {
        /// No such notice.
        UnknownNotice(String) => ("There is no notice {0} here. GET the notices to see them all.");
    }
    UNKNOWN_CUSTOMER = Absent "unknown-customer" "Unknown customer"
        "No customer has this id. GET /v1/customers finds them by name or address." {
        /// No such customer.
        UnknownCustomer(String) => ("There is no customer {0}.") in the API "GET /v1/customers finds them by name or address.";
    }
    UNKNOWN_HOLD = Absent "unknown-hold" "Unknown hold"
        "The kit has no hold with this number. GET /v1/kits/{kit}/holds lists its holds." {
        /// No such hold.
        UnknownHold { kit: String, number: String } => ("Kit {kit} has no hold {number}.") in the API "GET /v1/kits/{kit}/holds lists its holds.";
    }
    UNKNOWN_PACK = Absent "unknown-pack" "Unknown pack"
        "The kit has no pack with this number. GET /v1/kits/{kit}/packs lists its packs." {
        /// No such pack of the kit.
        UnknownPack { kit: String, number: String } => ("Kit {kit} has no pack {number}.") in the API "GET /v1/kits/{kit}/packs lists its packs.";
    }
    VOID_PACK = Absent "void-pack" "The number is void"
        "The issue of this pack failed, so no pack has this number and none ever will. No pack is missing. GET /v1/kits/{kit}/packs lists the packs issued and the void numbers." {
        /// A number that no pack has.
        VoidPack { kit: String, pack: i64 } => ("Void: pack {pack} of kit {kit} was never issued, because its issue failed. The number is not used again, and no pack is missing.");
    }
    NO_PACK_YET = Conflict "no-pack-yet" "The kit has no pack of its revision yet"
        "A builder can have a pack drawn again, but the first pack of a revision comes from the supplier. Ask them for it." {
        /// A builder asks for the first pack of a revision.
        NoPackYet { kit: String, letter: String } => ("No pack of revision {letter} has been issued for kit {kit} yet. Ask the supplier for the first one.");
    }
    PACKS_USED_UP = TooMany "packs-used-up" "Daily limit of packs reached"
        "The number of packs that a builder can have drawn in 24 hours is limited. Try again after the time in Retry-After, or ask the supplier, who can issue one at any time." {
        /// A builder had as many packs drawn as they may.
        PacksUsedUp { most: usize, again: String, seconds: i64 } => ("A builder can have {most} packs of their kit drawn in 24 hours, and that limit is reached. The next can be drawn after {again} UTC. The supplier can issue one at any time.");
    }
    UNKNOWN_DELIVERY = Absent "unknown-delivery" "Unknown delivery"
        "No delivery has this id. GET /v1/deliveries lists them." {
        /// No such delivery.
        UnknownDelivery(String) => ("There is no delivery {0}.") in the API "GET /v1/deliveries lists them.";
    }
    EVENTS_FORGOTTEN = Gone "events-forgotten" "Events no longer kept"
        "Events are kept for 90 days, and some that came after the id in `after` may be gone. Read what you need from the lists, then go on from the oldest event that is kept, with `after=0`." {
        /// Events that came after this one may be gone.
        EventsForgotten(String) => ("Some of the events after {0} may no longer be kept. Bring yourself up to date from the lists of kits, packs and revisions.") in the API "Then go on from the oldest event that is kept, with after=0.";
    }
    UNKNOWN_JOB = Absent "unknown-pack-job" "Unknown pack job"
        "No job has this number. GET /v1/pack-jobs lists them." {
        /// No such job.
        UnknownJob(String) => ("There is no pack job {0}.") in the API "GET /v1/pack-jobs lists them.";
    }
    SIGN_IN_REFUSED = Unproven "sign-in-refused" "The sign-in was refused"
        "The serial and the access code do not match, or the kit has no code yet. Both are on the card of the kit." {
        /// A sign-in that does not hold.
        WrongCode => ("The serial and the access code do not match, or the kit has no code. Check both on the card of the kit. The supplier can make a new card.");
    }
    TOO_MANY_ATTEMPTS = TooMany "too-many-attempts" "Too many attempts"
        "Failed sign-ins count against the address that they come from, never against the kit. Try again after the time in Retry-After." {
        /// Too many failed sign-ins.
        TooManyAttempts { seconds: i64 } => ("Too many sign-ins failed. Check the serial and the code on the card. Then wait {seconds} seconds and try again, or sign in from elsewhere.");
    }
    LAST_PUBLISHER = Conflict "last-publisher" "The last publisher's token"
        "Without this token nobody could publish. Make another publisher's token first." {
        /// The last publisher's token.
        LastPublisher => ("This is the last publisher's token, and without it nobody could publish. Make another one before you end it.");
    }
    TOKEN_ENDED = Conflict "token-ended" "The token has ended"
        "A token that was revoked or has expired cannot be rotated. Make a new one." {
        /// A token that has ended cannot be rotated.
        TokenEnded => ("This token has already ended. Make a new one.");
    }
    ROLE_NEEDED = Forbidden "role-needed" "Your role does not allow this"
        "The token is valid, but this needs a publisher's token, or one that is not read-only." {
        /// The caller may see it but not do this.
        Forbidden => ("This needs a publisher's token. A support token can read, issue packs, hand out builder tokens, and record what builders tell it.");
        /// The token only reads.
        ReadsOnly => ("This token is read-only. Use one that may change things.");
    }
    INVALID_REQUEST = Unusable "invalid-request" "Some values are not valid"
        "The body is JSON, but values in it are missing, unknown or out of bounds. `errors` names each by JSON Pointer." {
        /// Values that will not do.
        Invalid(Vec<FieldError>) => ("Some values in the request are not valid; see errors.");
    }
    CONDITION_NEEDED = ConditionNeeded "condition-needed" "A condition is needed"
        "Name the version that you mean by its ETag in If-Match, so that nobody else's change is lost." {
        /// A draft is to be written and not said which is meant.
        DraftTagMissing => ("Send the ETag of the draft that you mean as If-Match.");
        /// The first draft is to be written and not said that it is the first.
        FirstDraftUnmarked => ("Send If-None-Match: * to write the first draft, so that nobody else's is overwritten.");
        /// Boxes are to be written and not said which are meant.
        BoxesTagMissing => ("Send the ETag of the boxes that you mean as If-Match.");
    }
    CONDITION_FAILED = ConditionFailed "condition-failed" "It has changed"
        "The current version is not the one that the condition names. GET it again, redo your change and send the new ETag." {
        /// No draft is there to be the one that is meant.
        NoDraftToMatch => ("There is no draft yet, so your If-Match names none. Send If-None-Match: * to write the first one.");
        /// The draft is another than the one that is meant.
        DraftChanged => ("The draft is no longer the one that your If-Match names (a weak tag, W/, names none). GET it, redo your change and send its ETag unchanged.");
        /// A draft is there, though none is meant to be.
        DraftExists => ("There is already a draft. To replace it, GET it and send its ETag as If-Match.");
        /// The boxes are others than those that are meant.
        BoxesChanged => ("The boxes are no longer the ones that your If-Match names. GET them, redo your change and try again.");
    }
    DESIGN_EXISTS = Conflict "design-exists" "The design exists already"
        "Another design has this id." {
        /// The id is taken.
        DesignExists(String) => ("There is already a design {0}. Choose another id.");
    }
    KIT_EXISTS = Conflict "kit-exists" "The kit exists already"
        "Another kit has this serial." {
        /// The serial is taken.
        KitExists(String) => ("There is already a kit {0}. Give each kit a serial of its own.");
    }
    SENT_ALREADY = Conflict "sent-already" "It was sent already"
        "The receiver has accepted this delivery. Sending it again would deliver it twice." {
        /// A delivery that was taken by its receiver.
        SentAlready(String) => ("The receiver has accepted delivery {0}, so it is not sent again.");
    }
    KIT_HAS_MOVED = Conflict "kit-has-moved" "The kit has another revision now"
        "The kit was moved after the job was created. Issue its pack separately, or create a job for the revision that it has now." {
        /// The kit was moved to another revision after the job was asked for.
        KitHasMoved { kit: String, letter: String } => ("Kit {kit} has revision {letter} now. Issue its pack separately, or create a job for that revision.");
    }
    IS_THERE = Conflict "kit-has-revision" "The kit has this revision already"
        "A kit can only be moved to a revision that it does not have." {
        /// The kit has the revision already.
        IsThere { kit: String, letter: String } => ("Kit {kit} already has revision {letter}.");
    }
    STATE_FORBIDS = Conflict "state-forbids" "Not allowed in this state"
        "A draft can be written, frozen or published. A frozen draft can be thawed or published. A revision in force can be withdrawn, recalled, or superseded by publishing a newer one. A superseded revision can be withdrawn or recalled. A withdrawn one can be recalled or reinstated. A recalled one can be reinstated." {
        /// The draft is not frozen.
        DraftOpen => ("The draft is a draft, so this cannot be done now. It can be written, frozen for review or published.");
        /// The draft is frozen.
        DraftFrozen => ("The draft is frozen for review, so this cannot be done now. It can be thawed or published.");
        /// The revision is still a draft, which is not frozen.
        RevisionOpen(String) => ("Revision {0} is a draft, so this cannot be done now. It can be written, frozen for review or published.");
        /// The revision is still a draft, which is frozen.
        RevisionFrozen(String) => ("Revision {0} is frozen for review, so this cannot be done now. It can be thawed or published.");
        /// The revision is in force.
        RevisionPublished(String) => ("Revision {0} is published, so this cannot be done now. It can be withdrawn, recalled, or superseded by publishing a newer one.");
        /// A newer revision is in force.
        RevisionSuperseded(String) => ("Revision {0} is superseded, so this cannot be done now. It can be withdrawn or recalled.");
        /// The revision was withdrawn.
        RevisionWithdrawn(String) => ("Revision {0} is withdrawn, so this cannot be done now. It can be recalled or reinstated.");
        /// The revision was recalled.
        RevisionRecalled(String) => ("Revision {0} is recalled, so this cannot be done now. It can be reinstated.");
    }
    FREEZE_FIRST = Conflict "freeze-first" "The draft must be frozen first"
        "This service publishes only drafts that a second person has reviewed. POST the draft's freeze. Then somebody else publishes it." {
        /// A second person must look at a draft before it is published.
        FreezeFirst => ("This service publishes only drafts that a second person has reviewed. Freeze the draft. Then somebody who neither wrote nor froze it publishes it.");
    }
    SECOND_PERSON = Forbidden "second-person-needed" "A second person must publish it"
        "The person who last wrote a draft, or froze it, may not publish it. Somebody else must, with a publisher's token that the operator made for them with `matchmark token`. A token that was made with another token, or by rotating one, stands for the same person." {
        /// An import brings in revisions that nobody here has looked at.
        ImportedAlone => ("This service publishes only what a second person has reviewed, and nobody here has reviewed the revisions in a design file. Turn second-approver off to import it (that goes on record), or save its documents as drafts.");
        /// The caller is no second person.
        SecondPerson => ("You wrote or froze this draft, so somebody else has to publish it, with their own publisher's token from the machine of the service (`matchmark token`).");
    }
    NOT_IN_FORCE = Conflict "not-in-force" "The revision is not in force"
        "A withdrawn or recalled revision takes no more kits, and no pack of a recalled one is issued and no file for machines given out. Choose a revision that is in force." {
        /// No kit may be sold with the withdrawn revision or moved to it.
        WithdrawnTakesNoKits(String) => ("Revision {0} is withdrawn: it takes no more kits. Choose one that is in force.");
        /// No kit may be sold with the recalled revision or moved to it.
        RecalledTakesNoKits(String) => ("Revision {0} is recalled: it takes no more kits. Choose one that is in force.");
        /// No pack of a recalled revision is issued.
        IssuesNoPacks(String) => ("Revision {0} is recalled: no pack of it is issued. Its stop sheet says what to do; the supplier can move the kit to a revision that is in force.");
        /// No files to make parts from are given out of a recalled revision.
        GivesNoFiles(String) => ("Revision {0} is recalled: no files for machines and programs are given out. Its stop sheet says what to do; the supplier can move the kit to a revision that is in force.");
        /// The revision that a notice leads to was recalled since.
        NoticeStopped { number: i64, letter: String } => ("Notice {number} leads to revision {letter}, which was recalled. Its pages are not handed out, and it cannot be reported as done. Do none of its work until the supplier says how.");
    }
    STOP_SHEET_FIRST = Conflict "stop-sheet-first" "Read the stop sheet first"
        "The revision is recalled. Its packs are handed out only after the stop sheet of the kit is acknowledged." {
        /// A stop sheet must be acknowledged first.
        StopSheetFirst { kit: String, letter: String } => ("Revision {letter} is recalled. Read its stop sheet for kit {kit} to the end and acknowledge it; nothing is handed out before that.") in the API "GET /v1/kits/{kit}/stop-sheets/{letter} reads it, and POST to its acknowledgement says that it was read.";
    }
    ON_HOLD = Conflict "kit-on-hold" "The kit is on hold"
        "In a dispute or after a theft, the supplier hands out nothing to build the kit from. No pack is issued or downloaded, and the builder's token opens no sheets. Stop sheets and notices stay open. The detail says whom to ask." {
        /// Nothing of the kit is handed out for the present.
        OnHold { kit: String, ask: String } => ("Kit {kit} is on hold: for now the supplier hands out nothing to build it from. Whom to ask: {ask} (Stop sheets and the text of notices stay open; the rework pages of notices do not.)");
    }
    HELD_ALREADY = Conflict "held-already" "The kit is already on hold"
        "A kit has one hold at a time. Lift the current one first." {
        /// A kit has one hold at a time.
        HeldAlready { kit: String, number: i64 } => ("Kit {kit} is already on hold. Lift hold {number} before you place another.");
    }
    NOTHING_CHANGED = Conflict "nothing-changed" "Nothing changed since the last revision"
        "A revision with the same content as the last one would make its readers look for a difference. Change the draft first." {
        /// The draft is what was published last.
        NothingChanged(String) => ("The draft is the same as revision {0}. Change it before you publish again.");
    }
    FIGURES_DIFFER = Conflict "figures-differ" "Figures differ from the record"
        "This version of the service computes figures for the revision that differ from those recorded when it was published. Nothing of the revision is handed out until a publisher has looked at the new figures and accepted them." {
        /// This version of the engine computes other figures than were recorded when the revision was published.
        FiguresDiffer { design: String, letter: String, parts: usize, engine: String } => ("Revision {letter} of {design} is held. For {parts} of its parts, this version of the service computes other figures than version {engine} recorded. Nothing to build from is handed out until a publisher looks at /v1/designs/{design}/revisions/{letter}/figures and accepts them, or the operator goes back to the earlier version.");
    }
    DESIGN_HAS_ERRORS = Unusable "design-has-errors" "The design has errors"
        "A design with findings of severity error cannot be published or drawn. `findings` lists them with the place of each." {
        /// Errors in the design.
        DesignHasErrors(Vec<Finding>) => ("The design has errors. Correct what findings name and try again.");
    }
    KITS_NOT_IMPORTED = Unusable "kits-not-imported" "The file of kits has errors"
        "No kit in the file was registered. Each error is named by its line and column. Correct them all and send the file again." {
        /// A file of kits with faults.
        KitsNotImported(Vec<FieldError>) => ("The file has errors, so none of its kits was registered; errors names each by its line.");
    }
    FILE_REFUSED = Unusable "design-file-refused" "The design file is damaged or altered"
        "A hash or a link of the chain in the file does not match its content, so nothing was imported. Export it again." {
        /// A design file that does not hold.
        FileRefused(Vec<FieldError>) => ("This design file is not as it was exported, so nothing was imported; see errors.");
    }
    NOT_MEASURABLE = Unusable "not-measurable" "Measured values out of bounds"
        "A measured value is outside the limits of its gauge, the gauge is unknown, or no frame can be made with the value. Findings name the limits. Measure again, and ask the supplier before you cut anything." {
        /// Measured values that the design cannot take.
        NotMeasurable(Vec<Finding>) => ("These measured values cannot be used; findings name the limits.");
    }
    WARNINGS_OPEN = Conflict "warnings-not-acknowledged" "Warnings are not acknowledged"
        "Read the findings. If you accept them, name their codes in `acknowledge`." {
        /// Warnings not acknowledged.
        WarningsNotAcknowledged(Vec<Finding>) => ("The design has warnings. Read them, and if you accept them, name their codes in acknowledge.");
    }
    NOT_DRAWN = Unusable "not-drawn" "It cannot be drawn"
        "A page would have been wrong, so no file was made. `code` and `detail` name the cause." {
        /// A pack or wrap could not be drawn.
        NotDrawn { code: &'static str, message: String } => ("It could not be drawn: {message}");
    }
    JOINT_REFUSED = Unusable "joint-refused" "The joint cannot be computed"
        "A value of the request is missing or out of bounds, or the tubes do not meet as described. `errors` or `findings` name the place by JSON Pointer." {
        /// A joint that cannot be computed.
        JointRefused { code: &'static str, pointer: String, message: String } => ("{message}");
        /// A described joint that cannot be made.
        JointHasErrors(Vec<Finding>) => ("The joint cannot be made as described. Correct what findings name and try again.");
    }
    STOCK_REFUSED = Unusable "stock-refused" "The stock plan cannot be made"
        "A value of the request is out of bounds, a part is longer than any bar, or there are too few bars. `errors` names the place by JSON Pointer, `code` the cause." {
        /// A stock plan that cannot be made.
        StockRefused { code: &'static str, pointer: String, message: String } => ("{message}");
    }
    KEY_REUSED = Unusable "idempotency-key-reused" "The Idempotency-Key was used before"
        "A key belongs to one request. The earlier request with this key had another body." {
        /// The key was used for another request.
        KeyReused => ("This Idempotency-Key was used for another request. Use a new key for a new request.");
    }
    NOT_SHOWN_AGAIN = Conflict "not-shown-again" "The card or token has ended"
        "This request was sent before with the same Idempotency-Key. The card or token that it made has since ended or been replaced, so it is not shown again. Make a new one if you need it." {
        /// The card of a kit that a repeated request made has ended since.
        CardNotShownAgain(String) => ("The card of kit {0} that this request made cannot be shown again: it has since ended or been replaced. Make a new one if you need it.");
        /// The token that a repeated request made has ended since.
        TokenNotShownAgain => ("The token that this request made cannot be shown again: it has since ended or been replaced. Make a new one if you need it.");
    }
    BUSY = Away "busy" "Busy"
        "Too many computations are waiting. Try again after the time in Retry-After." {
        /// Too much work at once.
        Busy => ("The service is busy; try again in a few seconds.");
    }
    OUT_OF_TIME = Away "out-of-time" "The computation takes too long"
        "The computation was not done within the time allowed for one. Ask for less at once, or try again when the service is less busy." {
        /// A computation took longer than there is time for one.
        OutOfTime { seconds: u64 } => ("This could not be computed in the {seconds} seconds allowed. Ask for less at once, or try again when the service is less busy. The operator can allow more time (compute-seconds).");
    }
    STORE_AWAY = Away "store-away" "The database or the pack store cannot be reached"
        "The service cannot reach its database or its store of issued packs at the moment. The request may or may not have taken effect. Try again after the time in Retry-After. Repeat a change with the same Idempotency-Key." {
        /// The database is out of reach.
        DatabaseAway => ("The database cannot be reached at the moment. The request may or may not have taken effect. Try again in a few seconds, and repeat a change with the same Idempotency-Key.");
        /// The store of issued packs is out of reach.
        PacksAway => ("The store of issued packs cannot be reached at the moment. The request may or may not have taken effect. Try again in a few seconds, and repeat a change with the same Idempotency-Key.");
    }
    KEY_NOT_IN_FORCE = Away "key-not-in-force" "The signing key is not in force"
        "This process was started with a signing key that is no longer in force, so it signs nothing: no packs, no stop sheets, no status. Its operator has to restart it with the key in force." {
        /// The process signs with a key that is not in force any more.
        KeyNotInForce => ("This process signs nothing, because its signing key was replaced or revoked since it was started. Its operator has to restart it with the key in force.");
    }
    NO_ROOM = NoRoom "no-room" "The disk is full"
        "The disk of the service is full. Nothing was changed, and reading still works. The operator has to free some space; no restart is needed." {
        /// No room is left.
        NoRoom => ("The disk of the service is full, so nothing was changed. Reading still works. The operator has to free some space.");
    }
    DISK_FAILED = Away "disk-failed" "The disk failed"
        "The disk of the service failed to read or write, and nothing was changed. Try again. The operator finds the cause in the log." {
        /// The disk refused.
        DiskFailed => ("The disk of the service failed, so nothing was changed. Try again. If it fails again, tell the operator.");
    }
    NOT_SYNCED = Away "not-synced" "The disk did not confirm a write"
        "The change may or may not be on the disk, so the service stops. After its restart, send the request again with the same Idempotency-Key." {
        /// The disk did not confirm a write.
        NotSynced => ("The disk did not confirm a write, so the change may be lost. The service stops. The operator has to check the disk.");
    }
    INTERNAL = Ours "internal" "The service failed"
        "The service has a fault. Its log has the cause under the request id." {
        /// The stored data contradicts itself.
        Inconsistent(&'static str) => ("the stored data contradicts itself: {0}");
        /// The store failed.
        Store(StoreError) => ("{0}");
        /// A computation failed in a way that is our fault.
        CutOff => ("a computation was cut off");
    }
}
