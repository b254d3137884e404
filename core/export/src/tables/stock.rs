//! Stock plans: a row for each cut in the order of sawing.

use super::Listed;
use crate::facts::Subject;
use crate::table::{Table, Value};
use crate::words::Words;
use matchmark_core::stock::{EndName, Plan, PlanPattern, SawCut, SawnEnd, paper_plan};
use std::collections::BTreeMap;

const COLUMNS: [&str; 17] = [
    "section",
    "size",
    "pattern",
    "bars",
    "bundles",
    "bar_length:mm",
    "cut",
    "at:mm",
    "saw:deg",
    "turn:deg",
    "part_off",
    "part_off_end",
    "part_off_length:mm",
    "part_begun",
    "part_begun_end",
    "remnant:mm",
    "keep_remnant",
];

pub(super) const LISTED: Listed = Listed {
    name: "stock-plan",
    about: Words::about_stock,
    is_there: |sheets| sheets.stock.iter().any(|section| section.request().is_some()),
    table: of_frame,
};

/// One plan with what it is of.
pub struct Planned<'a> {
    /// Name of the section.
    pub section: &'a str,
    /// Section as a fitter calls it.
    pub size: &'a str,
    /// Length of each part by its id, mm.
    pub lengths: BTreeMap<&'a str, f64>,
    /// The plan.
    pub plan: &'a Plan,
}

/// Plans as one table.
#[must_use]
pub fn table(plans: &[Planned]) -> Table {
    let mut table = Table::new(&LISTED, &COLUMNS);
    for planned in plans {
        for (index, pattern) in planned.plan.patterns.iter().enumerate() {
            push_pattern(&mut table, planned, index + 1, pattern);
        }
    }
    table
}

/// The plans that the paper of a frame draws, from bars of the document's lengths.
fn of_frame(subject: &Subject) -> Table {
    let planned: Vec<_> = subject
        .sheets
        .stock
        .iter()
        .filter_map(|section| {
            let request = section.request()?;
            // A section that no plan can be made for is said on paper, in the section's place.
            Some((section, paper_plan(&request).ok()?))
        })
        .collect();
    let sizes: Vec<String> = planned.iter().map(|(section, _)| section.size.to_string()).collect();
    let listed: Vec<Planned> = planned
        .iter()
        .zip(&sizes)
        .map(|((section, plan), size)| Planned {
            section: &section.section,
            size,
            lengths: section.parts.iter().map(|part| (part.number.as_str(), part.length)).collect(),
            plan,
        })
        .collect();
    table(&listed)
}

fn push_pattern(table: &mut Table, planned: &Planned, number: usize, pattern: &PlanPattern) {
    let Some(sawing) = &pattern.sawing else { return };
    let bar: [Value; 6] = [
        planned.section.into(),
        planned.size.into(),
        number.into(),
        pattern.count.into(),
        sawing.bundles.into(),
        pattern.stock_length.into(),
    ];
    let last: [Value; 2] = [pattern.remnant.into(), sawing.keep_remnant.into()];
    for (index, cut) in sawing.saw.iter().enumerate() {
        table.push(bar.iter().cloned().chain(cut_cells(planned, index + 1, cut)).chain(last.clone()));
    }
    if sawing.saw.is_empty() {
        // One part as long as the bar: nothing is sawn, but the bar is wanted.
        table.push(bar.into_iter().chain([const { Value::Empty }; 9]).chain(last));
    }
}

fn cut_cells(planned: &Planned, number: usize, cut: &SawCut) -> [Value; 9] {
    let end = |sawn: &Option<SawnEnd>| {
        sawn.as_ref().map(|sawn| match sawn.end {
            EndName::From => "from",
            EndName::To => "to",
        })
    };
    let id = |sawn: &Option<SawnEnd>| Value::from(sawn.as_ref().map(|sawn| sawn.id.as_str()));
    let length = cut.ends.as_ref().and_then(|ends| planned.lengths.get(ends.id.as_str()).copied());
    [
        number.into(),
        cut.at.into(),
        cut.angle_deg.into(),
        cut.turn_deg.into(),
        id(&cut.ends),
        end(&cut.ends).into(),
        length.into(),
        id(&cut.begins),
        end(&cut.begins).into(),
    ]
}
