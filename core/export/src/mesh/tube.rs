//! A tube as triangles: outside and bore ring by ring, with the cuts of both ends and its holes.

use super::{Mesh, patch};
use matchmark_core::frame::Member;
use matchmark_core::geometry::{DVec3, Profile, turned};
use matchmark_core::part::{Cut, Part, PartHole};

/// Sides of a round tube.
const SIDES: u32 = 64;

/// Largest turn from one ring of a bend to the next, radians.
const TURN: f64 = core::f64::consts::PI / 36.0;

/// Room round a hole in which the skin is parted afresh, mm.
const ROUND_HOLE: f64 = 0.5;

/// How far the edges of a patch are hollow while it is parted, in quarters of it, mm: were they straight, the vertices along them would be
/// left out, and the strips beside the patch would not meet it.
const HOLLOW: f64 = 0.01;

/// One skin of a tube: the outside, or the bore at the wall's depth.
struct Skin<'a> {
    profile: Profile,
    /// Places round the outline at which a ring has its points, mm.
    places: &'a [f64],
    depth: f64,
}

/// Where a section stands.
#[derive(Clone, Copy)]
struct Station {
    axis: DVec3,
    index: DVec3,
    side: DVec3,
}

impl Station {
    fn point(&self, profile: Profile, u: f64, depth: f64) -> DVec3 {
        let [x, y] = profile.spot(u, depth).at;
        self.axis + self.index * x + self.side * y
    }

    fn normal(&self, profile: Profile, u: f64) -> DVec3 {
        let [x, y] = profile.spot(u, 0.0).normal;
        self.index * x + self.side * y
    }

    fn moved(self, by: f64) -> Self {
        Self { axis: self.axis + self.index.cross(self.side) * by, ..self }
    }
}

/// The triangles of a member's part.
pub(crate) fn of_tube(member: &Member, part: &Part) -> Mesh {
    let profile = part.ends[0].cut.profile();
    let places = places(profile);
    let mut mesh = Mesh::default();
    let ends = [0, 1].map(|end: usize| {
        [0.0, profile.wall()].map(|depth| line(&part.ends[end].cut, part.ends[end].longest.s, &places, depth))
    });
    let legs = legs(member);
    let bands: Vec<Vec<Band>> =
        legs.iter().map(|leg| bands(leg, part, profile, &ends, legs.len(), &mut mesh)).collect();
    for depth in [0, 1] {
        let skin = Skin { profile, places: &places, depth: if depth == 0 { 0.0 } else { profile.wall() } };
        skin.build(&mut mesh, member, &legs, [&ends[0][depth], &ends[1][depth]], &bands);
    }
    for (leg, bands) in legs.iter().zip(&bands) {
        bands.iter().flat_map(|band| &band.holes).for_each(|hole| hole.wall(&mut mesh, leg, profile));
    }
    for (end, [outer, inner]) in ends.iter().enumerate() {
        cap(&mut mesh, outer, inner, part.ends[end].cut.end().outwards, end == 0);
    }
    mesh
}

fn places(profile: Profile) -> Vec<f64> {
    let perimeter = profile.perimeter();
    let mut places: Vec<f64> = match profile {
        Profile::Round { .. } => (0..SIDES).map(|side| perimeter * f64::from(side) / f64::from(SIDES)).collect(),
        Profile::Rect { .. } => {
            let joints = profile.joints();
            // Corners in six parts; flats in some, since a cut bends across them as well.
            let spans = joints.iter().zip(joints.iter().skip(1).copied().chain([joints[0] + perimeter]));
            spans.flat_map(|(&from, to)| (0..6).map(move |step| from + (to - from) * f64::from(step) / 6.0)).collect()
        }
    };
    places.iter_mut().for_each(|place| *place = place.rem_euclid(perimeter));
    places.sort_by(f64::total_cmp);
    places.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
    places
}

