//! Cases in figures: sampled lines and volume in the answer. This is the one reader of their format, whose names on the wire stay.

use crate::geometry::{Cylinder, DVec3, HalfSpace, Path, PathError, Piece, Profile, RoundedPrism, Solid, square_to};
use crate::part::{Cut, TubeEnd};
use crate::{Stop, Stopped};
use serde::{Deserialize, Serialize};

/// Samples round the outer outline.
pub const SAMPLES: u32 = 72;

/// Most cases in one request.
pub const MOST_CASES: usize = 1_000;

/// Most tubes and planes that the end of one case is fitted to.
const MOST_ONTO_A_CASE: usize = 64;

/// Largest coordinate and length, mm.
const MOST_LENGTH: f64 = 1.0e6;

/// Why a request cannot be computed.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("{message}")]
pub struct JointError {
    code: &'static str,
    pointer: String,
    message: String,
}

impl JointError {
    /// Stable code, such as `bad-joint`.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.code
    }

    /// JSON Pointer to the place in the request.
    #[must_use]
    pub fn pointer(&self) -> &str {
        &self.pointer
    }

    fn new(code: &'static str, pointer: impl Into<String>, message: impl Into<String>) -> Self {
        Self { code, pointer: pointer.into(), message: message.into() }
    }
}

impl From<Stopped> for JointError {
    fn from(stopped: Stopped) -> Self {
        Self::new("stopped", "", stopped.to_string())
    }
}

#[derive(Deserialize)]
#[serde(untagged)]
enum Request {
    Many { cases: Vec<serde_json::Value> },
    One(serde_json::Value),
}

#[derive(Deserialize)]
struct Case {
    #[serde(default)]
    id: String,
    #[serde(rename = "member")]
    tube: Tube,
    #[serde(rename = "targets")]
    onto: Vec<Onto>,
}

#[derive(Deserialize)]
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
#[serde(tag = "type", rename_all = "lowercase")]
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

/// Sampled lines of one end; `null` where a generator misses.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct JointResult {
    /// Id of the case as given.
    pub id: String,
    /// Station on the outer surface at `u = perimeter x k / 72`, mm along `dir` from `datum`.
    pub outer: Vec<Option<f64>>,
    /// Station on the bore at the same places.
    pub inner: Vec<Option<f64>>,
    /// Least station over the wall at the same places.
    pub relief: Vec<Option<f64>>,
    /// Dihedral angle between the outer surfaces, degrees.
    pub dihedral_deg: Vec<Option<f64>>,
    /// Steel from `s_start` to the cut, mm3; generators that miss run to `s_limit`.
    pub volume: f64,
}

/// All results of a request, in its order.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "openapi", derive(utoipa::ToSchema))]
pub struct JointResults {
    /// One a case.
    pub results: Vec<JointResult>,
}

/// Computes the ends described in `text`: one case, or `{"cases": [...]}`. Answers as JSON text.
///
/// # Errors
/// [`JointError`] when the text is not such a request or a case is not a tube end that meets its targets from outside.
pub fn solve(text: &str) -> Result<String, JointError> {
    solve_until(text, Stop::NEVER)
}

/// As [`solve`], as long as it is wanted.
///
/// # Errors
/// As [`solve`], and one of code `stopped` when it is no longer wanted.
pub fn solve_until(text: &str, stop: Stop) -> Result<String, JointError> {
    let results = solved(text, stop)?;
    serde_json::to_string(&results).map_err(|error| JointError::new("bad-joint", "", error.to_string()))
}

/// As [`solve`], with the results as they are.
///
/// # Errors
/// As [`solve`].
pub fn solve_all(text: &str) -> Result<JointResults, JointError> {
    solved(text, Stop::NEVER)
}

fn solved(text: &str, stop: Stop) -> Result<JointResults, JointError> {
    let request: Request = serde_json::from_str(text).map_err(|error| {
        JointError::new(
            "not-json",
            "",
            format!("This is not a joint in JSON ({error}). Send one case or {{\"cases\": [...]}}."),
        )
    })?;
    let results = match request {
        Request::One(case) => vec![solve_case(case, String::new(), stop)?],
        Request::Many { cases } if cases.len() > MOST_CASES => {
            let message =
                format!("{} cases are more than the {MOST_CASES} of one request. Send them in parts.", cases.len());
            return Err(JointError::new("too-many", "/cases", message));
        }
        Request::Many { cases } => {
            let cases = cases.into_iter().enumerate();
            let solved = cases.map(|(index, case)| solve_case(case, format!("/cases/{index}"), stop));
            solved.collect::<Result<_, _>>()?
        }
    };
    Ok(JointResults { results })
}

