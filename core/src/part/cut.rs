//! One end of a tube cut to fit: for each generator of the wall, the first hit on a target coming from the body.

use super::wall::Wall;
use crate::geometry::{Beam, DVec3, Piece, Profile, Ray, Sight, Solid, Spot, View, least_place};

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
    /// Every piece of every target as the generators see it.
    aims: Vec<Aim>,
}

#[derive(Debug, Clone, PartialEq)]
struct Aim {
    target: usize,
    piece: usize,
    view: View,
}

/// Where a generator meets its target.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contact {
    /// Station from the end's datum, mm, growing out of the body.
    pub s: f64,
    /// Which target is met.
    pub target: usize,
    /// Which piece of it.
    pub piece: usize,
    /// Which smooth face of that piece.
    pub face: u8,
}

/// A place on a cut line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Station {
    /// Station, mm.
    pub s: f64,
    /// How it changes with `u`.
    pub slope: f64,
    /// Which smooth surface it lies on: target, piece and face of it, side of the tube.
    pub owner: (usize, usize, u8, usize),
}

impl Cut {
    /// A cut of `end`, fitted to `targets`; a plane cut is fitted to a half-space. `start` is the station in the body from which
    /// generators look for their first hit, and beyond `limit` a hit no longer counts.
    #[must_use]
    pub fn new(end: TubeEnd, targets: Vec<Solid>, start: f64, limit: f64) -> Self {
        let beam = end.beam();
        let pieces = targets.iter().enumerate().flat_map(|(target, solid)| {
            solid.pieces().iter().enumerate().map(move |(piece, shape)| (target, piece, shape))
        });
        let aims = pieces.map(|(target, piece, shape)| Aim { target, piece, view: View::new(shape, &beam) }).collect();
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
    pub fn contact(&self, u: f64, depth: f64) -> Option<Contact> {
        self.first(self.end.profile.spot(u, depth).at)
    }

    /// First contact of the generator at a place of the section.
    pub(super) fn first(&self, place: [f64; 2]) -> Option<Contact> {
        self.first_aim(place).map(|(aim, sight)| Contact {
            s: sight.s,
            target: aim.target,
            piece: aim.piece,
            face: sight.face,
        })
    }

    fn first_aim(&self, place: [f64; 2]) -> Option<(&Aim, Sight)> {
        let mut best: Option<(&Aim, Sight)> = None;
        for aim in &self.aims {
            if let Some(sight) = aim.view.first(place, self.start)
                && sight.s <= self.limit
                && best.is_none_or(|(_, best)| sight.s < best.s)
            {
                best = Some((aim, sight));
            }
        }
        best
    }

    /// The line at `depth`, seen at `spot` of the outer surface.
    pub(super) fn station(&self, spot: &Spot, depth: f64) -> Option<Station> {
        let (aim, sight) = self.first_aim(spot.inwards(depth))?;
        Some(self.on_line(spot, depth, aim, sight))
    }

    /// The relief line, seen at `spot` of the outer surface.
    pub(super) fn relief_station(&self, spot: &Spot) -> Option<Station> {
        let (aim, depth, sight) = self.least(spot)?;
        Some(self.on_line(spot, depth, aim, sight))
    }

    /// Formula: on a surface with normal `N` a step of the generator by `p` changes its station by `-(p . N) / (d . N)`.
    fn on_line(&self, spot: &Spot, depth: f64, aim: &Aim, sight: Sight) -> Station {
        let normal = aim.view.normal(spot.inwards(depth), sight);
        let [x, y] = spot.step(depth);
        Station {
            s: sight.s,
            slope: -(x * normal.x + y * normal.y) / normal.z,
            owner: (aim.target, aim.piece, sight.face, spot.side),
        }
    }

    /// Places round the outline at which to look at a curve before anything is known of it, in rising order from 0 to the whole
    /// outline: `sides` equal steps, the joints of the outline, and the flanks.
    #[must_use]
    pub fn places(&self, sides: u32) -> Vec<f64> {
        let perimeter = self.end.profile.perimeter();
        let mut places: Vec<f64> = (0..=sides).map(|side| perimeter * f64::from(side) / f64::from(sides)).collect();
        places.extend(self.end.profile.joints());
        places.extend(self.flanks());
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| *a - *b < 1e-9 * perimeter);
        places
    }

