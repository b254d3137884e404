//! Every refusal, with its kind: the one list of them, and the English of each.

use super::{Cause, FieldError, Kind, refusals};
use matchmark_core::document::Finding;
use matchmark_store::StoreError;

refusals! {
    NOT_FOUND = Absent "not-found" "Not found"
        "There is nothing at this address, or nothing that your token may see. Check the address; a builder's token opens only its own kit." {
        /// Not there, or not for this caller: both look the same.
        Hidden => ("There is nothing at this address that your token may see.");
    }
    UNKNOWN_DESIGN = Absent "unknown-design" "Unknown design"
        "No design has this id. GET /v1/designs lists those there are." {
        /// No design with this id.
        UnknownDesign(String) => ("There is no design {0}; GET /v1/designs lists those there are.");
    }
    NO_DRAFT = Absent "no-draft" "No draft yet"
        "The design has no draft. PUT the first one with If-None-Match: *." {
        /// The design has no draft yet.
        NoDraft(String) => ("Design {0} has no draft yet; PUT one with If-None-Match: *.");
    }
    UNKNOWN_REVISION = Absent "unknown-revision" "Unknown revision"
        "The design has no revision with this letter. GET its revisions lists those published." {
        /// No such revision.
        UnknownRevision { design: String, letter: String } => ("Design {design} has no revision {letter}; GET its revisions lists those published.");
    }
    UNKNOWN_SAVE = Absent "unknown-save" "Unknown save"
        "The draft has no save with this number. GET its saves lists them." {
        /// No such save of the draft.
        UnknownSave(String) => ("The draft has no save {0}; GET its saves lists them.");
    }
    NOT_RECALLED = Absent "not-recalled" "No such recall"
        "The revision is not recalled, or the recall does not concern this kit." {
        /// No recall of this revision that stands, or none that concerns the kit.
        NotRecalled(String) => ("No recall of revision {0} stands here.");
    }
    UNKNOWN_MEMBER = Absent "unknown-member" "Unknown member"
        "The revision has no member with this id. Its cut sheet lists all members." {
        /// No such member in the revision.
        UnknownMember(String) => ("This revision has no member {0}; its cut sheet lists all members.");
    }
    UNKNOWN_WRAP = Absent "unknown-wrap" "No such wrap"
        "The end is sawn square and needs no wrap, or there is no such member or end. GET the revision's wraps lists them." {
        /// No wrap for this end.
        UnknownWrap { member: String, end: String } => ("{}",
                if matches!(end.as_str(), "from" | "to") {
                format!("The {end} end of {member} has no wrap: it is sawn square, or there is no such member.")
                } else {
                format!("A tube has the ends `from` and `to`, and no `{end}`.")
                });
    }
    UNKNOWN_KIT = Absent "unknown-kit" "Unknown kit"
        "No kit has this serial. GET /v1/kits finds kits by the beginning of their serial." {
        /// No kit with this serial.
        UnknownKit(String) => ("There is no kit {0}; GET /v1/kits finds kits by the beginning of their serial.");
    }
    UNKNOWN_NOTICE = Absent "unknown-notice" "Unknown notice"
        "No notice with this number concerns the design or kit. GET its notices lists them." {
        /// No such notice.
        UnknownNotice(String) => ("There is no notice {0} here; GET the notices lists them.");
    }
    UNKNOWN_CUSTOMER = Absent "unknown-customer" "Unknown customer"
        "No customer has this id. GET /v1/customers finds them by name or address." {
        /// No such customer.
        UnknownCustomer(String) => ("There is no customer {0}; GET /v1/customers finds them by name or address.");
    }
    UNKNOWN_HOLD = Absent "unknown-hold" "Unknown hold"
        "The kit has no hold with this number. GET its holds lists them." {
        /// No such hold.
        UnknownHold { kit: String, number: String } => ("Kit {kit} has no hold {number}; GET its holds lists them.");
    }
    UNKNOWN_PACK = Absent "unknown-pack" "Unknown pack"
        "The kit has no pack with this number. GET its packs lists those issued." {
        /// No such pack of the kit.
        UnknownPack { kit: String, number: String } => ("Kit {kit} has no pack {number}; GET its packs lists those issued.");
    }
    VOID_PACK = Absent "void-pack" "The number is void"
        "No pack has this number, because its issue failed, and none ever will. Nothing is missing: GET the kit's packs lists those issued and the numbers that are void." {
        /// A number that no pack has.
        VoidPack(String) => ("{0}");
    }
    NO_PACK_YET = Conflict "no-pack-yet" "The kit has no pack of its revision yet"
        "A builder has a pack drawn again; the first one of a revision comes from the supplier. Ask them for it." {
        /// A builder asks for the first pack of a revision.
        NoPackYet { kit: String, letter: String } => ("No pack of revision {letter} has been issued for kit {kit} yet: ask the supplier for the first one.");
    }
    PACKS_USED_UP = TooMany "packs-used-up" "Enough packs were drawn for today"
        "A builder may have only so many packs of their kit drawn in 24 hours. Try again after the time in Retry-After, or ask the supplier, who can issue one at any time." {
        /// A builder had as many packs drawn as they may.
        PacksUsedUp { most: usize, again: String, seconds: i64 } => ("A builder may have {most} packs of their kit drawn in 24 hours, and that many were. The next can be drawn after {again} UTC; the supplier can issue one at any time.");
    }
    UNKNOWN_DELIVERY = Absent "unknown-delivery" "Unknown delivery"
        "No delivery has this id. GET /v1/deliveries lists them." {
        /// No such delivery.
        UnknownDelivery(String) => ("There is no delivery {0}; GET /v1/deliveries lists them.");
    }
    UNKNOWN_JOB = Absent "unknown-pack-job" "Unknown pack job"
        "No job has this number. GET /v1/pack-jobs lists them." {
        /// No such job.
        UnknownJob(String) => ("There is no pack job {0}; GET /v1/pack-jobs lists them.");
    }
    SIGN_IN_REFUSED = Unproven "sign-in-refused" "The sign-in was refused"
        "Serial and access code do not belong together, or the kit has no code yet. Both are on the card of the kit." {
        /// A sign-in that does not hold.
        WrongCode => ("Serial and access code do not belong together, or the kit has no code. Check both on the card of the kit; the supplier can make a new one.");
    }
    TOO_MANY_ATTEMPTS = TooMany "too-many-attempts" "Too many attempts"
        "Sign-ins that fail are counted for the address that they come from, never for the kit. Try again after the time in Retry-After." {
        /// Too many failed sign-ins.
        TooManyAttempts { seconds: i64 } => ("Too many sign-ins failed. Wait {seconds} seconds and try again, or sign in from elsewhere; check serial and code on the card first.");
    }
    LAST_PUBLISHER = Conflict "last-publisher" "The last publisher's token"
        "Without it nobody could publish any more. Make another publisher's token first." {
        /// The last publisher's token.
        LastPublisher => ("This is the last publisher's token; make another before you end it, or nobody could publish any more.");
    }
    TOKEN_ENDED = Conflict "token-ended" "The token has ended"
        "A token that was revoked or has expired cannot be rotated. Make a new one." {
        /// A token that has ended cannot be rotated.
        TokenEnded => ("This token has ended already; make a new one.");
    }
    ROLE_NEEDED = Forbidden "role-needed" "Your role does not allow this"
        "The token is good, but this takes a publisher's, or one that does not only read." {
        /// The caller may see it but not do this.
        Forbidden => ("This takes a publisher's token; a support token reads, issues packs and hands out builder tokens.");
        /// The token only reads.
        ReadsOnly => ("This token only reads; it takes one that may change things.");
    }
    INVALID_REQUEST = Unusable "invalid-request" "Some values will not do"
        "The body is JSON, but values in it are missing, unknown or out of bounds; errors names each by JSON Pointer." {
        /// Values that will not do.
        Invalid(Vec<FieldError>) => ("Some values of the request will not do; see errors.");
    }
    CONDITION_NEEDED = ConditionNeeded "condition-needed" "A condition is needed"
        "Say which version you mean by its ETag in If-Match, so that no one else's change is lost." {
        /// A conditional request without its condition.
        ConditionMissing(&'static str) => ("{0}");
    }
    CONDITION_FAILED = ConditionFailed "condition-failed" "It has changed"
        "What is there is not the version that the condition names. GET it again, redo the change and send its new ETag." {
        /// The condition does not hold.
        ConditionFailed(&'static str) => ("{0}");
    }
    DESIGN_EXISTS = Conflict "design-exists" "The design is there already"
        "Another design has this id." {
        /// The id is taken.
        DesignExists(String) => ("There is a design {0} already; choose another id.");
    }
    KIT_EXISTS = Conflict "kit-exists" "The kit is there already"
        "Another kit has this serial." {
        /// The serial is taken.
        KitExists(String) => ("There is a kit {0} already; give each kit a serial of its own.");
    }
    SENT_ALREADY = Conflict "sent-already" "It was sent already"
        "Its receiver has taken it; it would come twice." {
        /// A delivery that was taken by its receiver.
        SentAlready(String) => ("Delivery {0} was sent; it is not sent again.");
    }
    KIT_HAS_MOVED = Conflict "kit-has-moved" "The kit has another revision now"
        "It was moved after the job was asked for. Issue its pack by itself, or ask for a job of the revision that it has." {
        /// The kit was moved to another revision after the job was asked for.
        KitHasMoved { kit: String, letter: String } => ("Kit {kit} has revision {letter} now; issue its pack by itself, or ask for a job of that revision.");
    }
    IS_THERE = Conflict "kit-has-revision" "The kit has this revision already"
        "Moving a kit takes another revision than the one it has." {
        /// The kit has the revision already.
        IsThere { kit: String, letter: String } => ("Kit {kit} has revision {letter} already.");
    }
    STATE_FORBIDS = Conflict "state-forbids" "Its state forbids it"
        "A draft can be written, frozen or published, a frozen one thawed or published. A revision in force can be withdrawn, recalled or superseded by publishing a newer one, a superseded one withdrawn or recalled, a withdrawn one recalled or reinstated, a recalled one reinstated." {
        /// The state of a revision does not allow the step.
        StateForbids { what: String, state: &'static str, possible: &'static str } => ("{what} is {state}, so that this cannot be done to it now. {possible}");
    }
    FREEZE_FIRST = Conflict "freeze-first" "The draft must be frozen first"
        "The service is set to publish only what a second person has looked at. POST the draft's freeze; somebody else then publishes it." {
        /// A second person must look at a draft before it is published.
        FreezeFirst => ("This service publishes only what a second person has looked at. Freeze the draft; then somebody else, who neither wrote nor froze it, publishes it.");
    }
    SECOND_PERSON = Forbidden "second-person-needed" "A second person must publish it"
        "Who wrote a draft last or froze it may not publish it. A publisher's token of somebody else may: one that the operator made for them with `matchmark token`. One got with another token, or by rotating it, stands for the same person." {
        /// An import brings in revisions that nobody here has looked at.
        ImportedAlone => ("This service publishes only what a second person has looked at, and a design file brings in revisions that nobody here has. Import it with second-approver off, which goes on record, or write its documents as drafts.");
        /// The caller is no second person.
        SecondPerson => ("You wrote or froze this draft, so that somebody else has to publish it, with a publisher's token of their own that was made on the machine of the service (`matchmark token`).");
    }
    NOT_IN_FORCE = Conflict "not-in-force" "The revision is not in force"
        "A withdrawn or recalled revision takes no more kits, and no pack of a recalled one is issued. Choose a revision that is in force." {
        /// No kit may be sold with the revision or moved to it.
        TakesNoKits { letter: String, state: &'static str } => ("Revision {letter} is {state}: it takes no more kits. Choose one that is in force.");
        /// No pack of a recalled revision is issued.
        IssuesNoPacks(String) => ("Revision {0} is recalled: no pack of it is issued. Its stop sheet says what to do; the supplier can move the kit to a revision that is in force.");
        /// The revision that a notice leads to was recalled since.
        NoticeStopped { number: i64, letter: String } => ("Revision {letter}, which has the change of notice {number}, was recalled: its pages are not handed out, and it cannot be reported as done. Do none of its work until the supplier says how.");
    }
    STOP_SHEET_FIRST = Conflict "stop-sheet-first" "Read the stop sheet first"
        "The revision is recalled. Its packs are handed out only after the stop sheet of the kit was acknowledged." {
        /// A stop sheet must be acknowledged first.
        StopSheetFirst { kit: String, letter: String } => ("Revision {letter} is recalled. Read its stop sheet for kit {kit} to its end and acknowledge it: nothing is handed out before. (API: /v1/kits/{kit}/stop-sheets/{letter})");
    }
    ON_HOLD = Conflict "kit-on-hold" "The kit is on hold"
        "In a dispute or after a theft the supplier hands out nothing to build the kit from: no pack is issued or downloaded, and its builder's token opens no sheets. Stop sheets and notices stay open. The detail says whom to ask." {
        /// Nothing of the kit is handed out for the present.
        OnHold { kit: String, ask: String } => ("Kit {kit} is on hold: the supplier hands out nothing to build it from for the present. Whom to ask: {ask} (Stop sheets, and what notices say, stay open; their pages to work from do not.)");
    }
    HELD_ALREADY = Conflict "held-already" "The kit is on hold already"
        "A kit has one hold at a time. Lift the one that stands first." {
        /// A kit has one hold at a time.
        HeldAlready { kit: String, number: i64 } => ("Kit {kit} is on hold already; lift hold {number} before you put another.");
    }
    NOTHING_CHANGED = Conflict "nothing-changed" "Nothing changed since the last revision"
        "A revision with the same content as the last would make its readers look for a difference. Change the draft first." {
        /// The draft is what was published last.
        NothingChanged(String) => ("The draft is the same as revision {0}; change it before publishing again.");
    }
    FIGURES_DIFFER = Conflict "figures-differ" "Other figures than recorded"
        "This version of the service computes other figures for the revision than were recorded when it was published. A publisher looks at its figures and takes them; until then nothing of it is handed out." {
        /// This version of the engine computes other figures than were recorded when the revision was published.
        FiguresDiffer { design: String, letter: String, parts: usize, engine: String } => ("Revision {letter} of {design} is held: this version of the service computes other figures for {parts} of its parts than version {engine} did, which the revision was recorded with. A publisher looks at /v1/designs/{design}/revisions/{letter}/figures and takes them, or the operator goes back to the version before. Nothing to build from is handed out until then.");
    }
    DESIGN_HAS_ERRORS = Unusable "design-has-errors" "The design has errors"
        "Findings of severity error stop publishing and drawing; findings lists them with the place of each." {
        /// Errors in the design.
        DesignHasErrors(Vec<Finding>) => ("The design has errors; mend what findings name and try again.");
    }
    KITS_NOT_IMPORTED = Unusable "kits-not-imported" "The file of kits has faults"
        "No kit of the file was registered. Every fault is named by its line and column; mend them all and send the file again." {
        /// A file of kits with faults.
        KitsNotImported(Vec<FieldError>) => ("The file has faults, so no kit of it was registered; errors names each by its line.");
    }
    FILE_REFUSED = Unusable "design-file-refused" "The design file does not hold"
        "A hash or a link of the chain in the file is not that of its content, so that nothing of it was taken in. Export it again." {
        /// A design file that does not hold.
        FileRefused(Vec<FieldError>) => ("This design file is not as it was exported, so nothing of it was taken in; see errors.");
    }
    NOT_MEASURABLE = Unusable "not-measurable" "Measured values out of bounds"
        "A measured value lies outside the limits of its gauge, the gauge is unknown, or no frame can be made with it. Findings name the limits: measure again, and ask the supplier before anything is cut." {
        /// Measured values that the design cannot take.
        NotMeasurable(Vec<Finding>) => ("These measured values cannot be taken into account; findings name the limits.");
    }
    WARNINGS_OPEN = Conflict "warnings-not-acknowledged" "Warnings are not acknowledged"
        "Read the findings; if they are as meant, name their codes in acknowledge." {
        /// Warnings not acknowledged.
        WarningsNotAcknowledged(Vec<Finding>) => ("The design has warnings; read them and name their codes in acknowledge if they are as meant.");
    }
    NOT_DRAWN = Unusable "not-drawn" "It cannot be drawn"
        "A page would have been wrong, so none was made; code and detail name the cause." {
        /// A pack or wrap could not be drawn.
        NotDrawn { code: &'static str, message: String } => ("It could not be drawn: {message}");
    }
    JOINT_REFUSED = Unusable "joint-refused" "The joint cannot be computed"
        "A value of the request is missing or out of bounds, or the tubes do not meet as described; errors or findings name the place by JSON Pointer." {
        /// A joint that cannot be computed.
        JointRefused { code: &'static str, pointer: String, message: String } => ("{message}");
        /// A described joint that cannot be made.
        JointHasErrors(Vec<Finding>) => ("The joint cannot be made as described; mend what findings name and try again.");
    }
    STOCK_REFUSED = Unusable "stock-refused" "The stock plan cannot be made"
        "A value of the request is out of bounds, a part is longer than any bar, or there are too few bars; errors names the place by JSON Pointer and code the cause." {
        /// A stock plan that cannot be made.
        StockRefused { code: &'static str, pointer: String, message: String } => ("{message}");
    }
    KEY_REUSED = Unusable "idempotency-key-reused" "The Idempotency-Key was used before"
        "A key stands for one request. The earlier request with this key had another body." {
        /// The key was used for another request.
        KeyReused => ("This Idempotency-Key was used for another request; take a new key for a new request.");
    }
    NOT_SHOWN_AGAIN = Conflict "not-shown-again" "What was made has ended"
        "The request was sent before with this Idempotency-Key, and the card or token that it made has ended or was replaced since, so that it is not shown again. Make a new one if you need it." {
        /// What a repeated request made, a card or a token, has ended since.
        NotShownAgain(String) => ("{0} that this request made cannot be shown again: it has ended or was replaced since. Make a new one if you need it.");
    }
    BUSY = Away "busy" "Busy"
        "Too much is being drawn at once. Try again after the time in Retry-After." {
        /// Too much work at once.
        Busy => ("The service is busy; try again in a few seconds.");
    }
    OUT_OF_TIME = Away "out-of-time" "It takes too long to compute"
        "The time that there is for one computation was over before it was done. Ask for less at once, or try again when the service has less to do." {
        /// A computation took longer than there is time for one.
        OutOfTime { seconds: u64 } => ("This takes longer to compute than the {seconds} seconds there are for it, and was given up. Ask for less at once, or try again when there is less to do; the operator can allow more (compute-seconds).");
    }
    STORE_AWAY = Away "store-away" "A store is out of reach"
        "The service cannot reach its database or its store of issued packs at present. What was asked for may be done or not: try again after the time in Retry-After, a change with the same Idempotency-Key." {
        /// The database, or the store of issued packs, is out of reach.
        StoreAway(&'static str) => ("{0} cannot be reached at present, and what was asked for may be done or not. Try again in a few seconds, a change with the same Idempotency-Key.");
    }
    KEY_NOT_IN_FORCE = Away "key-not-in-force" "The signing key is not in force"
        "This process was started with a signing key that is not in force any more, so that it signs nothing: no packs, no stop sheets, no status. Its operator has to start it again with the key that is." {
        /// The process signs with a key that is not in force any more.
        KeyNotInForce => ("Another signing key was put in force since this process was started, or its own was revoked, so that it signs nothing. Its operator has to start it again with the key that is in force.");
    }
    NO_ROOM = NoRoom "no-room" "No room left"
        "The disk of the service is full: nothing was changed, and reading goes on. Its operator has to make room; then it goes on without a restart." {
        /// No room is left.
        NoRoom => ("There is no room left on the disk of the service, so that nothing was changed. Reading goes on; its operator has to make room.");
    }
    DISK_FAILED = Away "disk-failed" "The disk failed"
        "The disk of the service refused to read or write, and nothing was changed. Try again; its operator finds the cause in the log." {
        /// The disk refused.
        DiskFailed => ("The disk of the service failed, so that nothing was changed. Try again; if it stays so, tell its operator.");
    }
    NOT_SYNCED = Away "not-synced" "The disk did not confirm a write"
        "What was written may or may not be there. The service stops rather than build on it; after its restart send the request again with the same Idempotency-Key." {
        /// The disk did not confirm a write.
        NotSynced => ("The disk did not confirm what was written. The service stops, so that nothing is built on what may not be there; its operator has to look at the disk.");
    }
    INTERNAL = Ours "internal" "The service failed"
        "The fault is ours. The log has it under the request id." {
        /// What is kept is at odds with itself.
        Inconsistent(&'static str) => ("what is kept is at odds with itself: {0}");
        /// The store failed.
        Store(StoreError) => ("{0}");
        /// A computation failed in a way that is our fault.
        CutOff => ("a computation was cut off");
    }
}
