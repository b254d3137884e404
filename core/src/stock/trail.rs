//! The order of parts on a bar in which most cuts are shared.
//!
//! Parts are edges of a graph whose vertices are the slopes; an end that shares no cut is a vertex of its own. Neighbours that share a
//! cut follow each other along a trail. As few trails as can be cover a connected piece of the graph (Euler): one for each two vertices
//! of odd degree, or one that closes, and gives up one cut of the slope that saves least. That is the most that can be saved on a bar.
//! Ends of trails with like blades are put together, as a gap there takes the wider of two cuts; that order is a greedy one.

use super::model::Model;
use std::collections::BTreeMap;

/// A part on a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Placed {
    /// Which kind of part.
    pub item: usize,
    /// Whether its other end comes first.
    pub flipped: bool,
}

impl Placed {
    /// The number of its end toward the trimmed end of the bar.
    pub fn first(self) -> usize {
        usize::from(self.flipped)
    }

    /// The number of its end away from the trimmed end.
    pub fn last(self) -> usize {
        1 - self.first()
    }
}

/// Parts on a bar from its trimmed end on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// In this order.
    pub parts: Vec<Placed>,
    /// From the trim to the last part's long point, in ten-thousandths of a millimetre.
    pub used: i64,
}

/// A trail of edges, each with the vertex it comes from, by the place of the edge.
type EdgeTrail = Vec<(usize, usize)>;

struct Edge {
    /// The part; `None` where a trail ends and the next begins.
    item: Option<usize>,
    vertices: [usize; 2],
    done: bool,
}

/// Between the long points of neighbours: what a shared cut saves, or what cuts of their own take.
pub fn gap(model: &Model, before: Placed, after: Placed) -> i64 {
    let (a, b) = (&model.kinds[before.item].ends[before.last()], &model.kinds[after.item].ends[after.first()]);
    match (a.slope, b.slope) {
        (Some(slope), Some(other)) if slope == other => -model.slopes[slope].saving,
        _ => a.kerf.max(b.kerf),
    }
}

/// Lays parts, each named by its kind, in the order that saves most.
pub fn lay(model: &Model, items: &[usize]) -> Row {
    let (mut sloped, mut plain): (Vec<usize>, Vec<usize>) =
        items.iter().partition(|&&item| model.kinds[item].ends.iter().any(|end| end.slope.is_some()));
    sloped.sort_unstable();
    plain.sort_unstable();
    // Those with a wide cut of their own first, so that they share the gap with each other.
    plain.sort_by_key(|&item| std::cmp::Reverse(model.kinds[item].ends.iter().map(|end| end.kerf).max()));
    let mut parts = if sloped.is_empty() { Vec::new() } else { Graph::of(model, &sloped).trails() };
    parts.extend(plain.into_iter().map(|item| Placed { item, flipped: false }));
    let lengths: i64 = parts.iter().map(|placed| model.kinds[placed.item].length).sum();
    let gaps: i64 = parts.windows(2).map(|two| gap(model, two[0], two[1])).sum();
    Row { parts, used: lengths + gaps }
}

/// The parts on a bar with so much room between its trim and its end; `None` when they do not hold, or the last cut would leave the bar.
pub fn fit(model: &Model, items: &[usize], room: i64) -> Option<Row> {
    let row = lay(model, items);
    let rest = room - row.used;
    let kerf = |placed: Placed, end: usize| model.kinds[placed.item].ends[end].kerf;
    let (&first, &last) = (row.parts.first()?, row.parts.last()?);
    if rest == 0 || rest >= kerf(last, last.last()) {
        return Some(row);
    }
    (rest > 0 && rest >= kerf(first, first.first())).then(|| {
        let turned = row.parts.iter().rev().map(|placed| Placed { flipped: !placed.flipped, ..*placed });
        Row { parts: turned.collect(), used: row.used }
    })
}

struct Graph<'a> {
    model: &'a Model,
    edges: Vec<Edge>,
    /// Edges at each vertex, the slopes' vertices first.
    at: Vec<Vec<usize>>,
    /// Next edge to look at, by vertex.
    next: Vec<usize>,
    /// Blade of each vertex.
    kerfs: Vec<i64>,
}

