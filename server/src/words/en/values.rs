//! Times, sizes and lists, as they stand in a cell or in a sentence.

use crate::words::groups::values::Values;

pub const WORDS: Values = Values {
    minute: "{day} {time} UTC",
    bytes: "{number} bytes",
    kilobytes: "{number} kB",
    megabytes: "{number} MB",
    list: "{begun}, {next}",
    pair: "{name}: {value}",
}
.checked();
