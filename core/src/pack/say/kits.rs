//! What sets a kit apart.

use crate::pack::KitFact;
use crate::pack::layout::figures::Figures;

impl Figures {
    /// What sets a kit apart, in a line.
    pub(in crate::pack) fn kit_fact(self, fact: &KitFact) -> String {
        let say = &self.words.kit_facts;
        match fact {
            KitFact::Choice { option, choice } => say.choice(option, choice),
            KitFact::Measured { gauge, value } => say.measured(gauge, self.as_told(*value)),
            KitFact::ReworkPages { notice, class, from, to } => say.rework_pages(*notice, class, from, to),
        }
    }
}
