//! Views of a frame from any side, with what is hidden left out.
//!
//! The outlines of the finished parts are followed in space: both sides of each tube's outline between its true cuts and through
//! its bends, the lines of its cuts, its holes, the edges of plates. Rays from them to the viewer find what is hidden. Parts are
//! taken in the order in which they are put in place, and each curve knows from which part on it is hidden: one look at the whole
//! frame gives the view at every step of the fit-up order.

mod block;
mod chain;
mod look;
mod plate;
mod simple;
#[cfg(test)]
mod tests;
mod tube;
mod visible;

pub use chain::{Curve, Hand};
pub use look::Look;
pub use simple::{distance, simplified};

use crate::drawing::Point;
use crate::frame::Target;
use crate::geometry::{Bounds, DVec3};
use crate::part::Made;
use crate::{Stop, Stopped};
use block::Blocker;
use chain::Chain;
use plate::PlateBody;
use rayon::prelude::*;
use tube::TubeBody;
use visible::{Shade, Sight};

/// A part in its place.
#[derive(Debug)]
enum Body<'a> {
    Tube(TubeBody<'a>),
    Plate(PlateBody<'a>),
}

/// Parts in their places, in the order in which they are put there.
pub struct Scene<'a> {
    ids: Vec<&'a str>,
    bodies: Vec<Body<'a>>,
    /// Of each body the curves that are the same from every side.
    edges: Vec<Vec<Chain>>,
}

/// A curve, or a stretch of one, that is seen.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Whose it is, as a position among the parts of the scene.
    pub part: usize,
    /// Position of the first part that hides it; the number of parts when none does.
    pub until: usize,
    /// What it is.
    pub curve: Curve,
    /// Its points in the view, mm at true size.
    pub points: Vec<Point>,
    /// Lower left corner of the box that holds them.
    pub low: Point,
    /// The upper right one.
    pub high: Point,
}

/// A view of a scene.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct SceneView {
    /// All that is seen when some first parts stand, in the order of the parts.
    pub runs: Vec<Run>,
    /// Number of parts.
    pub parts: usize,
    /// Left, lower, right and upper end of the whole frame in the view, mm at true size.
    pub extent: [f64; 4],
    /// Where the middle of each part is seen, mm at true size.
    pub middles: Vec<Point>,
    /// How broad each part is, mm.
    pub breadths: Vec<f64>,
}

impl SceneView {
    /// What is seen when the first `standing` parts are in place.
    pub fn when(&self, standing: usize) -> impl Iterator<Item = &Run> {
        self.runs.iter().filter(move |run| run.part < standing && run.until >= standing)
    }
}

impl<'a> Scene<'a> {
    /// All parts of a frame, tubes in build order and each plate before the first tube that it is in place for.
    #[must_use]
    pub fn of(made: &'a Made) -> Self {
        Self::of_some(made, |_| true)
    }

    /// Those parts of a frame whose ids are wanted.
    #[must_use]
    pub fn of_some(made: &'a Made, is_wanted: impl Fn(&str) -> bool) -> Self {
        let frame = &made.frame;
        let mut plates: Vec<usize> = (0..frame.plates.len()).collect();
        plates.sort_by_key(|&plate| frame.plates[plate].before);
        let mut plates = plates.into_iter().peekable();
        let mut order = Vec::new();
        for part in &made.parts {
            while let Some(plate) = plates.next_if(|&plate| frame.plates[plate].before <= part.member) {
                order.push(Target::Plate(plate));
            }
            order.push(Target::Member(part.member));
        }
        order.extend(plates.map(Target::Plate));
        order.retain(|&part| is_wanted(frame.name(part)));
        let bodies = order.iter().map(|&part| match part {
            Target::Member(member) => Body::Tube(TubeBody::new(&frame.members[member], &made.parts[member])),
            Target::Plate(plate) => Body::Plate(PlateBody::new(&frame.plates[plate])),
        });
        let bodies: Vec<Body> = bodies.collect();
        let edges = bodies.par_iter().enumerate().map(|(number, body)| body.edges(number)).collect();
        Self { bodies, edges, ids: order.iter().map(|&part| frame.name(part)).collect() }
    }

    /// Ids of the parts, in their order.
    #[must_use]
    pub fn ids(&self) -> &[&'a str] {
        &self.ids
    }

