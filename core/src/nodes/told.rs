//! All findings about nodes: their codes, how much they weigh, and what they are about.

use super::end::EndAt;
use crate::document::{Finding, Severity};
use crate::frame::{Frame, Target};
use crate::words::findings::nodes::NodeFault;
use crate::words::findings::values::And;

/// One finding about a node.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Told {
    /// Two that go on as one would better be one.
    OneTube([Target; 2]),
    /// Axes of a mitred pair pass each other, mm.
    AxesApart([Target; 2], f64),
    /// An end is larger than what goes through, by half the difference, mm.
    LargerOntoSmaller(EndAt, Target, f64),
    /// An end meets another under too few degrees.
    TooSharp(EndAt, Target, f64),
    /// An end goes on from a larger one at so many degrees.
    InLineUnequal(EndAt, Target, f64),
    /// An end would have to run on too far, mm.
    RunOnTooLong(EndAt, f64),
    /// Members that would be fitted to one another in a circle.
    InACircle(Vec<Target>),
    /// The same, where plain build order breaks it.
    ByBuildOrder(Vec<Target>),
    /// A member that now comes after another.
    OrderOfPlacing(Target, Target),
    /// An end that stops short of another, mm.
    StopsShort(EndAt, Target, f64),
    /// Members that meet under different choices.
    ChoicesMeet(Vec<Target>),
    /// An end and that of the opposite hand, which would be cut differently.
    HandsDiffer(EndAt, EndAt),
}

