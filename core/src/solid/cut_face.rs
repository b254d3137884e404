//! The faces of a cut: one for each surface that it is fitted to, bounded by the rims and by the lines across the wall.

use super::SolidError;
use super::brep::{Brep, Loop, Walked, reversed};
use super::curve::{self, TracedPoint};
use super::facets::{self, Owner};
use super::rim::CutRim;
use super::tracks::{Knot, Tie, Web};
use crate::geometry::DVec3;
use crate::part::Cut;

/// Points of a line across the wall that lie nearer than this are one, mm.
const NEAR: f64 = 0.02;

/// A line across the wall in the making.
struct Track {
    from: usize,
    before: Owner,
    after: Owner,
    /// Regions to its left and right.
    sides: [usize; 2],
    points: Vec<DVec3>,
}

/// Regions of the cut that belong together: intervals of rows, joined as far as they touch.
struct Regions {
    bases: Vec<usize>,
    parents: Vec<usize>,
}

impl Regions {
    fn of(web: &Web) -> Self {
        let mut bases = Vec::with_capacity(web.rows.len());
        let mut count = 0;
        for row in &web.rows {
            bases.push(count);
            count += row.breaks.len().max(1);
        }
        let mut regions = Self { bases, parents: (0..count).collect() };
        for (row, tie) in web.ties.iter().enumerate() {
            match tie {
                Tie::Same(map) if map.is_empty() => regions.join((row, 0), (row + 1, 0)),
                Tie::Same(map) => {
                    for (here, &next) in map.iter().enumerate() {
                        regions.join((row, here), (row + 1, next));
                    }
                }
                Tie::Knots(knots) => {
                    for (after, parted) in between_knots(web, row, knots).into_iter().enumerate() {
                        if parted.is_none() {
                            let here = last_break(knots, after, |knot| &knot.from);
                            let next = last_break(knots, after, |knot| &knot.to);
                            regions.join((row, here), (row + 1, next));
                        }
                    }
                }
            }
        }
        regions
    }

    fn root(&self, mut node: usize) -> usize {
        while self.parents[node] != node {
            node = self.parents[node];
        }
        node
    }

    fn at(&self, row: usize, interval: usize) -> usize {
        self.root(self.bases[row] + interval)
    }

    fn join(&mut self, a: (usize, usize), b: (usize, usize)) {
        let (a, b) = (self.at(a.0, a.1), self.at(b.0, b.1));
        self.parents[a.max(b)] = a.min(b);
    }
}

/// The last break at or before a knot: the interval after it is the one between this knot and the next.
fn last_break(knots: &[Knot], knot: usize, side: impl Fn(&Knot) -> &Vec<usize>) -> usize {
    let count = knots.len();
    (0..count).find_map(|back| side(&knots[(knot + count - back) % count]).last().copied()).unwrap_or(0)
}

/// After each knot the intervals of both rows, where a line at one depth parts them.
fn between_knots(web: &Web, row: usize, knots: &[Knot]) -> Vec<Option<(usize, usize)>> {
    let parted = |after: usize| {
        let here = last_break(knots, after, |knot| &knot.from);
        let there = last_break(knots, after, |knot| &knot.to);
        (web.rows[row].owners()[here] != web.rows[row + 1].owners()[there]).then_some((here, there))
    };
    (0..knots.len()).map(parted).collect()
}

/// Adds the faces of a cut. `turned` tells that the cut is at the first end, where `u` runs the other way seen from outside.
pub(super) fn cut_faces(
    brep: &mut Brep,
    cut: &Cut,
    web: &Web,
    rims: [&CutRim; 2],
    turned: bool,
) -> Result<(), SolidError> {
    let regions = Regions::of(web);
    let last = web.rows.len() - 1;
    let mut walks: Vec<(usize, Walked)> = Vec::new();
    walks.extend(rims[0].pieces.iter().map(|&(edge, k)| (regions.at(0, k), Walked { edge, forwards: true })));
    walks.extend(rims[1].pieces.iter().map(|&(edge, k)| (regions.at(last, k), Walked { edge, forwards: false })));
    for (edge, sides) in tracks(brep, cut, web, rims, &regions) {
        walks.push((regions.root(sides[0]), Walked { edge, forwards: true }));
        walks.push((regions.root(sides[1]), Walked { edge, forwards: false }));
    }
    for (row, turn) in web.rows.iter().enumerate() {
        for (interval, owner) in turn.owners().into_iter().enumerate() {
            let region = regions.bases[row] + interval;
            if regions.root(region) != region {
                continue;
            }
            let own: Vec<Walked> = walks.iter().filter(|(of, _)| *of == region).map(|(_, walked)| *walked).collect();
            if own.is_empty() {
                continue;
            }
            let mut loops = chained(brep, own)?;
            if turned {
                loops = loops.iter().map(|walk| reversed(walk)).collect();
            }
            let near = brep.middle(&loops);
            brep.face(facets::surface(cut, owner), !facets::faces_out(cut, owner), near, loops);
        }
    }
    Ok(())
}

