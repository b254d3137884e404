//! How a pack with the templates of one hand stands, and one that another of one hand replaced in part.

use crate::words::groups::hands::Hands;

pub const WORDS: Hands = Hands {
    current_left: "Current: pack {pack} of {day} is the last of revision {revision} with left-hand templates for kit {serial}, which has that revision.",
    current_right: "Current: pack {pack} of {day} is the last of revision {revision} with right-hand templates for kit {serial}, which has that revision.",
    gone_left: "Pack {later} replaced its left-hand templates and the parts of neither hand: use pack {pack} for the right hand only, and cross out the rest of it.",
    gone_right: "Pack {later} replaced its right-hand templates and the parts of neither hand: use pack {pack} for the left hand only, and cross out the rest of it.",
    stays_left: "Of this page only the left-hand templates stay: cross out the rest of it.",
    stays_right: "Of this page only the right-hand templates stay: cross out the rest of it.",
    beside_left: "The left-hand templates are in pack {pack}.",
    beside_right: "The right-hand templates are in pack {pack}.",
    beside_outdated_left: "The left-hand templates are in pack {pack}, which is out of date: have the pack with the left-hand templates drawn again.",
    beside_outdated_right: "The right-hand templates are in pack {pack}, which is out of date: have the pack with the right-hand templates drawn again.",
    nowhere_left: "No pack in force has the left-hand templates: have one issued for them.",
    nowhere_right: "No pack in force has the right-hand templates: have one issued for them.",
    page_replaced: "Superseded: pack {later} replaced page {page} of pack {pack}. Cross the page out, and use pack {later} instead.",
}
.checked();
