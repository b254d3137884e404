//! The fit-up order, with boxes to tick, and a view for every few steps: what they add dark, what stands already light.

mod view;

use super::about;
use super::cover::contents_of;
use super::drawings::Standing;
use super::drawings::plot::part_number;
use super::figures::{Figures, cut_and_fits, end_name};
use super::flow::{Flow, baseline, break_lines};
use super::furniture::Furniture;
use super::pairs::mirror_image;
use super::plates;
use super::{Content, RenderError, barred};
use crate::document::other_hand;
use crate::drawing::{Area, Face, Lettering, Path, Pen, Text};
use crate::sheets::{FitUpEnd, FitUpGauge, FitUpStep, Height, Sheets, StepKind};
use view::Views;

/// Where the words of a step begin, right of its box and number.
const INDENT: f64 = 18.0;

/// Most parts that one view adds; one more where it is the opposite hand of the last.
const MOST: usize = 6;

/// The pages of the fit-up order; none when there are no steps.
pub(super) fn pages(
    sheets: &Sheets,
    standing: Option<&Standing>,
    furniture: Furniture,
) -> Result<Vec<Content>, RenderError> {
    if sheets.fit_up.steps.is_empty() {
        return Ok(Vec::new());
    }
    let area = furniture.content_area();
    let mut flow = Flow::new(furniture, area, "Fit-up order");
    flow.paragraph(&format!(
        "Tack each part where it belongs, check it with tape and square, and tick its box. Weld only when the whole frame is tacked and its widths and diagonals are checked. Places are points of the design on the middle line of a tube, at a cope on that of the tube that is met, beyond the cut: x forward, y left, z up, in {} from the frame's zero: {}.",
        furniture.figures().unit_name(),
        about::WHERE
    ));
    if let Some(since) = furniture.issue.since.as_ref().filter(|since| since.only) {
        flow.paragraph(&format!(
            "{} In brackets stands the number of the step of revision {} that each takes the place of, and whether it changed.",
            if since.changes.renumbers_steps() {
                "This is the whole order, and takes the place of all pages of the one before: its steps have other numbers."
            } else {
                "Only the steps that changed are here. Their numbers are those of the whole order of this revision."
            },
            since.revision
        ));
    }
    let steps: Vec<Step> = sheets.fit_up.steps.iter().map(|step| Step::of(sheets, step, area, furniture)).collect();
    let Some(standing) = standing else {
        for step in &steps {
            step.write(&mut flow, area);
        }
        return Ok(contents_of(flow, "Fit-up order"));
    };
    flow.paragraph(
        "Each view shows the parts of the steps under it dark, with the number of the step and the part, and what stands already light. It is isometric, from the front, the left and above, and not to a scale.",
    );
    let views = Views::of(sheets, standing, area, furniture);
    let mut rest = &steps[..];
    while !rest.is_empty() {
        let least: f64 = rest[..group(rest, f64::INFINITY).min(2)].iter().map(Step::height).sum();
        flow.need(views.height() + least);
        let count = group(rest, flow.top() - area.y - views.height());
        let (now, later) = rest.split_at(count);
        let shown: Vec<(usize, &str)> =
            now.iter().filter(|step| step.stands).map(|step| (step.number, step.member)).collect();
        let top = flow.top();
        views.draw(&shown, top, flow.page());
        flow.skip(views.height());
        for step in now {
            step.write(&mut flow, area);
        }
        rest = later;
    }
    Ok(contents_of(flow, "Fit-up order"))
}

/// How many of the next steps go under one view where so much height is left for them; one at least. A left and a right part
/// stay together, and what is done after a part stays with it.
fn group(steps: &[Step], room: f64) -> usize {
    let (mut parts, mut height) = (0, 0.0);
    for (index, step) in steps.iter().enumerate() {
        height += step.height();
        let is_pair = index > 0 && other_hand(steps[index - 1].member).is_some_and(|other| other == step.member);
        let is_part = matches!(step.kind, StepKind::Tube | StepKind::Plate);
        let is_full = is_part && (parts > MOST || parts == MOST && !is_pair);
        if index > 0 && (height > room || is_full) {
            return index;
        }
        parts += usize::from(is_part);
    }
    steps.len()
}

