//! One end of a tube cut to fit: for each generator of the wall, the first hit on a target coming from the body.

mod nearest;
mod rows;

pub use nearest::Nearest;
pub(super) use nearest::nearest_to;
pub use rows::Row;

use crate::geometry::{Beam, Cylinder, DVec3, Field, Met, Piece, PlanePath, Profile, Ray, Sight, Solid, Spot, View};

/// Sides into which the outline is cut at least to look for breaks.
pub(super) const SIDES: u32 = 48;

/// A tube end in space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TubeEnd {
    /// Outline of the tube.
    pub profile: Profile,
    /// Point of the axis where `s` is 0.
    pub datum: DVec3,
    /// Unit direction of the axis out of the body towards this end; `s` grows along it.
    pub outwards: DVec3,
    /// Unit direction of the outline's x axis: clock angle 0.
    pub index: DVec3,
    /// Unit direction of the outline's y axis: clock angle 90.
    pub side: DVec3,
}

impl TubeEnd {
    /// All generators; their parameter is `s`, and their places are those of the outline.
    #[must_use]
    pub fn beam(&self) -> Beam {
        Beam { origin: self.datum, x: self.index, y: self.side, direction: self.outwards }
    }

    /// Outward normal of the outer surface at `u`.
    #[must_use]
    pub fn normal(&self, u: f64) -> DVec3 {
        let [x, y] = self.profile.spot(u, 0.0).normal;
        self.index * x + self.side * y
    }

    /// The generator at `u` and `depth`.
    #[must_use]
    pub fn generator(&self, u: f64, depth: f64) -> Ray {
        self.beam().ray(self.profile.spot(u, depth).at)
    }
}

/// A cut: a tube end and the solids that it is fitted to.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    end: TubeEnd,
    targets: Vec<Solid>,
    start: f64,
    limit: f64,
    /// Every piece that generators can meet as they see it.
    aims: Vec<Aim>,
}

#[derive(Debug, Clone, PartialEq)]
struct Aim {
    target: u16,
    piece: u16,
    view: View,
}

/// Where a generator meets its target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// Station from the end's datum, mm, growing out of the body.
    pub s: f64,
    /// Which target is met, as a position in [`Cut::targets`].
    pub target: u16,
    /// Which piece of it.
    pub piece: u16,
    /// Which smooth face of that piece.
    pub face: u8,
}

/// A place on a cut line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Station {
    /// What is met there.
    pub contact: Contact,
    /// How the station changes for 1 mm of `u`.
    pub slope: f64,
    /// Side of the tube, as in [`Spot::side`].
    pub side: usize,
}

impl Station {
    /// Which smooth piece of which surfaces it lies on: surface of a target, and side of the tube.
    pub(super) fn owner(&self) -> ((u16, u16, u8), usize) {
        (self.surface(), self.side)
    }

    /// Which smooth surface it lies on: target, piece and face of it.
    pub(super) fn surface(&self) -> (u16, u16, u8) {
        (self.contact.target, self.contact.piece, self.contact.face)
    }
}

impl Cut {
    /// A cut of `end`, fitted to `targets`; a plane cut is fitted to a half-space. `start` is the station in the body from which
    /// generators look for their first hit, and beyond `limit` a hit no longer counts.
    #[must_use]
    pub fn new(end: TubeEnd, targets: Vec<Solid>, start: f64, limit: f64) -> Self {
        let beam = end.beam();
        let pieces = (0..)
            .zip(&targets)
            .flat_map(|(target, solid)| (0..).zip(solid.pieces()).map(move |(piece, shape)| (target, piece, shape)));
        let field = Field { reach: end.profile.reach(), start, limit };
        let aims = pieces.filter_map(|(target, piece, shape)| {
            View::new(shape, &beam, &field).map(|view| Aim { target, piece, view })
        });
        let aims = aims.collect();
        Self { end, targets, start, limit, aims }
    }

    /// The tube end.
    #[must_use]
    pub fn end(&self) -> &TubeEnd {
        &self.end
    }

    /// What it is fitted to.
    #[must_use]
    pub fn targets(&self) -> &[Solid] {
        &self.targets
    }

    /// Outline of the tube.
    #[must_use]
    pub fn profile(&self) -> Profile {
        self.end.profile
    }

