//! Which of many boxes overlap: a tree of boxes over boxes, so that the cost grows with what is near and not with all there is.

use super::DVec3;

/// Most boxes in a leaf of the tree.
const LEAF: usize = 4;

/// A box with its sides along the axes, mm. Boxes that touch overlap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    /// Its corner with the least coordinates.
    pub low: DVec3,
    /// Its corner with the greatest coordinates.
    pub high: DVec3,
}

impl Bounds {
    /// A box without any point, from which to start joining.
    pub const EMPTY: Self = Self { low: DVec3::INFINITY, high: DVec3::NEG_INFINITY };

    /// The least box that holds all `points`.
    #[must_use]
    pub fn around(points: impl IntoIterator<Item = DVec3>) -> Self {
        let with = |all: Self, point: DVec3| Self { low: all.low.min(point), high: all.high.max(point) };
        points.into_iter().fold(Self::EMPTY, with)
    }

    /// The box moved out by `by` mm on all sides.
    #[must_use]
    pub fn grown(self, by: f64) -> Self {
        Self { low: self.low - DVec3::splat(by), high: self.high + DVec3::splat(by) }
    }

    /// The least box that holds both.
    #[must_use]
    pub fn joined(self, other: Self) -> Self {
        Self { low: self.low.min(other.low), high: self.high.max(other.high) }
    }

    /// True when both have a point in common.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.low.cmple(other.high).all() && other.low.cmple(self.high).all()
    }
}

/// Boxes, to be asked which of them lie where. Boxes are named by their position in the list that the tree was made of.
#[derive(Debug, Clone)]
pub struct Tree {
    boxes: Vec<Bounds>,
    /// Positions of the boxes, those of one leaf side by side.
    order: Vec<usize>,
    /// Each node before all that lie under it.
    nodes: Vec<Node>,
}

#[derive(Debug, Clone, Copy)]
struct Node {
    bounds: Bounds,
    /// Part of `order` in a leaf; empty in a node that has others under it.
    leaf: (usize, usize),
    /// The next node that does not lie under this one.
    next: usize,
}

impl Tree {
    /// The tree of a list of boxes.
    #[must_use]
    pub fn new(boxes: &[Bounds]) -> Self {
        let mut order: Vec<usize> = (0..boxes.len()).collect();
        let mut nodes = Vec::with_capacity(boxes.len());
        if !boxes.is_empty() {
            grow(boxes, &mut order, 0, &mut nodes);
        }
        Self { boxes: boxes.to_vec(), order, nodes }
    }

    /// All boxes that overlap `wanted`, in rising order.
    #[must_use]
    pub fn overlapping(&self, wanted: &Bounds) -> Vec<usize> {
        let mut found = Vec::new();
        let mut at = 0;
        while let Some(node) = self.nodes.get(at) {
            if node.bounds.overlaps(wanted) {
                let (first, last) = node.leaf;
                found.extend(self.order[first..last].iter().filter(|&&item| self.boxes[item].overlaps(wanted)));
                at += 1;
            } else {
                at = node.next;
            }
        }
        found.sort_unstable();
        found
    }

    /// All pairs of boxes that overlap each other, the lesser position first, in rising order.
    #[must_use]
    pub fn pairs(&self) -> Vec<(usize, usize)> {
        let later = |(item, bounds): (usize, &Bounds)| {
            self.overlapping(bounds).into_iter().filter(move |&other| other > item).map(move |other| (item, other))
        };
        self.boxes.iter().enumerate().flat_map(later).collect()
    }
}

/// Adds the node over the boxes in `order`, which starts at `offset` of the whole order, and all nodes under it.
fn grow(boxes: &[Bounds], order: &mut [usize], offset: usize, nodes: &mut Vec<Node>) {
    let bounds = order.iter().fold(Bounds::EMPTY, |all, &item| all.joined(boxes[item]));
    let here = nodes.len();
    nodes.push(Node { bounds, leaf: (offset, offset), next: 0 });
    if order.len() <= LEAF {
        nodes[here].leaf.1 = offset + order.len();
    } else {
        let middles = Bounds::around(order.iter().map(|&item| boxes[item].low + boxes[item].high));
        let axis = (middles.high - middles.low).max_position();
        let middle = |item: usize| boxes[item].low[axis] + boxes[item].high[axis];
        let half = order.len() / 2;
        order.select_nth_unstable_by(half, |&a, &b| middle(a).total_cmp(&middle(b)).then(a.cmp(&b)));
        let (left, right) = order.split_at_mut(half);
        grow(boxes, left, offset, nodes);
        grow(boxes, right, offset + half, nodes);
    }
    nodes[here].next = nodes.len();
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn boxes() -> impl Strategy<Value = Vec<Bounds>> {
        let corner =
            || prop::array::uniform3(-20i32..20).prop_map(|[x, y, z]| DVec3::new(x.into(), y.into(), z.into()));
        let size = || prop::array::uniform3(0i32..6).prop_map(|[x, y, z]| DVec3::new(x.into(), y.into(), z.into()));
        prop::collection::vec((corner(), size()).prop_map(|(low, size)| Bounds { low, high: low + size }), 0..120)
    }

    proptest! {
        /// Against every box tried against every other. Whole coordinates make many of them touch and coincide.
        #[test]
        fn nothing_is_missed_and_nothing_added(boxes in boxes()) {
            let tree = Tree::new(&boxes);
            let mut pairs = Vec::new();
            for (item, wanted) in boxes.iter().enumerate() {
                let all: Vec<usize> = (0..boxes.len()).filter(|&other| boxes[other].overlaps(wanted)).collect();
                prop_assert_eq!(tree.overlapping(wanted), all.clone());
                pairs.extend(all.into_iter().filter(|&other| other > item).map(|other| (item, other)));
            }
            prop_assert_eq!(tree.pairs(), pairs);
        }
    }

    #[test]
    fn touching_boxes_overlap_and_parted_ones_do_not() {
        let unit = Bounds { low: DVec3::ZERO, high: DVec3::ONE };
        let at = |x: f64| Bounds { low: unit.low + DVec3::X * x, high: unit.high + DVec3::X * x };
        let tree = Tree::new(&[at(2.0), at(1.0), at(0.0)]);
        assert_eq!(tree.overlapping(&at(3.0)), [0]);
        assert_eq!(tree.overlapping(&at(3.0 + 1e-9)), [0; 0]);
        assert_eq!(tree.overlapping(&at(3.0 + 1e-9).grown(1e-6)), [0]);
        assert_eq!(tree.pairs(), [(0, 1), (1, 2)]);
        assert_eq!(Tree::new(&[]).overlapping(&unit), [0; 0]);
    }
}
