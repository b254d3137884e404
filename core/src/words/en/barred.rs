//! What a notice makes void.

use crate::words::groups::barred::Barred;

pub(in crate::words) static WORDS: Barred = Barred {
    this_is_changed: "do not cut: read notice {notice} first, it changes this part",
    these_are_changed: "do not cut: read notice {notice} first, it changes these parts",
    one_is_changed: "do not cut {part}: read notice {notice} first, it changes this part",
    some_are_changed: "do not cut {parts}: read notice {notice} first, it changes these parts",
    this_was_made_anew: "do not cut: notice {notice}, which is done, changed this part; go by the pages of that",
    these_were_made_anew: "do not cut: notice {notice}, which is done, changed these parts; go by the pages of that",
    one_was_made_anew: "do not cut {part}: notice {notice}, which is done, changed this part; go by the pages of that",
    some_were_made_anew: "do not cut {parts}: notice {notice}, which is done, changed these parts; go by the pages of that",
    place_is_changed: "set nothing up by this page: read notice {notice} first, it changes it",
    place_was_changed: "set nothing up by this page: notice {notice}, which is done, changed it; go by the pages of that",
    step_is_changed: "do not do this step: read notice {notice} first, it changes it",
    step_was_changed: "do not do this step: notice {notice}, which is done, changed it; go by the pages of that",
    figure_is_changed: "do not go by this figure: read notice {notice} first, it changes it",
    figure_was_changed: "do not go by this figure: notice {notice}, which is done, changed it; go by the pages of that",
    check_is_changed: "{check}: do not go by its figure: read notice {notice} first, it changes it",
    check_was_changed: "{check}: do not go by its figure: notice {notice}, which is done, changed it; go by the pages of that",
}
.checked();
