//! A case as it is sent, and the cut that it describes: the one reader of this format, whose names on the wire stay.

use super::JointError;
use crate::geometry::{Cylinder, DVec3, HalfSpace, Path, PathError, Piece, Profile, RoundedPrism, Solid, square_to};
use crate::part::{Cut, TubeEnd};
use crate::words::findings::joint::JointFault;
use serde::Deserialize;

/// Most tubes and planes that the end of one case is fitted to.
const MOST_ONTO_A_CASE: usize = 64;

/// Largest coordinate and length, mm.
const MOST_LENGTH: f64 = 1.0e6;

#[derive(Deserialize)]
pub(super) struct Case {
    #[serde(default)]
    pub(super) id: String,
    #[serde(rename = "member")]
    tube: Tube,
    #[serde(rename = "targets")]
    onto: Vec<Onto>,
}

#[derive(Deserialize)]
#[serde(rename = "Member")]
struct Tube {
    section: Section,
    datum: [f64; 3],
    dir: [f64; 3],
    #[serde(rename = "ref")]
    reference: [f64; 3],
    s_start: f64,
    s_limit: f64,
}

#[derive(Deserialize)]
#[serde(tag = "type", rename_all = "lowercase")]
enum Section {
    Round {
        od: f64,
        wall: f64,
    },
    Rect {
        width: f64,
        height: f64,
        wall: f64,
        #[serde(rename = "corner_outer")]
        corner: f64,
    },
}

#[derive(Deserialize)]
#[serde(tag = "type", rename = "Target", rename_all = "lowercase")]
enum Onto {
    Round {
        point: [f64; 3],
        dir: [f64; 3],
        od: f64,
    },
    Rect {
        point: [f64; 3],
        dir: [f64; 3],
        #[serde(rename = "ref")]
        reference: [f64; 3],
        width: f64,
        height: f64,
        #[serde(rename = "corner_outer")]
        corner: f64,
    },
    Plane {
        point: [f64; 3],
        normal: [f64; 3],
    },
    Bent {
        path: Vec<[f64; 3]>,
        #[serde(rename = "clr")]
        radius: f64,
        od: f64,
    },
}

impl Case {
    pub(super) fn cut(&self, pointer: &str) -> Result<Cut, JointError> {
        let tube = &self.tube;
        let at = |rest: &str| format!("{pointer}/member/{rest}");
        let outwards = direction(tube.dir, at("dir"))?;
        let reference = vector(tube.reference, at("ref"))?;
        let index = square_to(outwards, reference)
            .ok_or_else(|| JointError::new("bad-joint", at("ref"), JointFault::RefParallel))?;
        let end = TubeEnd {
            profile: tube.section.profile(&at("section"))?,
            datum: vector(tube.datum, at("datum"))?,
            outwards,
            index,
            side: outwards.cross(index),
        };
        if !(tube.s_start < tube.s_limit && tube.s_start.abs() < MOST_LENGTH && tube.s_limit.abs() < MOST_LENGTH) {
            return Err(JointError::new("bad-joint", at("s_start"), JointFault::StartAfterLimit));
        }
        if self.onto.len() > MOST_ONTO_A_CASE {
            let message =
                JointFault::TooManyTargets { count: self.onto.len(), most_onto_a_case: MOST_ONTO_A_CASE }.to_string();
            return Err(JointError::new("too-many", format!("{pointer}/targets"), message));
        }
        let solids =
            self.onto.iter().enumerate().map(|(number, onto)| onto.solid(&format!("{pointer}/targets/{number}")));
        Ok(Cut::new(end, solids.collect::<Result<_, _>>()?, tube.s_start, tube.s_limit))
    }
}