fn solve_case(case: serde_json::Value, pointer: String, stop: Stop) -> Result<JointResult, JointError> {
    stop.check()?;
    let case: Case = serde_path_to_error::deserialize(case).map_err(|error| {
        let path = error.path().to_string();
        let rest = path.replace(['.', '['], "/").replace(']', "");
        let place =
            if rest.is_empty() || rest == "/" || rest == "?" { pointer.clone() } else { format!("{pointer}/{rest}") };
        JointError::new("bad-joint", place, format!("{}. Mend this case.", error.into_inner()))
    })?;
    let cut = case.cut(&pointer)?;
    let perimeter = cut.profile().perimeter();
    let place = |k: u32| perimeter * f64::from(k) / f64::from(SAMPLES);
    let wall = cut.profile().wall();
    let sampled = |value: &dyn Fn(f64) -> Option<f64>| {
        (0..SAMPLES).map(|k| stop.check().map(|()| value(place(k)))).collect::<Result<Vec<_>, Stopped>>()
    };
    let outer = sampled(&|u| cut.contact(u, 0.0).map(|contact| contact.s))?;
    let inner = sampled(&|u| cut.contact(u, wall).map(|contact| contact.s))?;
    if outer.iter().chain(&inner).flatten().any(|&s| s <= cut.start()) {
        let message = "The tube already lies inside a target at `s_start`. Move `s_start` back into the body.";
        return Err(JointError::new("starts-inside", format!("{pointer}/member/s_start"), message));
    }
    let area = cut.profile().area();
    Ok(JointResult {
        id: case.id,
        outer,
        inner,
        relief: sampled(&|u| cut.relief(u))?,
        dihedral_deg: sampled(&|u| cut.dihedral(u).map(f64::to_degrees))?,
        volume: cut.volume_from_datum(cut.limit(), stop)? - area * cut.start(),
    })
}

impl Case {
    fn cut(&self, pointer: &str) -> Result<Cut, JointError> {
        let tube = &self.tube;
        let at = |rest: &str| format!("{pointer}/member/{rest}");
        let outwards = direction(tube.dir, at("dir"))?;
        let reference = vector(tube.reference, at("ref"))?;
        let index = square_to(outwards, reference).ok_or_else(|| {
            JointError::new("bad-joint", at("ref"), "`ref` must not be parallel to `dir`. Give another direction.")
        })?;
        let end = TubeEnd {
            profile: tube.section.profile(&at("section"))?,
            datum: vector(tube.datum, at("datum"))?,
            outwards,
            index,
            side: outwards.cross(index),
        };
        if !(tube.s_start < tube.s_limit && tube.s_start.abs() < MOST_LENGTH && tube.s_limit.abs() < MOST_LENGTH) {
            return Err(JointError::new(
                "bad-joint",
                at("s_start"),
                "`s_start` must lie before `s_limit`. Mend one of them.",
            ));
        }
        if self.onto.len() > MOST_ONTO_A_CASE {
            let message = format!(
                "{} targets are more than {MOST_ONTO_A_CASE}. Leave out those that are not met.",
                self.onto.len()
            );
            return Err(JointError::new("too-many", format!("{pointer}/targets"), message));
        }
        let solids =
            self.onto.iter().enumerate().map(|(number, onto)| onto.solid(&format!("{pointer}/targets/{number}")));
        Ok(Cut::new(end, solids.collect::<Result<_, _>>()?, tube.s_start, tube.s_limit))
    }
}

