//! What the sheets tell a builder holds of the frame that stands: measures, marks, hands and the order of the work.
//!
//! Read from the sheets as they are served, and held against the document's own points and against each other.

use matchmark_core::geometry::DVec3;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

const REVISIONS: [(&str, &str); 2] =
    [("A", include_str!("../../server/demo/rev_a.json")), ("B", include_str!("../../server/demo/rev_b.json"))];

fn sheets(text: &str) -> Value {
    let mut evaluation = matchmark_core::evaluate(text);
    evaluation.number(None);
    let findings = evaluation.findings;
    serde_json::to_value(evaluation.sheets.unwrap_or_else(|| panic!("{findings:?}"))).unwrap()
}

fn codes(document: &Value) -> Vec<String> {
    let findings = matchmark_core::evaluate(&document.to_string()).findings;
    findings
        .into_iter()
        .filter(|finding| finding.severity == matchmark_core::document::Severity::Error)
        .map(|finding| finding.code)
        .collect()
}

fn list<'a>(value: &'a Value, pointer: &str) -> &'a Vec<Value> {
    value.pointer(pointer).and_then(Value::as_array).unwrap_or_else(|| panic!("{pointer}"))
}

fn word<'a>(value: &'a Value, name: &str) -> &'a str {
    value[name].as_str().unwrap_or_else(|| panic!("{name} of {value}"))
}

/// A point of the document by its name, the other hand mirrored across y = 0.
fn point(design: &Value, reference: &Value) -> DVec3 {
    let three = |value: &Value| {
        let at = |axis: usize| value[axis].as_f64().unwrap();
        DVec3::new(at(0), at(1), at(2))
    };
    let Some(name) = reference.as_str() else { return three(reference) };
    if let Some(at) = design["points"].get(name) {
        return three(at);
    }
    let at = three(&design["points"][name.replace(".R", ".L")]);
    DVec3::new(at.x, -at.y, at.z)
}

fn other_hand(name: &str) -> String {
    match name.strip_suffix(".L") {
        Some(stem) => format!("{stem}.R"),
        None => name.strip_suffix(".R").map_or_else(|| name.to_owned(), |stem| format!("{stem}.L")),
    }
}

/// Corner points and half the breadth of every tube, by its mark.
fn tubes(design: &Value) -> BTreeMap<String, (Vec<DVec3>, f64)> {
    let mut tubes = BTreeMap::new();
    for member in list(design, "/members") {
        let section = &design["sections"][word(member, "section")];
        let breadth = section.pointer("/round/od").or(section.pointer("/rect/width")).unwrap().as_f64().unwrap();
        let named = match member.get("path") {
            Some(path) => path.as_array().unwrap().clone(),
            None => vec![member["from"].clone(), member["to"].clone()],
        };
        let points: Vec<DVec3> = named.iter().map(|name| point(design, name)).collect();
        let id = word(member, "id");
        if member["mirror"] == true {
            let mirrored = points.iter().map(|at| DVec3::new(at.x, -at.y, at.z)).collect();
            tubes.insert(other_hand(id), (mirrored, breadth / 2.0));
        }
        tubes.insert(id.to_owned(), (points, breadth / 2.0));
    }
    tubes
}

/// From a point to the straights between corner points, mm.
fn off(at: DVec3, corners: &[DVec3]) -> f64 {
    let to_stretch = |pair: &[DVec3]| {
        let along = pair[1] - pair[0];
        let share = ((at - pair[0]).dot(along) / along.length_squared()).clamp(0.0, 1.0);
        (pair[0] + along * share).distance(at)
    };
    corners.windows(2).map(to_stretch).fold(f64::INFINITY, f64::min)
}

/// All marks of tubes in a text.
fn named<'a>(words: &str, tubes: &'a BTreeMap<String, (Vec<DVec3>, f64)>) -> Vec<&'a String> {
    let said: Vec<&str> = words.split([' ', ',']).collect();
    tubes.keys().filter(|id| said.contains(&id.as_str())).collect()
}

