//! What holds for the whole frame: the supplier's own words, this kit's choices and measured values, what it is made of, and where
//! zero lies.

mod zero;
use super::cover::contents_of;
use super::drawings::Standing;
use crate::drawing::Area;
use crate::pack::layout::figures::{Figures, members};
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::sheets::{About, Sheets, Zero};
fn sections(figures: Figures) -> [Column; 5] {
    let (say, unit) = (&figures.words.about, figures.unit());
    [
        Column::marks(say.head_section(), 0.16),
        Column::words(say.head_size(unit), 0.16),
        Column::words(say.head_material(), 0.38),
        Column::figures(say.head_strength(figures.strength_unit()), 0.14),
        Column::figures(say.head_clamp(unit), 0.16),
    ]
}

fn gauges(figures: Figures) -> [Column; 5] {
    let (say, unit) = (&figures.words.about, figures.unit());
    [
        Column::marks(say.head_gauge(), 0.18),
        Column::words(say.head_between(), 0.4),
        Column::figures(say.head_nominal(unit), 0.12),
        Column::figures(say.head_allowed(), 0.18),
        Column::figures(say.head_this_kit(unit), 0.12),
    ]
}

/// The pages on the whole frame; none for sheets that know nothing of it.
pub(in crate::pack) fn pages(
    sheets: &Sheets,
    standing: Option<&Standing>,
    furniture: Furniture,
) -> Result<Vec<Content>, RenderError> {
    let about = &sheets.about;
    if *about == About::default() {
        return Ok(Vec::new());
    }
    let area = furniture.content_area();
    let (title, say) = (furniture.words.kinds.about(), &furniture.words.about);
    let mut flow = Flow::new(furniture, area, title);
    if !about.description.is_empty() {
        flow.paragraph(&about.description);
    }
    if !about.notes.is_empty() {
        flow.heading(say.heading_notes());
        for (index, note) in about.notes.iter().enumerate() {
            flow.marked(&(index + 1).to_string(), note);
        }
    }
    if !about.zero.is_empty() {
        write_zero(&mut flow, about, standing, area, furniture);
    }
    if !about.choices.is_empty() {
        flow.heading(say.heading_choices());
        for chosen in &about.choices {
            flow.fact(&chosen.option, &say.choice(&chosen.what, &chosen.choice));
        }
    }
    if !about.gauges.is_empty() {
        write_gauges(&mut flow, sheets);
    }
    write_made_of(&mut flow, about);
    Ok(contents_of(flow, OnPage::of_frame(SheetKind::About, title)))
}

/// The axes, the base plane and where zero lies, in words and on a view of the frame.
fn write_zero(flow: &mut Flow, about: &About, standing: Option<&Standing>, area: Area, furniture: Furniture) {
    let (figures, say) = (flow.figures(), &furniture.words.zero);
    flow.heading(say.heading());
    flow.paragraph(&say.coordinates(figures.unit_name()));
    for (axis, zero) in about.zero.iter().enumerate() {
        flow.fact(&format!("{} = 0", ["x", "y", "z"][axis]), &words(axis, zero, figures));
    }
    let (z, off) = (figures.bare(about.base), figures.length(about.base.abs()));
    let base = match about.base {
        0.0 => say.base_at_zero().to_owned(),
        below if below < 0.0 => say.base_below(z, off),
        _ => say.base_above(z, off),
    };
    let lies = match about.on_base.as_slice() {
        [] => say.nothing_lies().to_owned(),
        [one] => say.one_lies(one),
        several => say.some_lie(members(several)),
    };
    flow.fact(say.base_plane(), &format!("{base} {lies}"));
    if let Some(standing) = standing {
        zero::draw(flow, about, standing, area, furniture);
    }
}

/// Where zero lies along an axis, from the end of a tube.
fn words(axis: usize, zero: &Zero, figures: Figures) -> String {
    let (say, end, part) = (&figures.words.zero, figures.end(zero.end), &zero.member);
    if let Some(other) = &zero.halfway_to {
        return say.halfway(end, part, other);
    }
    let off = figures.length(zero.off.abs());
    match (axis, zero.off > 0.0) {
        _ if zero.off.abs() < 0.05 => say.at(end, part),
        (0, true) => say.behind(off, end, part),
        (0, false) => say.in_front(off, end, part),
        (1, true) => say.right(off, end, part),
        (1, false) => say.left(off, end, part),
        (_, true) => say.below(off, end, part),
        (_, false) => say.above(off, end, part),
    }
}

fn write_gauges(flow: &mut Flow, sheets: &Sheets) {
    let (about, figures) = (&sheets.about, flow.figures());
    let say = &figures.words.about;
    flow.heading(say.heading_gauges());
    flow.paragraph(say.why_measure());
    if !sheets.measured.is_empty() {
        let made: Vec<String> = sheets.measured.iter().map(|part| part.member.clone()).collect();
        flow.paragraph(&say.made_already(members(&made)));
    }
    flow.start_table(&gauges(figures));
    for gauge in &about.gauges {
        let [least, most] = [figures.at_least(gauge.limits[0]), figures.at_most(gauge.limits[1])];
        flow.row(
            &[
                gauge.gauge.clone(),
                gauge.what.clone(),
                figures.short(gauge.nominal),
                say.limits(least, most),
                gauge.measured.map_or_else(|| say.not_told().to_owned(), |mm| figures.short(mm)),
            ],
            "",
        );
    }
    flow.end_table();
}

fn write_made_of(flow: &mut Flow, about: &About) {
    let figures = flow.figures();
    let say = &figures.words.about;
    if !about.sections.is_empty() {
        flow.heading(say.heading_made_of());
        flow.start_table(&sections(figures));
        for row in &about.sections {
            let stated = |value: Option<String>| value.unwrap_or_else(|| say.not_stated().to_owned());
            flow.row(
                &[
                    row.section.clone(),
                    figures.size(row.size),
                    row.material.clone(),
                    stated(row.tensile.map(|value| figures.strength(value))),
                    stated(row.clamp.map(|mm| figures.short(mm))),
                ],
                "",
            );
        }
        flow.end_table();
    }
    if !about.roll_structure.is_empty() {
        flow.heading(say.heading_roll_structure());
        flow.paragraph(say.who_rules());
        for row in &about.roll_structure {
            flow.fact(figures.roll_structure(row.what), &members(&row.members));
        }
    }
}
