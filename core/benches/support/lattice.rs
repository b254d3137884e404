//! Frames of any size: rows of lattice trusses, written as design documents.

use serde_json::{Value, json};

/// Bays of one length of chord.
const BAYS: usize = 4;

/// Members of one length: four chords, and eight members in each bay.
const IN_LENGTH: usize = 4 + 8 * BAYS;

/// Lengths in a row before the next row starts beside it.
const IN_ROW: usize = 12;

/// A design of `members` tubes: chords cut square, posts and cross tubes coped between chords, and diagonals coped into the
/// nodes between chords and posts, all fitted by default.
pub fn document(members: usize) -> String {
    let mut listed = Vec::with_capacity(members + IN_LENGTH);
    let mut length = 0;
    while listed.len() < members {
        add_length(length, &mut listed);
        length += 1;
    }
    listed.truncate(members);
    let document = json!({
        "format": "matchmark-design/1",
        "name": "Lattice",
        "materials": {"steel": {"name": "S235", "density": 7850}},
        "sections": {
            "chord": {"round": {"od": 48.3, "wall": 3.2}, "material": "steel"},
            "post": {"round": {"od": 42.4, "wall": 2.6}, "material": "steel"},
            "web": {"round": {"od": 33.7, "wall": 2.6}, "material": "steel"}
        },
        "points": {},
        "members": listed
    });
    document.to_string()
}

/// Nodes of a badly fitting frame across, in both directions: few, so that the smallest frame has layers enough and its tubes as many
/// neighbours as those of the largest.
const ACROSS: usize = 3;

/// A design of `members` equal tubes drawn from node to node, along and across a grid and over the diagonals of its sides, with
/// every end left to the engine: hardly one of them fits.
pub fn badly_fitting(members: usize) -> String {
    const APART: f64 = 300.0;
    let real = |count: usize| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    let ways: [[usize; 3]; 6] = [[1, 0, 0], [0, 1, 0], [0, 0, 1], [1, 1, 0], [1, 0, 1], [0, 1, 1]];
    let nodes = (0..).map(|node| [node / (ACROSS * ACROSS), node / ACROSS % ACROSS, node % ACROSS]);
    let tubes = nodes.flat_map(|node| ways.map(|way| (node, [0, 1, 2].map(|axis| node[axis] + way[axis]))));
    let tubes = tubes.filter(|(_, to)| to[1] < ACROSS && to[2] < ACROSS);
    let at = |node: [usize; 3]| node.map(|step| APART * real(step));
    let listed: Vec<Value> = tubes
        .take(members)
        .enumerate()
        .map(|(index, (from, to))| {
            json!({"id": format!("tube{index}"), "section": "tube", "from": at(from), "to": at(to)})
        })
        .collect();
    let document = json!({
        "format": "matchmark-design/1",
        "name": "Lattice of equal tubes",
        "materials": {"steel": {"name": "S235", "density": 7850}},
        "sections": {"tube": {"round": {"od": 25, "wall": 2}, "material": "steel"}},
        "points": {},
        "members": listed
    });
    document.to_string()
}

fn add_length(length: usize, listed: &mut Vec<Value>) {
    const BAY: f64 = 700.0;
    const SIDE: f64 = 500.0;
    let real = |count: usize| f64::from(u32::try_from(count).unwrap_or(u32::MAX));
    let corner = real(length % IN_ROW) * BAY * real(BAYS);
    let row = real(length / IN_ROW) * 3.0 * SIDE;
    let node = |bay: f64, chord: usize| {
        let [y, z] = [[0.0, 0.0], [SIDE, 0.0], [SIDE, SIDE], [0.0, SIDE]][chord % 4];
        [corner + (bay + 0.5) * BAY, row + y, z]
    };
    let mut add = |kind: &str, section: &str, from: [f64; 3], to: [f64; 3]| {
        let id = format!("{kind}{}", listed.len());
        let mut member = json!({"id": id, "section": section, "from": from, "to": to});
        if section == "chord" {
            member["ends"] = json!({"from": "square", "to": "square"});
        }
        listed.push(member);
    };
    for chord in 0..4 {
        add("chord", "chord", node(-0.5, chord), node(real(BAYS) - 0.5, chord));
    }
    for bay in (0..BAYS).map(real) {
        for side in 0..4 {
            add("post", "post", node(bay - 0.44, side), node(bay - 0.44, side + 1));
        }
        for side in 0..4 {
            add("web", "web", node(bay - 0.3, side), node(bay + 0.4, side + 1));
        }
    }
}