/// From where and to where a check runs, in words.
fn between(check: &Value) -> [String; 2] {
    match check["between"].as_array() {
        Some(two) => [0, 1].map(|end| two[end].as_str().unwrap().to_owned()),
        None => {
            let (from, to) = word(check, "what").split_once(" to ").unwrap_or((word(check, "what"), ""));
            [from.to_owned(), to.to_owned()]
        }
    }
}

fn place(value: &Value) -> DVec3 {
    let at = |axis: usize| value[axis].as_f64().unwrap();
    DVec3::new(at(0), at(1), at(2))
}

#[test]
fn a_proposed_dimension_runs_between_places_on_the_tubes_that_it_names() {
    for (letter, text) in REVISIONS {
        let design: Value = serde_json::from_str(text).unwrap();
        let (sheets, tubes) = (sheets(text), tubes(&design));
        let mut diagonals = 0;
        let mut wrong = Vec::new();
        for check in list(&sheets, "/checks").iter().filter(|check| check["declared"] == false) {
            diagonals += usize::from(word(check, "name").starts_with("diagonal"));
            for (words, end) in between(check).iter().zip(["from", "to"]) {
                let names = named(words, &tubes);
                let at = place(&check[end]);
                // A mark lies on the outside of one of them, the other ends there: no further off than it is thick.
                let worst = names
                    .iter()
                    .map(|name| off(at, &tubes[*name].0) - tubes[*name].1)
                    .fold(f64::NEG_INFINITY, f64::max);
                if worst > 25.0 || (names.is_empty() && !words.contains("base plane")) {
                    wrong.push(format!("{letter} {}: {worst:.1} beyond {words}", word(check, "name")));
                }
            }
            let nominal = place(&check["from"]).distance(place(&check["to"]));
            assert!((nominal - check["nominal"].as_f64().unwrap()).abs() < 1e-4, "{check}");
        }
        assert!(wrong.is_empty(), "{} of {letter}: {wrong:#?}", wrong.len());
        assert!(diagonals >= 14, "{diagonals} diagonals of revision {letter}");
    }
}

#[test]
fn a_mark_in_line_with_a_tube_lies_on_the_outside_of_the_other_one() {
    for (letter, text) in REVISIONS {
        let design: Value = serde_json::from_str(text).unwrap();
        let (sheets, tubes) = (sheets(text), tubes(&design));
        let mut marks = 0;
        for check in list(&sheets, "/checks").iter().filter(|check| check["declared"] == false) {
            for (words, end) in between(check).iter().zip(["from", "to"]) {
                let Some((host, line)) = words.split_once(", in line with ") else { continue };
                let (host, line) = (named(host, &tubes)[0], named(line, &tubes)[0]);
                let at = place(&check[end]);
                marks += 1;
                assert!((off(at, &tubes[host].0) - tubes[host].1).abs() < 0.01, "{letter} {words} {at}");
                // The straight edge lies along the other tube's middle: that axis, the mark and the host's axis are in one plane.
                let (a, b) = (&tubes[line].0, &tubes[host].0);
                let stretch = |corners: &[DVec3]| {
                    corners
                        .windows(2)
                        .map(|pair| (off(at, pair), pair[0], pair[1]))
                        .min_by(|a, b| a.0.total_cmp(&b.0))
                        .unwrap()
                };
                let ((_, a0, a1), (_, b0, b1)) = (stretch(a), stretch(b));
                let square = (a1 - a0).cross(b1 - b0).normalize();
                let foot = b0 + (b1 - b0) * ((at - b0).dot(b1 - b0) / (b1 - b0).length_squared());
                assert!(((at - foot).normalize().dot(square).abs() - 1.0).abs() < 1e-6, "{letter} {words}");
                let along = (a1 - a0).normalize();
                let apart = foot - (a0 + along * (foot - a0).dot(along));
                assert!(apart.length() < tubes[host].1 + 1e-6, "{letter} {words}");
                assert!(apart.dot((b1 - b0).normalize()).abs() < 1e-6 * apart.length().max(1.0), "{letter} {words}");
            }
        }
        assert!(marks > 40, "{marks}");
    }
}

