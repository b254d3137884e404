//! What sets a kit apart.

use crate::pack::layout::figures::Figures;
use crate::pack::{DoneBy, KitFact, NoticeClass};

impl Figures {
    /// What sets a kit apart, in a line.
    pub(in crate::pack) fn kit_fact(self, fact: &KitFact) -> String {
        let say = &self.words.kit_facts;
        match fact {
            KitFact::Choice { option, choice } => say.choice(option, choice),
            KitFact::Measured { gauge, value } => say.measured(gauge, self.as_told(*value)),
            KitFact::ReworkPages { notice, class, from, to } => {
                say.rework_pages(*notice, self.notice_class(*class), from, to)
            }
            KitFact::NoticeDone { notice, day, is_remeasured: true, .. } => say.done_then_measured(*notice, day),
            KitFact::NoticeDone { notice, day, by, .. } => match by {
                Some(DoneBy::Holder) => say.done_by_holder(*notice, day),
                Some(DoneBy::Supplier) => say.done_for_holder(*notice, day),
                None => say.done(*notice, day),
            },
        }
    }

    /// How much a notice matters, in a word.
    pub(in crate::pack) fn notice_class(self, class: NoticeClass) -> &'static str {
        let say = &self.words.notices;
        match class {
            NoticeClass::Mandatory => say.mandatory(),
            NoticeClass::Recommended => say.recommended(),
            NoticeClass::Optional => say.optional(),
        }
    }
}