/// Makes loops of walked edges, that which starts first coming first.
fn chained(brep: &Brep, mut rest: Vec<Walked>) -> Result<Vec<Loop>, SolidError> {
    let mut loops = Vec::new();
    while !rest.is_empty() {
        let mut walk = vec![rest.remove(0)];
        let start = brep.ends(walk[0]).0;
        loop {
            let at = brep.ends(walk[walk.len() - 1]).1;
            if at == start {
                break;
            }
            let next = rest.iter().position(|walked| brep.ends(*walked).0 == at).ok_or(SolidError::Open)?;
            walk.push(rest.remove(next));
        }
        loops.push(walk);
    }
    Ok(loops)
}

/// Makes the edges across the wall; each with the regions to its left and right.
fn tracks(brep: &mut Brep, cut: &Cut, web: &Web, rims: [&CutRim; 2], regions: &Regions) -> Vec<(usize, [usize; 2])> {
    let point = |row: usize, k: usize| {
        let here = &web.rows[row].breaks[k];
        cut.end().generator(here.u, web.rows[row].depth).at(here.s)
    };
    let begin = |row: usize, k: usize, from: usize| {
        let count = web.rows[row].breaks.len();
        let here = &web.rows[row].breaks[k];
        let sides = [regions.at(row, (k + count - 1) % count), regions.at(row, k)];
        Track { from, before: here.before, after: here.after, sides, points: Vec::new() }
    };
    let mut edges = Vec::new();
    let mut running: Vec<Option<Track>> =
        (0..web.rows[0].breaks.len()).map(|k| Some(begin(0, k, rims[0].breaks[k]))).collect();
    for (row, tie) in web.ties.iter().enumerate() {
        let mut next: Vec<Option<Track>> = web.rows[row + 1].breaks.iter().map(|_| None).collect();
        let go_on = |track: Option<Track>, to: usize| {
            track.map(|mut track| {
                track.points.push(point(row + 1, to));
                track
            })
        };
        match tie {
            Tie::Same(map) => {
                for (k, &to) in map.iter().enumerate() {
                    next[to] = go_on(running[k].take(), to);
                }
            }
            Tie::Knots(knots) => {
                let between = between_knots(web, row, knots);
                let mut vertices = Vec::with_capacity(knots.len());
                for (number, knot) in knots.iter().enumerate() {
                    let parts =
                        between[number].is_some() || between[(number + knots.len() - 1) % knots.len()].is_some();
                    if !parts && knot.goes_on(&web.rows[row], &web.rows[row + 1]) {
                        vertices.push(None);
                        for (&k, &to) in knot.from.iter().zip(&knot.to) {
                            next[to] = go_on(running[k].take(), to);
                        }
                        continue;
                    }
                    let ends = knot.from.iter().map(|&k| point(row, k));
                    let starts = knot.to.iter().map(|&k| point(row + 1, k));
                    let (sum, count) =
                        ends.chain(starts).fold((DVec3::ZERO, 0.0), |(sum, count), at| (sum + at, count + 1.0));
                    let vertex = brep.vertex(sum / f64::max(count, 1.0));
                    vertices.push(Some(vertex));
                    for &k in &knot.from {
                        edges.extend(running[k].take().map(|track| finish(brep, cut, track, vertex)));
                    }
                    for &k in &knot.to {
                        next[k] = Some(begin(row + 1, k, vertex));
                    }
                }
                for (number, (here, there)) in
                    between.into_iter().enumerate().filter_map(|(number, parted)| Some((number, parted?)))
                {
                    if let (Some(from), Some(to)) = (vertices[number], vertices[(number + 1) % knots.len()]) {
                        let sides = [regions.at(row + 1, there), regions.at(row, here)];
                        let before = web.rows[row].owners()[here];
                        let after = web.rows[row + 1].owners()[there];
                        edges.push(finish(brep, cut, Track { from, before, after, sides, points: Vec::new() }, to));
                    }
                }
            }
        }
        running = next;
    }
    for (k, track) in running.into_iter().enumerate() {
        edges.extend(track.map(|track| finish(brep, cut, track, rims[1].breaks[k])));
    }
    edges
}

fn finish(brep: &mut Brep, cut: &Cut, track: Track, to: usize) -> (usize, [usize; 2]) {
    let (a, b) = (facets::surface(cut, track.before), facets::divider(cut, track.before, track.after));
    let (start, end) = (brep.at(track.from), brep.at(to));
    let mut places = vec![TracedPoint { number: 0.0, at: start }];
    for at in track.points {
        let last = places[places.len() - 1].at;
        if at.distance(last) > NEAR
            && at.distance(end) > NEAR
            && let Some(at) = super::surface::common_point(&a, &b, at)
        {
            places.push(TracedPoint { number: 0.0, at });
        }
    }
    places.push(TracedPoint { number: 0.0, at: end });
    let curve = curve::along(&a, &b, places, |from, to, near| curve::between(&a, &b, from, to, near));
    (brep.edge(track.from, to, curve), track.sides)
}
