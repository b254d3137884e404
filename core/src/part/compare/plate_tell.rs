//! What tells the left plate from the right one on the bench.

use super::motion::least_turn;
use super::plate::{PlateShape, PlateSide, distance};
use super::tell::Side;

/// Something on a plate that can be seen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PlateFeature {
    /// A hole of a diameter, mm.
    Hole(f64),
    /// A corner of the outline.
    Corner,
}

/// What tells a handed plate from its mirror image, for the left one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PlateTell {
    /// With the countersinks up and the longest edge nearest to the reader, a feature lies to one side of that edge's middle.
    Beside {
        /// Length of that edge, corner to corner, mm.
        edge: f64,
        /// The feature.
        feature: PlateFeature,
        /// How far it lies from that edge, mm.
        above: f64,
        /// Side on which it lies on the left plate.
        side: Side,
        /// How far from the line square to the middle of that edge, mm.
        offset: f64,
    },
    /// No single feature does.
    Nothing {
        /// Most by which both hands differ, mm.
        deviation: f64,
    },
}

/// Features nearer than this to the mirror image of their like do not tell, mm.
const ALIKE: f64 = 1.0;

/// A turn of the outline less than this is no corner to the eye, radians: an edge that runs into an arc.
const SEEN: f64 = 0.2;

/// Turn of the outline where an edge begins, radians, to the left positive.
fn turn_at(plate: &PlateShape, number: usize) -> f64 {
    let count = plate.edges.len();
    // Direction of travel at the start of an edge and at its end: an arc leaves its chord by half its angle.
    let directions = |number: usize| {
        let (edge, to) = (plate.edges[number], plate.edges[(number + 1) % count].from);
        let chord = libm::atan2(to[1] - edge.from[1], to[0] - edge.from[0]);
        let half = 2.0 * libm::atan2(2.0 * edge.rise, distance(edge.from, to));
        [chord - half, chord + half]
    };
    least_turn(directions(number)[0] - directions((number + count - 1) % count)[1])
}

impl PlateTell {
    pub(super) fn of(left: &PlateShape, deviation: f64) -> Self {
        let count = left.edges.len();
        let longest = (0..count)
            .map(|number| (number, distance(left.edges[number].from, left.edges[(number + 1) % count].from)))
            .reduce(|best, next| if next.1 > best.1 + 1e-6 { next } else { best });
        let Some((number, length)) = longest else {
            return Self::Nothing { deviation };
        };
        let (from, to) = (left.edges[number].from, left.edges[(number + 1) % count].from);
        let along = [(to[0] - from[0]) / length, (to[1] - from[1]) / length];
        let middle = [0.5 * (from[0] + to[0]), 0.5 * (from[1] + to[1])];
        // Seen from the face with the countersinks, the outline runs counter-clockwise or, from the back, clockwise.
        let sunk = |face: PlateSide| {
            left.holes.iter().filter(|hole| hole.countersink.is_some_and(|sink| sink.face == face)).count()
        };
        let sense = if sunk(PlateSide::Plus) >= sunk(PlateSide::Minus) { 1.0 } else { -1.0 };
        let seen = |at: [f64; 2]| {
            let [x, y] = [at[0] - middle[0], at[1] - middle[1]];
            [sense * (x * along[0] + y * along[1]), y * along[0] - x * along[1]]
        };
        let holes = left.holes.iter().map(|hole| (PlateFeature::Hole(hole.diameter), seen(hole.at)));
        let corners = (0..count).filter(|&number| turn_at(left, number).abs() > SEEN);
        let corners = corners.map(|number| (PlateFeature::Corner, seen(left.edges[number].from)));
        let features: Vec<(PlateFeature, [f64; 2])> = holes.chain(corners).collect();
        let tells = |feature: &&(PlateFeature, [f64; 2])| {
            let image = [-feature.1[0], feature.1[1]];
            // The ends of the edge itself are on both sides of its middle to the eye.
            let is_off_the_edge = feature.0 != PlateFeature::Corner || feature.1[1].abs() > ALIKE;
            is_off_the_edge && features.iter().all(|other| other.0 != feature.0 || distance(other.1, image) > ALIKE)
        };
        let furthest = |is_corner: bool| {
            let of_kind = features.iter().filter(|feature| (feature.0 == PlateFeature::Corner) == is_corner);
            of_kind
                .filter(tells)
                .reduce(|best, next| if next.1[0].abs() > best.1[0].abs() + 1e-6 { next } else { best })
        };
        // A corner is there as soon as the plate is; a hole may not be drilled yet.
        furthest(true).or_else(|| furthest(false)).map_or(Self::Nothing { deviation }, |&(feature, [x, above])| {
            Self::Beside {
                edge: length,
                feature,
                above,
                side: if x > 0.0 { Side::Right } else { Side::Left },
                offset: x.abs(),
            }
        })
    }
}
