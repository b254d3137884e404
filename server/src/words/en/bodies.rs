//! What is wrong with the body of a request.

use crate::words::groups::bodies::Bodies;

pub const WORDS: Bodies = Bodies {
    ended_early: "The body ended early.",
    not_utf8: "The body is not UTF-8.",
    not_utf8_after: "The body is not UTF-8 after byte {place}.",
    not_json: "The body is not JSON: {error}.",
    no_list: "Send a JSON object, names and values in braces, and not a list.",
    text_here: "Write text here.",
    given_twice: "{name} appears twice in the same object; keep one of them.",
    csv_wanted: "Send the header Content-Type: text/csv.",
    form_wanted: "Send the form as a browser does.",
    form_ended_early: "The form ended early.",
    form_not_read: "The form cannot be read: {error}.",
    form_of_another_session: "The form belongs to another session. Open its page again and fill it in there.",
    form_from_elsewhere: "The form did not come from a page of this service. Open the page here.",
    files_count: "Send 1 to {most} files.",
    file_name: "The name of a file has 1 to {most} characters. Give it one with its ending, such as frame.dxf.",
    not_base64: "This is not base64 from character {place} on. Encode the bytes of the file after RFC 4648, section 4.",
}
.checked();
