//! Times, sizes and lists, as they stand in a cell or in a sentence.

use crate::words::groups::values::Values;
use matchmark_core::words::Plural;

pub const WORDS: Values = Values {
    minute: "{day} {time} UTC",
    bytes: Plural { one: "{count} byte", other: "{count} bytes" },
    kilobytes: "{number} kB",
    megabytes: "{number} MB",
    list: "{begun}, {next}",
    pair: "{name}: {value}",
}
.checked();
