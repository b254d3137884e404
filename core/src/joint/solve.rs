//! Cases in figures: sampled lines and a volume each.

use super::case::Case;
use crate::document::without_mark;
use crate::words::findings::joint::JointFault;
use crate::{Stop, Stopped};
use serde::{Deserialize, Serialize};
use std::fmt::Display;

/// Samples round the outer outline.
pub const SAMPLES: u32 = 72;

/// Most cases in one request.
pub const MOST_CASES: usize = 1_000;

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

    pub(super) fn new(code: &'static str, pointer: impl Into<String>, fact: impl Display) -> Self {
        Self { code, pointer: pointer.into(), message: fact.to_string() }
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
    let request: Request = serde_json::from_str(without_mark(text))
        .map_err(|error| JointError::new("not-json", "", JointFault::NotAJoint { error: &error.to_string() }))?;
    let results = match request {
        Request::One(case) => vec![solve_case(case, String::new(), stop)?],
        Request::Many { cases } if cases.len() > MOST_CASES => {
            let message = JointFault::TooManyCases { count: cases.len(), most_cases: MOST_CASES }.to_string();
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
        JointError::new("bad-joint", place, JointFault::MendCase { why: &error.into_inner().to_string() })
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
        let message = JointFault::StartsInside.to_string();
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
