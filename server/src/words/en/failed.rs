//! The page of a request that failed.

use crate::words::groups::failed::Failed;

pub const WORDS: Failed =
    Failed { back: "Back to the first page", back_to_kit: "Back to my kit", request: "Request {id}" }.checked();
