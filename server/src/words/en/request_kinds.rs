//! What kinds of problem that only a request has are called, and what they mean.

use crate::words::groups::request_kinds::RequestKinds;

pub const WORDS: RequestKinds = RequestKinds {
    token_needed: "A token is needed",
    token_needed_about: "Send a token that this service gave out, as Authorization: Bearer and the token.",
    too_many_requests: "Too many requests",
    too_many_requests_about: "Each token and each kit may send so many requests a minute, and so may each address without a valid token. RateLimit-Policy says how many. Try again after the time in Retry-After.",
    form_refused: "The form was refused",
    form_refused_about: "A form is accepted only from a page of this service, from the person who is signed in. Open the page again and send it from there.",
    method_not_allowed: "Method not allowed",
    method_not_allowed_about: "This address does not accept the method. The Allow header lists the methods that it accepts.",
    bad_request: "The request cannot be read",
    bad_request_about: "A part of the address, the query or a header does not have the form that the API documents.",
    malformed_json: "The body is not JSON",
    malformed_json_about: "The body must be one JSON value in UTF-8. The detail says where reading stopped.",
    too_large: "The body is too large",
    too_large_about: "A body may have 8 MiB at most, files to import 32 MiB, a design file 64 MiB.",
    too_slow: "The body comes too slowly",
    too_slow_about: "No part of the body arrived for half a minute, it arrived more slowly than the service allows, or all of it took more than five minutes. Send it again over a better connection.",
    media_type: "The body has the wrong media type",
    media_type_about: "Send the header Content-Type: application/json, or text/csv for a file of kits.",
    not_acceptable: "No answer of that media type",
    not_acceptable_about: "The Accept header names none of the media types that this address can answer with. Leave the header out, or add */* to it.",
    range_refused: "The range is beyond the end of the file",
    range_refused_about: "The Range header asks for bytes beyond the end of the file. Content-Range says how many bytes it has.",
    key_missing: "An Idempotency-Key is needed",
    key_missing_about: "This request must not take effect twice when it is sent again. Send an Idempotency-Key of your own choice, such as a random UUID, and the same one with every repeat.",
    not_ready: "Not ready",
    not_ready_about: "The process accepts no work at the moment: it is stopping, its key is not in force, or it cannot use the database, the store of packs or the disk. `detail` says which.",
}
.checked();
