//! From where a set-out is measured.

use crate::words::groups::set_out::SetOut;

pub(in crate::words) static WORDS: SetOut = SetOut {
    sawn_end: "from the sawn end",
    long_point: "from the long point of the other end's cut",
    long_end: "from the other end as sawn, still {length} long",
    mark_of_start: "from the tangent mark where bend {bend} starts, at {length} on the blank",
    mark_of_end: "from the tangent mark where bend {bend} ends, at {length} on the blank",
    start_on_tube: "from where bend {bend} starts on the tube itself, by the mark made before it was bent",
    end_on_tube: "from where bend {bend} ends on the tube itself, by the mark made before it was bent",
}
.checked();
