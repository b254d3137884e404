//! Every kind of problem the service answers with: its address, status and what to do about it.

use axum::http::StatusCode;

/// A kind of problem. Its `type` is `/problems/` and its slug, where a page explains it.
#[derive(Debug, PartialEq, Eq)]
pub struct Kind {
    /// Stable name.
    pub slug: &'static str,
    /// Status of the answer.
    pub status: StatusCode,
    /// A few words.
    pub title: &'static str,
    /// What it means and what to do.
    pub about: &'static str,
}

macro_rules! kinds {
    ($($name:ident $slug:literal $status:ident $title:literal $about:literal;)*) => {
        $(pub const $name: Kind = Kind {
            slug: $slug,
            status: StatusCode::$status,
            title: $title,
            about: $about,
        };)*
        /// All kinds.
        pub const ALL: &[Kind] = &[$($name),*];
    };
}

kinds! {
    NOT_FOUND "not-found" NOT_FOUND "Not found"
        "There is nothing at this address, or nothing that your token may see. Check the address; a builder's token opens only its own kit.";
    UNKNOWN_DESIGN "unknown-design" NOT_FOUND "Unknown design"
        "No design has this id. GET /v1/designs lists those there are.";
    NO_DRAFT "no-draft" NOT_FOUND "No draft yet"
        "The design has no draft. PUT the first one with If-None-Match: *.";
    UNKNOWN_REVISION "unknown-revision" NOT_FOUND "Unknown revision"
        "The design has no revision with this letter. GET its revisions lists those published.";
    UNKNOWN_SAVE "unknown-save" NOT_FOUND "Unknown save"
        "The draft has no save with this number. GET its saves lists them.";
    NOT_RECALLED "not-recalled" NOT_FOUND "No such recall"
        "The revision is not recalled, or the recall does not concern this kit.";
    UNKNOWN_MEMBER "unknown-member" NOT_FOUND "Unknown member"
        "The revision has no member with this id. Its cut sheet lists all members.";
    UNKNOWN_WRAP "unknown-wrap" NOT_FOUND "No such wrap"
        "The end is sawn square and needs no wrap, or there is no such member or end. GET the revision's wraps lists them.";
    UNKNOWN_KIT "unknown-kit" NOT_FOUND "Unknown kit"
        "No kit has this serial. GET /v1/kits finds kits by the beginning of their serial.";
    UNKNOWN_NOTICE "unknown-notice" NOT_FOUND "Unknown notice"
        "No notice with this number concerns the design or kit. GET its notices lists them.";
    UNKNOWN_CUSTOMER "unknown-customer" NOT_FOUND "Unknown customer"
        "No customer has this id. GET /v1/customers finds them by name or address.";
    UNKNOWN_HOLD "unknown-hold" NOT_FOUND "Unknown hold"
        "The kit has no hold with this number. GET its holds lists them.";
    UNKNOWN_PACK "unknown-pack" NOT_FOUND "Unknown pack"
        "The kit has no pack with this number. GET its packs lists those issued.";
    VOID_PACK "void-pack" NOT_FOUND "The number is void"
        "No pack has this number, because its issue failed, and none ever will. Nothing is missing: GET the kit's packs lists those issued and the numbers that are void.";
    NO_PACK_YET "no-pack-yet" CONFLICT "The kit has no pack of its revision yet"
        "A builder has a pack drawn again; the first one of a revision comes from the supplier. Ask them for it.";
    PACKS_USED_UP "packs-used-up" TOO_MANY_REQUESTS "Enough packs were drawn for today"
        "A builder may have only so many packs of their kit drawn in 24 hours. Try again after the time in Retry-After, or ask the supplier, who can issue one at any time.";
    UNKNOWN_DELIVERY "unknown-delivery" NOT_FOUND "Unknown delivery"
        "No delivery has this id. GET /v1/deliveries lists them.";
    UNKNOWN_JOB "unknown-pack-job" NOT_FOUND "Unknown pack job"
        "No job has this number. GET /v1/pack-jobs lists them.";
    TOKEN_NEEDED "token-needed" UNAUTHORIZED "A token is needed"
        "Send a token that this service gave out, as Authorization: Bearer and the token.";
    SIGN_IN_REFUSED "sign-in-refused" UNAUTHORIZED "The sign-in was refused"
        "Serial and access code do not belong together, or the kit has no code yet. Both are on the card of the kit.";
    TOO_MANY_ATTEMPTS "too-many-attempts" TOO_MANY_REQUESTS "Too many attempts"
        "Sign-ins that fail are counted for the address that they come from, never for the kit. Try again after the time in Retry-After.";
    TOO_MANY_REQUESTS "too-many-requests" TOO_MANY_REQUESTS "Too many requests"
        "Each token and kit has an allowance of requests a minute, and so has each address for what comes without a good token; RateLimit-Policy says how many. Try again after the time in Retry-After.";
    LAST_PUBLISHER "last-publisher" CONFLICT "The last publisher's token"
        "Without it nobody could publish any more. Make another publisher's token first.";
    TOKEN_ENDED "token-ended" CONFLICT "The token has ended"
        "A token that was revoked or has expired cannot be rotated. Make a new one.";
    ROLE_NEEDED "role-needed" FORBIDDEN "Your role does not allow this"
        "The token is good, but this takes a publisher's, or one that does not only read.";
    FORM_REFUSED "form-refused" FORBIDDEN "The form was not taken"
        "A form counts only when it was filled in on a page of this service by who is signed in. Open the page again and send it from there.";
    METHOD_NOT_ALLOWED "method-not-allowed" METHOD_NOT_ALLOWED "Method not allowed"
        "The address is there but does not take this method; the Allow header lists those it takes.";
    BAD_REQUEST "bad-request" BAD_REQUEST "The request cannot be read"
        "A part of the address, the query or a header is not in the form that the API documents.";
    MALFORMED_JSON "malformed-json" BAD_REQUEST "The body is not JSON"
        "The body must be one JSON value in UTF-8; the detail says where reading stopped.";
    INVALID_REQUEST "invalid-request" UNPROCESSABLE_ENTITY "Some values will not do"
        "The body is JSON, but values in it are missing, unknown or out of bounds; errors names each by JSON Pointer.";
    TOO_LARGE "too-large" PAYLOAD_TOO_LARGE "The body is too large"
        "A body may have 8 MiB at most, a design file 64 MiB.";
    TOO_SLOW "too-slow" REQUEST_TIMEOUT "The body comes too slowly"
        "For half a minute nothing of the body came, it came more slowly than the service allows, or all of it took more than five minutes. Send it again over a better line.";
    MEDIA_TYPE "media-type" UNSUPPORTED_MEDIA_TYPE "The body has the wrong media type"
        "Send the header Content-Type: application/json, or text/csv for a file of kits.";
    NOT_ACCEPTABLE "not-acceptable" NOT_ACCEPTABLE "No answer of that media type"
        "The Accept header leaves out every media type that this address answers with. Leave the header out, or add */* to it.";
    RANGE_REFUSED "range-refused" RANGE_NOT_SATISFIABLE "The range lies beyond the end"
        "The Range header asks for bytes that the file does not have; Content-Range says how many there are.";
    CONDITION_NEEDED "condition-needed" PRECONDITION_REQUIRED "A condition is needed"
        "Say which version you mean by its ETag in If-Match, so that no one else's change is lost.";
    CONDITION_FAILED "condition-failed" PRECONDITION_FAILED "It has changed"
        "What is there is not the version that the condition names. GET it again, redo the change and send its new ETag.";
    DESIGN_EXISTS "design-exists" CONFLICT "The design is there already"
        "Another design has this id.";
    KIT_EXISTS "kit-exists" CONFLICT "The kit is there already"
        "Another kit has this serial.";
    SENT_ALREADY "sent-already" CONFLICT "It was sent already"
        "Its receiver has taken it; sending it again would only puzzle them.";
    KIT_HAS_MOVED "kit-has-moved" CONFLICT "The kit has another revision now"
        "It was moved after the job was asked for. Issue its pack by itself, or ask for a job of the revision that it has.";
    IS_THERE "kit-has-revision" CONFLICT "The kit has this revision already"
        "Moving a kit takes another revision than the one it has.";
    STATE_FORBIDS "state-forbids" CONFLICT "Its state forbids it"
        "A draft can be written, frozen or published, a frozen one thawed or published. A revision in force can be withdrawn, recalled or superseded by publishing a newer one, a superseded one withdrawn or recalled, a withdrawn one recalled or reinstated, a recalled one reinstated.";
    FREEZE_FIRST "freeze-first" CONFLICT "The draft must be frozen first"
        "The service is set to publish only what a second person has looked at. POST the draft's freeze; somebody else then publishes it.";
    SECOND_PERSON "second-person-needed" FORBIDDEN "A second person must publish it"
        "Who wrote a draft last or froze it may not publish it. A publisher's token of somebody else may: one that the operator made for them with `matchmark token`. One got with another token, or by rotating it, stands for the same person.";
    NOT_IN_FORCE "not-in-force" CONFLICT "The revision is not in force"
        "A withdrawn or recalled revision takes no more kits, and no pack of a recalled one is issued. Choose a revision that is in force.";
    STOP_SHEET_FIRST "stop-sheet-first" CONFLICT "Read the stop sheet first"
        "The revision is recalled. Its packs are handed out only after the stop sheet of the kit was acknowledged.";
    ON_HOLD "kit-on-hold" CONFLICT "The kit is on hold"
        "In a dispute or after a theft the supplier hands out nothing to build the kit from: no pack is issued or downloaded, and its builder's token opens no sheets. Stop sheets and notices stay open. The detail says whom to ask.";
    HELD_ALREADY "held-already" CONFLICT "The kit is on hold already"
        "A kit has one hold at a time. Lift the one that stands first.";
    NOTHING_CHANGED "nothing-changed" CONFLICT "Nothing changed since the last revision"
        "A revision with the same content as the last would only puzzle its readers.";
    FIGURES_DIFFER "figures-differ" CONFLICT "Other figures than recorded"
        "This version of the service computes other figures for the revision than were recorded when it was published. A publisher looks at its figures and takes them; until then nothing of it is handed out.";
    DESIGN_HAS_ERRORS "design-has-errors" UNPROCESSABLE_ENTITY "The design has errors"
        "Findings of severity error stop publishing and drawing; findings lists them with the place of each.";
    KITS_NOT_IMPORTED "kits-not-imported" UNPROCESSABLE_ENTITY "The file of kits has faults"
        "No kit of the file was registered. Every fault is named by its line and column; mend them all and send the file again.";
    FILE_REFUSED "design-file-refused" UNPROCESSABLE_ENTITY "The design file does not hold"
        "A hash or a link of the chain in the file is not that of its content, so that nothing of it was taken in. Export it again.";
    NOT_MEASURABLE "not-measurable" UNPROCESSABLE_ENTITY "Measured values out of bounds"
        "A measured value lies outside the limits of its gauge, the gauge is unknown, or no frame can be made with it. Findings name the limits: measure again, and ask the supplier before anything is cut.";
    WARNINGS_OPEN "warnings-not-acknowledged" CONFLICT "Warnings are not acknowledged"
        "Read the findings; if they are as meant, name their codes in acknowledge.";
    NOT_DRAWN "not-drawn" UNPROCESSABLE_ENTITY "It cannot be drawn"
        "A page would have been wrong, so none was made; code and detail name the cause.";
    JOINT_REFUSED "joint-refused" UNPROCESSABLE_ENTITY "The joint cannot be computed"
        "A value of the request is missing or out of bounds, or the tubes do not meet as described; errors or findings name the place by JSON Pointer.";
    STOCK_REFUSED "stock-refused" UNPROCESSABLE_ENTITY "The stock plan cannot be made"
        "A value of the request is out of bounds, a part is longer than any bar, or there are too few bars; errors names the place by JSON Pointer and code the cause.";
    KEY_MISSING "idempotency-key-missing" BAD_REQUEST "An Idempotency-Key is needed"
        "What this request does must not happen twice when it is sent again. Send an Idempotency-Key of your own choice, such as a random UUID, and the same one with every repeat.";
    KEY_REUSED "idempotency-key-reused" UNPROCESSABLE_ENTITY "The Idempotency-Key was used before"
        "A key stands for one request. The earlier request with this key had another body.";
    NOT_SHOWN_AGAIN "not-shown-again" CONFLICT "What was made has ended"
        "The request was sent before with this Idempotency-Key, and the card or token that it made has ended or was replaced since, so that it is not shown again. Make a new one if you need it.";
    BUSY "busy" SERVICE_UNAVAILABLE "Busy"
        "Too much is being drawn at once. Try again after the time in Retry-After.";
    OUT_OF_TIME "out-of-time" SERVICE_UNAVAILABLE "It takes too long to compute"
        "The time that there is for one computation was over before it was done. Ask for less at once, or try again when the service has less to do.";
    STORE_AWAY "store-away" SERVICE_UNAVAILABLE "A store is out of reach"
        "The service cannot reach its database or its store of issued packs at present. What was asked for may be done or not: try again after the time in Retry-After, a change with the same Idempotency-Key.";
    KEY_NOT_IN_FORCE "key-not-in-force" SERVICE_UNAVAILABLE "The signing key is not in force"
        "This process was started with a signing key that is not in force any more, so that it signs nothing: no packs, no stop sheets, no status. Its operator has to start it again with the key that is.";
    NO_ROOM "no-room" INSUFFICIENT_STORAGE "No room left"
        "The disk of the service is full: nothing was changed, and reading goes on. Its operator has to make room; then it goes on without a restart.";
    DISK_FAILED "disk-failed" SERVICE_UNAVAILABLE "The disk failed"
        "The disk of the service refused to read or write, and nothing was changed. Try again; its operator finds the cause in the log.";
    NOT_SYNCED "not-synced" SERVICE_UNAVAILABLE "The disk did not confirm a write"
        "What was written may or may not be there. The service stops rather than build on it; after its restart send the request again with the same Idempotency-Key.";
    NOT_READY "not-ready" SERVICE_UNAVAILABLE "Not ready"
        "The process takes no work at present: it is stopping, its key is not in force, or the database, the store of packs or the disk takes no more. `detail` says which.";
    INTERNAL "internal" INTERNAL_SERVER_ERROR "The service failed"
        "The fault is ours. The log has it under the request id.";
}

/// The kind that fits an error status set by the framework rather than by a handler.
pub fn for_status(status: StatusCode) -> &'static Kind {
    match status {
        StatusCode::NOT_FOUND => &NOT_FOUND,
        StatusCode::METHOD_NOT_ALLOWED => &METHOD_NOT_ALLOWED,
        StatusCode::PAYLOAD_TOO_LARGE => &TOO_LARGE,
        StatusCode::NOT_ACCEPTABLE => &NOT_ACCEPTABLE,
        StatusCode::UNSUPPORTED_MEDIA_TYPE => &MEDIA_TYPE,
        _ if status.is_server_error() => &INTERNAL,
        _ => &BAD_REQUEST,
    }
}