/// The line in which a cut meets the wall at a depth. Where it misses its target the wall is drawn up to the furthest point of the cut.
fn line(cut: &Cut, longest: f64, places: &[f64], depth: f64) -> Vec<DVec3> {
    let at = |&u: &f64| {
        let s = cut.contact(u, depth).map_or(longest, |contact| contact.s);
        cut.end().generator(u, depth).at(s)
    };
    places.iter().map(at).collect()
}

/// A straight with its station along the path.
struct Leg {
    number: usize,
    start: Station,
    length: f64,
    station: f64,
}

fn legs(member: &Member) -> Vec<Leg> {
    let path = &member.path;
    let (mut index, mut station) = (member.index, 0.0);
    let mut legs = Vec::with_capacity(path.legs.len());
    for (number, leg) in path.legs.iter().enumerate() {
        let start = Station { axis: leg.start, index, side: leg.direction.cross(index) };
        legs.push(Leg { number, start, length: leg.length, station });
        if let Some(arc) = path.arcs.get(number) {
            index = turned(index, arc.axis, arc.angle);
            station += leg.length + arc.length();
        }
    }
    legs
}

/// A stretch of a straight in which there are holes.
struct Band {
    from: f64,
    to: f64,
    holes: Vec<Drilled>,
}

/// A hole in one wall: its centre from the start of its straight and round the outline, and its edge from there on both skins.
struct Drilled {
    at: [f64; 2],
    edges: [Vec<[f64; 2]>; 2],
}

/// The holes of a straight, in stretches along it. What reaches into a cut or beyond the straight is not drilled.
fn bands(
    leg: &Leg,
    part: &Part,
    profile: Profile,
    ends: &[[Vec<DVec3>; 2]; 2],
    count: usize,
    mesh: &mut Mesh,
) -> Vec<Band> {
    let along = |at: &DVec3| (*at - leg.start.axis).dot(leg.start.index.cross(leg.start.side));
    let low = if leg.number == 0 { ends[0].iter().flatten().map(along).fold(f64::MIN, f64::max) } else { 0.0 };
    let is_last = leg.number + 1 == count;
    let high = if is_last { ends[1].iter().flatten().map(along).fold(f64::MAX, f64::min) } else { leg.length };
    let mut bands: Vec<Band> = Vec::new();
    let on_leg = |hole: &&PartHole| (leg.station..=leg.station + leg.length).contains(&hole.station);
    for hole in part.holes.iter().filter(on_leg) {
        let s = hole.station - leg.station;
        let reach = hole.diameter / 2.0 + ROUND_HOLE;
        let Some(inner) = edge(hole, profile, profile.wall()) else {
            mesh.not_drilled.push(hole.id.clone());
            continue;
        };
        if s - reach < low + 1e-3 || s + reach > high - 1e-3 {
            mesh.not_drilled.push(hole.id.clone());
            continue;
        }
        let outer = edge(hole, profile, 0.0).unwrap_or_default();
        let holes =
            hole.places(profile).map(|u| Drilled { at: [u, s], edges: [outer.clone(), inner.clone()] }).collect();
        bands.push(Band { from: s - reach, to: s + reach, holes });
    }
    bands.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mut joined: Vec<Band> = Vec::new();
    for band in bands {
        match joined.last_mut().filter(|last| band.from < last.to + 1e-3) {
            Some(last) => {
                last.to = last.to.max(band.to);
                last.holes.extend(band.holes);
            }
            None => joined.push(band),
        }
    }
    joined
}

/// The edge of a hole on a skin, from its centre, in mm of the outer outline and along the tube. `None` where the drill is wider than
/// the bore.
fn edge(hole: &PartHole, profile: Profile, depth: f64) -> Option<Vec<[f64; 2]>> {
    let mut edge = hole.outline(profile);
    edge.pop();
    if let Profile::Round { outer, .. } = profile {
        let radius = hole.diameter / 2.0;
        for (place, side) in edge.iter_mut().zip(0_u32..) {
            let across = radius * libm::sin(core::f64::consts::TAU * f64::from(side) / 72.0);
            if across.abs() >= outer - depth {
                return None;
            }
            place[0] = outer * libm::asin(across / (outer - depth));
        }
    }
    Some(edge)
}

