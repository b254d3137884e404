//! Why the service takes no work, as far as strangers may know.

use crate::words::groups::readiness::Readiness;

pub const WORDS: Readiness = Readiness {
    stopping: "The service is stopping.",
    other_key: "The key that this process signs with is not in force. The operator has to restart it with the key in force.",
    disk_low: "The disk of the service is nearly full.",
    no_write: "The database or the store of packs accepts no work at the moment.",
}
.checked();
