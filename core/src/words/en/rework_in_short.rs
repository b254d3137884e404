//! How an old part is made into the new one, in a few sentences.

use crate::words::groups::rework_in_short::ReworkInShort;

pub(in crate::words) static WORDS: ReworkInShort = ReworkInShort {
    in_this_order: "Trim in this order.",
    drill: "Drill {holes}.",
    only_left_long: "Finished parts are equal; only what is left long on delivery differs.",
    else_scrap: "If it is trimmed already, the part is scrap.",
    trim_wrap: "Trim end {end} by up to {most}, at least {least}: mark it with the new wrap.",
    trim_square: "Trim end {end} by up to {most}, at least {least}: measure the new overall length.",
    trim_turned_wrap: "Trim end {end}, which becomes its end {becomes}, by up to {most}, at least {least}: mark it with the new wrap.",
    trim_turned_square: "Trim end {end}, which becomes its end {becomes}, by up to {most}, at least {least}: measure the new overall length.",
    trim_wrap_long: "Trim end {end} by up to {most}, at least {least}, {long} more while it is left long: mark it with the new wrap.",
    trim_square_long: "Trim end {end} by up to {most}, at least {least}, {long} more while it is left long: measure the new overall length.",
    trim_turned_wrap_long: "Trim end {end}, which becomes its end {becomes}, by up to {most}, at least {least}, {long} more while it is left long: mark it with the new wrap.",
    trim_turned_square_long: "Trim end {end}, which becomes its end {becomes}, by up to {most}, at least {least}, {long} more while it is left long: measure the new overall length.",
    trim_wrap_while_long: "If end {end} still has the {long} that were left long: trim it by up to {most}, at least {least}: mark it with the new wrap.",
    trim_square_while_long: "If end {end} still has the {long} that were left long: trim it by up to {most}, at least {least}: measure the new overall length.",
    trim_turned_wrap_while_long: "If end {end}, which becomes its end {becomes}, still has the {long} that were left long: trim it by up to {most}, at least {least}: mark it with the new wrap.",
    trim_turned_square_while_long: "If end {end}, which becomes its end {becomes}, still has the {long} that were left long: trim it by up to {most}, at least {least}: measure the new overall length.",
    set_out_from_sawn: "The set-out is {length} from the sawn end at the other end.",
    set_out_from_old_cut: "The set-out is {length} from the long point of the other end's old cut.",
    set_out_from_new_cut: "The set-out is {length} from the long point of the other end's new cut.",
    set_out_from_cut: "The set-out is {length} from the long point of the other end's cut.",
    length_from_sawn: "The length is {length} from the sawn end at the other end.",
    length_from_old_cut: "The length is {length} from the long point of the other end's old cut.",
    length_from_new_cut: "The length is {length} from the long point of the other end's new cut.",
    length_from_cut: "The length is {length} from the long point of the other end's cut.",
}
.checked();
