//! Which ends meet, and what stands there: nodes.

use super::end::{End, EndAt, Given};
use super::limits::{LANDS, REACH, SHORT, in_steps};
use crate::document::Design;
use crate::frame::fit::{bounds, plate_bounds};
use crate::frame::{Frame, Target};
use crate::geometry::{Bounds, DVec3, Ray, Solid, Tree};
use rayon::prelude::*;
use std::collections::BTreeMap;

/// Lines tried round a tube to see whether it runs into another.
const TRIED: u32 = 24;

/// A line that stops no further short of something comes upon it, mm.
const ON: f64 = 1e-3;

/// Ends drawn at one point, at least one of them open, and what else stands there.
#[derive(Debug, Clone)]
pub(super) struct Node {
    /// Its ends, in build order.
    pub(super) ends: Vec<End>,
    /// Members and plates that go through, and that an end comes upon with its axis.
    pub(super) passing: Vec<Target>,
    /// Members whose own ends lie elsewhere, and that the wall of an end runs into.
    pub(super) beside: BTreeMap<EndAt, Vec<Target>>,
    /// What its only end stops short of, and by how much, mm.
    pub(super) short_of: Option<(Target, f64)>,
}

impl Node {
    /// Where it is: the mean of its ends' points.
    pub(super) fn at(&self) -> DVec3 {
        let sum: DVec3 = self.ends.iter().map(|end| end.tip.origin).sum();
        let count = self.ends.iter().fold(0.0, |count, _| count + 1.0);
        sum / count
    }

    pub(super) fn end(&self, at: EndAt) -> Option<&End> {
        self.ends.iter().find(|end| end.at == at)
    }
}

/// What an end comes upon beyond its own node.
#[derive(Debug, Clone, Copy)]
struct Meets {
    target: Target,
    /// True when its axis does.
    by_axis: bool,
    /// How far short of it the end stops, mm.
    short: f64,
}

/// All ends of a frame, member by member.
pub(super) fn ends(design: &Design, frame: &Frame) -> Vec<End> {
    let ends = (0..frame.members.len()).flat_map(|member| [(member, 0), (member, 1)]);
    ends.map(|at| End::of(design, frame, at)).collect()
}

/// All nodes with an open end, in build order of their first ends.
pub(super) fn nodes(frame: &Frame, ends: &[End]) -> Vec<Node> {
    let groups: Vec<Vec<End>> = groups(ends).into_iter().filter(|group| group.iter().any(End::is_open)).collect();
    let around = Around::of(frame, ends);
    let met: Vec<Vec<(EndAt, Vec<Meets>)>> = groups
        .par_iter()
        .map(|group| {
            let open = group.iter().filter(|end| end.is_open());
            open.map(|end| (end.at, around.met(end, group))).collect()
        })
        .collect();
    let met_by: BTreeMap<EndAt, &[Meets]> = met.iter().flatten().map(|(at, met)| (*at, met.as_slice())).collect();
    let groups = groups.iter().zip(&met);
    groups.map(|(group, met)| around.node(group.clone(), met, &met_by, ends)).collect()
}

/// Ends whose points lie within reach of each other, by way of others too.
fn groups(ends: &[End]) -> Vec<Vec<End>> {
    #[allow(clippy::cast_possible_truncation, reason = "coordinates are bounded by the reader")]
    let cell = |point: DVec3| [point.x, point.y, point.z].map(|at| (at / (2.0 * REACH)).floor() as i64);
    let mut cells: BTreeMap<[i64; 3], Vec<usize>> = BTreeMap::new();
    let mut first: Vec<usize> = (0..ends.len()).collect();
    for (number, end) in ends.iter().enumerate() {
        let [x, y, z] = cell(end.tip.origin);
        for near in (0..27).map(|step| [x + step % 3 - 1, y + step / 3 % 3 - 1, z + step / 9 - 1]) {
            for &other in cells.get(&near).into_iter().flatten() {
                if in_steps(ends[other].tip.origin.distance(end.tip.origin)) <= REACH {
                    let (a, b) = (root(&mut first, other), root(&mut first, number));
                    first[a.max(b)] = a.min(b);
                }
            }
        }
        cells.entry([x, y, z]).or_default().push(number);
    }
    let mut groups: BTreeMap<usize, Vec<End>> = BTreeMap::new();
    for (number, end) in ends.iter().enumerate() {
        groups.entry(root(&mut first, number)).or_default().push(*end);
    }
    groups.into_values().collect()
}

/// The first of those that are joined to one.
fn root(first: &mut [usize], mut number: usize) -> usize {
    while first[number] != number {
        first[number] = first[first[number]];
        number = first[number];
    }
    number
}

/// Everything that an end can come upon.
struct Around<'a> {
    frame: &'a Frame,
    tree: Tree,
    targets: Vec<Target>,
    plates: Vec<Solid>,
}

