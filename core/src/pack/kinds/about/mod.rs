//! What holds for the whole frame: the supplier's own words, this kit's choices and measured values, what it is made of, and where
//! zero lies.

mod zero;
use super::cover::contents_of;
use super::drawings::Standing;
use crate::drawing::Area;
use crate::pack::layout::figures::{Figures, members};
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, RenderError};
use crate::sheets::{About, Sheets, Zero};

/// Title of the page, as other pages refer to it.
pub(in crate::pack) const TITLE: &str = "Frame, notes and zero";

/// Where to read how the coordinates on other pages are to be understood.
pub(in crate::pack) const WHERE: &str = "see the page \"Frame, notes and zero\"";

fn sections() -> [Column; 5] {
    [
        Column::marks("section", 0.16),
        Column::words("size, mm", 0.16),
        Column::words("material", 0.38),
        Column::figures("tensile strength, N/mm2", 0.14),
        Column::figures("least straight between bends, mm", 0.16),
    ]
}

fn gauges() -> [Column; 5] {
    [
        Column::marks("to measure", 0.18),
        Column::words("between which places", 0.4),
        Column::figures("nominal, mm", 0.12),
        Column::figures("allowed for", 0.18),
        Column::figures("this kit, mm", 0.12),
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
    let mut flow = Flow::new(furniture, area, TITLE);
    if !about.description.is_empty() {
        flow.paragraph(&about.description);
    }
    if !about.notes.is_empty() {
        flow.heading("Notes of the supplier");
        for (index, note) in about.notes.iter().enumerate() {
            flow.marked(&(index + 1).to_string(), note);
        }
    }
    if !about.zero.is_empty() {
        write_zero(&mut flow, about, standing, area, furniture);
    }
    if !about.choices.is_empty() {
        flow.heading("Choices of this kit");
        for chosen in &about.choices {
            flow.fact(&chosen.option, &format!("{}: {}", chosen.what, chosen.choice));
        }
    }
    if !about.gauges.is_empty() {
        write_gauges(&mut flow, sheets);
    }
    write_made_of(&mut flow, about);
    Ok(contents_of(flow, TITLE))
}

/// The axes, the base plane and where zero lies, in words and on a view of the frame.
fn write_zero(flow: &mut Flow, about: &About, standing: Option<&Standing>, area: Area, furniture: Furniture) {
    let figures = flow.figures();
    flow.heading("Zero, axes and base plane");
    flow.paragraph(&format!(
        "All coordinates in this pack are of points on centrelines, in {}: x forward, y left, z up, as one sits in the frame. They begin at one point, zero:",
        figures.unit_name()
    ));
    for (axis, zero) in about.zero.iter().enumerate() {
        flow.fact(&format!("{} = 0", ["x", "y", "z"][axis]), &words(axis, zero, figures));
    }
    let base = match figures.bare(about.base.abs()) {
        _ if about.base == 0.0 => "at z = 0".to_owned(),
        off if about.base < 0.0 => format!("at z = -{off}, {off} {} below zero", figures.unit()),
        off => format!("at z = {off}, {off} {} above zero", figures.unit()),
    };
    let lies = match about.on_base.len() {
        0 => "Nothing of the frame lies on it".to_owned(),
        1 => format!("{} lies on it", about.on_base[0]),
        _ => format!("{} lie on it", members(&about.on_base)),
    };
    flow.fact(
        "base plane",
        &format!(
            "{base}: the level bed on which the frame is built. {lies}; what stands higher is held by packers or by other parts, as the steps of the fit-up order say."
        ),
    );
    if let Some(standing) = standing {
        zero::draw(flow, about, standing, area, furniture);
    }
}

/// Where zero lies along an axis, from the end of a tube.
fn words(axis: usize, zero: &Zero, figures: Figures) -> String {
    let end = format!("{} end of {}", figures.end(zero.end), zero.member);
    if let Some(other) = &zero.halfway_to {
        return format!("halfway between the {end} and that of {other}");
    }
    let [ahead, behind] = [["behind", "in front of"], ["to the right of", "to the left of"], ["below", "above"]][axis];
    match figures.length(zero.off.abs()) {
        _ if zero.off.abs() < 0.05 => format!("at the {end}"),
        off if zero.off > 0.0 => format!("{off} {ahead} the {end}"),
        off => format!("{off} {behind} the {end}"),
    }
}

fn write_gauges(flow: &mut Flow, sheets: &Sheets) {
    let (about, figures) = (&sheets.about, flow.figures());
    flow.heading("What you measure and tell the supplier");
    flow.paragraph(
        "A bent part is never true to the millimetre. Tell what you measured, on the page of your kit, before you cut what goes to it: a new pack is then fitted to the part that you have.",
    );
    if !sheets.measured.is_empty() {
        let made: Vec<String> = sheets.measured.iter().map(|part| part.member.clone()).collect();
        flow.paragraph(&format!(
            "Measured and made already: {}. This pack is fitted to what was told, so measure again only what is not told below.",
            members(&made)
        ));
    }
    flow.start_table(&gauges());
    for gauge in &about.gauges {
        let [least, most] = [figures.at_least(gauge.limits[0]), figures.at_most(gauge.limits[1])];
        flow.row(
            &[
                gauge.gauge.clone(),
                gauge.what.clone(),
                figures.short(gauge.nominal),
                format!("{least} to {most}"),
                gauge.measured.map_or_else(|| "not told".to_owned(), |mm| figures.short(mm)),
            ],
            "",
        );
    }
    flow.end_table();
}

fn write_made_of(flow: &mut Flow, about: &About) {
    let figures = flow.figures();
    if !about.sections.is_empty() {
        flow.heading("Sections and materials");
        flow.start_table(&sections());
        for row in &about.sections {
            let stated = |value: Option<String>| value.unwrap_or_else(|| "not stated".to_owned());
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
        flow.heading("Roll structure, as the design names it");
        flow.paragraph("For information: what counts as one is for the rules of your governing body to say.");
        for row in &about.roll_structure {
            flow.fact(figures.roll_structure(row.what), &members(&row.members));
        }
    }
}