    /// Station in the body from which generators look for their first hit.
    #[must_use]
    pub fn start(&self) -> f64 {
        self.start
    }

    /// Station beyond which a hit no longer counts.
    #[must_use]
    pub fn limit(&self) -> f64 {
        self.limit
    }

    /// First contact of the generator at `u` and `depth`; `None` when it misses every target.
    #[must_use]
    #[inline]
    pub fn contact(&self, u: f64, depth: f64) -> Option<Contact> {
        self.first(self.end.profile.spot(u, depth).at)
    }

    /// First contact of the generator at a place of the section.
    pub(crate) fn first(&self, place: [f64; 2]) -> Option<Contact> {
        self.first_aim(place).map(|(aim, sight)| aim.contact(sight))
    }

    /// First contacts of the generators at places of the section, in their order.
    pub(super) fn firsts(&self, places: impl ExactSizeIterator<Item = [f64; 2]> + Clone) -> Vec<Option<Contact>> {
        let mut firsts: Vec<Option<Contact>> = vec![None; places.len()];
        for aim in &self.aims {
            let rays = places.clone().zip(&mut firsts);
            let limit = |first: &&mut Option<Contact>| first.map_or(self.limit, |first| first.s);
            aim.view.each_first(rays, self.start, limit, |first, sight| {
                if first.map_or(sight.s <= self.limit, |first| sight.s < first.s) {
                    *first = Some(aim.contact(sight));
                }
            });
        }
        firsts
    }

    fn first_aim(&self, place: [f64; 2]) -> Option<(&Aim, Sight)> {
        let mut best = (None, Sight { s: self.limit, face: 0 });
        for aim in &self.aims {
            let sight = aim.view.first_until(place, self.start, best.1.s);
            if sight.s < best.1.s || (best.0.is_none() && sight.s <= best.1.s) {
                best = (Some(aim), sight);
            }
        }
        Some((best.0?, best.1))
    }

    /// The line at `depth`, seen at `spot` of the outer surface.
    #[inline]
    pub(super) fn station(&self, spot: &Spot, depth: f64) -> Option<Station> {
        let (aim, sight) = self.first_aim(spot.inwards(depth))?;
        Some(aim.station(spot, &Met { sight, depth, normal: aim.view.normal(spot.inwards(depth), sight) }))
    }

    /// The relief line, seen at `spot` of the outer surface.
    pub(super) fn relief_station(&self, spot: &Spot) -> Option<Station> {
        let way = self.inwards(spot);
        let mut relief: Option<(&Aim, Met)> = None;
        for aim in &self.aims {
            let best = relief.map_or(f64::INFINITY, |(_, met)| met.sight.s);
            if !aim.view.may_come_before(&way, best) {
                continue;
            }
            let least = *aim.view.extremes(&way).least();
            if least.sight.s < best {
                relief = Some((aim, least));
            }
        }
        relief.map(|(aim, met)| aim.station(spot, &met))
    }

    /// From the outer surface through the wall.
    #[inline]
    fn inwards(&self, spot: &Spot) -> PlanePath {
        PlanePath {
            place: spot.at,
            inwards: [-spot.normal[0], -spot.normal[1]],
            depth: self.end.profile.wall(),
            start: self.start,
            limit: self.limit,
        }
    }

    /// At how many equal steps round the tube, a multiple of [`SIDES`], to look before anything is known of the curve: fewer where a single smooth surface can
    /// be met, so that nothing else can come between.
    pub(super) fn looked_at(&self) -> u32 {
        match &self.aims[..] {
            [] => 2 * SIDES,
            [one] if one.view.is_smooth() => 2 * SIDES,
            _ => 3 * SIDES,
        }
    }

