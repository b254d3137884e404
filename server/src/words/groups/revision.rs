//! The page of a published revision.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// The page of a published revision.
    Revision {
        content();
        kits_link();
        figures_link();
        packs_heading();
        packs_about();
        packs_button();
        withdraw_heading();
        withdraw_about();
        withdraw_button(letter);
        withdraw_sure_heading(letter, design);
        withdraw_sure_about();
        withdraw_sure_yes(letter);
        reinstate_heading();
        reinstate_button(letter);
        reinstate_sure_heading(letter, design);
        reinstate_sure_about();
        reinstate_sure_yes(letter);
        reason_label();
        reason_hint();
        recall_heading();
        recall_about();
        recall_hazard();
        recall_hazard_hint();
        recall_action();
        recall_remedies();
        recall_button(letter);
        recall_sure_heading(letter, design);
        recall_sure_about();
        recall_sure_action();
        recall_sure_remedies();
        recall_sure_yes(letter);
        ledger_heading();
        ledger_sums(acknowledged, open);
        ledger_caption();
        ledger_head_acknowledged();
        ledger_not_yet();
        back();
    } + counted {
        sure_holders(count);
    } + marked(Render, marked => Markup) {
        heading(letter, design);
    }
}