impl Section {
    fn profile(&self, pointer: &str) -> Result<Profile, JointError> {
        let wrong = |name: &str, fact: JointFault| Err(JointError::new("bad-joint", format!("{pointer}/{name}"), fact));
        match *self {
            Self::Round { od, wall } => {
                size(od, format!("{pointer}/od"))?;
                if !(wall > 0.0 && 2.0 * wall < od) {
                    return wrong("wall", JointFault::RoundWall);
                }
                Ok(Profile::Round { outer: od / 2.0, wall })
            }
            Self::Rect { width, height, wall, corner } => {
                size(width, format!("{pointer}/width"))?;
                size(height, format!("{pointer}/height"))?;
                let least = width.min(height);
                if !(wall > 0.0 && 2.0 * wall < least) {
                    return wrong("wall", JointFault::RectWall);
                }
                if !(corner >= wall && 2.0 * corner < least) {
                    return wrong("corner_outer", JointFault::OuterCorner);
                }
                Ok(Profile::Rect { half_width: width / 2.0, half_height: height / 2.0, corner, wall })
            }
        }
    }
}

impl Onto {
    fn solid(&self, pointer: &str) -> Result<Solid, JointError> {
        let at = |rest: &str| format!("{pointer}/{rest}");
        let piece = match self {
            Self::Round { point, dir, od } => Piece::Cylinder(Cylinder {
                point: vector(*point, at("point"))?,
                axis: direction(*dir, at("dir"))?,
                radius: size(*od, at("od"))? / 2.0,
                length: None,
            }),
            Self::Rect { point, dir, reference, width, height, corner } => {
                let axis = direction(*dir, at("dir"))?;
                let across = square_to(axis, vector(*reference, at("ref"))?)
                    .ok_or_else(|| JointError::new("bad-joint", at("ref"), JointFault::RefParallel))?;
                let half = [size(*width, at("width"))? / 2.0, size(*height, at("height"))? / 2.0];
                if !(0.0..=half[0].min(half[1])).contains(corner) {
                    return Err(JointError::new("bad-joint", at("corner_outer"), JointFault::CornerRadius));
                }
                Piece::Prism(RoundedPrism {
                    point: vector(*point, at("point"))?,
                    axis,
                    across,
                    half,
                    corner: *corner,
                    length: None,
                })
            }
            Self::Plane { point, normal } => Piece::HalfSpace(HalfSpace {
                point: vector(*point, at("point"))?,
                normal: direction(*normal, at("normal"))?,
            }),
            Self::Bent { path, radius, od } => return bent(path, *radius, *od, pointer),
        };
        Ok(Solid::new(vec![piece]))
    }
}

fn bent(path: &[[f64; 3]], radius: f64, od: f64, pointer: &str) -> Result<Solid, JointError> {
    let tube = size(od, format!("{pointer}/od"))? / 2.0;
    let radius = size(radius, format!("{pointer}/clr"))?;
    if radius <= tube {
        return Err(JointError::new("bad-joint", format!("{pointer}/clr"), JointFault::BendRadius));
    }
    let place = format!("{pointer}/path");
    if !(2..=MOST_ONTO_A_CASE).contains(&path.len()) {
        return Err(JointError::new("bad-joint", place, JointFault::PathPoints { most_onto_a_case: MOST_ONTO_A_CASE }));
    }
    let points = path.iter().map(|&point| vector(point, place.clone())).collect::<Result<Vec<_>, _>>()?;
    let path = Path::rounded(&points, radius).map_err(|error: PathError| {
        JointError::new("bad-joint", place, JointFault::PathCannotBeBent { error: &error.to_string() })
    })?;
    Ok(path.bar(tube, 0.0))
}

fn vector(components: [f64; 3], pointer: String) -> Result<DVec3, JointError> {
    if components.iter().all(|component| component.abs() <= MOST_LENGTH) {
        return Ok(DVec3::from_array(components));
    }
    Err(JointError::new("bad-joint", pointer, JointFault::FarAway { most_length: MOST_LENGTH }))
}

fn direction(components: [f64; 3], pointer: String) -> Result<DVec3, JointError> {
    let given = vector(components, pointer.clone())?;
    given.try_normalize().ok_or_else(|| JointError::new("bad-joint", pointer, JointFault::NoDirection))
}

fn size(value: f64, pointer: String) -> Result<f64, JointError> {
    if value > 0.0 && value <= MOST_LENGTH {
        return Ok(value);
    }
    Err(JointError::new("bad-joint", pointer, JointFault::NotASize { value, most_length: MOST_LENGTH }))
}
