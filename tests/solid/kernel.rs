//! The kernel, in Python, and what it says of a solid.

use matchmark_core::geometry::{DVec3, Path};
use matchmark_core::part::{Cut, CutLine};
use serde::Deserialize;
use std::collections::BTreeMap;
use std::process::Command;

/// Most points of one line.
const POINTS: usize = 24;

/// What the kernel makes of a file.
#[derive(Debug, Deserialize)]
pub struct Seen {
    pub read: bool,
    #[serde(default)]
    pub solids: usize,
    #[serde(default)]
    pub valid: bool,
    #[serde(default)]
    pub closed: bool,
    #[serde(default)]
    pub volume: f64,
    /// Largest tolerance that the kernel had to give an edge or a vertex so that they meet, mm.
    #[serde(default)]
    pub edge_tolerance: f64,
    #[serde(default)]
    pub vertex_tolerance: f64,
    /// Largest distance from the solid's surface of the points that were sent with it, mm.
    #[serde(default)]
    pub off: f64,
}

/// A solid and points that must lie on its surface, in its own axes.
pub struct Sent {
    pub name: String,
    pub text: String,
    pub points: Vec<DVec3>,
}

/// Lets the kernel look at solids, with the Python of `tests/run` or with `python3` where the kernel is installed.
pub fn look(sent: &[Sent]) -> BTreeMap<String, Seen> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    for Sent { name, text, points } in sent {
        let points: Vec<[f64; 3]> = points.iter().map(DVec3::to_array).collect();
        std::fs::write(folder.path().join(format!("{name}.step")), text).expect("written");
        std::fs::write(folder.path().join(format!("{name}.json")), serde_json::to_vec(&points).expect("JSON"))
            .expect("written");
    }
    let python = std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/solid/check_solid.py");
    let output = Command::new(python).arg(script).arg(folder.path()).output().expect("Python runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// Points of both cuts through the wall, in the axes in which a solid is written: the engine's own lines at three depths.
pub fn points_of_cuts(path: &Path, index: DVec3, cuts: [&Cut; 2]) -> Vec<DVec3> {
    let first = path.first();
    let side = index.cross(first.direction);
    let own = |at: DVec3| {
        let from = at - first.start;
        DVec3::new(from.dot(first.direction), from.dot(side), from.dot(index))
    };
    let mut points = Vec::new();
    for cut in cuts {
        let wall = cut.end().profile.wall();
        for depth in [0.0, 0.5 * wall, wall] {
            let line = CutLine::at_depth(cut, depth);
            for point in line.points().step_by(line.points().count() / POINTS + 1) {
                points.push(own(cut.end().generator(point.u, depth).at(point.s)));
            }
        }
    }
    points
}

/// What is wrong with a solid, in words; nothing when it is as it must be.
pub fn faults(name: &str, seen: &Seen, volume: f64) -> Vec<String> {
    let mut faults = Vec::new();
    let mut wrong = |is_wrong: bool, what: String| {
        if is_wrong {
            faults.push(format!("{name}: {what}"));
        }
    };
    wrong(!seen.read || seen.solids != 1, format!("not read as one solid: {seen:?}"));
    wrong(!seen.valid, "not valid".into());
    wrong(!seen.closed, "not closed".into());
    let ratio = seen.volume / volume;
    wrong((ratio - 1.0).abs() > 1e-4, format!("volume {} instead of {volume}", seen.volume));
    wrong(seen.off > 0.02, format!("{} mm off the lines of the cut", seen.off));
    wrong(
        seen.edge_tolerance.max(seen.vertex_tolerance) > 0.02,
        format!("tolerances {} and {}", seen.edge_tolerance, seen.vertex_tolerance),
    );
    faults
}
