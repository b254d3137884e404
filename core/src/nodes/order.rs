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
    let mut left: BTreeSet<usize> = (0..count).filter(|member| !order.contains(member)).collect();
    // What only lies behind a circle is on none.
    loop {
        let leads_on =
            |member: &usize| next.get(member).is_some_and(|after| after.iter().any(|after| left.contains(after)));
        let ends: Vec<usize> = left.iter().filter(|member| !leads_on(member)).copied().collect();
        if ends.is_empty() {
            return Err(left);
        }
        ends.iter().for_each(|member| {
            left.remove(member);
        });
    }
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
