//! Ends that land on the sawn end of a target: on the edge of its wall, or in its bore, where there is nothing.

use super::{Looked, RESOLVED, TOUCHES, stretches};
use crate::frame::fit::tip;
use crate::frame::{CutKind, Target};
use crate::geometry::{Piece, Solid};
use crate::part::table::Table;

/// Places round the outline at which it is looked where they land.
const SIDES: u32 = 144;

/// Sine of the angle between two tubes under which one is seen end on.
const END_ON: f64 = 1e-6;

/// A point this near the plane of an end lies on it, mm.
const ON_PLANE: f64 = 1e-5;

/// How an end lands on the open end of a target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OpenEnd {
    /// The target, as a position in the fit's targets.
    pub target: usize,
    /// Length of the outline that lands on the edge of its wall, mm.
    pub on_edge: f64,
    /// Length of the outline that goes into its bore, mm.
    pub in_bore: f64,
    /// True when all of the outline goes into its bore.
    pub is_all: bool,
    /// How far the target must run on past that end so that the whole outline lands on its side, mm; `None` where that mends
    /// nothing.
    pub run_on: Option<f64>,
}

impl Looked<'_> {
    /// The open end on which a generator lands: a target, as a position in the fit's targets, and which end of it.
    pub(super) fn lands_on(&self, u: f64) -> Option<(usize, usize)> {
        self.landing(u).map(|(target, end, _)| (target, end))
    }

    /// With it how far inside the target's outside it lands, mm.
    fn landing(&self, u: f64) -> Option<(usize, usize, f64)> {
        let contact = self.cut.contact(u, 0.0)?;
        let target = usize::from(contact.target);
        let Some(&Target::Member(position)) = self.fit.targets.get(target) else { return None };
        let other = &self.frame.members[position];
        let at = self.cut.end().generator(u, 0.0).at(contact.s);
        let end = (0..2).find(|&end| {
            let fit = &other.ends[end];
            let is_open = fit.kind == CutKind::Square || (fit.kind == CutKind::Mitre && fit.plane_of.is_none());
            let is_there = tip(other, end).origin.distance(at) <= 40.0 * self.frame.section(other).profile.reach();
            is_open
                && is_there
                && fit.plane.is_some_and(|plane| (plane.distance(at) + self.member.gap).abs() < ON_PLANE)
        })?;
        let inside = -self.endless(position, end).map_or(0.0, |bar| bar.beside(at));
        Some((target, end, inside))
    }

    /// False when no place of a table of the cut lies on the end of a bar: each is on a side, and no bar is seen end on.
    pub(super) fn may_be_open(&self, table: &Table) -> bool {
        let outwards = self.cut.end().outwards;
        let is_end_on = |piece: &Piece| match piece {
            Piece::Prism(bar) => bar.axis.cross(outwards).length() < END_ON,
            other => other.round().is_some_and(|bar| bar.axis.cross(outwards).length() < END_ON),
        };
        table.rows.iter().filter_map(|row| row.outer).any(|met| matches!(met.contact.face, 1 | 2))
            || self.cut.targets().iter().flat_map(Solid::pieces).any(is_end_on)
    }

    pub(super) fn open(&self) -> Option<OpenEnd> {
        let perimeter = self.cut.profile().perimeter();
        let places: Vec<f64> = (0..=SIDES).map(|side| perimeter * f64::from(side) / f64::from(SIDES)).collect();
        let lands = |u: f64| self.landing(u).filter(|(_, _, inside)| *inside > TOUCHES);
        let (target, end, _) = places.iter().find_map(|&u| lands(u))?;
        let Some(&Target::Member(position)) = self.fit.targets.get(target) else { return None };
        let wall = self.frame.section(&self.frame.members[position]).profile.wall();
        let inside =
            |u: f64| lands(u).filter(|landing| (landing.0, landing.1) == (target, end)).map(|landing| landing.2);
        let length = |holds: &dyn Fn(f64) -> bool| {
            let places: Vec<(f64, bool)> = places.iter().map(|&u| (u, holds(u))).collect();
            let found = stretches(&places, RESOLVED * perimeter, holds);
            found.iter().map(|[from, to]| to - from).sum::<f64>()
        };
        let landed = length(&|u| inside(u).is_some());
        let in_bore = length(&|u| inside(u).is_some_and(|inside| inside > wall + TOUCHES));
        let needs = |u: f64| self.cut.contact(u, 0.0).is_none() || self.lands_on(u) == Some((target, end));
        Some(OpenEnd {
            target,
            on_edge: landed - in_bore,
            in_bore,
            is_all: in_bore > (1.0 - 10.0 * RESOLVED) * perimeter,
            run_on: self.run_on(target, end, needs),
        })
    }
}