/// A step as it is written.
struct Step<'a> {
    number: usize,
    kind: StepKind,
    member: &'a str,
    /// False for a part that is trimmed before it is put in place.
    stands: bool,
    title: Vec<String>,
    lines: Vec<String>,
}

impl<'a> Step<'a> {
    fn of(sheets: &Sheets, step: &'a FitUpStep, area: Area, furniture: Furniture) -> Self {
        let line = |end: &FitUpEnd| match step.kind {
            StepKind::Trim => trim_line(end, furniture.figures()),
            _ => end_line(end, step.number, furniture.figures()),
        };
        let mut words = barred::of_step(step, furniture.issue);
        words.extend(step.ends.iter().map(line));
        let stands = sheets.fit_up.placed_at(&step.member).is_none_or(|placed| placed <= step.number);
        words.extend((step.kind == StepKind::Trim).then(|| {
            let place = if stands { "Where it stands" } else { "On the bench" };
            format!("{place}: lay each wrap by its set-out, mark the line, check the length, then cut.")
        }));
        words.extend((step.kind == StepKind::Tube).then(|| way_round(sheets, &step.member)).flatten());
        words.extend((step.kind == StepKind::Plate).then(|| plates::place(sheets, &step.member, furniture)).flatten());
        words.extend(step.height.as_ref().map(|height| held(height, furniture.figures())));
        if step.gap > 0.0 {
            let gap = furniture.figures().short_length(step.gap);
            words.push(format!("root gap {gap} at the coped ends: the cut lines leave it"));
        }
        let note = step.note.replace(['\n', '\r', '\t'], " ");
        match step.kind {
            StepKind::Work => words.push(note),
            _ if note.is_empty() => {}
            _ => words.push(format!("Note: {note}")),
        }
        words.extend(step.gauges.iter().map(|gauge| measured(gauge, furniture.figures())));
        if !step.checks.is_empty() {
            words.push(format!("Check now: {}", step.checks.join(", ")));
        }
        let broken =
            |text: &str, lettering, face| break_lines(furniture.letters, text, lettering, face, area.width - INDENT);
        let lines = words.iter().flat_map(|text| broken(text, Lettering::Body, Face::Regular));
        Self {
            number: step.number,
            kind: step.kind,
            member: &step.member,
            stands,
            title: broken(&title_of(sheets, step, furniture), Lettering::Heading, Face::Bold),
            lines: lines.collect(),
        }
    }

    #[allow(clippy::cast_precision_loss)]
    fn height(&self) -> f64 {
        self.title.len() as f64 * Lettering::Heading.leading()
            + self.lines.len() as f64 * Lettering::Body.leading()
            + 3.6
    }

    fn write(&self, flow: &mut Flow, area: Area) {
        flow.need(self.height().min(area.height / 2.0));
        flow.skip(1.8);
        let top = flow.top();
        flow.page().path(Path::rectangle(Area { x: area.x, y: top - 5.2, width: 4.4, height: 4.4 }, Pen::Edge));
        let number = Text::new(self.number.to_string(), [area.x + 7.0, baseline(top, Lettering::Heading)]);
        flow.page().text(number.lettered(Lettering::Heading).bold());
        for line in &self.title {
            flow.line(line, area.x + INDENT, Lettering::Heading, Face::Bold);
        }
        for line in &self.lines {
            flow.need(Lettering::Body.leading());
            flow.line(line, area.x + INDENT, Lettering::Body, Face::Regular);
        }
        flow.skip(1.8);
        flow.rule(Pen::Rule);
    }
}

