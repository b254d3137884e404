//! One sentence a node.

use super::decided::{Outcome, Role};
use super::find::Node;
use crate::frame::{Frame, Target};
use crate::words::findings::nodes::NodeDecision;
use crate::words::findings::values::And;

/// What was decided at a node, or why nothing was.
pub(super) fn said(frame: &Frame, node: &Node, outcome: &Outcome) -> String {
    if let Some(why) = outcome.told.iter().find(|told| told.is_error()) {
        return why.say(frame, |why| NodeDecision::Refused { why }.to_string());
    }
    if outcome.decided.is_empty() {
        return NodeDecision::Kept.to_string();
    }
    let id = |member: usize| frame.members[member].id.as_str();
    let names = |targets: &[Target]| -> Vec<&str> { targets.iter().map(|&target| frame.name(target)).collect() };
    let mut parts = Vec::new();
    match &names(&node.passing)[..] {
        [] => {}
        one @ [_] => parts.push(NodeDecision::GoesThrough { listed: And(one) }.to_string()),
        more => parts.push(NodeDecision::GoThrough { listed: And(more) }.to_string()),
    }
    let mut mitred = Vec::new();
    for decided in &outcome.decided {
        let own = id(decided.at.0);
        let names = names(&decided.onto);
        let onto = And(&names);
        let part = match (decided.role, decided.partner.map(|partner| (partner, id(partner.0)))) {
            (Role::Square, _) => NodeDecision::Square { id: own },
            (Role::RunOn(by), _) => NodeDecision::RunsOn { id: own, by },
            (Role::Mitre, Some(_)) if mitred.contains(&decided.at) => continue,
            (Role::Mitre, Some((at, partner))) => {
                mitred.push(at);
                NodeDecision::Mitred { a: own, b: partner }
            }
            (Role::Mitre | Role::Cope, None) => NodeDecision::Fitted { id: own, onto },
            (Role::Cope, Some((_, partner))) if names.is_empty() => NodeDecision::OnMiddle { id: own, partner },
            (Role::Cope, Some((_, partner))) => NodeDecision::FittedOnMiddle { id: own, onto, partner },
        };
        parts.push(part.to_string());
    }
    NodeDecision::Decided { parts: &parts.join(NodeDecision::JOIN) }.to_string()
}