impl<'a> Around<'a> {
    fn of(frame: &'a Frame, ends: &[End]) -> Self {
        // What sits inside or over another tube is met by way of that.
        let is_inside = |member: usize| ends[2 * member..2 * member + 2].iter().any(|end| end.given == Given::Inside);
        let members = frame.members.iter().enumerate().filter(|(at, _)| !is_inside(*at));
        let members = members.map(|(at, member)| (Target::Member(at), bounds(frame, member)));
        let plates =
            frame.plates.iter().enumerate().map(|(at, placed)| (Target::Plate(at), plate_bounds(&placed.plate)));
        let (targets, boxes): (Vec<Target>, Vec<Bounds>) = members.chain(plates).unzip();
        let plates = (0..frame.plates.len()).map(|plate| frame.solid(Target::Plate(plate), 0.0)).collect();
        Self { frame, tree: Tree::new(&boxes), targets, plates }
    }

    /// What an end comes upon that has no end in its group.
    fn met(&self, end: &End, group: &[End]) -> Vec<Meets> {
        // Only an end that is alone is taken to mean what it stops short of.
        let further = if group.len() == 1 { SHORT } else { 0.0 };
        let reach = end.profile.reach();
        let (from, to) = (end.tip.origin, end.tip.at(further));
        let near = self.tree.overlapping(&Bounds { low: from.min(to), high: from.max(to) }.grown(reach));
        let others = near.into_iter().map(|near| self.targets[near]);
        let others = others.filter(|&target| group.iter().all(|end| end.member() != target));
        let mut met: Vec<Meets> = others.filter_map(|target| self.meets(end, target, further)).collect();
        met.sort_by_key(|meets| meets.target);
        met
    }

    fn meets(&self, end: &End, target: Target, further: f64) -> Option<Meets> {
        let solid = match target {
            Target::Member(member) => &self.frame.members[member].bar,
            Target::Plate(plate) => &self.plates[plate],
        };
        let reach = end.profile.reach();
        if solid.distance(end.tip.origin) > reach + further + ON {
            return None;
        }
        let first = |ray: &Ray| solid.first(ray, end.start()).map(|hit| hit.s);
        let side = end.tip.direction.cross(end.index);
        // An axis in the plane of a sawn end meets that, whichever side of it rounding puts the axis on.
        let about = || {
            let aside = [end.index, -end.index, side, -side].into_iter();
            let rays = aside.map(|by| Ray { origin: end.tip.origin + by * ON, ..end.tip });
            rays.filter_map(|ray| first(&ray)).reduce(f64::min)
        };
        let axis = first(&end.tip).or_else(about).filter(|&s| s < further + ON);
        if let Some(s) = axis {
            return Some(Meets { target, by_axis: true, short: in_steps(s.max(0.0)) });
        }
        let perimeter = end.profile.perimeter();
        let runs_into = (0..TRIED).any(|step| {
            let [x, y] = end.profile.spot(perimeter * f64::from(step) / f64::from(TRIED), 0.0).at;
            let origin = end.tip.origin + end.index * x + side * y;
            first(&Ray { origin, direction: end.tip.direction }).is_some_and(|s| s < ON)
        });
        runs_into.then_some(Meets { target, by_axis: false, short: 0.0 })
    }

    /// A node of a group.
    fn node(
        &self,
        ends: Vec<End>,
        met: &[(EndAt, Vec<Meets>)],
        met_by: &BTreeMap<EndAt, &[Meets]>,
        all: &[End],
    ) -> Node {
        let mut node = Node { ends, passing: Vec::new(), beside: BTreeMap::new(), short_of: None };
        for (at, met) in met {
            let Some(end) = node.end(*at).copied() else { continue };
            let mut beside = Vec::new();
            for meets in met.iter().filter(|meets| meets.short <= LANDS) {
                // Of two that come upon one another, the one that is placed first stands.
                let stands = self.nearby(&end, meets.target, met_by, all).is_none_or(|other| {
                    let is_before = !other.is_open() || other.placed_before(&end).is_lt();
                    is_before && !is_fitted_to(self.frame, other, end.member())
                });
                match (stands, meets.by_axis) {
                    (true, true) => node.passing.push(meets.target),
                    (true, false) => beside.push(meets.target),
                    (false, _) => {}
                }
            }
            node.beside.insert(*at, beside);
            let nearest = met.iter().min_by(|a, b| a.short.total_cmp(&b.short));
            node.short_of = nearest.filter(|meets| meets.short > LANDS).map(|meets| (meets.target, meets.short));
        }
        node.passing.sort_unstable();
        node.passing.dedup();
        for beside in node.beside.values_mut() {
            beside.retain(|target| !node.passing.contains(target));
        }
        node
    }

    /// The end of a target that lies near an end and comes upon its member in turn, so that one of them is fitted to the other.
    fn nearby<'b>(
        &self,
        end: &End,
        target: Target,
        met_by: &BTreeMap<EndAt, &[Meets]>,
        all: &'b [End],
    ) -> Option<&'b End> {
        let Target::Member(member) = target else { return None };
        let near = 2.0 * (end.profile.reach() + self.frame.section(&self.frame.members[member]).profile.reach());
        all[2 * member..2 * member + 2].iter().find(|other| {
            other.tip.origin.distance(end.tip.origin) <= near
                && (met_by.get(&other.at).is_some_and(|met| met.iter().any(|meets| meets.target == end.member()))
                    || is_fitted_to(self.frame, other, end.member()))
        })
    }
}

/// True when the document fits an end to a target.
fn is_fitted_to(frame: &Frame, end: &End, target: Target) -> bool {
    let fit = &frame.members[end.at.0].ends[end.at.1];
    !end.is_open() && fit.targets.contains(&target)
}