impl Skin<'_> {
    /// The skin between the lines of both cuts.
    fn build(&self, mesh: &mut Mesh, member: &Member, legs: &[Leg], ends: [&[DVec3]; 2], bands: &[Vec<Band>]) {
        let mut ring = self.ring(mesh, legs[0].start, Some(ends[0]));
        for (leg, bands) in legs.iter().zip(bands) {
            for band in bands {
                let [from, to] = [band.from, band.to].map(|at| self.ring(mesh, leg.start.moved(at), None));
                self.strip(mesh, &ring, &from, &[]);
                let patched = self.patch(mesh, leg, band, [&from, &to]);
                self.strip(mesh, &from, &to, &patched);
                ring = to;
            }
            let Some(arc) = member.path.arcs.get(leg.number) else {
                let last = self.ring(mesh, leg.start, Some(ends[1]));
                self.strip(mesh, &ring, &last, &[]);
                return;
            };
            let foot = leg.start.moved(leg.length);
            let steps = (arc.angle / TURN).ceil().max(1.0);
            let mut step = 0.0;
            while step <= steps {
                let angle = arc.angle * step / steps;
                let turn = |way: DVec3| turned(way, arc.axis, angle);
                let axis = arc.centre + turn(arc.start) * arc.radius;
                let station = Station { axis, index: turn(foot.index), side: turn(foot.side) };
                let next = self.ring(mesh, station, None);
                self.strip(mesh, &ring, &next, &[]);
                ring = next;
                step += 1.0;
            }
        }
    }

    fn normal(&self, station: Station, u: f64) -> DVec3 {
        let normal = station.normal(self.profile, u);
        if self.depth > 0.0 { -normal } else { normal }
    }

    /// A ring of vertices, square to the tube or along the line of a cut.
    fn ring(&self, mesh: &mut Mesh, station: Station, cut: Option<&[DVec3]>) -> Vec<u32> {
        let vertex = |(at, &u): (usize, &f64)| {
            let point = cut.and_then(|line| line.get(at).copied());
            let point = point.unwrap_or_else(|| station.point(self.profile, u, self.depth));
            mesh.vertex(point, self.normal(station, u))
        };
        self.places.iter().enumerate().map(vertex).collect()
    }

    /// The strip between two rings but for the columns that are `left_out`.
    fn strip(&self, mesh: &mut Mesh, from: &[u32], to: &[u32], left_out: &[usize]) {
        let count = self.places.len();
        for at in (0..count).filter(|at| !left_out.contains(at)) {
            let next = (at + 1) % count;
            mesh.quad([from[at], from[next], to[at], to[next]], self.depth > 0.0);
        }
    }

    /// The skin round the holes of a band; answers the columns that it takes.
    fn patch(&self, mesh: &mut Mesh, leg: &Leg, band: &Band, [from, to]: [&[u32]; 2]) -> Vec<usize> {
        let count = self.places.len();
        let skin = usize::from(self.depth > 0.0);
        let perimeter = self.profile.perimeter();
        let mut taken = vec![false; count];
        for hole in &band.holes {
            // Of both skins' edges the wider one, so that both are parted in the same columns.
            let wide = hole.edges.iter().flatten().map(|edge| edge[0].abs()).fold(0.0, f64::max) + 1e-3;
            for (at, taken) in taken.iter_mut().enumerate() {
                let end = if at + 1 == count { self.places[0] + perimeter } else { self.places[at + 1] };
                let width = end - self.places[at];
                let off = (self.places[at] - (hole.at[0] - wide)).rem_euclid(perimeter);
                *taken |= off < 2.0 * wide || off > perimeter - width;
            }
        }
        let columns: Vec<usize> = (0..count).filter(|&at| taken[at]).collect();
        // Neighbouring columns are one patch; it begins where the column before is not taken.
        for &start in columns.iter().filter(|&&at| !taken[(at + count - 1) % count]) {
            let run: Vec<usize> = (0..count).map(|step| (start + step) % count).take_while(|&at| taken[at]).collect();
            self.patch_of(mesh, leg, band, &run, [from, to], skin);
        }
        columns
    }

    fn patch_of(&self, mesh: &mut Mesh, leg: &Leg, band: &Band, run: &[usize], rings: [&[u32]; 2], skin: usize) {
        let (count, perimeter) = (self.places.len(), self.profile.perimeter());
        let start = self.places[run[0]];
        let unrolled = |u: f64| start + (u - start).rem_euclid(perimeter);
        let corners: Vec<usize> = run.iter().copied().chain([(run[run.len() - 1] + 1) % count]).collect();
        let us: Vec<f64> = corners.iter().map(|&at| unrolled(self.places[at])).collect();
        let mut vertices: Vec<u32> = corners.iter().map(|&at| rings[0][at]).collect();
        vertices.extend(corners.iter().rev().map(|&at| rings[1][at]));
        let end = us[us.len() - 1];
        let hollow = |u: f64| HOLLOW * (u - start) * (end - u) / (end - start).powi(2);
        let low = us.iter().map(|&u| [u, band.from + hollow(u)]);
        let high = us.iter().rev().map(|&u| [u, band.to - hollow(u)]);
        let mut outlines = vec![low.chain(high).collect::<Vec<[f64; 2]>>()];
        for hole in &band.holes {
            let centre = unrolled(hole.at[0]);
            if centre > end {
                continue;
            }
            let ring: Vec<[f64; 2]> = hole.edges[skin].iter().map(|[du, ds]| [centre + du, hole.at[1] + ds]).collect();
            for &[u, s] in &ring {
                let station = leg.start.moved(s);
                let point = station.point(self.profile, u, self.depth);
                vertices.push(mesh.vertex(point, self.normal(station, u)));
            }
            outlines.push(ring);
        }
        for triangle in patch::triangles(&outlines) {
            mesh.triangle(triangle.map(|at| vertices[at as usize]), self.depth > 0.0);
        }
    }
}