    /// The view from one side. `fine` is the least length that is to be told apart, mm at true size.
    #[must_use]
    pub fn seen(&self, look: &Look, fine: f64) -> SceneView {
        self.seen_until(look, fine, Stop::NEVER).unwrap_or_default()
    }

    /// As [`Scene::seen`], as long as it is wanted.
    ///
    /// # Errors
    /// [`Stopped`] when it is no longer wanted.
    pub fn seen_until(&self, look: &Look, fine: f64, stop: Stop) -> Result<SceneView, Stopped> {
        let blockers: Vec<Vec<Blocker>> = self.bodies.iter().map(Body::blockers).collect();
        let shades = blockers
            .iter()
            .enumerate()
            .flat_map(|(body, blockers)| blockers.iter().map(move |blocker| Shade::new(body, blocker, look)));
        let shades: Vec<Shade> = shades.collect();
        let outlines: Vec<Vec<Chain>> =
            self.bodies.par_iter().enumerate().map(|(number, body)| body.outlines(number, look)).collect();
        stop.check()?;
        let chains: Vec<&Chain> =
            outlines.iter().zip(&self.edges).flat_map(|(outlines, edges)| outlines.iter().chain(edges)).collect();
        let bounds = Bounds::around(chains.iter().flat_map(|chain| chain.all()));
        let far = (bounds.high - bounds.low).length() + 1.0;
        let sight = Sight { look, shades: &shades, bodies: self.bodies.len(), far, step: fine };
        let flat = |chain: &&Chain| {
            stop.check()?;
            let stretches = sight.stretches(chain).into_iter().map(|stretch| {
                let points = chain.points(stretch.from, stretch.to);
                let points: Vec<Point> = points.into_iter().map(|point| look.flat(point)).collect();
                let [left, lower, right, upper] = extent(&points);
                let (low, high) = ([left, lower], [right, upper]);
                Run { part: chain.body, until: stretch.until, curve: chain.curve, points, low, high }
            });
            Ok(stretches.collect())
        };
        let runs: Vec<Vec<Run>> = chains.par_iter().map(flat).collect::<Result<_, Stopped>>()?;
        let all: Vec<Point> = chains.iter().flat_map(|chain| chain.all()).map(|point| look.flat(point)).collect();
        Ok(SceneView {
            runs: runs.into_iter().flatten().filter(|run| run.points.len() > 1).collect(),
            parts: self.bodies.len(),
            extent: if all.is_empty() { [0.0; 4] } else { extent(&all) },
            middles: self.bodies.iter().map(|body| look.flat(body.middle())).collect(),
            breadths: self.bodies.iter().map(Body::breadth).collect(),
        })
    }
}

/// Left, lower, right and upper end of some points.
fn extent(points: &[Point]) -> [f64; 4] {
    let start = [f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY];
    points
        .iter()
        .fold(start, |extent, &[x, y]| [extent[0].min(x), extent[1].min(y), extent[2].max(x), extent[3].max(y)])
}

impl<'a> Body<'a> {
    fn blockers(&'a self) -> Vec<Blocker<'a>> {
        match self {
            Self::Tube(tube) => Blocker::of_tube(tube),
            Self::Plate(plate) => vec![Blocker::Plate(plate)],
        }
    }

    /// Curves that are the same from every side.
    fn edges(&self, number: usize) -> Vec<Chain> {
        match self {
            Self::Tube(tube) => tube.edges(number),
            Self::Plate(plate) => plate.edges(number),
        }
    }

    /// Those of one view.
    fn outlines(&self, number: usize, look: &Look) -> Vec<Chain> {
        match self {
            Self::Tube(tube) => {
                let mut chains = tube.contours(number, look);
                chains.extend(tube.corners(number, look));
                chains
            }
            Self::Plate(plate) => plate.contours(number, look),
        }
    }

    fn middle(&self) -> DVec3 {
        match self {
            Self::Tube(tube) => {
                let points = tube.member.path.points(0.2);
                points[points.len() / 2].midpoint(points[(points.len() - 1) / 2])
            }
            Self::Plate(plate) => plate.middle(),
        }
    }

    fn breadth(&self) -> f64 {
        match self {
            Self::Tube(tube) => 2.0 * tube.profile.reach(),
            Self::Plate(_) => 0.0,
        }
    }
}
