//! Whether a file was issued.

use crate::words::groups::file::File;

pub const WORDS: File = File {
    no_hash: "This is not a SHA-256. Give the SHA-256 of the file, 64 hexadecimal digits.",
    not_issued: "No pack with this SHA-256 was issued here. A file has another SHA-256 once it is saved again, and stop sheets and the pages of notices are drawn anew each time. Check such files with `matchmark verify`, and scan a page's code.",
    issued: "This is pack {pack} of kit {serial}, revision {revision}, byte for byte as it was issued on {day}.",
}
.checked();
