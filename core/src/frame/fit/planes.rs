//! Planes that cut an end: mitres and faces.

use super::{Context, Plane, tip};
use crate::document::{FaceCut, Finding, Findings, Mitre};
use crate::frame::place::locate;
use crate::frame::{Member, Target};
use crate::geometry::{DVec3, HalfSpace, Profile, Ray, mirrored, turned};
use crate::words::findings::frame::FrameFault;

/// A plane is too flat for a cut when its normal is further from the tube's axis than about 85 degrees.
const FLATTEST: f64 = 0.087;

/// Outlines on the plane of a mitre further apart than this are reported, mm.
const UNEQUAL: f64 = 0.05;

impl Context<'_> {
    pub(super) fn mitre(&self, mitre: &Mitre, findings: &mut Findings) -> Option<Plane> {
        let tip = tip(self.member(), self.end);
        let plane = match (&mitre.with, mitre.normal) {
            (Some(with), None) => self.joining(with.as_str(), findings)?,
            (None, Some(normal)) => {
                let through = mitre.through.as_ref().and_then(|point| locate(self.design, point));
                let [normal, through] = [Some(DVec3::from_array(normal.0)), through]
                    .map(|vector| vector.map(|vector| if self.is_opposite { mirrored(vector) } else { vector }));
                let half_space = HalfSpace {
                    point: through.unwrap_or(tip.origin),
                    normal: normal.map_or(DVec3::Z, DVec3::normalize),
                };
                Plane { half_space, of: None }
            }
            _ => return None,
        };
        self.towards_body(plane, findings)
    }

    /// The plane of a face: of a plate that which this end comes upon, of a rectangular tube one of its four sides, of a round
    /// tube the plane that touches it at a clock angle.
    pub(super) fn face(&self, face: &FaceCut, findings: &mut Findings) -> Option<Plane> {
        let target = self.there(face.of.as_str(), findings)?;
        let tip = tip(self.member(), self.end);
        let half_space = match target {
            Target::Plate(plate) => {
                let plate = &self.frame.plates[plate].plate;
                if plate.up().dot(tip.direction) < 0.0 {
                    HalfSpace { point: plate.origin + plate.up() * plate.thickness, normal: plate.up() }
                } else {
                    HalfSpace { point: plate.origin, normal: -plate.up() }
                }
            }
            Target::Member(other) => {
                let other = &self.frame.members[other];
                let hand = if self.is_opposite { -1.0 } else { 1.0 };
                let clock = face.clock.map(|clock| hand * clock.get().to_radians());
                side_of(self.frame.section(other).profile, other, &tip, clock)
            }
        };
        self.towards_body(Plane { half_space, of: Some(target) }, findings)
    }

    /// The plane with its normal towards the body; refused when it runs along the tube.
    fn towards_body(&self, plane: Plane, findings: &mut Findings) -> Option<Plane> {
        let outwards = tip(self.member(), self.end).direction;
        let HalfSpace { point, normal } = plane.half_space;
        if normal.dot(outwards).abs() < FLATTEST {
            let fact = FrameFault::PlaneAlongTube;
            findings.push(Finding::error("mitre-too-flat", self.pointer(), fact).about([self.member().id.as_str()]));
            return None;
        }
        let normal = if normal.dot(outwards) > 0.0 { -normal } else { normal };
        Some(Plane { half_space: HalfSpace { point, normal }, ..plane })
    }

    /// The plane on which two tubes that share this end's point meet: through the lines where the planes that touch their outer
    /// and inner sides cross. For equal tubes it halves their angle.
    fn joining(&self, with: &str, findings: &mut Findings) -> Option<Plane> {
        let member = self.member();
        let here = tip(member, self.end);
        let target = self.named(with)?;
        let Target::Member(position) = target else { return None };
        let partner = &self.frame.members[position];
        let about = [member.id.as_str(), partner.id.as_str()];
        let mut apart = |fact: FrameFault| {
            findings.push(Finding::error("mitre-apart", self.pointer(), fact).about(about));
            None
        };
        let shared =
            (0..2).map(|end| (end, tip(partner, end))).find(|(_, tip)| tip.origin.distance(here.origin) < 0.01);
        let Some((there_end, there)) = shared else {
            return apart(FrameFault::NoEndHere { other: &partner.id });
        };
        let square = here.direction.cross(there.direction);
        let Some(square) = square.try_normalize().filter(|_| square.length() > 1e-6) else {
            // In line with each other: the joint is square.
            if here.direction.dot(there.direction) < 0.0 {
                let half_space = HalfSpace { point: here.origin, normal: -here.direction };
                return Some(Plane { half_space, of: Some(target) });
            }
            return apart(FrameFault::TubesOnOneAnother);
        };
        let extent = |member: &Member, end: usize, direction: DVec3| {
            let profile = self.frame.section(member).profile;
            let leg = if end == 0 { member.path.first() } else { member.path.last() };
            let index = if end == 0 { member.index } else { member.path.carried(member.index) };
            profile.extent([direction.dot(index), direction.dot(leg.direction.cross(index))])
        };
        // Both run away from the joint; the inside of the corner lies on the left of one and on the right of the other.
        let (a, b) = (-here.direction, -there.direction);
        let (left_of_a, right_of_b) = (square.cross(a), -square.cross(b));
        let (h, k) = (extent(member, self.end, left_of_a), extent(partner, there_end, right_of_b));
        // Where the inner sides `left_of_a . x = h` and `right_of_b . x = k` meet; the outer ones meet opposite.
        let inner = a * ((k - h * left_of_a.dot(right_of_b)) / a.dot(right_of_b)) + left_of_a * h;
        let normal = inner.cross(square).normalize();
        let (deep, deep_there) = (extent(member, self.end, square), extent(partner, there_end, square));
        let off = ((deep - deep_there).abs()).max(shape_apart(
            self.frame.section(member).profile,
            self.frame.section(partner).profile,
            (h - k).abs(),
        ));
        if off > UNEQUAL {
            let fact = FrameFault::MitreUnequal {
                one: &self.frame.section(member).size().to_string(),
                other: &self.frame.section(partner).size().to_string(),
                off,
            };
            findings.push(Finding::warning("mitre-unequal", self.pointer(), fact).about(about));
        }
        Some(Plane { half_space: HalfSpace { point: here.origin, normal }, of: Some(target) })
    }
}

