//! What is wrong with the head of a request.

use crate::words::groups::requests::Requests;

pub const WORDS: Requests = Requests {
    token_in_address: "A token in an address ends up in logs. Make a new token, and send it as Authorization: Bearer and the token.",
    token_missing: "Send your token as Authorization: Bearer and the token.",
    token_unknown: "This service did not give out this token, or the token has ended. Check that you copied all of it.",
    if_none_match: "If-None-Match can only be * here. Use If-Match to name a draft.",
    tags: "{header} needs entity tags in double quotes, as ETag gave them.",
    one_key: "Give one Idempotency-Key, not several.",
    key_length: "Give an Idempotency-Key of 1 to 128 ASCII characters.",
    key_missing: "Send an Idempotency-Key of your own choice, such as a random UUID, and the same one each time you repeat this request.",
    too_many: "More than {most} requests came within a minute. Wait {seconds} seconds.",
    page_size: "page_size must be 1 or more.",
    limit: "limit must be 1 or more.",
    cursor: "This cursor belongs to another list or to other filters. Start again without a cursor.",
    range: "The file has {length} bytes. Ask for bytes before its end.",
    view_unknown: "`view` is not a direction. Give front, rear, left, right, top, pictorial, or three numbers such as 1,1,0.5.",
    failed: "The service failed; tell its operator the request id.",
    read_stop_sheet: "Read the stop sheet",
}
.checked();
