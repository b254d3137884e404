//! One end of a tube cut to fit: for each generator of the wall, the first hit on a target coming from the body.

use crate::geometry::{DVec3, Piece, Profile, Ray, Solid, bisect, golden_minimum};

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
    /// The generator at `u` and `depth`; its parameter is `s`.
    #[must_use]
    pub fn generator(&self, u: f64, depth: f64) -> Ray {
        let [x, y] = self.profile.spot(u, depth).at;
        Ray {
            origin: self.datum + self.index * x + self.side * y,
            direction: self.outwards,
        }
    }

    /// Outward normal of the outer surface at `u`.
    #[must_use]
    pub fn normal(&self, u: f64) -> DVec3 {
        let [x, y] = self.profile.spot(u, 0.0).normal;
        self.index * x + self.side * y
    }
}

/// A cut: a tube end and the solids that it is fitted to.
#[derive(Debug, Clone, PartialEq)]
pub struct Cut {
    /// The tube end.
    pub end: TubeEnd,
    /// What it is fitted to; a plane cut is fitted to a half-space.
    pub targets: Vec<Solid>,
    /// Station in the body from which generators look for their first hit.
    pub start: f64,
    /// Station beyond which a hit no longer counts.
    pub limit: f64,
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
}

impl Cut {
    /// First contact of the generator at `u` and `depth`; `None` when it misses every target.
    #[must_use]
    pub fn contact(&self, u: f64, depth: f64) -> Option<Contact> {
        self.first(&self.end.generator(u, depth))
    }

