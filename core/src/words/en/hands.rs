//! Packs of one hand.

use crate::words::groups::hands::HandsWords;

pub(in crate::words) static WORDS: HandsWords = HandsWords {
    left_cover: "this pack holds the wraps, plates and hole strips of left-hand parts (marks that end in .L) and of parts of neither hand. Those of right-hand parts (marks that end in .R) are left out; they are in another pack of this kit. All other pages are whole.",
    right_cover: "this pack holds the wraps, plates and hole strips of right-hand parts (marks that end in .R) and of parts of neither hand. Those of left-hand parts (marks that end in .L) are left out; they are in another pack of this kit. All other pages are whole.",
    left_page: "Left out of this left-hand pack: right-hand templates. Those of marks that end in .R are in another pack.",
    right_page: "Left out of this right-hand pack: left-hand templates. Those of marks that end in .L are in another pack.",
}
.checked();
