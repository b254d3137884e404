//! Where a part's mass lies, and how much outside it has.

use super::Part;
use crate::frame::Member;
use crate::geometry::{DVec3, Path};

impl Part {
    /// Centre of gravity, in the axes of the frame.
    ///
    /// Formula: legs and arcs weigh by their length (an arc's centre lies radius sin(a/2)/(a/2) from its own centre, moved out by
    /// the section's second moment over area and radius), the steel that the cuts add or take is summed over the wall.
    #[must_use]
    pub fn centre(&self, member: &Member) -> DVec3 {
        let profile = self.ends[0].cut.profile();
        let area = profile.area();
        let mut volume = area * self.length;
        let mut moment = centreline_moment(&member.path, profile) * area;
        for end in &self.ends {
            volume += end.volume;
            moment += end.moment;
        }
        moment / volume
    }

    /// Outer surface between the cuts, mm2.
    #[must_use]
    pub fn outside(&self) -> f64 {
        let perimeter = self.ends[0].cut.profile().perimeter();
        let beyond = |number: usize| {
            let end = &self.ends[number];
            end.outer.integral()
                + end.missed.iter().map(|missed| (missed.between[1] - missed.between[0]) * end.on_axis).sum::<f64>()
        };
        perimeter * self.length + beyond(0) + beyond(1)
    }
}

/// Integral of the position along the centreline, the arcs with the shift of their steel.
fn centreline_moment(path: &Path, profile: crate::geometry::Profile) -> DVec3 {
    let mut moment = DVec3::ZERO;
    for leg in &path.legs {
        moment += (leg.start + leg.direction * (leg.length / 2.0)) * leg.length;
    }
    for arc in &path.arcs {
        let half = arc.angle / 2.0;
        let out = crate::geometry::turned(arc.start, arc.axis, half);
        // Second moment over area of a ring: (R^2 + r^2) / 4.
        let bore = profile.reach() - profile.wall();
        let spread = (profile.reach() * profile.reach() + bore * bore) / 4.0;
        let radius = (arc.radius + spread / arc.radius) * libm::sin(half) / half;
        moment += (arc.centre + out * radius) * arc.length();
    }
    moment
}