impl Told {
    /// Stable code.
    pub(super) fn code(&self) -> &'static str {
        match self {
            Self::OneTube(_) => "one-tube",
            Self::AxesApart(..) => "axes-apart",
            Self::LargerOntoSmaller(..) => "larger-onto-smaller",
            Self::TooSharp(..) => "too-sharp",
            Self::InLineUnequal(..) => "in-line-unequal",
            Self::RunOnTooLong(..) => "run-on-too-long",
            Self::InACircle(_) => "order-against-size",
            Self::ByBuildOrder(_) | Self::OrderOfPlacing(..) => "order-of-placing",
            Self::StopsShort(..) => "end-short",
            Self::ChoicesMeet(_) => "node-with-choices",
            Self::HandsDiffer(..) => "hands-differ",
        }
    }

    fn severity(&self) -> Severity {
        match self {
            Self::LargerOntoSmaller(..)
            | Self::TooSharp(..)
            | Self::InLineUnequal(..)
            | Self::RunOnTooLong(..)
            | Self::InACircle(_)
            | Self::HandsDiffer(..) => Severity::Error,
            Self::AxesApart(..) | Self::ChoicesMeet(_) => Severity::Warning,
            Self::OneTube(_) | Self::ByBuildOrder(_) | Self::OrderOfPlacing(..) | Self::StopsShort(..) => {
                Severity::Information
            }
        }
    }

    pub(super) fn is_error(&self) -> bool {
        self.severity() == Severity::Error
    }

    /// Members and plates concerned, the one to change first.
    pub(super) fn about(&self) -> Vec<Target> {
        let member = |at: &EndAt| Target::Member(at.0);
        match self {
            Self::OneTube(pair) | Self::AxesApart(pair, _) => pair.to_vec(),
            Self::LargerOntoSmaller(at, onto, _)
            | Self::TooSharp(at, onto, _)
            | Self::InLineUnequal(at, onto, _)
            | Self::StopsShort(at, onto, _) => vec![member(at), *onto],
            Self::RunOnTooLong(at, _) => vec![member(at)],
            Self::InACircle(members) | Self::ByBuildOrder(members) | Self::ChoicesMeet(members) => members.clone(),
            Self::OrderOfPlacing(one, after) => vec![*one, *after],
            Self::HandsDiffer(at, other) => vec![member(at), member(other)],
        }
    }

    /// The same of other ends and members.
    pub(super) fn of(&self, end: impl Fn(EndAt) -> EndAt, target: impl Fn(Target) -> Target) -> Self {
        let all = |members: &[Target]| members.iter().map(|&member| target(member)).collect();
        match self {
            Self::OneTube(pair) => Self::OneTube(pair.map(target)),
            Self::AxesApart(pair, by) => Self::AxesApart(pair.map(target), *by),
            Self::LargerOntoSmaller(at, onto, by) => Self::LargerOntoSmaller(end(*at), target(*onto), *by),
            Self::TooSharp(at, onto, angle) => Self::TooSharp(end(*at), target(*onto), *angle),
            Self::InLineUnequal(at, onto, angle) => Self::InLineUnequal(end(*at), target(*onto), *angle),
            Self::RunOnTooLong(at, by) => Self::RunOnTooLong(end(*at), *by),
            Self::InACircle(members) => Self::InACircle(all(members)),
            Self::ByBuildOrder(members) => Self::ByBuildOrder(all(members)),
            Self::OrderOfPlacing(one, after) => Self::OrderOfPlacing(target(*one), target(*after)),
            Self::StopsShort(at, of, by) => Self::StopsShort(end(*at), target(*of), *by),
            Self::ChoicesMeet(members) => Self::ChoicesMeet(all(members)),
            Self::HandsDiffer(at, other) => Self::HandsDiffer(end(*at), end(*other)),
        }
    }

    /// What it is and what to do, to be said.
    pub(super) fn say<R>(&self, frame: &Frame, say: impl FnOnce(NodeFault<'_>) -> R) -> R {
        let name = |target: &Target| frame.name(*target);
        let id = |at: &EndAt| frame.members[at.0].id.as_str();
        let about = self.about();
        let names: Vec<&str> = about.iter().map(name).collect();
        let listed = And(&names);
        say(match self {
            Self::OneTube([a, b]) => NodeFault::OneTube { a: name(a), b: name(b) },
            Self::AxesApart([a, b], by) => NodeFault::AxesApart { a: name(a), b: name(b), by: *by },
            Self::LargerOntoSmaller(at, onto, by) => {
                NodeFault::LargerOntoSmaller { number: at.1 + 1, id: id(at), onto: name(onto), by: *by }
            }
            Self::TooSharp(at, onto, angle) => {
                NodeFault::TooSharp { number: at.1 + 1, id: id(at), onto: name(onto), angle: *angle }
            }
            Self::InLineUnequal(at, onto, angle) => {
                NodeFault::InLineUnequal { number: at.1 + 1, id: id(at), onto: name(onto), angle: *angle }
            }
            Self::RunOnTooLong(at, by) => NodeFault::RunOnTooLong { number: at.1 + 1, id: id(at), by: *by },
            Self::InACircle(_) => NodeFault::InACircle { listed },
            Self::ByBuildOrder(_) => NodeFault::ByBuildOrder { listed },
            Self::ChoicesMeet(_) => NodeFault::ChoicesMeet { listed },
            Self::OrderOfPlacing(one, after) => NodeFault::OrderOfPlacing { id: name(one), after: name(after) },
            Self::StopsShort(at, of, by) => {
                NodeFault::StopsShort { number: at.1 + 1, id: id(at), of: name(of), by: *by }
            }
            Self::HandsDiffer(at, _) => NodeFault::HandsDiffer { number: at.1 + 1, id: id(at) },
        })
    }

    /// As a finding of the document, at its first member.
    pub(super) fn finding(&self, frame: &Frame) -> Finding {
        let about = self.about();
        let pointer = about.iter().find_map(|target| match target {
            Target::Member(member) => Some(format!("/members/{}", frame.members[*member].source)),
            Target::Plate(_) => None,
        });
        let finding = self.say(frame, |fact| Finding::error(self.code(), pointer.unwrap_or_default(), fact));
        Finding { severity: self.severity(), ..finding.about(about.iter().map(|&target| frame.name(target))) }
    }
}