    /// Places round the outline at which to look at a curve before anything is known of it, in rising order from 0 to the whole
    /// outline: `sides` equal steps, the joints of the outline, and where a round tube leans out furthest past a round bar,
    /// so that a miss is seen however narrow it is.
    #[must_use]
    pub fn places(&self, sides: u32) -> Vec<f64> {
        let perimeter = self.end.profile.perimeter();
        let mut places: Vec<f64> = (0..=sides)
            .map(|side| perimeter * f64::from(side) / f64::from(sides))
            .collect();
        places.extend(self.end.profile.joints());
        if let Profile::Round { outer, .. } = self.end.profile {
            for piece in self.targets.iter().flat_map(Solid::pieces) {
                if let Piece::Cylinder(bar) = piece {
                    let across = self.end.outwards.cross(bar.axis);
                    let clock = libm::atan2(across.dot(self.end.side), across.dot(self.end.index));
                    places.extend(
                        [clock, clock + core::f64::consts::PI]
                            .map(|clock| (clock * outer).rem_euclid(perimeter)),
                    );
                }
            }
        }
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| *a - *b < 1e-9 * perimeter);
        places
    }

    /// First contact of the axis.
    #[must_use]
    pub fn axis_contact(&self) -> Option<Contact> {
        self.first(&Ray {
            origin: self.end.datum,
            direction: self.end.outwards,
        })
    }

    fn first(&self, ray: &Ray) -> Option<Contact> {
        let mut best: Option<Contact> = None;
        for (target, solid) in self.targets.iter().enumerate() {
            if let Some(hit) = solid.first(ray, self.start)
                && hit.s <= self.limit
                && best.is_none_or(|best| hit.s < best.s)
            {
                best = Some(Contact {
                    s: hit.s,
                    target,
                    piece: hit.piece,
                });
            }
        }
        best
    }

    /// Local dihedral angle at `u` on the outer surface, radians: pi less the angle between both outward normals,
    /// measured outside (AWS D1.1 tubular definition).
    #[must_use]
    pub fn dihedral(&self, u: f64) -> Option<f64> {
        let contact = self.contact(u, 0.0)?;
        let met = self.end.generator(u, 0.0).at(contact.s);
        let normal = self.targets[contact.target].pieces()[contact.piece].normal(met);
        Some(libm::acos(
            (-self.end.normal(u).dot(normal)).clamp(-1.0, 1.0),
        ))
    }

    /// Station of the relief line at `u`: the least over the wall from outer surface to bore along the normal, so that a cut
    /// square to the surface clears the whole wall. `None` when no depth meets a target.
    #[must_use]
    pub fn relief(&self, u: f64) -> Option<f64> {
        let pieces = self.targets.iter().flat_map(Solid::pieces);
        pieces
            .filter_map(|piece| self.least_over_wall(piece, u))
            .reduce(f64::min)
    }

    /// For a convex piece the station is a convex function of the depth, and it falls with the depth exactly where the two
    /// outward normals point to the same side: `ds/drho = -(v . N) / (d . N)`.
    fn least_over_wall(&self, piece: &Piece, u: f64) -> Option<f64> {
        let wall = self.end.profile.wall();
        let station = |depth: f64| {
            piece
                .first(&self.end.generator(u, depth), self.start)
                .filter(|&s| s <= self.limit)
        };
        let outward = self.end.normal(u);
        let lean = |depth: f64| {
            let ray = self.end.generator(u, depth);
            piece
                .first(&ray, self.start)
                .map_or(0.0, |s| outward.dot(piece.normal(ray.at(s))))
        };
        if !piece.is_convex() {
            return self.least_of_samples(&station, &lean, wall);
        }
        match (station(0.0), station(wall)) {
            (Some(outer), Some(bore)) => {
                if lean(0.0) <= 0.0 {
                    Some(outer)
                } else if lean(wall) >= 0.0 {
                    Some(bore)
                } else {
                    station(bisect(0.0, wall, lean)).map(|least| least.min(outer).min(bore))
                }
            }
            (None, None) => self.least_of_samples(&station, &lean, wall),
            (outer, bore) => {
                let hits = |depth: f64| if station(depth).is_some() { 1.0 } else { -1.0 };
                let edge = bisect(0.0, wall, hits);
                let (shallow, deep) = if outer.is_some() {
                    (0.0, edge)
                } else {
                    (edge, wall)
                };
                let inside = golden_minimum(shallow, deep, 1e-6 * wall, |depth| {
                    station(depth).unwrap_or(f64::INFINITY)
                });
                [outer, bore, station(inside)]
                    .into_iter()
                    .flatten()
                    .reduce(f64::min)
            }
        }
    }

    /// Over a wall the station on a bend changes gently, so a few samples find the neighbourhood of the least one.
    fn least_of_samples(
        &self,
        station: &impl Fn(f64) -> Option<f64>,
        lean: &impl Fn(f64) -> f64,
        wall: f64,
    ) -> Option<f64> {
        const STEPS: u32 = 6;
        let depth = |step: u32| wall * f64::from(step) / f64::from(STEPS);
        let best = (0..=STEPS)
            .filter_map(|step| station(depth(step)).map(|s| (step, s)))
            .reduce(|best, next| if next.1 < best.1 { next } else { best })?;
        if (best.0 == 0 && lean(0.0) <= 0.0) || (best.0 == STEPS && lean(wall) >= 0.0) {
            return Some(best.1);
        }
        let (before, after) = (
            depth(best.0.saturating_sub(1)),
            depth((best.0 + 1).min(STEPS)),
        );
        let finer = golden_minimum(before, after, 1e-4 * wall, |depth| {
            station(depth).unwrap_or(f64::INFINITY)
        });
        Some(station(finer).map_or(best.1, |finer| finer.min(best.1)))
    }

    /// By how much the generator at `u` on the outer surface passes its nearest target, mm; 0 when it touches.
    #[must_use]
    pub fn clearance(&self, u: f64) -> f64 {
        const STEPS: u32 = 64;
        let ray = self.end.generator(u, 0.0);
        let away = |s: f64| {
            self.targets
                .iter()
                .map(|solid| solid.distance(ray.at(s)))
                .fold(f64::INFINITY, f64::min)
        };
        let (from, to) = (self.start, self.start.abs());
        let at = |step: u32| from + (to - from) * f64::from(step) / f64::from(STEPS);
        let nearest = (0..=STEPS)
            .map(at)
            .reduce(|best, s| if away(s) < away(best) { s } else { best })
            .unwrap_or(from);
        let width = (to - from) / f64::from(STEPS);
        away(golden_minimum(nearest - width, nearest + width, 1e-6, away)).max(0.0)
    }
}
