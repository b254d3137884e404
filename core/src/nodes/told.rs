//! All findings about nodes: their codes, how much they weigh, and their sentences.

use crate::document::{Finding, Severity};
use crate::frame::{Frame, Target};

/// One finding about a node.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Told {
    pub(super) code: &'static str,
    pub(super) severity: Severity,
    /// Members and plates concerned, the one to change first.
    pub(super) about: Vec<Target>,
    pub(super) message: String,
}

impl Told {
    pub(super) fn is_error(&self) -> bool {
        self.severity == Severity::Error
    }

    /// As a finding of the document, at its first member.
    pub(super) fn finding(&self, frame: &Frame) -> Finding {
        let pointer = self.about.iter().find_map(|target| match target {
            Target::Member(member) => Some(format!("/members/{}", frame.members[*member].source)),
            Target::Plate(_) => None,
        });
        let finding = Finding::error(self.code, pointer.unwrap_or_default(), self.message.clone());
        Finding { severity: self.severity, ..finding.about(self.about.iter().map(|&target| frame.name(target))) }
    }
}

/// The findings, in the words of a frame.
pub(super) struct Teller<'a>(pub(super) &'a Frame);

impl Teller<'_> {
    fn name(&self, target: Target) -> String {
        format!("`{}`", self.0.name(target))
    }

    /// An end in words: its number and its member.
    pub(super) fn end(&self, (member, end): (usize, usize)) -> String {
        format!("end {} of `{}`", end + 1, self.0.members[member].id)
    }

    /// Names in a row.
    pub(super) fn names(&self, targets: &[Target]) -> String {
        let names: Vec<String> = targets.iter().map(|&target| self.name(target)).collect();
        match names.split_last() {
            Some((last, [])) => last.clone(),
            Some((last, before)) => format!("{} and {last}", before.join(", ")),
            None => String::new(),
        }
    }

    pub(super) fn one_tube(&self, [a, b]: [Target; 2]) -> Told {
        let message = format!(
            "{} and {} go on as one and have one section. Better draw them as one tube, so that nothing is welded here.",
            self.name(a),
            self.name(b)
        );
        Told { code: "one-tube", severity: Severity::Information, about: vec![a, b], message }
    }

    pub(super) fn axes_apart(&self, [a, b]: [Target; 2], by: f64) -> Told {
        let message = format!(
            "The axes of {} and {} pass each other by {by:.2} mm where they are mitred. Draw both ends at one point.",
            self.name(a),
            self.name(b)
        );
        Told { code: "axes-apart", severity: Severity::Warning, about: vec![a, b], message }
    }

    pub(super) fn larger_onto_smaller(&self, end: (usize, usize), onto: Target, by: f64) -> Told {
        let message = format!(
            "{} is larger than {}, which goes through: its wall would pass by {by:.2} mm on both sides. Split {} there, or make it the larger one.",
            capital(&self.end(end)),
            self.name(onto),
            self.name(onto)
        );
        let about = vec![Target::Member(end.0), onto];
        Told { code: "larger-onto-smaller", severity: Severity::Error, about, message }
    }

    pub(super) fn too_sharp(&self, end: (usize, usize), onto: Target, angle: f64) -> Told {
        let message = format!(
            "{} meets {} at {angle:.1} degrees, which is too sharp to fit. Use a plate, or move one of them apart.",
            capital(&self.end(end)),
            self.name(onto)
        );
        Told { code: "too-sharp", severity: Severity::Error, about: vec![Target::Member(end.0), onto], message }
    }

    pub(super) fn in_line_unequal(&self, end: (usize, usize), onto: Target, angle: f64) -> Told {
        let message = format!(
            "{} goes on from the larger {} at {angle:.1} degrees and finds no wall there. Use a plug, a sleeve or an end plate.",
            capital(&self.end(end)),
            self.name(onto)
        );
        Told { code: "in-line-unequal", severity: Severity::Error, about: vec![Target::Member(end.0), onto], message }
    }

    pub(super) fn run_on_too_long(&self, end: (usize, usize), by: f64) -> Told {
        let message = format!(
            "{} would have to run on by {by:.1} mm for all others to seat on it. Use a plug, a sleeve or a plate, or move one of them.",
            capital(&self.end(end))
        );
        Told { code: "run-on-too-long", severity: Severity::Error, about: vec![Target::Member(end.0)], message }
    }

    pub(super) fn in_a_circle(&self, members: &[Target]) -> Told {
        let message = format!(
            "{} would be fitted to one another in a circle. Give one of them an end cut of its own, or list the larger ones first.",
            self.names(members)
        );
        Told { code: "order-against-size", severity: Severity::Error, about: members.to_vec(), message }
    }

    pub(super) fn by_build_order(&self, members: &[Target]) -> Told {
        let message = format!(
            "The usual choice would fit {} to one another in a circle, so plain build order decides where they meet. Write an end cut of your own where you want it otherwise.",
            self.names(members)
        );
        Told { code: "order-of-placing", severity: Severity::Information, about: members.to_vec(), message }
    }

    pub(super) fn order_of_placing(&self, member: Target, after: Target) -> Told {
        let message = format!(
            "{} is fitted to {} and now comes after it in the build order. List them so if nothing else decides.",
            self.name(member),
            self.name(after)
        );
        Told { code: "order-of-placing", severity: Severity::Information, about: vec![member, after], message }
    }

    pub(super) fn stops_short(&self, end: (usize, usize), of: Target, by: f64) -> Told {
        let message = format!(
            "{} stops {by:.1} mm short of {} and is cut square. Move its point onto {}, or leave it so if that is meant.",
            capital(&self.end(end)),
            self.name(of),
            self.name(of)
        );
        Told { code: "end-short", severity: Severity::Information, about: vec![Target::Member(end.0), of], message }
    }

    pub(super) fn choices_meet(&self, members: &[Target]) -> Told {
        let message = format!(
            "{} meet here under different choices of options, so no one cut holds for all. Write their end cuts.",
            self.names(members)
        );
        Told { code: "node-with-choices", severity: Severity::Warning, about: members.to_vec(), message }
    }

    pub(super) fn hands_differ(&self, end: (usize, usize), other: (usize, usize)) -> Told {
        let message = format!(
            "{} and its opposite hand would be cut differently, since what stands there is not the same. Write its cut, or leave out `mirror` and draw both.",
            capital(&self.end(end))
        );
        let about = vec![Target::Member(end.0), Target::Member(other.0)];
        Told { code: "hands-differ", severity: Severity::Error, about, message }
    }
}

fn capital(text: &str) -> String {
    text.replacen("end ", "End ", 1)
}