impl<'a> Graph<'a> {
    fn of(model: &'a Model, items: &[usize]) -> Self {
        let slopes = model.slopes.len();
        let mut graph = Self {
            model,
            edges: Vec::with_capacity(items.len() * 2),
            at: vec![Vec::new(); slopes],
            next: Vec::new(),
            kerfs: vec![0; slopes],
        };
        for &item in items {
            let vertices = [0, 1].map(|number| {
                let end = &model.kinds[item].ends[number];
                let vertex = end.slope.unwrap_or_else(|| {
                    graph.at.push(Vec::new());
                    graph.kerfs.push(0);
                    graph.at.len() - 1
                });
                graph.kerfs[vertex] = end.kerf;
                vertex
            });
            graph.add(Some(item), vertices);
        }
        let mut odd: Vec<usize> = (0..graph.at.len()).filter(|&vertex| graph.at[vertex].len() % 2 == 1).collect();
        odd.sort_by_key(|&vertex| (std::cmp::Reverse(graph.kerfs[vertex]), vertex));
        for two in odd.chunks_exact(2) {
            graph.add(None, [two[0], two[1]]);
        }
        graph.next = vec![0; graph.at.len()];
        graph
    }

    fn add(&mut self, item: Option<usize>, vertices: [usize; 2]) {
        let edge = self.edges.len();
        self.edges.push(Edge { item, vertices, done: false });
        self.at[vertices[0]].push(edge);
        self.at[vertices[1]].push(edge);
    }

    /// All parts, one round after the other, those that begin with the widest blade first.
    fn trails(mut self) -> Vec<Placed> {
        // Where a round is not opened by an end of a trail it is opened at the slope that saves least.
        let mut starts: Vec<usize> = (0..self.at.len()).filter(|&vertex| !self.at[vertex].is_empty()).collect();
        starts.sort_by_key(|&vertex| (self.model.slopes.get(vertex).map_or(i64::MIN, |slope| slope.saving), vertex));
        let mut rounds: BTreeMap<(std::cmp::Reverse<i64>, usize), Vec<Placed>> = BTreeMap::new();
        for start in starts {
            let mut round = self.round(start);
            if round.is_empty() {
                continue;
            }
            let widest = round
                .iter()
                .enumerate()
                .filter(|(_, (edge, _))| self.edges[*edge].item.is_none())
                .max_by_key(|(place, (edge, _))| {
                    let [a, b] = self.edges[*edge].vertices;
                    (self.kerfs[a].max(self.kerfs[b]), std::cmp::Reverse(*place))
                })
                .map(|(place, _)| place);
            if let Some(place) = widest {
                round.rotate_left(place);
            }
            let parts: Vec<Placed> = round.iter().filter_map(|&(edge, from)| self.placed(edge, from)).collect();
            let opening = parts.first().map_or(0, |first| self.model.kinds[first.item].ends[first.first()].kerf);
            rounds.insert((std::cmp::Reverse(opening), rounds.len()), parts);
        }
        rounds.into_values().flatten().collect()
    }

    fn placed(&self, edge: usize, from: usize) -> Option<Placed> {
        let Edge { item, vertices, .. } = self.edges[edge];
        Some(Placed { item: item?, flipped: vertices[0] != from })
    }

    /// The round through all edges left that can be reached from a vertex (Hierholzer).
    fn round(&mut self, start: usize) -> EdgeTrail {
        let mut stack = vec![(start, None)];
        let mut way = EdgeTrail::new();
        while let Some(&(vertex, by)) = stack.last() {
            let mut open = None;
            while let Some(&edge) = self.at[vertex].get(self.next[vertex]) {
                self.next[vertex] += 1;
                if !self.edges[edge].done {
                    open = Some(edge);
                    break;
                }
            }
            if let Some(edge) = open {
                self.edges[edge].done = true;
                let [a, b] = self.edges[edge].vertices;
                stack.push((if vertex == a { b } else { a }, Some(edge)));
                continue;
            }
            stack.pop();
            if let (Some(edge), Some(&(from, _))) = (by, stack.last()) {
                way.push((edge, from));
            }
        }
        way.reverse();
        way
    }
}
