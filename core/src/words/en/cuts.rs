//! Kinds of cut, and what they are fitted to.

use crate::words::groups::cuts::Cuts;

pub(in crate::words) static WORDS: Cuts = Cuts {
    square: "square",
    mitre: "mitre",
    cope: "cope",
    cope_and_mitre: "cope and mitre",
    plug: "plug",
    sleeve: "sleeve",
    square_to: "square to {parts}",
    mitre_to: "mitre to {parts}",
    cope_to: "cope to {parts}",
    cope_and_mitre_to: "cope and mitre to {parts}",
    plug_into: "plug into {parts}",
    sleeve_over: "sleeve over {parts}",
}
.checked();