#[test]
fn mirrored_tubes_get_equal_dimensions() {
    for (letter, text) in REVISIONS {
        let design: Value = serde_json::from_str(text).unwrap();
        let (sheets, tubes) = (sheets(text), tubes(&design));
        let key = |check: &Value, swap: bool| -> BTreeSet<BTreeSet<String>> {
            let hand = |name: &String| if swap { other_hand(name) } else { name.clone() };
            between(check).iter().map(|words| named(words, &tubes).into_iter().map(hand).collect()).collect()
        };
        let proposed: Vec<&Value> =
            list(&sheets, "/checks").iter().filter(|check| check["declared"] == false).collect();
        for check in &proposed {
            let nominal = check["nominal"].as_f64().unwrap();
            let mut there = proposed.iter().filter(|other| key(other, false) == key(check, true));
            assert!(
                there.any(|other| (other["nominal"].as_f64().unwrap() - nominal).abs() < 1e-3),
                "{letter}: no {nominal} on the other side of {check}"
            );
        }
    }
}

#[test]
fn a_check_names_no_point_that_is_printed_nowhere() {
    let mut texts = REVISIONS.map(|(_, text)| text.to_owned()).to_vec();
    // The same without words of the designer's own.
    let mut bare: Value = serde_json::from_str(&texts[0]).unwrap();
    for (_, check) in bare["checks"].as_object_mut().unwrap() {
        check.as_object_mut().unwrap().remove("what");
    }
    texts.push(bare.to_string());
    for text in texts {
        let design: Value = serde_json::from_str(&text).unwrap();
        let tubes = tubes(&design);
        let points = design["points"].as_object().unwrap().keys().flat_map(|name| [name.clone(), other_hand(name)]);
        let hidden: Vec<String> = points.filter(|name| !tubes.contains_key(name)).collect();
        for check in list(&sheets(&text), "/checks") {
            let [from, to] = between(check);
            let words = format!("{} {from} {to}", word(check, "what"));
            let said: Vec<&str> = words.split([' ', ',']).collect();
            let shown = hidden.iter().find(|name| said.contains(&name.as_str()));
            assert!(shown.is_none(), "{shown:?} in {words}");
        }
    }
}

#[test]
fn mirrored_ends_have_mirrored_long_points() {
    for (letter, text) in REVISIONS {
        let sheets = sheets(text);
        let rows = list(&sheets, "/cut_sheet/rows");
        let mut wrong = Vec::new();
        for left in rows.iter().filter(|row| word(row, "member").ends_with(".L")) {
            let right = rows.iter().find(|row| word(row, "member") == other_hand(word(left, "member"))).unwrap();
            for end in ["from", "to"] {
                let clock = |row: &Value| row[end]["long_point_deg"].as_f64();
                let (Some(a), Some(b)) = (clock(left), clock(right)) else { continue };
                let sum = (a + b).rem_euclid(360.0);
                if sum.min(360.0 - sum) > 0.01 {
                    wrong.push(format!("{} {end} end: {a:.1} and {b:.1}", word(left, "member")));
                }
            }
        }
        assert!(wrong.is_empty(), "{letter}: {} ends: {wrong:#?}", wrong.len());
    }
}

