//! Stock plans as CSV (RFC 4180): a line for each cut in the order of sawing. Text that a spreadsheet would take for a formula is
//! marked as text by an apostrophe before it.

use axum::http::header;
use axum::response::{IntoResponse, Response};
use matchmark_core::stock::{EndName, Plan, PlanPattern, SawCut};
use std::collections::BTreeMap;

const HEAD: &str = "section,size,pattern,bars,bundles,bar_length_mm,cut,at_mm,saw_deg,turn_deg,part_off,part_off_end,part_off_length_mm,part_begun,part_begun_end,remnant_mm,keep_remnant";

/// One plan with what it is of.
pub struct Listed<'a> {
    pub section: &'a str,
    pub size: &'a str,
    /// Length of each part by its id.
    pub lengths: BTreeMap<&'a str, f64>,
    pub plan: &'a Plan,
}

/// The answer.
pub fn answer(plans: &[Listed]) -> Response {
    let mut text = format!("{HEAD}\r\n");
    for listed in plans {
        for (index, pattern) in listed.plan.patterns.iter().enumerate() {
            write_pattern(&mut text, listed, index + 1, pattern);
        }
    }
    let kind = [
        (header::CONTENT_TYPE, "text/csv; charset=utf-8; header=present"),
        (header::CONTENT_DISPOSITION, "attachment; filename=\"stock-plan.csv\""),
    ];
    (kind, text).into_response()
}

fn write_pattern(text: &mut String, listed: &Listed, number: usize, pattern: &PlanPattern) {
    let Some(sawing) = &pattern.sawing else { return };
    let bar = [
        field(listed.section),
        field(listed.size),
        number.to_string(),
        pattern.count.to_string(),
        sawing.bundles.to_string(),
        pattern.stock_length.to_string(),
    ];
    let last = [pattern.remnant.to_string(), sawing.keep_remnant.to_string()];
    for (index, cut) in sawing.saw.iter().enumerate() {
        write_line(text, [&bar[..], &cut_fields(listed, index + 1, cut), &last].concat());
    }
    if sawing.saw.is_empty() {
        // One part as long as the bar: nothing is sawn, but the bar is wanted.
        write_line(text, [&bar[..], &[const { String::new() }; 9], &last].concat());
    }
}

fn cut_fields(listed: &Listed, number: usize, cut: &SawCut) -> [String; 9] {
    let end = |end: EndName| match end {
        EndName::From => "from".to_owned(),
        EndName::To => "to".to_owned(),
    };
    let (mut off, mut off_end, mut length, mut begun, mut begun_end) = Default::default();
    if let Some(ends) = &cut.ends {
        off = field(&ends.id);
        off_end = end(ends.end);
        length = listed.lengths.get(ends.id.as_str()).map_or_else(String::new, f64::to_string);
    }
    if let Some(begins) = &cut.begins {
        begun = field(&begins.id);
        begun_end = end(begins.end);
    }
    let figures = [cut.at, cut.angle_deg, cut.turn_deg].map(|figure| figure.to_string());
    let [at, angle, turn] = figures;
    [number.to_string(), at, angle, turn, off, off_end, length, begun, begun_end]
}

fn write_line(text: &mut String, fields: Vec<String>) {
    text.push_str(&fields.join(","));
    text.push_str("\r\n");
}

/// A text as a field: quoted where RFC 4180 asks for it, and never the beginning of a formula.
fn field(text: &str) -> String {
    let mut safe = text.to_owned();
    if text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n']) {
        safe.insert(0, '\'');
    }
    if safe.contains([',', '"', '\r', '\n']) {
        safe = format!("\"{}\"", safe.replace('"', "\"\""));
    }
    safe
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_are_quoted_and_are_no_formulas() {
        assert_eq!(field("FT101"), "FT101");
        assert_eq!(field("a,b"), "\"a,b\"");
        assert_eq!(field("say \"A\""), "\"say \"\"A\"\"\"");
        assert_eq!(field("=1+1"), "'=1+1");
        assert_eq!(field("@SUM(A1,A2)"), "\"'@SUM(A1,A2)\"");
    }
}