    /// Places round the outline at which to look at a curve before anything is known of it, in rising order from 0 to the whole
    /// outline: `sides` equal steps and places between them.
    #[must_use]
    pub fn places(&self, sides: u32) -> Vec<f64> {
        let perimeter = self.end.profile.perimeter();
        let mut places: Vec<f64> = (0..=sides).map(|side| perimeter * f64::from(side) / f64::from(sides)).collect();
        places.extend(self.odd_places());
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| *a - *b < 1e-9 * perimeter);
        places
    }

    /// Places that equal steps pass over and at which something may begin: the joints of the outline and the flanks.
    pub(super) fn odd_places(&self) -> Vec<f64> {
        let mut places = self.end.profile.joints();
        places.extend(self.flanks());
        places
    }

    /// Where a round tube leans out furthest past the round bars, so that a miss is seen however narrow it is.
    fn flanks(&self) -> Vec<f64> {
        let pieces = self.targets.iter().flat_map(Solid::pieces);
        match self.end.profile {
            Profile::Rect { .. } => Vec::new(),
            Profile::Round { .. } => pieces.filter_map(Piece::round).flat_map(|bar| self.flanks_of(bar)).collect(),
        }
    }

    /// The two places where a round tube leans out furthest past a round bar.
    pub(super) fn flanks_of(&self, bar: &Cylinder) -> [f64; 2] {
        let perimeter = self.end.profile.perimeter();
        let across = self.end.outwards.cross(bar.axis);
        let turn = libm::atan2(across.dot(self.end.side), across.dot(self.end.index)) / core::f64::consts::TAU;
        [turn, turn + 0.5].map(|turn| (turn * perimeter).rem_euclid(perimeter))
    }

    /// How far behind the piece of one contact that of another is met at `u` and `depth`, mm, negative where it is met first;
    /// 0 where one of them is not met.
    pub(super) fn lead(&self, u: f64, depth: f64, one: Contact, other: Contact) -> f64 {
        let place = self.end.profile.spot(u, depth).at;
        let station = |contact| Some(self.aim(contact)?.view.first(place, self.start).s);
        lead(station(one), station(other))
    }

    /// The same for the relief line.
    pub(super) fn relief_lead(&self, u: f64, one: Contact, other: Contact) -> f64 {
        let way = self.inwards(&self.end.profile.spot(u, 0.0));
        let station = |contact| Some(self.aim(contact)?.view.extremes(&way).least().sight.s);
        lead(station(one), station(other))
    }

    fn aim(&self, contact: Contact) -> Option<&Aim> {
        self.aims.iter().find(|aim| (aim.target, aim.piece) == (contact.target, contact.piece))
    }

    /// First contact of the axis.
    #[must_use]
    pub fn axis_contact(&self) -> Option<Contact> {
        self.first([0.0; 2])
    }

    /// Local dihedral angle at `u` on the outer surface, radians: pi less the angle between both outward normals,
    /// measured outside (AWS D1.1 tubular definition).
    #[must_use]
    pub fn dihedral(&self, u: f64) -> Option<f64> {
        let spot = self.end.profile.spot(u, 0.0);
        let (aim, sight) = self.first_aim(spot.at)?;
        Some(libm::acos(facing(&spot, aim.view.normal(spot.at, sight)).clamp(-1.0, 1.0)))
    }

    /// Station of the relief line at `u`: the least over the wall from outer surface to bore along the normal, so that a cut
    /// square to the surface clears the whole wall. `None` when no depth meets a target.
    #[must_use]
    pub fn relief(&self, u: f64) -> Option<f64> {
        self.relief_station(&self.end.profile.spot(u, 0.0)).map(|station| station.contact.s)
    }
}

impl Aim {
    #[inline]
    fn contact(&self, sight: Sight) -> Contact {
        Contact { s: sight.s, target: self.target, piece: self.piece, face: sight.face }
    }

    /// Formula: on a surface with normal `N` a step of the generator by `p` changes its station by `-(p . N) / (d . N)`.
    #[inline]
    fn station(&self, spot: &Spot, met: &Met) -> Station {
        let [x, y] = spot.step(met.depth);
        let slope = -(x * met.normal.x + y * met.normal.y) / met.normal.z;
        Station { contact: self.contact(met.sight), slope, side: spot.side }
    }
}

fn lead(one: Option<f64>, other: Option<f64>) -> f64 {
    match (one, other) {
        (Some(one), Some(other)) if one < f64::INFINITY && other < f64::INFINITY => one - other,
        _ => 0.0,
    }
}

/// Cosine of the dihedral angle between the tube's surface at `spot` and one with the outward normal `normal`.
fn facing(spot: &Spot, normal: DVec3) -> f64 {
    -(spot.normal[0] * normal.x + spot.normal[1] * normal.y)
}
