//! What no file says is asked, with figures to answer by.

use crate::drawn::{codes, import};
use crate::dxf::Drawing;
use matchmark_core::Stop;
use matchmark_import::{Import, Outcome, QuestionField, SourceFile, import_text};
use serde_json::{Value, json};

fn tables(files: &[(&str, &str)], answers: &Value) -> Import {
    let files: Vec<SourceFile> =
        files.iter().map(|(name, text)| SourceFile { name: (*name).into(), bytes: text.as_bytes().to_vec() }).collect();
    import_text(&files, Some(&answers.to_string()), None, Stop::NEVER).unwrap()
}

fn stops(import: &Import) -> Vec<QuestionField> {
    import.report.questions.iter().filter(|question| question.stops).map(|question| question.field).collect()
}

#[test]
fn unit_and_sections_are_asked_together_with_figures() {
    let mut drawing = Drawing::new(0);
    drawing.line("RAIL", [0.0, 20.0, 0.0], [40.0, 20.0, 0.0]).line("NOTES", [0.0, 0.0, 0.0], [1.0, 0.0, 0.0]);
    let asked = import(&drawing, &json!({}));
    assert_eq!(asked.report.outcome, Outcome::Unanswered);
    assert_eq!(stops(&asked), [QuestionField::Unit, QuestionField::Sections]);
    let figures = &asked.report.questions[0].figures;
    assert!(
        figures
            .as_array()
            .unwrap()
            .iter()
            .any(|figure| figure == &json!({"unit": "in", "size_mm": [1016.0, 508.0, 0.0]}))
    );
    assert_eq!(asked.report.questions[1].figures[1]["layer"], "RAIL");
    let answers = json!({"unit": "in", "sections": {"RAIL": {"od": 30, "wall": 2}}});
    let read = import(&drawing, &answers);
    assert_eq!((read.report.outcome, read.report.counts.tubes), (Outcome::Read, 1));
    assert!(codes(&read).contains(&"layer-not-used"));
    // Axes have a default, which is said.
    assert!(read.report.questions.iter().any(|question| question.field == QuestionField::Axes && !question.stops));
}

#[test]
fn headers_of_other_words_are_asked_for() {
    let text = "foo;bar;baz\nA;1;2\nB;3;4\n";
    let asked = tables(&[("tubes.csv", text)], &json!({}));
    assert_eq!(stops(&asked), [QuestionField::Columns]);
    let bad = tables(&[("tubes.csv", text)], &json!({"columns": {"foo": "colour", "bar": "x", "baz": "y"}}));
    assert_eq!(bad.report.outcome, Outcome::Refused);
}

#[test]
fn a_table_without_a_unit_is_asked_about_and_one_above_the_header_counts() {
    let body = "name,x1,y1,z1,x2,y2,z2,od,wall\na,0,300,0,400,310,0,30,2\n";
    assert_eq!(stops(&tables(&[("t.csv", body)], &json!({}))), [QuestionField::Unit]);
    let read = tables(&[("t.csv", &format!("lengths in mm,,,,,,,,\n{body}"))], &json!({}));
    assert_eq!(read.report.outcome, Outcome::Read);
}

#[test]
fn wrong_numbers_are_named_by_row_and_column() {
    let body = "name,x1 [mm],y1 [mm],z1 [mm],x2 [mm],y2 [mm],z2 [mm],od [mm],wall [mm]\n\
        a,0,300,#REF!,400,310,0,30,2\n\nb,\"1,234,5\",300,0,400,310,0,30,2\nc,0,NaN,0,400,310,0,30,2\nd,0,300\n";
    let refused = tables(&[("t.csv", body)], &json!({}));
    let places: Vec<&str> = refused.report.findings.iter().map(|finding| finding.place.as_str()).collect();
    for place in ["row 2, column 4 (D)", "row 4, column 2 (B)", "row 5, column 3 (C)", "row 6, column 4 (D)"] {
        assert!(places.iter().any(|found| found.ends_with(place)), "{place}: {places:?}");
    }
    assert!(refused.design.is_none());
}

