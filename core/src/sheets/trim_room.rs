//! Trims where the part stands: the length that the wrap covers, and what is cut off, must be free by then.

use super::wrap::covered;
use super::{FitUp, Sheets};
use crate::document::{Design, Finding, Findings};
use crate::frame::{Frame, Target, fit};
use crate::geometry::{Bounds, DVec3};
use crate::part::{Made, Part, TubeEnd, clash::is_in_part};
use crate::words::findings::sheets::{InTheWay, SheetFault};

/// Over its tube a wrap needs so much air, mm.
const AIR: f64 = 1.0;

/// Places looked at round the tube, and the step between them along it, mm.
const ROUND: u32 = 36;
const STEP: f64 = 1.5;

/// Adds a warning for each end that is trimmed where it stands while other parts stand on the length that its wrap covers.
pub(super) fn report(design: &Design, made: &Made, sheets: &Sheets, findings: &mut Findings) {
    let Made { frame, parts } = made;
    let order = frame.order();
    for part in parts {
        let member = &frame.members[part.member];
        let Some(own) = order.iter().position(|&target| target == Target::Member(part.member)) else { continue };
        for end in 0..2 {
            let before = member.trim_before[end].min(order.len());
            if member.leave_long[end] == 0.0 || before <= own {
                continue;
            }
            let skin = Skin::of(frame, part, end);
            let standing = order[..before].iter().copied().filter(|&target| target != Target::Member(part.member));
            let in_the_way: Vec<Target> = standing.filter(|&target| skin.meets(frame, parts, target)).collect();
            if !in_the_way.is_empty() {
                findings.push(finding(design, frame, &sheets.fit_up, (part.member, end), &in_the_way));
            }
        }
    }
}

/// The outside of a tube where its wrap lies and beyond, a little off it.
struct Skin {
    points: Vec<DVec3>,
    bounds: Bounds,
}

impl Skin {
    fn of(frame: &Frame, part: &Part, end: usize) -> Self {
        let made = &part.ends[end];
        let TubeEnd { datum, outwards, index, side, profile } = *made.cut.end();
        let [from, line] = covered(made);
        let to = line + frame.members[part.member].leave_long[end];
        let round: Vec<DVec3> = (0..ROUND)
            .map(|step| {
                let spot = profile.spot(profile.perimeter() * f64::from(step) / f64::from(ROUND), 0.0);
                let [x, y] = [0, 1].map(|axis| spot.at[axis] + AIR * spot.normal[axis]);
                index * x + side * y
            })
            .collect();
        let along = std::iter::successors(Some(from), |s| Some(s + STEP)).take_while(|s| *s <= to);
        let points: Vec<DVec3> = along.flat_map(|s| round.iter().map(move |off| datum + outwards * s + *off)).collect();
        Self { bounds: Bounds::around(points.iter().copied()), points }
    }

    fn meets(&self, frame: &Frame, parts: &[Part], target: Target) -> bool {
        match target {
            Target::Member(other) => {
                let member = &frame.members[other];
                let is_there = |at: &DVec3| member.bar.distance(*at) < 0.0 && is_in_part(frame, parts, other, *at);
                self.bounds.overlaps(&fit::bounds(frame, member)) && self.points.iter().any(is_there)
            }
            Target::Plate(plate) => {
                let plate = &frame.plates[plate].plate;
                self.bounds.overlaps(&fit::plate_bounds(plate))
                    && self.points.iter().any(|at| plate.distance(*at) < 0.0)
            }
        }
    }
}

fn finding(
    design: &Design,
    frame: &Frame,
    fit_up: &FitUp,
    (position, end): (usize, usize),
    in_the_way: &[Target],
) -> Finding {
    let member = &frame.members[position];
    let id = member.id.as_str();
    let step = |id: &str| fit_up.placed_at(id).unwrap_or_default();
    let named: Vec<(&str, usize)> =
        in_the_way.iter().map(|&target| frame.name(target)).map(|other| (other, step(other))).collect();
    let first = named.iter().map(|(_, step)| *step).min().unwrap_or_default();
    let which = [super::End::From, super::End::To][end];
    let trimmed = fit_up.trimmed_at(id, which).unwrap_or_default();
    let field = ["trim_from_after", "trim_to_after"][end];
    let fact = SheetFault::TrimNotFree { end: end + 1, id, trimmed, in_the_way: InTheWay(&named), first, field };
    let source = design.members.get(member.source).and_then(|member| member.leave_long.as_ref());
    let is_named = source.is_some_and(|long| [&long.trim_from_after, &long.trim_to_after][end].is_some());
    let pointer =
        format!("/members/{}/leave_long{}", member.source, if is_named { format!("/{field}") } else { String::new() });
    let about = std::iter::once(id).chain(in_the_way.iter().map(|&target| frame.name(target)));
    Finding::warning("trim-not-free", pointer, fact).about(about)
}
