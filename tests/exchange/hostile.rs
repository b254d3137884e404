//! Files that are broken by accident or on purpose: one clear answer, no panic, and no more work than their size is worth.

use crate::cases::{sources, unpacked};
use crate::drawn::{codes, import};
use crate::dxf::Drawing;
use matchmark_core::Stop;
use matchmark_import::{Import, Outcome, SourceFile, import_text};
use proptest::prelude::*;
use serde_json::{Value, json};

fn read(name: &str, bytes: Vec<u8>) -> Import {
    import_text(&[SourceFile { name: name.into(), bytes }], Some("{}"), None, Stop::NEVER).unwrap()
}

fn step(data: &str) -> Vec<u8> {
    format!("ISO-10303-21;HEADER;FILE_SCHEMA(('AUTOMOTIVE_DESIGN'));ENDSEC;DATA;{data}ENDSEC;END-ISO-10303-21;")
        .into_bytes()
}

#[test]
fn a_file_cut_off_anywhere_is_never_taken_for_whole() {
    let folder = unpacked();
    for (case, every) in [
        ("dxf_trolley_r12_mm", 211),
        ("bad_dxf_binary", 307),
        ("step_wire_composite", 101),
        ("xlsx_points_and_members", 97),
    ] {
        let case = folder.path().join(case);
        let expected: Value =
            serde_json::from_str(&std::fs::read_to_string(case.join("expected.json")).unwrap()).unwrap();
        let file = sources(&case, &expected).remove(0);
        let answers = expected["ask"].to_string();
        // A blank or line end at the very end may be missing.
        let whole = file.bytes.trim_ascii_end().len();
        for length in (1..whole - 12).step_by(every) {
            let cut = SourceFile { name: file.name.clone(), bytes: file.bytes[..length].to_vec() };
            let import = import_text(&[cut], Some(&answers), None, Stop::NEVER).unwrap();
            assert!(import.design.is_none(), "{} cut at {length}", case.display());
            assert_ne!(import.report.outcome, Outcome::Read);
        }
    }
}

#[test]
fn blocks_in_blocks_end_soon() {
    // 2^29 lines by nesting.
    let mut drawing = Drawing::new(4);
    for number in 0..29 {
        let mut inside = Drawing::new(4);
        inside.insert(&format!("B{}", number + 1), &[]).insert(&format!("B{}", number + 1), &[]);
        drawing.block(&format!("B{number}"), &inside);
    }
    let mut last = Drawing::new(4);
    last.line("T", [0.0; 3], [400.0, 0.0, 0.0]);
    drawing.block("B29", &last).insert("B0", &[]);
    assert_eq!(codes(&import(&drawing, &json!({}))), ["block-nesting", "unit-taken"]);
    // Rows without end, of an empty block and of one with a line.
    for inside in [Drawing::new(4), last] {
        let mut rows = Drawing::new(4);
        let many = [(70, "30000".to_owned()), (71, "30000".to_owned()), (44, "1".to_owned()), (45, "1".to_owned())];
        rows.block("R", &inside).insert("R", &many);
        assert!(import(&rows, &json!({})).design.is_none());
    }
}

#[test]
fn parts_in_parts_and_curves_in_curves_end_soon() {
    let definitions =
        "#1=PRODUCT('A','A','',());#2=PRODUCT_DEFINITION_FORMATION('','',#1);#3=PRODUCT_DEFINITION('','',#2,$);";
    let usage = "#4=NEXT_ASSEMBLY_USAGE_OCCURRENCE('','','',#3,#5,$);#5=PRODUCT_DEFINITION('','',#2,$);\
        #6=NEXT_ASSEMBLY_USAGE_OCCURRENCE('','','',#5,#3,$);#7=NEXT_ASSEMBLY_USAGE_OCCURRENCE('','','',#8,#3,$);\
        #8=PRODUCT_DEFINITION('','',#2,$);";
    let import = read("a.step", step(&(definitions.to_owned() + usage)));
    assert!(codes(&import).contains(&"part-nesting"), "{:?}", codes(&import));
    // A composite curve of eight levels, each with ten times the next: 10^8 curves, if all were written out.
    let mut data = "#90=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.));\
        #91=(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNIT_ASSIGNED_CONTEXT((#90))REPRESENTATION_CONTEXT('',''));\
        #92=GEOMETRIC_CURVE_SET('',(#100));#93=GEOMETRICALLY_BOUNDED_WIREFRAME_SHAPE_REPRESENTATION('',(#92),#91);"
        .to_owned();
    for level in 0..8 {
        let segment = 200 + level;
        let segments = vec![format!("#{segment}"); 10].join(",");
        data += &format!("#{}=COMPOSITE_CURVE('',({segments}),.F.);", 100 + level);
        data += &format!("#{segment}=COMPOSITE_CURVE_SEGMENT(.CONTINUOUS.,.T.,#{});", 101 + level);
    }
    data += "#108=POLYLINE('',());";
    assert!(read("a.step", step(&data)).design.is_none());
    // A circle that is its own curve, a unit made of itself, a list of lists.
    let own = "#1=SURFACE_CURVE('',#1,(),.T.);#2=GEOMETRIC_CURVE_SET('',(#1,#3));#3=COMPOSITE_CURVE('',(#4),.F.);#4=COMPOSITE_CURVE_SEGMENT(.T.,.T.,#3);\
        #90=(CONVERSION_BASED_UNIT('X',#94)LENGTH_UNIT()NAMED_UNIT(*));#94=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(2.),#90);\
        #91=(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNIT_ASSIGNED_CONTEXT((#90))REPRESENTATION_CONTEXT('',''));#93=SHAPE_REPRESENTATION('',(#2),#91);";
    assert!(read("a.step", step(own)).design.is_none());
    let deep = format!("#1=SHAPE_REPRESENTATION('',{}{},$);", "(".repeat(100_000), ")".repeat(100_000));
    assert!(read("a.step", step(&deep)).design.is_none());
}