/// How far two outlines of equal depth still differ: a round and a rectangular one at the corner, two of a kind by their widths.
fn shape_apart(a: Profile, b: Profile, widths: f64) -> f64 {
    match (a, b) {
        (Profile::Round { .. }, Profile::Round { .. }) => widths,
        (Profile::Rect { corner, .. }, Profile::Rect { corner: other, .. }) => {
            (corner - other).abs() * (core::f64::consts::SQRT_2 - 1.0)
        }
        (Profile::Round { outer, .. }, Profile::Rect { half_width, half_height, corner, .. })
        | (Profile::Rect { half_width, half_height, corner, .. }, Profile::Round { outer, .. }) => {
            (libm::hypot(half_width - corner, half_height - corner) + corner - outer).abs()
        }
    }
}

/// The plane that touches a member at a clock angle; without one, of the four at 0, 90, 180 and 270 degrees (or, on a round tube,
/// of all) that which faces the tube that comes upon it.
fn side_of(profile: Profile, other: &Member, tip: &Ray, clock: Option<f64>) -> HalfSpace {
    // The leg of a bent member that lies nearest.
    let nearest = other.path.legs.iter().copied().enumerate().min_by(|(_, a), (_, b)| {
        let apart = |leg: &crate::geometry::Leg| {
            let along = (tip.origin - leg.start).dot(leg.direction).clamp(0.0, leg.length);
            (leg.start + leg.direction * along).distance(tip.origin)
        };
        apart(a).total_cmp(&apart(b))
    });
    let (number, leg) = nearest.unwrap_or((0, other.path.first()));
    let index = other.path.arcs[..number].iter().fold(other.index, |index, arc| turned(index, arc.axis, arc.angle));
    let side = leg.direction.cross(index);
    let normal = match (clock, profile) {
        (Some(clock), _) => turned(index, leg.direction, clock),
        (None, Profile::Round { .. }) => (-tip.direction).reject_from_normalized(leg.direction).normalize_or(index),
        (None, Profile::Rect { .. }) => [index, side, -index, -side]
            .into_iter()
            .reduce(|best, next| if next.dot(tip.direction) < best.dot(tip.direction) - 1e-9 { next } else { best })
            .unwrap_or(index),
    };
    let reach = profile.extent([normal.dot(index), normal.dot(side)]);
    HalfSpace { point: leg.start + normal * reach, normal }
}
