//! What became of a part, in a few sentences.

use crate::pack::layout::figures::Figures;
use crate::part::compare::Why;
use crate::sheets::{ChangeKind, CheckChange, End, Measured, PartChange, Reason, TrimRow, TrimSetOut};

impl Figures {
    /// What to do with a part, or why it is as it is; empty for one that is as before.
    pub(in crate::pack) fn part_change(self, part: &PartChange) -> String {
        let say = &self.words.change;
        match (&part.reason, part.kind) {
            (Some(reason), _) => self.reason(reason),
            (None, ChangeKind::Rework) => self.rework(part),
            (None, ChangeKind::Added) => say.added().to_owned(),
            (None, ChangeKind::Removed) => say.removed().to_owned(),
            (None, ChangeKind::Unchanged | ChangeKind::Moved | ChangeKind::Replace) => String::new(),
        }
    }

    /// Why a part is kept or cannot serve.
    pub(in crate::pack) fn reason(self, reason: &Reason) -> String {
        let say = &self.words.change;
        match reason {
            Reason::TubeElsewhere => say.tube_elsewhere().to_owned(),
            Reason::PlateElsewhere => say.plate_elsewhere().to_owned(),
            Reason::Measured => say.measured().to_owned(),
            Reason::Tube(why) => self.why(why),
            Reason::Plate => say.plate().to_owned(),
            Reason::Told { words } => words.clone(),
        }
    }

    fn why(self, why: &Why) -> String {
        let say = &self.words.change;
        match *why {
            Why::Section => say.section().to_owned(),
            Why::Bends { old, new } => say.bends(old, new),
            Why::Centreline { off } => say.centreline(self.length(off)),
            Why::TooShort { by, end: Some(end) } => say.too_short_at(self.length(by), self.end(End::at(end))),
            Why::TooShort { by, end: None } => say.too_short(self.length(by)),
            Why::Hole { off: Some(off), .. } => say.hole_moved(self.length(off)),
            Why::Hole { off: None, .. } => say.hole_gone().to_owned(),
        }
    }

    fn rework(self, part: &PartChange) -> String {
        let say = &self.words.rework_in_short;
        let PartChange { trims, drill, .. } = part;
        let mut said: Vec<String> = Vec::new();
        if trims.len() > 1 && trims.iter().any(|trim| trim.set_out.is_some()) {
            said.push(say.in_this_order().to_owned());
        }
        for trim in trims {
            said.push(self.trim(trim));
            said.extend(trim.set_out.map(|set_out| self.set_out_of_trim(trim, set_out, trims)));
            said.extend(trim.while_long.then(|| say.else_scrap().to_owned()));
        }
        if !drill.is_empty() {
            said.push(say.drill(drill.join(", ")));
        }
        if said.is_empty() {
            said.push(say.only_left_long().to_owned());
        }
        said.join(" ")
    }

    fn trim(self, trim: &TrimRow) -> String {
        let say = &self.words.rework_in_short;
        let [most, least, long] = [trim.most, trim.least, trim.left_long].map(|mm| self.length(mm));
        let [end, new] = [trim.old_end, trim.end].map(|end| self.end(end));
        let turned = trim.end != trim.old_end;
        match (trim.while_long, trim.left_long > 0.0, turned, trim.wrap) {
            (true, _, false, true) => say.trim_wrap_while_long(end, most, least, long),
            (true, _, false, false) => say.trim_square_while_long(end, most, least, long),
            (true, _, true, true) => say.trim_turned_wrap_while_long(end, new, most, least, long),
            (true, _, true, false) => say.trim_turned_square_while_long(end, new, most, least, long),
            (false, true, false, true) => say.trim_wrap_long(end, most, least, long),
            (false, true, false, false) => say.trim_square_long(end, most, least, long),
            (false, true, true, true) => say.trim_turned_wrap_long(end, new, most, least, long),
            (false, true, true, false) => say.trim_turned_square_long(end, new, most, least, long),
            (false, false, false, true) => say.trim_wrap(end, most, least),
            (false, false, false, false) => say.trim_square(end, most, least),
            (false, false, true, true) => say.trim_turned_wrap(end, new, most, least),
            (false, false, true, false) => say.trim_turned_square(end, new, most, least),
        }
    }

    fn set_out_of_trim(self, trim: &TrimRow, set_out: TrimSetOut, trims: &[TrimRow]) -> String {
        let say = &self.words.rework_in_short;
        let length = self.length(set_out.nominal + set_out.more);
        let is_sawn = trims.iter().any(|other| other.end != trim.end && other.while_long);
        match (trim.wrap, set_out.from_old_cut, is_sawn, trims.len() > 1) {
            (true, true, true, _) => say.set_out_from_sawn(length),
            (true, true, false, _) => say.set_out_from_old_cut(length),
            (true, false, _, true) => say.set_out_from_new_cut(length),
            (true, false, _, false) => say.set_out_from_cut(length),
            (false, true, true, _) => say.length_from_sawn(length),
            (false, true, false, _) => say.length_from_old_cut(length),
            (false, false, _, true) => say.length_from_new_cut(length),
            (false, false, _, false) => say.length_from_cut(length),
        }
    }

    /// What a check dimension that changed measures; empty where a version before told nothing.
    pub(in crate::pack) fn check_change(self, check: &CheckChange) -> String {
        match &check.what {
            Measured::Between { dimension, places } => self.measured(dimension, places),
            Measured::Told { words } => words.clone(),
        }
    }
}
