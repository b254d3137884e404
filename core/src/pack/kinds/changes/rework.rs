//! How an old part is made into the new one: which ends are trimmed, by how much and from where, and what is drilled.

use crate::pack::layout::figures::Figures;
use crate::sheets::{PartChange, TrimRow, TrimSetOut};

/// What no tape shows, mm.
const UNSEEN: f64 = 0.05;

/// Every cut and hole that makes the old part into the new one; else why there is none.
pub(super) fn what_to_do(part: &PartChange, figures: Figures) -> String {
    let say = &figures.words.rework;
    let mut words: Vec<String> = part.trims.iter().map(|trim| trim_words(trim, part, figures)).collect();
    if part.trims.len() > 1 && part.trims.iter().any(|trim| trim.set_out.is_some()) {
        words.insert(0, say.both_ends().to_owned());
    }
    if !part.drill.is_empty() {
        words.push(say.drill(part.drill.join(", "), &part.member));
    }
    if words.is_empty() { figures.part_change(part) } else { words.join(" ") }
}

fn trim_words(trim: &TrimRow, part: &PartChange, figures: Figures) -> String {
    let say = &figures.words.rework;
    let (end, old_end) = (figures.end(trim.end), figures.end(trim.old_end));
    let is_turned = trim.end != trim.old_end;
    let (least, most) = (figures.bare(trim.least), figures.length(trim.most));
    let how_much = if figures.length(trim.least) == most { say.all_round(most) } else { say.round(least, most) };
    let set_out = trim.set_out.map(|set_out| set_out_words(trim, set_out, part, figures));
    let long = figures.short_length(trim.left_long);
    if trim.while_long {
        let cut = match (trim.wrap, is_turned) {
            (true, false) => say.long_by_wrap(end, long, how_much, &part.member),
            (true, true) => say.long_by_wrap_of_old(end, old_end, long, how_much, &part.member),
            (false, false) => say.long_square(end, long, how_much),
            (false, true) => say.long_square_of_old(end, old_end, long, how_much),
        };
        return [Some(cut), set_out, Some(say.else_scrap().to_owned())]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
            .join(" ");
    }
    let turned = is_turned.then(|| say.is_old_end(old_end));
    let more = (trim.left_long > 0.0).then(|| say.more(long));
    let how_much = [turned, Some(how_much), more].into_iter().flatten().collect::<Vec<_>>().join(", ");
    let cut = if trim.wrap { say.by_wrap(end, how_much, &part.member) } else { say.square(end, how_much) };
    [Some(cut), set_out].into_iter().flatten().collect::<Vec<_>>().join(" ")
}

/// Where a cut is set out by how the other end is cut then: as before, anew, or as it stays.
fn set_out_words(trim: &TrimRow, set_out: TrimSetOut, part: &PartChange, figures: Figures) -> String {
    let say = &figures.words.rework;
    let TrimSetOut { nominal, more, from_old_cut, old_long, old_clock_deg } = set_out;
    let other_end = trim.end.other();
    let other = figures.end(other_end);
    // The wrap is printed with a set-out that the pack's tape can set.
    let printed = if trim.wrap { figures.taped(nominal) } else { nominal };
    let length = figures.short_length(printed + more);
    let is_one = part.trims.len() == 1;
    let other_is_sawn = part.trims.iter().any(|trim| trim.end == other_end && trim.while_long);
    let from = match (trim.wrap, is_one, from_old_cut) {
        (true, true, true) => say.set_out_from_old(length, other),
        (true, true, false) => say.set_out_from_cut(length, other),
        (true, false, true) if other_is_sawn => say.set_out_first_from_sawn(length, other),
        (true, false, true) => say.set_out_first_from_old(length, other),
        (true, false, false) => say.set_out_then(length, other),
        (false, true, true) => say.length_from_old(length, other),
        (false, true, false) => say.length_from_cut(length, other),
        (false, false, true) if other_is_sawn => say.length_first_from_sawn(length, other),
        (false, false, true) => say.length_first_from_old(length, other),
        (false, false, false) => say.length_then(length, other),
    };
    let (by, on_sheet) = (figures.short_length(more.abs()), figures.short_length(printed));
    let from = match more {
        _ if more.abs() < UNSEEN => from,
        _ if more > 0.0 => say.more_than_printed(from, by, on_sheet),
        _ => say.less_than_printed(from, by, on_sheet),
    };
    let still_long = (old_long > 0.0).then(|| say.if_still_long(figures.short_length(printed + more + old_long)));
    let old_point = old_clock_deg.map(|degrees| say.old_long_point(figures.clock(degrees)));
    let said: Vec<String> = [Some(from), still_long, old_point].into_iter().flatten().collect();
    format!("{}.", said.join("; "))
}
