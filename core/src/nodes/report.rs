//! The report: what was decided of each end, in figures of the parts as they are then made.

use super::decided::{Decided, Role};
use super::end::EndAt;
use super::find::Node;
use super::settle::Settled;
use super::told::Told;
use crate::document::Findings;
use crate::frame::{CutKind, Frame, Target};
use crate::geometry::DVec3;
use crate::part::{Made, PartEnd, report_end};
use serde::Serialize;
use std::collections::{BTreeMap, BTreeSet};

/// Places round an end at which its station is given.
const SAMPLES: u32 = 24;

/// What was decided.
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct Report {
    /// Every end at a node where something was open.
    pub ends: Vec<ReportedEnd>,
    /// What is to be known, or stands in the way.
    pub findings: Vec<ReportedFinding>,
    /// The nodes, a sentence each.
    pub nodes: Vec<ReportedNode>,
}

/// What was decided of an end.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ReportedEnd {
    /// Id of its member.
    pub member: String,
    /// 1 for the end at `from`, 2 for the one at `to`; of a member that passes the end that lies nearer.
    pub end: u8,
    /// `passes`, `run-on`, `mitre`, `butt` (a mitre of two tubes in line), `cope`, `square`, or `plug` and `sleeve` as the document
    /// says.
    pub role: &'static str,
    /// The member with which it is mitred, or the opposite hand with which it closes on the middle plane.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub partner: Option<String>,
    /// Members and plates that it is fitted to.
    pub onto: Vec<String>,
    /// How far it runs on past its point, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub run_on: Option<f64>,
    /// Least station of the outer line, mm from the end's point, growing into the body; absent where the end was refused.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub long: Option<f64>,
    /// Greatest station of the outer line.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub short: Option<f64>,
    /// Stations of the outer line at 24 equal steps round the outline from clock angle 0, right-handed about the direction into the
    /// body; null where the wall meets nothing.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub samples: Option<Vec<Option<f64>>>,
}

/// One finding.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ReportedFinding {
    /// Stable code.
    pub code: String,
    /// Ids of the members concerned, the one to change first.
    pub ends: Vec<String>,
    /// What it is and what to do.
    pub message: String,
}

/// One node.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct ReportedNode {
    /// Where it is, mm.
    pub at: [f64; 3],
    /// What was decided, or why nothing was.
    pub said: String,
    /// Pairs of braces on a tube that passes.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub braces: Vec<super::braces::Braces>,
}

/// Writes the report. `made` is what the document with the answer comes to.
pub(super) fn report(frame: &Frame, settled: &Settled, made: Option<&Made>) -> Report {
    let reporter = Reporter { frame, settled, made, positions: positions(made) };
    let mut report = Report::default();
    let mut listed = BTreeSet::new();
    for (node, outcome) in &settled.nodes {
        let decided: BTreeMap<EndAt, &Decided> = outcome.decided.iter().map(|decided| (decided.at, decided)).collect();
        for end in &node.ends {
            if !outcome.is_refused() || !end.is_open() {
                listed.insert(end.at);
            }
            report.ends.push(reporter.end(end.at, decided.get(&end.at).copied(), outcome.is_refused()));
        }
        report.nodes.push(ReportedNode {
            at: node.at().to_array().map(rounded),
            said: super::said::said(frame, node, outcome),
            braces: super::braces::braces(frame, node, outcome),
        });
    }
    for (node, outcome) in &settled.nodes {
        let told = outcome.told.iter();
        report.findings.extend(told.map(|told| reporter.finding(told)));
        for &target in &node.passing {
            if let Target::Member(member) = target {
                report.ends.push(reporter.passing(member, node, &outcome.passing_runs_on));
            }
        }
    }
    report.findings.extend(settled.told.iter().map(|told| reporter.finding(told)));
    report.findings.extend(listed.into_iter().flat_map(|at| reporter.of_seat(at)));
    report
}

struct Reporter<'a> {
    frame: &'a Frame,
    settled: &'a Settled,
    made: Option<&'a Made>,
    /// Positions in what is made, by id.
    positions: BTreeMap<&'a str, usize>,
}

fn positions(made: Option<&Made>) -> BTreeMap<&str, usize> {
    let members = made.into_iter().flat_map(|made| made.frame.members.iter().enumerate());
    members.map(|(position, member)| (member.id.as_str(), position)).collect()
}

