//! Which imported member is which of the existing design.

use super::{Placed, same_size, size};
use glam::DVec3;
use matchmark_core::{Stop, Stopped};
use serde_json::Value;
use std::collections::BTreeSet;

/// Ids of imported members that the files tell, in small letters: others are numbers that may be another's the next time.
pub type Told = BTreeSet<String>;

/// Members that differ by less are where they were, mm.
pub const SAME: f64 = 0.05;
/// Farthest that a member without a name is taken to have moved, mm.
const FARTHEST: f64 = 150.0;
/// Most pairs of members that are weighed against each other.
const MOST_NEAR: usize = 1_000_000;

/// An existing member with the imported one that it is now.
#[derive(Debug, Clone, Copy)]
pub struct Match {
    pub old: usize,
    pub new: usize,
    /// True when the imported one runs the other way.
    pub turned: bool,
    /// How far points moved at most, mm; `None` where there are more or fewer of them.
    pub off: Option<f64>,
}

/// Same places first, then same names that the files tell, then the nearest of the same size.
pub fn matched(
    old: &[Placed],
    new: &[Placed],
    existing: &Value,
    imported: &Value,
    told: &Told,
    stop: Stop<'_>,
) -> Result<Vec<Match>, Stopped> {
    let (mut old_free, mut new_free) = (vec![true; old.len()], vec![true; new.len()]);
    let mut matches = Vec::new();
    let mut take = |one: Match, old_free: &mut Vec<bool>, new_free: &mut Vec<bool>| {
        if core::mem::take(&mut old_free[one.old]) && core::mem::take(&mut new_free[one.new]) {
            matches.push(one);
        }
    };
    let mut near = Vec::new();
    for (at, one) in old.iter().enumerate() {
        stop.check()?;
        for (there, other) in new.iter().enumerate() {
            let Some((off, turned)) = difference(one, other) else { continue };
            if off <= FARTHEST && near.len() < MOST_NEAR {
                near.push(Match { old: at, new: there, turned, off: Some(off) });
            }
        }
    }
    near.sort_by(|a, b| a.off.unwrap_or(0.0).total_cmp(&b.off.unwrap_or(0.0)));
    let is_free = |one: &Match, old_free: &[bool], new_free: &[bool]| old_free[one.old] && new_free[one.new];
    for one in near.iter().filter(|one| one.off.is_some_and(|off| off <= SAME)) {
        if is_free(one, &old_free, &new_free) {
            take(*one, &mut old_free, &mut new_free);
        }
    }
    for (at, one) in old.iter().enumerate() {
        let is_same = |other: &Placed| other.id == one.id && other.mirror == one.mirror;
        let there = new.iter().position(is_same).filter(|_| told.contains(&one.id.to_lowercase()));
        let Some(there) = there.filter(|there| old_free[at] && new_free[*there]) else { continue };
        let (off, turned) = difference(one, &new[there]).map_or_else(
            || (None, ends_off(one, &new[there], true) < ends_off(one, &new[there], false)),
            |(off, turned)| (Some(off), turned),
        );
        take(Match { old: at, new: there, turned, off }, &mut old_free, &mut new_free);
    }
    for one in &near {
        let alike = same_size(size(existing, &old[one.old].section), size(imported, &new[one.new].section));
        if alike && is_free(one, &old_free, &new_free) {
            take(*one, &mut old_free, &mut new_free);
        }
    }
    matches.sort_by_key(|one| one.old);
    Ok(matches)
}

/// Whether a member can have moved from one place to the other.
pub fn is_near(one: &Placed, other: &Placed) -> bool {
    difference(one, other).is_some_and(|(off, _)| off <= FARTHEST)
}

/// How far the points of two members are apart at most, and whether the second runs the other way.
fn difference(one: &Placed, other: &Placed) -> Option<(f64, bool)> {
    if one.points.len() != other.points.len() || one.mirror != other.mirror {
        return None;
    }
    let off = |turned: bool| {
        let last = one.points.len() - 1;
        let there = |index: usize| other.points[if turned { last - index } else { index }];
        one.points.iter().enumerate().map(|(index, point)| point.distance(there(index))).fold(0.0, f64::max)
    };
    let (straight, turned) = (off(false), off(true));
    Some(if turned < straight { (turned, true) } else { (straight, false) })
}

fn ends_off(one: &Placed, other: &Placed, turned: bool) -> f64 {
    let ends = |placed: &Placed| -> [DVec3; 2] { [placed.points[0], placed.points[placed.points.len() - 1]] };
    let ([a, b], [c, d]) = (ends(one), ends(other));
    if turned { a.distance(d) + b.distance(c) } else { a.distance(c) + b.distance(d) }
}
