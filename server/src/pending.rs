//! Stand-ins for parts of the engine that are not merged yet; each is one call to replace.

use crate::engine::EngineError;
use matchmark_core::Evaluation;
use matchmark_core::pack::Issue;
use matchmark_core::sheets::Wrap;

pub fn pack_pdf(_: &Evaluation, issue: &Issue) -> Result<Vec<u8>, EngineError> {
    Ok(format!("%PDF-1.7\n% {issue:?}\n%%EOF\n").into_bytes())
}

pub fn wrap_pdf(_: &Evaluation, wrap: &Wrap, issue: &Issue) -> Result<Vec<u8>, EngineError> {
    Ok(format!("%PDF-1.7\n% {wrap:?} {issue:?}\n%%EOF\n").into_bytes())
}

pub fn wrap_svg(wrap: &Wrap, _: &Issue) -> Result<String, EngineError> {
    Ok(format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\"><title>{}</title></svg>",
        wrap.member
    ))
}

pub fn joint(text: &str) -> Result<String, EngineError> {
    match serde_json::from_str::<serde_json::Value>(text) {
        Ok(_) => Ok("{\"results\":[]}".to_owned()),
        Err(error) => Err(EngineError::Joint {
            code: "not-json",
            pointer: String::new(),
            message: error.to_string(),
        }),
    }
}

pub fn schema() -> serde_json::Value {
    serde_json::json!({"$schema": "https://json-schema.org/draft/2020-12/schema"})
}

/// Stand-in sheets: a row a member, a wrap an end that is not square, all lengths by the points alone.
pub fn evaluate(text: &str) -> Evaluation {
    use matchmark_core::document::{Finding, Severity};
    use matchmark_core::sheets::*;
    let real = matchmark_core::evaluate(text);
    if real.sheets.is_some() || !real.findings.is_empty() {
        return real;
    }
    let find = |severity, code: &str, pointer: String, message: String| Finding {
        severity,
        code: code.to_owned(),
        pointer,
        members: Vec::new(),
        message,
    };
    let mut evaluation = real;
    let document: serde_json::Value = match serde_json::from_str(text) {
        Ok(value) => value,
        Err(error) => {
            let message = error.to_string();
            let found = find(Severity::Error, "not-json", String::new(), message);
            evaluation.findings.push(found);
            return evaluation;
        }
    };
    let canonical = document.to_string();
    evaluation.sha256 = Some(crate::hash::sha256_hex(&canonical));
    evaluation.canonical = Some(canonical);
    evaluation.name = document["name"].as_str().unwrap_or_default().to_owned();
    let (mut rows, mut wraps, mut steps) = (Vec::new(), Vec::new(), Vec::new());
    let members = document["members"].as_array().cloned().unwrap_or_default();
    for (index, member) in members.iter().enumerate() {
        let at = |end: &str| {
            let name = member[end].as_str().unwrap_or_default();
            let at = |axis: usize| document["points"][name][axis].as_f64();
            Some([at(0)?, at(1)?, at(2)?])
        };
        let id = member["id"].as_str().unwrap_or_default().to_owned();
        let (Some(a), Some(b)) = (at("from"), at("to")) else {
            let found = find(
                Severity::Error,
                "unknown-point",
                format!("/members/{index}/from"),
                "There is no such point; name one of points.".to_owned(),
            );
            evaluation.findings.push(found);
            continue;
        };
        let length = (0..3).map(|i| (a[i] - b[i]).powi(2)).sum::<f64>().sqrt();
        let end = |cut: &str| EndSummary {
            cut: cut.to_owned(),
            fits: Vec::new(),
            mitre_deg: None,
            long_point_deg: None,
        };
        rows.push(CutRow {
            member: id.clone(),
            section: "hoop".to_owned(),
            size: "45 x 2.5".to_owned(),
            material: "cds".to_owned(),
            overall: length,
            centreline: length,
            short: length,
            blank: length,
            leave_long: [0.0; 2],
            from: end("square"),
            to: end("mitre"),
            clock_between_ends_deg: None,
            bends: 0,
            mass_kg: 1.0,
        });
        wraps.push(Wrap {
            member: id.clone(),
            end: End::To,
            size: "45 x 2.5".to_owned(),
            od: 45.0,
            wall: 2.5,
            cut: "mitre".to_owned(),
            fits: Vec::new(),
            circumference: 141.37,
            outer: Vec::new(),
            relief: Vec::new(),
            height: 50.0,
            bevels: Vec::new(),
            index_lines: Vec::new(),
            long_point: None,
            other_long_point: None,
            set_out: SetOut {
                datum: Datum::OtherEnd,
                distance: 500.0,
            },
            overall: length,
            largest_relief: 0.0,
            misses: Vec::new(),
        });
        let fit = |end, at| FitUpEnd {
            end,
            cut: "square".to_owned(),
            fits: Vec::new(),
            at,
            trim: 0.0,
        };
        steps.push(FitUpStep {
            number: index + 1,
            member: id,
            size: "45 x 2.5".to_owned(),
            ends: [fit(End::From, a), fit(End::To, b)],
            note: String::new(),
        });
    }
    if evaluation.findings.is_empty() {
        evaluation.sheets = Some(Sheets {
            cut_sheet: CutSheet {
                rows,
                total_mass_kg: 1.0,
            },
            wraps,
            bend_sheets: Vec::new(),
            fit_up: FitUp { steps },
        });
    }
    evaluation
}