    /// Where a round tube leans out furthest past a round bar, so that a miss is seen however narrow it is.
    pub(super) fn flanks(&self) -> Vec<f64> {
        use core::f64::consts::PI;
        let Profile::Round { outer, .. } = self.end.profile else {
            return Vec::new();
        };
        let bars = self.targets.iter().flat_map(Solid::pieces).filter_map(|piece| match piece {
            Piece::Cylinder(bar) => Some(self.end.outwards.cross(bar.axis)),
            _ => None,
        });
        let flanks = bars.flat_map(|across| {
            let clock = libm::atan2(across.dot(self.end.side), across.dot(self.end.index));
            [clock, clock + PI].map(|clock| (clock * outer).rem_euclid(2.0 * PI * outer))
        });
        flanks.collect()
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
        Some(dihedral(&spot, aim, sight))
    }

    /// Contact and dihedral angle at once.
    pub(super) fn contact_and_dihedral(&self, spot: &Spot) -> Option<(Contact, f64)> {
        let (aim, sight) = self.first_aim(spot.at)?;
        let contact = Contact { s: sight.s, target: aim.target, piece: aim.piece, face: sight.face };
        Some((contact, dihedral(spot, aim, sight)))
    }

    /// Station of the relief line at `u`: the least over the wall from outer surface to bore along the normal, so that a cut
    /// square to the surface clears the whole wall. `None` when no depth meets a target.
    #[must_use]
    pub fn relief(&self, u: f64) -> Option<f64> {
        self.relief_at(&self.end.profile.spot(u, 0.0))
    }

    /// The same at a spot of the outer surface.
    pub(super) fn relief_at(&self, spot: &Spot) -> Option<f64> {
        self.least(spot).map(|(_, _, sight)| sight.s)
    }

    /// The least station over the wall at a spot of the outer surface, and at which depth.
    fn least(&self, spot: &Spot) -> Option<(&Aim, f64, Sight)> {
        let mut best: Option<(&Aim, f64, Sight)> = None;
        for aim in &self.aims {
            let wall =
                Wall { view: &aim.view, spot, depth: self.end.profile.wall(), start: self.start, limit: self.limit };
            if let Some((depth, sight)) = wall.least()
                && best.is_none_or(|(_, _, best)| sight.s < best.s)
            {
                best = Some((aim, depth, sight));
            }
        }
        best
    }

    /// By how much the generator at `u` on the outer surface passes its nearest target, mm; 0 when it touches.
    #[must_use]
    pub fn clearance(&self, u: f64) -> f64 {
        const STEPS: u32 = 64;
        let ray = self.end.generator(u, 0.0);
        let away = |s: f64| self.targets.iter().map(|solid| solid.distance(ray.at(s))).fold(f64::INFINITY, f64::min);
        let (from, to) = (self.start, self.start.abs());
        let at = |step: u32| from + (to - from) * f64::from(step) / f64::from(STEPS);
        let nearest = (0..=STEPS).map(at).reduce(|best, s| if away(s) < away(best) { s } else { best }).unwrap_or(from);
        let width = (to - from) / f64::from(STEPS);
        away(least_place(nearest - width, nearest + width, 1e-6, away)).max(0.0)
    }
}

fn dihedral(spot: &Spot, aim: &Aim, sight: Sight) -> f64 {
    let normal = aim.view.normal(spot.at, sight);
    let cosine = -(spot.normal[0] * normal.x + spot.normal[1] * normal.y);
    libm::acos(cosine.clamp(-1.0, 1.0))
}
