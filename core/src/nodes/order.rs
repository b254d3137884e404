//! The build order that the answer needs: each member after all that it is fitted to, and otherwise as it was listed.

use std::collections::{BTreeMap, BTreeSet};

/// One member must come before another, as positions in the document's list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Edge {
    pub(super) before: usize,
    pub(super) after: usize,
}

/// The list in its new order.
///
/// # Errors
/// Those that lie on a circle, or between two.
pub(super) fn placed(count: usize, edges: &BTreeSet<Edge>) -> Result<Vec<usize>, BTreeSet<usize>> {
    let mut waits = vec![0usize; count];
    let mut next: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for edge in edges.iter().filter(|edge| edge.before != edge.after) {
        waits[edge.after] += 1;
        next.entry(edge.before).or_default().push(edge.after);
    }
    let mut ready: BTreeSet<usize> = (0..count).filter(|&member| waits[member] == 0).collect();
    let mut order = Vec::with_capacity(count);
    while let Some(member) = ready.pop_first() {
        order.push(member);
        for &after in next.get(&member).into_iter().flatten() {
            waits[after] -= 1;
            if waits[after] == 0 {
                ready.insert(after);
            }
        }
    }
    if order.len() == count {
        return Ok(order);
    }
    // What waits still lies on a circle or behind one; what only lies behind one leads to none.
    let mut left: BTreeSet<usize> = (0..count).filter(|&member| waits[member] > 0).collect();
    let mut leads_to = vec![0usize; count];
    let mut before: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (&member, after) in next.iter().filter(|(member, _)| left.contains(member)) {
        leads_to[member] = after.len();
        after.iter().for_each(|&after| before.entry(after).or_default().push(member));
    }
    let mut last: Vec<usize> = left.iter().copied().filter(|&member| leads_to[member] == 0).collect();
    while let Some(member) = last.pop() {
        left.remove(&member);
        for &other in before.get(&member).into_iter().flatten() {
            leads_to[other] -= 1;
            if leads_to[other] == 0 {
                last.push(other);
            }
        }
    }
    Err(left)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn edges(list: &[(usize, usize)]) -> BTreeSet<Edge> {
        list.iter().map(|&(before, after)| Edge { before, after }).collect()
    }

    #[test]
    fn only_what_must_move_moves() {
        assert_eq!(placed(5, &edges(&[(3, 1)])), Ok(vec![0, 2, 3, 1, 4]));
        assert_eq!(placed(3, &edges(&[(0, 1), (1, 2)])), Ok(vec![0, 1, 2]));
    }

    #[test]
    fn a_circle_is_named_without_what_hangs_on_it() {
        assert_eq!(placed(5, &edges(&[(0, 1), (1, 2), (2, 1), (2, 3)])), Err(BTreeSet::from([1, 2])));
    }
}