#[test]
fn coordinates_beyond_numbers_are_named_by_their_line() {
    for value in ["NaN", "1e999", "inf", "-Infinity", "0x10", ""] {
        let mut drawing = Drawing::new(4);
        drawing.entity("LINE", "T", &[(10, value.to_owned()), (20, "0".into()), (11, "5".into())]);
        let refused = import(&drawing, &json!({"sections": {"T": {"od": 30, "wall": 2}}}));
        assert_eq!(codes(&refused), ["not-a-number"], "{value}");
        assert!(refused.report.findings[0].place.contains("line "));
    }
}

#[test]
fn a_workbook_that_unpacks_without_end_is_refused_by_size() {
    // A stored size in the directory that is a lie would not help: parts are unpacked for counting.
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("big.xlsx");
    let script = "import sys, zipfile\n\
        z = zipfile.ZipFile(sys.argv[1], 'w', zipfile.ZIP_DEFLATED)\n\
        z.writestr('xl/worksheets/sheet1.xml', b' ' * 200_000_000)\nz.close()\n";
    let python = std::env::var("MATCHMARK_PYTHON").unwrap_or_else(|_| "python3".into());
    assert!(std::process::Command::new(python).args(["-c", script]).arg(&path).status().unwrap().success());
    let refused = read("big.xlsx", std::fs::read(path).unwrap());
    assert_eq!(codes(&refused), ["too-large"]);
}

#[test]
fn one_row_of_cells_without_end_is_refused() {
    let wide = ";".repeat(3_000_000);
    assert_eq!(codes(&read("t.csv", format!("x;y;z\n{wide}\n").into_bytes())), ["too-large"]);
}

#[test]
fn many_lines_through_one_place_end_soon() {
    let mut drawing = Drawing::new(4);
    for number in 0..5_000 {
        drawing.line("T", [0.0, 0.0, 0.0], [500.0, 0.001 * f64::from(number), 0.0]);
    }
    let read = import(&drawing, &json!({"sections": {"T": {"od": 30, "wall": 2}}}));
    assert_ne!(read.report.findings.len(), 0);
    assert!(read.report.findings.len() < 500);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn random_bytes_of_any_name_are_answered(
        bytes in prop::collection::vec(any::<u8>(), 0..600),
        name in prop::sample::select(vec!["a.dxf", "a.step", "a.csv", "a.xlsx", "a"]),
        begins in prop::sample::select(vec![&b""[..], b"  0\nSECTION\n  2\nENTITIES\n", b"ISO-10303-21;DATA;", b"x,y,z\n", b"PK\x03\x04"]),
    ) {
        let bytes = [begins, &bytes].concat();
        let import = read(name, bytes);
        prop_assert!(import.design.is_none());
        prop_assert!(!import.report.findings.is_empty() || !import.report.questions.is_empty());
    }

    #[test]
    fn spoiled_files_are_answered(
        which in prop::sample::select(vec!["dxf_blocks_mirrored_insert", "step_wire_composite", "step_assembly_mirrored_operator", "csv_bender_xyz_table"]),
        spoils in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0_u8..3), 1..8),
    ) {
        let (mut file, answers) = spoiled_source(which);
        for (at, byte, how) in spoils {
            let at = at.index(file.bytes.len());
            match how {
                0 => file.bytes[at] = byte,
                1 => { file.bytes.remove(at); }
                _ => file.bytes.insert(at, byte),
            }
        }
        let import = import_text(&[file], Some(&answers), None, Stop::NEVER).unwrap();
        prop_assert_eq!(import.design.is_some(), import.report.outcome == Outcome::Read);
    }
}

/// The first file of a case with its answers, unpacked once.
fn spoiled_source(case: &str) -> (SourceFile, String) {
    static FOLDER: std::sync::LazyLock<tempfile::TempDir> = std::sync::LazyLock::new(unpacked);
    let case = FOLDER.path().join(case);
    let expected: Value = serde_json::from_str(&std::fs::read_to_string(case.join("expected.json")).unwrap()).unwrap();
    (sources(&case, &expected).remove(0), expected["ask"].to_string())
}
