//! What is said of an end that does not sit well: one finding, with the one remedy that fits the cause.

use super::{Cause, Gap, OpenEnd, TOUCHES, closed_by_weld};
use crate::document::{Finding, Findings, Severity};
use crate::frame::{Frame, Target};
use crate::part::Part;
use crate::words::findings::part::{Onto, PartFault, Past, Remedy};

/// One end in words.
struct EndReport<'a> {
    frame: &'a Frame,
    part: &'a Part,
    number: usize,
}

/// Reports how an end sits; answers true when it meets nothing, so that nothing else is to be said of it.
pub(in crate::part) fn report(frame: &Frame, part: &Part, number: usize, findings: &mut Findings) -> bool {
    let seat = part.ends[number].seat;
    let report = EndReport { frame, part, number };
    let gap = seat.gap.map(|gap| (report.gap_severity(&gap), report.of_gap(&gap)));
    let open = seat.open.map(|open| (severity_of(&open), report.of_open(&open)));
    // What weighs most; of equal ones the gap, which the same remedy mends.
    let finding = match (gap, open) {
        (Some(gap), Some(open)) => Some(if open.0 < gap.0 { open.1 } else { gap.1 }),
        (gap, open) => gap.or(open).map(|(_, finding)| finding),
    };
    let is_error = finding.as_ref().is_some_and(|finding| finding.severity == Severity::Error);
    if let Some(finding) = finding {
        findings.push(finding);
    }
    is_error
}

fn severity_of(open: &OpenEnd) -> Severity {
    match open {
        OpenEnd { is_all: true, .. } => Severity::Error,
        OpenEnd { in_bore, .. } if *in_bore > 0.0 => Severity::Warning,
        _ => Severity::Information,
    }
}

impl EndReport<'_> {
    fn gap_severity(&self, gap: &Gap) -> Severity {
        if gap.is_all {
            Severity::Error
        } else if gap.by > closed_by_weld(self.part.ends[self.number].cut.profile().wall()) + 1e-9 {
            Severity::Warning
        } else {
            Severity::Information
        }
    }

    fn of_gap(&self, gap: &Gap) -> Finding {
        let severity = self.gap_severity(gap);
        let (number, id, onto) = (self.number + 1, self.id(), self.onto(gap.target));
        let profile = self.part.ends[self.number].cut.profile();
        let clock = profile.clock(gap.at).to_degrees().round() % 360.0;
        let past = match gap.cause {
            Cause::Beside => Past::Beside(onto),
            Cause::BeyondEnd { .. } => Past::BeyondEnd(onto),
        };
        let remedy = match (severity, gap.cause) {
            (Severity::Information, _) => Remedy::WeldCloses,
            (_, Cause::BeyondEnd { run_on }) => Remedy::LetRunOn { onto, run_on },
            (Severity::Error, Cause::Beside) => Remedy::MoveIn,
            (_, Cause::Beside) => self.beside_remedy(gap),
        };
        let Gap { outline, by, .. } = *gap;
        let (code, fact) = if gap.is_all {
            ("cope-misses", PartFault::MeetsNothing { number, id, outline, past, by, clock, remedy })
        } else {
            let code = if severity == Severity::Warning { "cope-misses-part" } else { "cope-gap-small" };
            (code, PartFault::WallPasses { number, id, past, by, outline, clock, remedy })
        };
        self.finding(severity, code, fact)
    }

    /// A tube that is too large for its target cannot be mended by moving it; one that is not can.
    fn beside_remedy(&self, gap: &Gap) -> Remedy<'_> {
        let onto = self.onto(gap.target);
        let member = &self.frame.members[self.part.member];
        let target = gap.target.and_then(|target| member.ends[self.number].targets.get(target));
        let Some(&Target::Member(other)) = target else { return Remedy::MakeLarger { onto } };
        let reach = |member| self.frame.section(member).profile.reach();
        if reach(member) > reach(&self.frame.members[other]) + TOUCHES {
            Remedy::MakeSmaller { id: &member.id, onto }
        } else {
            Remedy::MoveAxes
        }
    }

    fn of_open(&self, open: &OpenEnd) -> Finding {
        let (number, id, onto) = (self.number + 1, self.id(), self.onto(Some(open.target)));
        let remedy = open.run_on.map_or(Remedy::UsePlug, |run_on| Remedy::LetRunOnOrUsePlug { onto, run_on });
        let severity = severity_of(open);
        let fact = match severity {
            Severity::Error => PartFault::IntoOpenEnd { number, id, onto, remedy },
            Severity::Warning => PartFault::FlushInOpenEnd { number, id, in_bore: open.in_bore, onto, remedy },
            Severity::Information => PartFault::OnSawnEdge { number, id, on_edge: open.on_edge, onto },
        };
        self.finding(severity, "cope-into-open-end", fact)
    }

    fn id(&self) -> &str {
        &self.frame.members[self.part.member].id
    }

    fn onto(&self, target: Option<usize>) -> Onto<'_> {
        let fit = &self.frame.members[self.part.member].ends[self.number];
        let target = target.and_then(|target| fit.targets.get(target));
        target.map_or(Onto::Plane, |&target| Onto::Named(self.frame.name(target)))
    }

    fn finding(&self, severity: Severity, code: &str, fact: PartFault) -> Finding {
        let member = &self.frame.members[self.part.member];
        let names = member.ends[self.number].targets.iter().map(|&target| self.frame.name(target));
        let about = std::iter::once(member.id.as_str()).chain(names);
        let pointer = format!("/members/{}", member.source);
        Finding { severity, ..Finding::information(code, pointer, fact) }.about(about)
    }
}