impl Section {
    fn profile(&self, pointer: &str) -> Result<Profile, JointError> {
        let wrong = |name: &str, advice: &str| Err(JointError::new("bad-joint", format!("{pointer}/{name}"), advice));
        match *self {
            Self::Round { od, wall } => {
                size(od, format!("{pointer}/od"))?;
                if !(wall > 0.0 && 2.0 * wall < od) {
                    return wrong("wall", "The wall must be over 0 and under half the diameter. Mend it.");
                }
                Ok(Profile::Round { outer: od / 2.0, wall })
            }
            Self::Rect { width, height, wall, corner } => {
                size(width, format!("{pointer}/width"))?;
                size(height, format!("{pointer}/height"))?;
                let least = width.min(height);
                if !(wall > 0.0 && 2.0 * wall < least) {
                    return wrong("wall", "The wall must be over 0 and under half the smaller side. Mend it.");
                }
                if !(corner >= wall && 2.0 * corner < least) {
                    return wrong(
                        "corner_outer",
                        "The outer corner radius is at least the wall and under half the smaller side. Mend it.",
                    );
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
                let across = square_to(axis, vector(*reference, at("ref"))?).ok_or_else(|| {
                    JointError::new(
                        "bad-joint",
                        at("ref"),
                        "`ref` must not be parallel to `dir`. Give another direction.",
                    )
                })?;
                let half = [size(*width, at("width"))? / 2.0, size(*height, at("height"))? / 2.0];
                if !(0.0..=half[0].min(half[1])).contains(corner) {
                    return Err(JointError::new(
                        "bad-joint",
                        at("corner_outer"),
                        "The corner radius is at most half the smaller side. Mend it.",
                    ));
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
        return Err(JointError::new(
            "bad-joint",
            format!("{pointer}/clr"),
            "The bend radius must be over half the diameter. Mend it.",
        ));
    }
    let place = format!("{pointer}/path");
    if !(2..=MOST_ONTO_A_CASE).contains(&path.len()) {
        return Err(JointError::new(
            "bad-joint",
            place,
            format!("A path has 2 to {MOST_ONTO_A_CASE} points. Mend it."),
        ));
    }
    let points = path.iter().map(|&point| vector(point, place.clone())).collect::<Result<Vec<_>, _>>()?;
    let path = Path::rounded(&points, radius).map_err(|error: PathError| {
        JointError::new("bad-joint", place, format!("This path cannot be bent: {error}. Mend it."))
    })?;
    Ok(path.bar(tube, 0.0))
}

fn vector(components: [f64; 3], pointer: String) -> Result<DVec3, JointError> {
    if components.iter().all(|component| component.abs() <= MOST_LENGTH) {
        return Ok(DVec3::from_array(components));
    }
    Err(JointError::new("bad-joint", pointer, format!("Coordinates lie within {MOST_LENGTH} mm. Mend this one.")))
}

fn direction(components: [f64; 3], pointer: String) -> Result<DVec3, JointError> {
    let given = vector(components, pointer.clone())?;
    given
        .try_normalize()
        .ok_or_else(|| JointError::new("bad-joint", pointer, "This direction has no length. Give one that has."))
}

fn size(value: f64, pointer: String) -> Result<f64, JointError> {
    if value > 0.0 && value <= MOST_LENGTH {
        return Ok(value);
    }
    Err(JointError::new(
        "bad-joint",
        pointer,
        format!("{value} is not a size over 0 and up to {MOST_LENGTH} mm. Mend it."),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;
    use core::sync::atomic::{AtomicBool, Ordering};
    use serde_json::{Value, json};
    use std::time::Duration;

    /// A thick tube fitted to tubes that wind over it: minutes of work.
    fn endless() -> String {
        let winding = |number: u32| {
            let z = 200.0 + 7.3 * f64::from(number);
            let corner = |at: u32| {
                let (row, half) = (at / 2, at % 2);
                let x = if (row + half) % 2 == 0 { -110.0 } else { 110.0 };
                json!([x, 7.0 * f64::from(row) - 108.5, z])
            };
            json!({"type": "bent", "path": (0..64).map(corner).collect::<Vec<Value>>(), "clr": 3, "od": 5})
        };
        let member = json!({
            "section": {"type": "round", "od": 200, "wall": 5},
            "datum": [0, 0, 0], "dir": [0.05, 0.02, 1], "ref": [1, 0, 0], "s_start": -100, "s_limit": 2000
        });
        let case = json!({"member": member, "targets": (0..64).map(winding).collect::<Vec<Value>>()});
        json!({"cases": vec![case; 50]}).to_string()
    }

    #[test]
    fn a_long_computation_ends_on_its_way() {
        let (text, flag) = (endless(), AtomicBool::new(false));
        let ended = std::thread::scope(|scope| {
            let work = scope.spawn(|| solve_until(&text, Stop::when(&flag)));
            std::thread::sleep(Duration::from_millis(300));
            flag.store(true, Ordering::Relaxed);
            work.join().expect("no panic")
        });
        assert_eq!(ended.expect_err("it was not waited for").code(), "stopped");
    }
}
