//! Which way something faces in the frame.

use crate::words::groups::facing::Facing;

pub(in crate::words) static WORDS: Facing =
    Facing { up: "up", down: "down", forward: "forward", back: "back", left: "left", right: "right" }.checked();