#[test]
fn left_and_right_are_told_by_what_is_there_before_anything_is_drilled() {
    for (_, text) in REVISIONS {
        for pair in list(&sheets(text), "/pairs").iter().filter(|pair| pair["handed"] == true) {
            for words in [word(pair, "tell_left"), word(pair, "tell_right")] {
                assert!(!words.contains("hole") || words.starts_with("Until it is drilled"), "{words}");
            }
        }
    }
    // Cut differently and drilled too: the cuts tell. Alike but for the holes: that is said.
    let mut drilled: Value = serde_json::from_str(REVISIONS[0].1).unwrap();
    drilled["holes"] = json!({
        "one.L": {"member": "back_stay.L", "station": 300, "clock": 75, "diameter": 8.5, "mirror": true},
        "two.L": {"member": "tunnel.L", "station": 100, "clock": 30, "diameter": 6, "mirror": true},
    });
    let sheets = sheets(&drilled.to_string());
    let tell = |left: &str| {
        let pair = list(&sheets, "/pairs").iter().find(|pair| word(pair, "left") == left).unwrap();
        word(pair, "tell_left").to_owned()
    };
    assert!(!tell("back_stay.L").contains("hole"), "{}", tell("back_stay.L"));
    assert!(tell("tunnel.L").starts_with("Until it is drilled"), "{}", tell("tunnel.L"));
}

#[test]
fn a_tangent_mark_is_named_by_its_side_and_stands_where_the_bend_sheet_has_it() {
    for (_, text) in REVISIONS {
        let sheets = sheets(text);
        let mut seen = 0;
        for wrap in list(&sheets, "/wraps") {
            let datum = &wrap["set_out"]["datum"];
            if word(datum, "kind") != "tangent_mark" {
                continue;
            }
            seen += 1;
            let sheet = list(&sheets, "/bend_sheets").iter().find(|sheet| sheet["member"] == wrap["member"]).unwrap();
            let marks = list(sheet, "/marks");
            let mark = marks.iter().find(|mark| mark["bend"] == datum["bend"]).unwrap();
            assert_eq!(mark[word(datum, "side")], datum["station"], "{}", wrap["member"]);
            // From there the set-out and the rest of the blank: its sawn end is what is left long beyond the long point.
            let (station, set_out) =
                (datum["station"].as_f64().unwrap(), wrap["set_out"]["distance"].as_f64().unwrap());
            let top = wrap["outer"]
                .as_array()
                .unwrap()
                .iter()
                .flat_map(|run| run.as_array().unwrap())
                .map(|at| at[1].as_f64().unwrap())
                .fold(0.0, f64::max);
            let (long, blank) = (&sheet["leave_long"], sheet["blank"].as_f64().unwrap());
            let reached = match word(wrap, "end") {
                "from" => station - set_out - top - long[0].as_f64().unwrap(),
                _ => blank - station - set_out - top - long[1].as_f64().unwrap(),
            };
            assert!(reached.abs() < 0.01, "{} {} end: {reached}", wrap["member"], wrap["end"]);
        }
        assert_eq!(seen, 4);
    }
}

/// Steps of a kind at a member, by their numbers.
fn steps(sheets: &Value, kind: &str, member: &str) -> Vec<u64> {
    let steps = list(sheets, "/fit_up/steps").iter();
    steps
        .filter(|step| step["kind"] == kind && step["member"] == member)
        .map(|step| step["number"].as_u64().unwrap())
        .collect()
}