/// At which height over the base plane a part is held.
fn held(height: &Height, figures: Figures) -> String {
    let over = figures.short_length(height.over);
    let feet: Vec<&str> = height.feet.iter().map(|end| end_name(*end)).collect();
    match feet.as_slice() {
        _ if height.is_on_base() => "lies on the base plane".to_owned(),
        [] => format!("level, its underside {over} over the base plane: on packers of {over}"),
        [one] => format!("its {one} end stands {over} over the base plane: on a packer of {over}"),
        _ => format!("both ends stand {over} over the base plane: on packers of {over}"),
    }
}

/// Which way round a tube goes, and what is not to be taken for it.
fn way_round(sheets: &Sheets, member: &str) -> Option<String> {
    let faces = sheets.wraps.iter().find(|wrap| wrap.member == member).map(|wrap| wrap.zero_faces)?;
    let hand = mirror_image(sheets, member)
        .map_or_else(String::new, |(opposite, number)| format!("; handed: {opposite}, {number}, does not go here"));
    Some(format!("index line 0 deg faces {faces}{hand}"))
}

fn title_of(sheets: &Sheets, step: &FitUpStep, furniture: Furniture) -> String {
    let (number, figures) = (part_number(sheets, &step.member), furniture.figures());
    let title = match step.kind {
        StepKind::Work => format!("After {}", step.member),
        StepKind::Trim if number.is_empty() => format!("Trim {}", step.member),
        StepKind::Trim => format!("Trim {}   {number}", step.member),
        _ if number.is_empty() => format!("{}   {}", step.member, figures.size(&step.size)),
        _ => format!("{}   {number}   {}", step.member, figures.size(&step.size)),
    };
    let Some(since) = furniture.issue.since.as_ref().filter(|since| since.only) else { return title };
    let place = since.changes.order.iter().find(|place| place.new == Some(step.number));
    match place.and_then(|place| Some((place.old?, place.same))) {
        Some((old, true)) => format!("{title}   (step {old} before)"),
        Some((old, false)) => format!("{title}   (changed, step {old} before)"),
        None => format!("{title}   (new)"),
    }
}

/// What is cut off an end at this step.
fn trim_line(end: &FitUpEnd, figures: Figures) -> String {
    let meets = cut_and_fits(&end.cut, &end.fits);
    format!(
        "{} end: cut off what is left long, {}, by its wrap: {meets}",
        end_name(end.end),
        figures.short_length(end.left_long)
    )
}

/// A gauge, and what to do with what is read.
fn measured(gauge: &FitUpGauge, figures: Figures) -> String {
    let nominal = figures.short(gauge.nominal);
    if let Some(is) = gauge.measured {
        return format!(
            "Measured, {}: {} ({nominal} as designed). This pack is fitted to that: measure it again only to see that nothing moved",
            gauge.name,
            figures.short_length(is)
        );
    }
    let [least, most] = [figures.at_least(gauge.least), figures.at_most(gauge.most)];
    format!(
        "Measure and send in, {}: {}; {nominal} as designed, {least} to {most} {} can be taken into account",
        gauge.name,
        gauge.what,
        figures.unit()
    )
}

fn end_line(end: &FitUpEnd, step: usize, figures: Figures) -> String {
    let meets = cut_and_fits(&end.cut, &end.fits);
    let [x, y, z] = end.at.map(|mm| figures.bare(mm));
    let deep = match end.depth {
        Some(depth) if end.cut == "plug" => format!(", {} deep", figures.short_length(depth)),
        Some(depth) => format!(", {} over it", figures.short_length(depth)),
        None => String::new(),
    };
    let mut line = format!("{} end: {meets}{deep}; at x {x}, y {y}, z {z}", end_name(end.end));
    match end.trimmed_at {
        Some(trimmed) if trimmed < step => line.push_str(&format!("; trimmed at step {trimmed}")),
        Some(trimmed) => {
            let long = figures.short_length(end.left_long);
            line.push_str(&format!("; still {long} longer, trimmed at step {trimmed}"));
        }
        None => {}
    }
    line
}