impl Drilled {
    /// The wall of the hole between both skins.
    fn wall(&self, mesh: &mut Mesh, leg: &Leg, profile: Profile) {
        let middle = leg.start.moved(self.at[1]);
        let outwards = middle.normal(profile, self.at[0]);
        let centre = middle.point(profile, self.at[0], 0.0);
        let rings = [(0, 0.0), (1, profile.wall())].map(|(skin, depth): (usize, f64)| {
            let vertex = |[du, ds]: &[f64; 2]| {
                let point = leg.start.moved(self.at[1] + ds).point(profile, self.at[0] + du, depth);
                let off = centre - point;
                mesh.vertex(point, off - outwards * off.dot(outwards))
            };
            self.edges[skin].iter().map(vertex).collect::<Vec<u32>>()
        });
        let count = rings[0].len();
        for at in 0..count {
            let next = (at + 1) % count;
            // The edge runs clockwise seen from outside.
            mesh.quad([rings[0][at], rings[0][next], rings[1][at], rings[1][next]], true);
        }
    }
}

/// The cut between the outside and the bore.
fn cap(mesh: &mut Mesh, outer: &[DVec3], inner: &[DVec3], outwards: DVec3, is_first: bool) {
    let count = outer.len();
    let mut rings = [Vec::with_capacity(count), Vec::with_capacity(count)];
    for at in 0..count {
        let along = outer[(at + 1) % count] - outer[(at + count - 1) % count];
        let normal = along.cross(inner[at] - outer[at]).normalize_or_zero();
        let normal = if normal.dot(outwards) < 0.0 { -normal } else { normal };
        rings[0].push(mesh.vertex(outer[at], normal));
        rings[1].push(mesh.vertex(inner[at], normal));
    }
    for at in 0..count {
        let next = (at + 1) % count;
        mesh.quad([rings[0][at], rings[0][next], rings[1][at], rings[1][next]], is_first);
    }
}
