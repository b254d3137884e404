//! Parts as exact solids for other machines: an exchange file of ISO 10303-21 with one boundary representation, or a whole frame as an
//! assembly of them.
//!
//! Legs are cylinders or planes, bends tori, and a cut lies on the very surfaces that it is fitted to. Edges that are neither lines
//! nor conics are cubic splines within 0.0001 mm of the true curve.

mod assembly;
mod brep;
mod curve;
mod cut_face;
mod exchange;
mod facets;
mod header;
mod hole;
mod of_member;
mod outline;
mod plate;
mod rim;
mod row;
mod skin;
mod surface;
mod tracks;

pub use assembly::{Assembly, LeftOut};
pub use header::SolidHeading;

pub use crate::words::findings::solid::SolidError;

use crate::geometry::{DVec3, Path};
use crate::part::{Cut, PartHole};
use crate::{Stop, Stopped};
use brep::Brep;
use exchange::{Exchange, Placement, quoted};
use header::{Called, Contexts};
use hole::Bored;
use outline::Strips;
use rim::{CutRim, rim};
use skin::Skin;
use tracks::Web;

impl From<Stopped> for SolidError {
    fn from(_: Stopped) -> Self {
        Self::Stopped
    }
}

impl SolidError {
    /// Stable code.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::DesignHasErrors => "design-has-errors",
            Self::UnknownMember => "unknown-member",
            Self::UnknownPlate => "unknown-plate",
            Self::Misses => "solid-misses",
            Self::Step => "solid-step",
            Self::StartsInside => "solid-starts-inside",
            Self::TooShort => "solid-too-short",
            Self::BentRectangle => "solid-bent-rectangle",
            Self::HoleCut => "solid-hole-cut",
            Self::TooIntricate => "solid-too-intricate",
            Self::Unresolved => "solid-unresolved",
            Self::Open => "solid-open",
            Self::Stopped => "stopped",
        }
    }
}

/// Writes a finished tube as the text of an exchange file, in millimetres and in the tube's own axes: the first point of the
/// centreline at the origin, the first leg along x, clock angle 0 towards z. `index` is clock angle 0 at the first leg, a unit
/// vector square to it; `cuts` are those of the first and the last end. The ends are true through the wall as they meet their
/// targets: nothing is taken off for relief.
///
/// # Errors
/// [`SolidError`] when the tube is no closed solid, as where an end partly misses its target.
pub fn write_solid(
    path: &Path,
    index: DVec3,
    cuts: [&Cut; 2],
    holes: &[PartHole],
    heading: &SolidHeading,
    stop: Stop,
) -> Result<String, SolidError> {
    let brep = solid(path, index, cuts, holes, stop)?;
    Ok(write_one(&brep, Placement::of_tube(path, index), heading))
}

/// A file with one solid in axes of its own.
fn write_one(brep: &Brep, placement: Placement, heading: &SolidHeading) -> String {
    let mut exchange = Exchange::new(placement);
    let contexts = Contexts::write(&mut exchange);
    let solid = brep.write(&mut exchange, &quoted(&heading.part));
    let called = Called { id: &heading.part, name: &heading.part, description: &heading.description };
    let part = contexts.part(&mut exchange, &called, solid);
    contexts.close(&mut exchange, [part.product]);
    header::file(exchange, heading, &[])
}

fn solid(path: &Path, index: DVec3, cuts: [&Cut; 2], holes: &[PartHole], stop: Stop) -> Result<Brep, SolidError> {
    let profile = cuts[0].end().profile;
    let webs = [Web::of(cuts[0], stop)?, Web::of(cuts[1], stop)?];
    let bored = Bored::all(path, index, profile, holes)?;
    for (number, hole) in bored.iter().enumerate() {
        hole.check(path, cuts)?;
        bored[..number].iter().try_for_each(|other| hole.check_apart(other, profile.perimeter()))?;
    }
    let busy: Vec<f64> = webs
        .iter()
        .flat_map(|web| [&web.rows[0], &web.rows[web.rows.len() - 1]])
        .flat_map(|row| row.breaks.iter().map(|here| here.u))
        .chain(bored.iter().flat_map(Bored::across))
        .collect();
    let strips = Strips::of(&profile, &busy);
    let skins = [(0.0, false), (profile.wall(), true)].map(|(depth, is_bore)| Skin {
        path,
        profile,
        index,
        strips: &strips,
        depth,
        is_bore,
    });
    let mut brep = Brep::default();
    let mut openings = [Vec::new(), Vec::new()];
    for hole in &bored {
        let [outer, bore] = [0, 1].map(|skin| move |leg: usize, strip: usize| skins[skin].surface(leg, strip));
        let made = hole.drill(&mut brep, &strips, profile.wall(), [&outer, &bore])?;
        for (openings, made) in openings.iter_mut().zip(made) {
            openings.push(made);
        }
    }
    let last_leg = path.legs.len() - 1;
    let mut rims: Vec<[CutRim; 2]> = Vec::with_capacity(2);
    for (skin, openings) in skins.iter().zip(&openings) {
        let mut made = [CutRim::default(), CutRim::default()];
        for (end, leg) in [(0, 0), (1, last_leg)] {
            stop.check()?;
            let rows = &webs[end].rows;
            let row = if skin.is_bore { &rows[rows.len() - 1] } else { &rows[0] };
            made[end] = rim(&mut brep, cuts[end], row, &strips, |strip| skin.surface(leg, strip))?;
        }
        skin.build(&mut brep, [&made[0].rim, &made[1].rim], openings)?;
        rims.push(made);
    }
    for end in 0..2 {
        stop.check()?;
        let both = [&rims[0][end], &rims[1][end]];
        cut_face::cut_faces(&mut brep, cuts[end], &webs[end], both, end == 0)?;
    }
    brep.check()?;
    Ok(brep)
}
