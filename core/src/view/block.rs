//! What stands in the way of a ray: the walls of finished tubes, and plates.

use super::plate::PlateBody;
use super::tube::{TubeBody, TubeLeg};
use crate::geometry::{Arc, Cylinder, DVec3, Piece, Profile, Ray, RoundedPrism, TorusSector};

/// Where a point in the wall of a leg lies along it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Along {
    Before,
    Within,
    Beyond,
    InHole,
}

/// The drill of a hole: a half-line out of the wall, with its radius.
#[derive(Debug, Clone, Copy)]
struct Drill {
    point: DVec3,
    direction: DVec3,
    radius: f64,
}

/// One simple shape that hides what is behind it.
#[derive(Debug)]
pub(super) enum Blocker<'a> {
    Leg(Box<LegBlocker<'a>>),
    Bend(TorusSector),
    Plate(&'a PlateBody<'a>),
}

/// A straight part of a tube, hollow and cut as it is made.
#[derive(Debug)]
pub(super) struct LegBlocker<'a> {
    body: &'a TubeBody<'a>,
    leg: TubeLeg,
    outer: Piece,
    bore: Piece,
    drills: Vec<Drill>,
    /// How far each end reaches beyond the leg at least and at most, mm.
    reach: [[f64; 2]; 2],
}

impl<'a> Blocker<'a> {
    /// Everything of a tube that hides something.
    pub(super) fn of_tube(body: &'a TubeBody<'a>) -> Vec<Self> {
        let legs = body.legs.iter().map(|leg| Self::Leg(Box::new(LegBlocker::new(body, *leg))));
        let bends = body.member.path.arcs.iter().map(|arc: &Arc| {
            Self::Bend(TorusSector {
                centre: arc.centre,
                axis: arc.axis,
                start: arc.start,
                angle: arc.angle,
                bend_radius: arc.radius,
                radius: body.profile.reach(),
            })
        });
        legs.chain(bends).collect()
    }

    /// Whether a ray that starts outside of all material meets it.
    pub(super) fn blocks(&self, ray: &Ray, far: f64) -> bool {
        match self {
            Self::Leg(leg) => leg.blocks(ray, far),
            Self::Bend(bend) => {
                let mut blocked = false;
                bend.intervals(ray, |_, leave| blocked |= leave > 0.0);
                blocked
            }
            Self::Plate(plate) => plate.blocks(ray),
        }
    }

    /// Points that its shape lies about, and how far about them.
    pub(super) fn spine(&self) -> (Vec<DVec3>, f64) {
        match self {
            Self::Leg(leg) => leg.spine(),
            Self::Bend(bend) => {
                const CHORDS: u32 = 6;
                let points = (0..=CHORDS).map(|chord| {
                    let angle = bend.angle * f64::from(chord) / f64::from(CHORDS);
                    bend.centre + crate::geometry::turned(bend.start, bend.axis, angle) * bend.bend_radius
                });
                let sagitta = bend.bend_radius * (1.0 - libm::cos(bend.angle / f64::from(2 * CHORDS)));
                (points.collect(), bend.radius + sagitta)
            }
            Self::Plate(plate) => (plate.corners().collect(), 0.0),
        }
    }

    /// True when the shape lies about the straight lines between its points, not between all of them.
    pub(super) fn is_thin(&self) -> bool {
        !matches!(self, Self::Plate(_))
    }
}