#[test]
fn what_is_not_a_point_or_is_one_twice_is_named() {
    let points = "point,x [mm],y [mm],z [mm]\nA,0,0,0\nB,400,0,0\nA,1,0,0\n";
    let members = "member,from,to,od [mm],wall [mm]\nm,A,C,30,2\n";
    let refused = tables(&[("p.csv", points), ("m.csv", members)], &json!({}));
    let said: Vec<&str> = refused.report.findings.iter().map(|finding| finding.message.as_str()).collect();
    assert!(said.iter().any(|message| message.contains("`A` is given twice")), "{said:?}");
    assert!(said.iter().any(|message| message.contains("`C`")), "{said:?}");
}

#[test]
fn names_given_twice_are_said_and_a_row_given_twice_is_left_out() {
    let head = "name,section,x1 [mm],y1 [mm],z1 [mm],x2 [mm],y2 [mm],z2 [mm],od [mm],wall [mm]\n";
    let rows = "a,T,0,300,0,400,310,0,30,2\na,T,0,200,0,400,210,0,30,2\nb,T,400,210,0,0,200,0,30,2\n";
    let read = tables(&[("t.csv", &format!("{head}{rows}"))], &json!({}));
    assert_eq!(codes(&read)[0], "name-twice");
    assert!(codes(&read).contains(&"duplicate"));
    let design = read.design.unwrap();
    let ids: Vec<&str> = design["members"].as_array().unwrap().iter().map(|one| one["id"].as_str().unwrap()).collect();
    assert_eq!(ids, ["a", "a-2"]);
    // Bends of one of the two: it is not guessed which.
    let bends = "member,x [mm],y [mm],z [mm],radius [mm]\na,200,300,50,90\n";
    let refused = tables(&[("t.csv", &format!("{head}{rows}")), ("b.csv", bends)], &json!({}));
    assert_eq!((refused.report.outcome, codes(&refused)[0]), (Outcome::Refused, "bad-row"));
}

#[test]
fn notes_of_a_table_go_with_their_members() {
    let head = "name,note,x1 [mm],y1,z1,x2,y2,z2,od,wall\n";
    let rows =
        "a.L,\"Weld\nlast.\",0,300,0,400,310,0,30,2\na.R,Plug it.,0,-300,0,400,-310,0,30,2\nb,,0,9,9,400,9,9,30,2\n";
    // A file's name may have what a design's may not: a mark that turns what follows it.
    let read = tables(&[("a\u{200f}b.csv", &format!("{head}{rows}"))], &json!({}));
    assert_eq!(read.design.as_ref().unwrap()["name"], "a b");
    let members = &read.design.unwrap()["members"];
    assert_eq!((&members[0]["note"], &members[1]["note"]), (&json!("Weld last. / Plug it."), &Value::Null));
}

#[test]
fn a_corner_radius_that_is_taken_is_said() {
    let head = "section,x1 [mm],y1,z1,x2,y2,z2,width,height,wall\n";
    let read = tables(&[("t.csv", &format!("{head}BOX,0,300,0,400,310,0,30,50,3\n"))], &json!({}));
    assert!(codes(&read).contains(&"corner-taken"));
    assert_eq!(read.design.unwrap()["sections"]["BOX"]["rect"]["corner"], 6.0);
}

#[test]
fn answers_that_cannot_be_meant_are_refused_and_unknown_ones_said() {
    let mut drawing = Drawing::new(4);
    drawing.line("T", [0.0, 50.0, 0.0], [420.0, 50.0, 0.0]);
    for answers in [
        json!({"sections": {"T": {"od": 30, "wall": 20}}}),
        json!({"sections": {"T": {"od": 1e9, "wall": 2}}}),
        json!({"sections": {"T": {"od": 30, "wall": 2, "width": 40}}}),
        json!({"radius": {"by_layers": {"T": 90}}}),
        json!({"tolerance": 50}),
        json!({"unit": "parsec"}),
        json!({"origin": [0, 0, 1e300]}),
        json!({"axes": ["x", "x", "z"]}),
        json!([]),
    ] {
        let refused = import(&drawing, &answers);
        assert_eq!(refused.report.outcome, Outcome::Refused, "{answers}");
        assert_eq!(codes(&refused)[0], "bad-answers", "{answers}");
    }
    let read = import(&drawing, &json!({"sections": {"T": {"od": 30, "wall": 2}}, "colour": "red"}));
    assert!(read.design.is_some() && codes(&read).contains(&"unknown-answer"));
}