#[test]
fn an_end_left_long_is_trimmed_before_what_it_meets_stands_and_once() {
    for (letter, text) in REVISIONS {
        let sheets = sheets(text);
        let mut long = 0;
        for row in list(&sheets, "/cut_sheet/rows") {
            let member = word(row, "member");
            for (number, end) in ["from", "to"].into_iter().enumerate() {
                if row["leave_long"][number] == 0.0 {
                    continue;
                }
                long += 1;
                let all = list(&sheets, "/fit_up/steps").iter();
                let trims: Vec<&Value> = all
                    .filter(|step| step["kind"] == "trim" && step["member"] == member)
                    .filter(|step| list(step, "/ends").iter().any(|trimmed| trimmed["end"] == end))
                    .collect();
                assert_eq!(trims.len(), 1, "{letter} {member} {end}");
                let trimmed = trims[0]["number"].as_u64().unwrap();
                let placed = steps(&sheets, "tube", member)[0];
                // The parts already in place leave no room for it.
                for met in list(&row[end], "/fits") {
                    let met = met.as_str().unwrap();
                    let stands = [steps(&sheets, "plate", met), steps(&sheets, "tube", met)].concat()[0];
                    assert!(trimmed < placed.max(stands), "{letter} {member} {end}: {met}");
                }
                // What is fitted into it comes later.
                for other in list(&sheets, "/cut_sheet/rows") {
                    for other_end in ["from", "to"] {
                        let into = other[other_end]["cut"] == "plug" && list(&other[other_end], "/fits")[0] == member;
                        assert!(
                            !into || trimmed < steps(&sheets, "tube", word(other, "member"))[0],
                            "{letter} {member}"
                        );
                    }
                }
            }
        }
        assert_eq!(long, 8, "{letter}");
        // The hoop is measured while it is long, and stands when it is short.
        let measured = list(&sheets, "/fit_up/steps")
            .iter()
            .find(|step| step["gauges"].as_array().is_some_and(|gauges| !gauges.is_empty()))
            .unwrap();
        let measured = measured["number"].as_u64().unwrap();
        assert!(measured < steps(&sheets, "trim", "main_hoop")[0]);
        assert!(steps(&sheets, "trim", "front_hoop")[0] < steps(&sheets, "tube", "front_hoop")[0]);
        assert!(steps(&sheets, "tube", "nose_cross")[0] < steps(&sheets, "trim", "nose_rail.L")[0]);
    }
}

/// A wrap goes round its tube from 30 mm below the cut line at least to the line: nothing may stand there when it is laid.
#[test]
fn a_trim_where_the_part_stands_has_its_wrap_s_length_free_or_is_warned_of() {
    let blocked = |demo: &Value| -> Vec<(Vec<String>, String)> {
        let findings = matchmark_core::evaluate(&demo.to_string()).findings.into_iter();
        findings
            .filter(|finding| finding.code == "trim-not-free")
            .map(|finding| (finding.members, finding.message))
            .collect()
    };
    for (letter, text) in REVISIONS {
        let mut demo: Value = serde_json::from_str(text).unwrap();
        assert_eq!(blocked(&demo), [], "{letter}");
        // By the document's points: the tail's low tube runs at x = -1240, the rail is trimmed at x = -1270; the bulkhead's at
        // x = 1680, the nose rail at x = 1710. Tubes of 38 reach 19 mm to both sides.
        let cases = [("rear_rail", "tail_brace", "tail_low"), ("nose_rail", "bulkhead_diag", "bulkhead_low")];
        for (rail, after, in_the_way) in cases {
            let id = format!("{rail}.L");
            let members = demo["members"].as_array_mut().unwrap();
            let member = members.iter_mut().find(|member| member["id"] == id.as_str()).unwrap();
            let before = std::mem::replace(&mut member["leave_long"]["trim_to_after"], after.into());
            let sheets = sheets(&demo.to_string());
            let found = blocked(&demo);
            assert_eq!(found.len(), 2, "one an end: {found:?}");
            for (hand, (about, message)) in ["L", "R"].into_iter().zip(&found) {
                let rail = format!("{rail}.{hand}");
                let trimmed = steps(&sheets, "trim", &rail)[0];
                let placed = steps(&sheets, "tube", in_the_way)[0];
                assert!(about.contains(&rail) && about.iter().any(|id| id == in_the_way), "{about:?}");
                for said in [
                    format!("at step {trimmed}"),
                    format!("`{in_the_way}` (step {placed})"),
                    format!("before step {placed}"),
                ] {
                    assert!(message.contains(&said), "{said}: {message}");
                }
            }
            let members = demo["members"].as_array_mut().unwrap();
            let member = members.iter_mut().find(|member| member["id"] == id.as_str()).unwrap();
            member["leave_long"]["trim_to_after"] = before;
        }
    }
}