impl<'a> LegBlocker<'a> {
    fn new(body: &'a TubeBody<'a>, leg: TubeLeg) -> Self {
        let TubeLeg { leg: line, index, .. } = leg;
        let wall = body.profile.wall();
        let [outer, bore] = [0.0, wall].map(|depth| match body.profile {
            Profile::Round { outer, .. } => Piece::Cylinder(Cylinder {
                point: line.start,
                axis: line.direction,
                radius: outer - depth,
                length: None,
            }),
            Profile::Rect { half_width, half_height, corner, .. } => Piece::Prism(RoundedPrism {
                point: line.start,
                axis: line.direction,
                across: index,
                half: [half_width - depth, half_height - depth],
                corner: (corner - depth).max(0.0),
                length: None,
            }),
        });
        let ends = [0, 1].map(|end| {
            if !leg.is_end[end] {
                return [0.0; 2];
            }
            let made = &body.part.ends[end];
            let relief = made.relief.least().unwrap_or(made.least);
            [
                relief.min(made.least).min(made.on_axis) - 0.01,
                made.longest.s.max(made.on_axis) + 2.0 * body.profile.reach(),
            ]
        });
        let drills = body.part.holes.iter().flat_map(|hole| {
            let at = body.leg_at(hole.station).filter(|(of, _)| of.leg == line);
            at.into_iter().flat_map(move |(of, station)| {
                hole.places(body.profile).map(move |u| {
                    let middle = body.on_outside(of, u, station);
                    Drill {
                        point: middle.at - middle.out * (2.0 * wall),
                        direction: middle.out,
                        radius: hole.diameter / 2.0,
                    }
                })
            })
        });
        Self { body, leg, outer, bore, drills: drills.collect(), reach: ends }
    }

    fn spine(&self) -> (Vec<DVec3>, f64) {
        let TubeLeg { leg, .. } = self.leg;
        let stations = [-self.reach[0][1], leg.length + self.reach[1][1]];
        (stations.map(|station| leg.start + leg.direction * station).to_vec(), self.body.profile.reach())
    }

    /// A ray runs through the wall once or twice. It is stopped where it enters or leaves the wall on this leg, and where it
    /// passes it whole within the wall.
    fn blocks(&self, ray: &Ray, far: f64) -> bool {
        let Some((enter, leave)) = interval(&self.outer, ray) else { return false };
        let (enter, leave) = (enter.max(0.0), leave.min(far));
        if enter >= leave {
            return false;
        }
        match interval(&self.bore, ray).map(|(first, last)| (first.max(0.0), last.min(far))) {
            Some((first, last)) if first < last => self.stops(ray, enter, first) || self.stops(ray, last, leave),
            _ => self.stops(ray, enter, leave),
        }
    }

    /// Whether the wall between two places of a ray is there.
    fn stops(&self, ray: &Ray, enter: f64, leave: f64) -> bool {
        if leave <= enter {
            return false;
        }
        let [from, to] = [enter, leave].map(|s| self.along(ray.at(s)));
        let starts_here = enter <= 0.0;
        from == Along::Within && !starts_here
            || to == Along::Within
            || matches!((from, to), (Along::Before, Along::Beyond) | (Along::Beyond, Along::Before))
    }

    fn along(&self, point: DVec3) -> Along {
        let TubeLeg { leg, index, side, .. } = self.leg;
        let from = point - leg.start;
        let station = from.dot(leg.direction);
        let place = [from.dot(index), from.dot(side)];
        if self.is_beyond(0, -station, place) {
            return Along::Before;
        }
        if self.is_beyond(1, station - leg.length, place) {
            return Along::Beyond;
        }
        let drilled = self.drills.iter().any(|drill| {
            let from = point - drill.point;
            let along = from.dot(drill.direction);
            along > 0.0 && (from - drill.direction * along).length() < drill.radius
        });
        if drilled { Along::InHole } else { Along::Within }
    }

    /// Whether a place of the section lies beyond the cut of an end, `out` mm from where the centreline ends.
    fn is_beyond(&self, end: usize, out: f64, place: [f64; 2]) -> bool {
        let [least, most] = self.reach[end];
        if out <= least {
            return false;
        }
        if !self.leg.is_end[end] || out > most {
            return true;
        }
        let made = &self.body.part.ends[end];
        out > made.cut.first(place).map_or(made.on_axis, |contact| contact.s)
    }
}

fn interval(piece: &Piece, ray: &Ray) -> Option<(f64, f64)> {
    match piece {
        Piece::Cylinder(bar) => bar.interval(ray),
        Piece::Prism(bar) => bar.interval(ray),
        _ => None,
    }
}
