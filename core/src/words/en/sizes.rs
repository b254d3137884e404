//! How large a part is.

use crate::words::groups::sizes::Sizes;

pub(in crate::words) static WORDS: Sizes = Sizes { plate: "plate {thickness}" }.checked();
