//! When something was answered, and by whom: it stands alone, or after what was done.

use crate::words::groups::answers::Answers;

pub const WORDS: Answers = Answers {
    by_holder: "{when} by the holder",
    on_behalf: "{when} by {role}, on behalf of the holder",
    on_behalf_named: "{when} by {role} {name}, on behalf of the holder",
    by_gone: "{when} by a token that no longer exists",
    role_publisher: "publisher",
    role_support: "support",
    role_builder: "builder",
}
.checked();
