//! What is said of an end that does not sit well: one finding, with the one remedy that fits the cause.

use super::{Cause, Gap, OpenEnd, TOUCHES, closed_by_weld};
use crate::document::{Finding, Findings, Severity};
use crate::frame::{Frame, Target};
use crate::part::Part;
use crate::words::findings::part::PartFault;

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
        let (end, onto) = (self.end(), self.onto(gap.target));
        let profile = self.part.ends[self.number].cut.profile();
        let clock = profile.clock(gap.at).to_degrees().round() % 360.0;
        let past = match gap.cause {
            Cause::Beside => PartFault::Beside { onto: &onto }.to_string(),
            Cause::BeyondEnd { .. } => PartFault::BeyondEnd { onto: &onto }.to_string(),
        };
        let remedy = match (severity, gap.cause) {
            (Severity::Information, _) => PartFault::WeldCloses.to_string(),
            (_, Cause::BeyondEnd { run_on }) => PartFault::LetRunOn { onto: &onto, run_on }.to_string(),
            (Severity::Error, Cause::Beside) => PartFault::MoveIn.to_string(),
            (_, Cause::Beside) => self.beside_remedy(gap),
        };
        let (code, message) = if gap.is_all {
            let message = PartFault::MeetsNothing {
                end: &capital(&end),
                outline: gap.outline,
                past: &past,
                by: gap.by,
                clock,
                remedy: &remedy,
            }
            .to_string();
            ("cope-misses", message)
        } else {
            let message = PartFault::WallPasses {
                end: &end,
                past: &past,
                by: gap.by,
                outline: gap.outline,
                clock,
                remedy: &remedy,
            }
            .to_string();
            (if severity == Severity::Warning { "cope-misses-part" } else { "cope-gap-small" }, message)
        };
        self.finding(severity, code, message)
    }

    /// A tube that is too large for its target cannot be mended by moving it; one that is not can.
    fn beside_remedy(&self, gap: &Gap) -> String {
        let onto = self.onto(gap.target);
        let member = &self.frame.members[self.part.member];
        let target = gap.target.and_then(|target| member.ends[self.number].targets.get(target));
        let Some(&Target::Member(other)) = target else {
            return PartFault::MakeLarger { onto: &onto }.to_string();
        };
        let reach = |member| self.frame.section(member).profile.reach();
        if reach(member) > reach(&self.frame.members[other]) + TOUCHES {
            PartFault::MakeSmaller { id: &member.id, onto: &onto }.to_string()
        } else {
            PartFault::MoveAxes.to_string()
        }
    }

    fn of_open(&self, open: &OpenEnd) -> Finding {
        let (end, onto) = (self.end(), self.onto(Some(open.target)));
        let run_on =
            open.run_on.map_or(String::new(), |run_on| PartFault::LetRunOnOr { onto: &onto, run_on }.to_string());
        let use_plug = if run_on.is_empty() { "Use" } else { &run_on };
        let severity = severity_of(open);
        let message = match severity {
            Severity::Error => PartFault::IntoOpenEnd { end: &capital(&end), onto: &onto, use_plug }.to_string(),
            Severity::Warning => {
                PartFault::FlushInOpenEnd { end: &end, in_bore: open.in_bore, onto: &onto, use_plug }.to_string()
            }
            Severity::Information => {
                PartFault::OnSawnEdge { end: &end, on_edge: open.on_edge, onto: &onto }.to_string()
            }
        };
        self.finding(severity, "cope-into-open-end", message)
    }

    fn end(&self) -> String {
        PartFault::End { number: self.number + 1, id: &self.frame.members[self.part.member].id }.to_string()
    }

    fn onto(&self, target: Option<usize>) -> String {
        let fit = &self.frame.members[self.part.member].ends[self.number];
        let name = target.and_then(|target| fit.targets.get(target)).map(|&target| self.frame.name(target));
        name.map_or_else(|| "its plane".to_owned(), |name| format!("`{name}`"))
    }

    fn finding(&self, severity: Severity, code: &str, message: String) -> Finding {
        let member = &self.frame.members[self.part.member];
        let names = member.ends[self.number].targets.iter().map(|&target| self.frame.name(target));
        let about = std::iter::once(member.id.as_str()).chain(names);
        let pointer = format!("/members/{}", member.source);
        Finding { severity, ..Finding::information(code, pointer, message) }.about(about)
    }
}

fn capital(text: &str) -> String {
    text.replacen("end ", "End ", 1)
}