impl Reporter<'_> {
    fn end(&self, at: EndAt, decided: Option<&Decided>, is_refused: bool) -> ReportedEnd {
        let member = &self.frame.members[at.0];
        let fit = &member.ends[at.1];
        let mut row = ReportedEnd {
            member: member.id.clone(),
            end: if at.1 == 0 { 1 } else { 2 },
            role: "square",
            partner: None,
            onto: Vec::new(),
            run_on: None,
            long: None,
            short: None,
            samples: None,
        };
        let name = |target: &Target| self.frame.name(*target).to_owned();
        match decided {
            Some(decided) => {
                row.onto = decided.onto.iter().map(name).collect();
                row.partner = decided.partner.map(|partner| self.frame.members[partner.0].id.clone());
                // A tube that passes elsewhere may need more.
                let role = if is_refused {
                    decided.role
                } else {
                    self.settled.decided.get(&at).map_or(decided.role, |end| end.role)
                };
                row.role = match role {
                    Role::Square => "square",
                    Role::RunOn(_) => "run-on",
                    Role::Mitre if self.is_butt(decided) => "butt",
                    Role::Mitre => "mitre",
                    Role::Cope => "cope",
                };
                if let Role::RunOn(by) = role {
                    row.run_on = Some(rounded(by));
                }
            }
            None => {
                row.onto = fit.targets.iter().map(name).collect();
                row.partner = fit.plane_of.map(|target| name(&target));
                row.role = match fit.kind {
                    CutKind::Square if member.run_on[at.1] > 0.0 => "run-on",
                    CutKind::Square => "square",
                    CutKind::Mitre => "mitre",
                    CutKind::Cope | CutKind::CopeAndMitre => "cope",
                    CutKind::Plug => "plug",
                    CutKind::Sleeve => "sleeve",
                };
                row.run_on = (member.run_on[at.1] > 0.0).then_some(rounded(member.run_on[at.1]));
            }
        }
        if !is_refused && let (Some(made), Some(&position)) = (self.made, self.positions.get(member.id.as_str())) {
            figures(&mut row, &made.parts[position].ends[at.1], made.frame.members[position].run_on[at.1], at.1);
        }
        row
    }

    fn is_butt(&self, decided: &Decided) -> bool {
        let out = |at: EndAt| crate::frame::fit::tip(&self.frame.members[at.0], at.1).direction;
        let straight = |partner: EndAt| super::end::angle(out(decided.at), out(partner)) >= super::limits::ONE_TUBE;
        decided.partner.is_some_and(straight)
    }

    fn passing(&self, member: usize, node: &Node, runs_on: &[(EndAt, f64)]) -> ReportedEnd {
        let tip = |end: usize| -> DVec3 { crate::frame::fit::tip(&self.frame.members[member], end).origin };
        let end = usize::from(tip(1).distance(node.at()) < tip(0).distance(node.at()) - 1e-6);
        let by = runs_on.iter().filter(|(at, _)| at.0 == member).map(|(_, by)| *by).reduce(f64::max);
        ReportedEnd {
            member: self.frame.members[member].id.clone(),
            end: if end == 0 { 1 } else { 2 },
            role: "passes",
            partner: None,
            onto: Vec::new(),
            run_on: by.map(rounded),
            long: None,
            short: None,
            samples: None,
        }
    }

    fn finding(&self, told: &Told) -> ReportedFinding {
        ReportedFinding {
            code: told.code().to_owned(),
            ends: told.about().into_iter().map(|target| self.frame.name(target).to_owned()).collect(),
            message: told.say(self.frame, |fact| fact.to_string()),
        }
    }

    /// How an end sits as it is made: what passes by more than touches is a wall that misses in part, whether or not the weld closes
    /// it.
    fn of_seat(&self, at: EndAt) -> Vec<ReportedFinding> {
        let id = &self.frame.members[at.0].id;
        let (Some(made), Some(&position)) = (self.made, self.positions.get(id.as_str())) else { return Vec::new() };
        let mut found = Findings::default();
        report_end(&made.frame, &made.parts[position], at.1, &mut found);
        let seats = found.into_sorted().into_iter().filter_map(|finding| {
            let code = match finding.code.as_str() {
                "cope-misses-part" | "cope-gap-small" => "cope-misses-part",
                "cope-misses" => "cope-misses",
                _ => return None,
            };
            Some(ReportedFinding { code: code.to_owned(), ends: vec![id.clone()], message: finding.message })
        });
        seats.collect()
    }
}

/// Fills in the figures of an end as it is made.
fn figures(row: &mut ReportedEnd, made: &PartEnd, run_on: f64, end: usize) {
    let into = |s: f64| rounded(-(s + run_on));
    row.long = Some(into(made.longest.s));
    row.short = made.outer.least().map(into);
    let perimeter = made.cut.profile().perimeter();
    let step = perimeter / f64::from(SAMPLES);
    // Places grow with the clock about the direction of travel, which runs out of the body at the last end.
    let place = |k: u32| step * f64::from(if end == 0 { k } else { (SAMPLES - k) % SAMPLES });
    row.samples = Some((0..SAMPLES).map(|k| made.outer.at(place(k)).map(into)).collect());
}

fn rounded(figure: f64) -> f64 {
    let rounded = (figure * 1e4).round() / 1e4;
    if rounded == 0.0 { 0.0 } else { rounded }
}
