//! One sentence a node.

use super::decided::{Outcome, Role};
use super::find::Node;
use super::told::Teller;
use crate::frame::{Frame, Target};

/// What was decided at a node, or why nothing was.
pub(super) fn said(frame: &Frame, node: &Node, outcome: &Outcome) -> String {
    let tell = Teller(frame);
    if let Some(why) = outcome.told.iter().find(|told| told.is_error()) {
        return format!("Nothing was decided here. {}", why.message);
    }
    if outcome.decided.is_empty() {
        return "Nothing was decided here: its ends keep what the document says.".to_owned();
    }
    let mut parts = Vec::new();
    if !node.passing.is_empty() {
        let verb = if node.passing.len() == 1 { "goes" } else { "go" };
        parts.push(format!("{} {verb} through", tell.names(&node.passing)));
    }
    let mut mitred = Vec::new();
    for decided in &outcome.decided {
        let own = tell.names(&[Target::Member(decided.at.0)]);
        match (decided.role, decided.partner) {
            (Role::Square, _) => parts.push(format!("{own} stays square")),
            (Role::RunOn(by), _) => parts.push(format!("{own} runs on by {by:.2} mm")),
            (Role::Mitre, Some(partner)) => {
                if !mitred.contains(&decided.at) {
                    mitred.push(partner);
                    let both = tell.names(&[Target::Member(decided.at.0), Target::Member(partner.0)]);
                    parts.push(format!("{both} are mitred to each other"));
                }
            }
            (Role::Mitre | Role::Cope, partner) => {
                let onto = tell.names(&decided.onto);
                let partner = partner
                    .map(|partner| format!("on the middle plane with {}", tell.names(&[Target::Member(partner.0)])));
                let onto = (!onto.is_empty()).then(|| format!("fitted to {onto}"));
                let how: Vec<String> = onto.into_iter().chain(partner).collect();
                parts.push(format!("{own} is {}", how.join(" and closes ")));
            }
        }
    }
    let mut sentence = parts.join("; ");
    sentence.push('.');
    sentence
}