/// The depth that a step gives is what the points of the document make it, not what else the document says of it.
#[test]
fn a_step_gives_the_depth_at_which_a_plug_sits() {
    for (letter, text) in REVISIONS {
        let design: Value = serde_json::from_str(text).unwrap();
        for depth in [50.0, 40.0] {
            let mut demo = design.clone();
            let members = demo["members"].as_array_mut().unwrap();
            let plug = members.iter_mut().find(|member| member["id"] == "tow_tube.L").unwrap();
            plug["ends"]["from"]["plug"]["depth"] = depth.into();
            let sheets = sheets(&demo.to_string());
            let step = list(&sheets, "/fit_up/steps").iter().find(|step| step["member"] == "tow_tube.L").unwrap();
            let sits = point(&design, &json!("nose_tip.L")).distance(point(&design, &json!("tow_in.L")));
            assert_eq!(sits, 50.0);
            assert!((step["ends"][0]["depth"].as_f64().unwrap() - sits).abs() < 1e-6, "{letter}: {step}");
        }
        let said = design["members"].as_array().unwrap().iter().find(|member| member["id"] == "tow_tube.L").unwrap();
        assert_eq!(said["ends"]["from"]["plug"]["depth"], 50, "{letter}");
    }
}

#[test]
fn an_order_in_which_an_end_cannot_be_trimmed_is_refused() {
    let demo: Value = serde_json::from_str(REVISIONS[1].1).unwrap();
    let with = |member: &str, after: &str| {
        let mut demo = demo.clone();
        let members = demo["members"].as_array_mut().unwrap();
        let member = members.iter_mut().find(|known| known["id"] == member).unwrap();
        let end = if member["leave_long"]["from"].is_null() { "trim_to_after" } else { "trim_from_after" };
        member["leave_long"][end] = after.into();
        codes(&demo)
    };
    assert_eq!(with("main_hoop", "hoop_plate.R"), Vec::<String>::new());
    assert!(with("main_hoop", "hoop_plate.L").iter().all(|code| code == "measured-too-late"));
    assert!(!with("main_hoop", "hoop_plate.L").is_empty());
    assert!(with("main_hoop", "main_hoop").contains(&"trim-too-late".to_owned()));
    assert!(with("main_hoop", "sill.R").contains(&"trim-too-late".to_owned()));
    assert!(
        with("front_hoop", "front_hoop").contains(&"trim-too-late".to_owned()),
        "it would stand 36 mm under the bed"
    );
    assert!(with("nose_rail.L", "tow_tube.L").contains(&"trim-too-late".to_owned()), "the socket is fitted into it");
    assert_eq!(with("rear_rail.L", "tow_tube.R"), Vec::<String>::new());
    assert!(with("rear_rail.L", "nowhere").contains(&"unknown-member".to_owned()));
    let mut nothing = demo.clone();
    nothing["members"][3]["leave_long"] = json!({"trim_to_after": "sill.R"});
    assert_eq!(codes(&nothing), ["trim-nothing"]);
}

#[test]
fn a_set_out_from_an_end_that_is_still_long_counts_that_in() {
    for (_, text) in REVISIONS {
        let sheets = sheets(text);
        let wraps = list(&sheets, "/wraps");
        let wrap = |end: &str| wraps.iter().find(|wrap| wrap["member"] == "nose_rail.L" && wrap["end"] == end).unwrap();
        let top = |wrap: &Value| {
            wrap["outer"]
                .as_array()
                .unwrap()
                .iter()
                .flat_map(|run| run.as_array().unwrap())
                .map(|at| at[1].as_f64().unwrap())
                .fold(0.0, f64::max)
        };
        // The mitre is cut while the front end is 20 mm long, the front end when the mitre is there.
        for (end, long) in [("from", 20.0), ("to", 0.0)] {
            let wrap = wrap(end);
            let reach = wrap["set_out"]["distance"].as_f64().unwrap() + top(wrap);
            let overall = wrap["overall"].as_f64().unwrap();
            assert!((reach - overall - long).abs() < 0.01, "{end}: {reach} {overall}");
        }
    }
}
