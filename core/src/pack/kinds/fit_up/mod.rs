//! The fit-up order, with boxes to tick, and a view for every few steps: what they add dark, what stands already light.

mod view;
use super::cover::contents_of;
use super::drawings::Standing;
use super::drawings::plot::part_number;
use super::pairs::mirror_image;
use super::{about, plates};
use crate::document::other_hand;
use crate::drawing::{Area, Face, Lettering, Path, Pen, Text};
use crate::frame::CutKind;
use crate::pack::kinds::checks;
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::{baseline, break_lines};
use crate::pack::layout::numbering::Pointer;
use crate::pack::layout::step_names::StepNames;
use crate::pack::{Content, RenderError, Since};
use crate::sheets::{FitUpEnd, FitUpGauge, FitUpStep, Height, Sheets, StepKind};
use view::Views;

/// Where the number of a step begins, right of its box, and its words, unless the number is wide, mm.
const NAME: f64 = 7.0;
const INDENT: f64 = 18.0;

/// Room for the numbers of other pages at the end of a line, mm.
const POINTER: f64 = 26.0;

/// Most parts that one view adds; one more where it is the opposite hand of the last.
const MOST: usize = 6;

/// The pages of the fit-up order; none when there are no steps.
pub(in crate::pack) fn pages(
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
        flow.paragraph(&about_numbers(since, furniture));
    }
    let steps: Vec<Step> = sheets.fit_up.steps.iter().map(|step| Step::of(sheets, step, area, furniture)).collect();
    let Some(standing) = standing else {
        let pointers = steps.iter().flat_map(|step| step.write(&mut flow, area)).collect();
        return Ok(with_pointers(flow, pointers));
    };
    flow.paragraph(
        "Each view shows the parts of the steps under it dark, with the number of the step and the part, and what stands already light. It is isometric, from the front, the left and above, and not to a scale.",
    );
    let views = Views::of(sheets, standing, area, furniture);
    let mut rest = &steps[..];
    let mut pointers = Vec::new();
    while !rest.is_empty() {
        let least: f64 = rest[..group(rest, f64::INFINITY).min(2)].iter().map(Step::height).sum();
        flow.need(views.height() + least);
        let count = group(rest, flow.top() - area.y - views.height());
        let (now, later) = rest.split_at(count);
        let shown: Vec<(&str, &str)> =
            now.iter().filter(|step| step.stands).map(|step| (step.name.as_str(), step.member)).collect();
        let top = flow.top();
        views.draw(&shown, top, flow.page());
        flow.skip(views.height());
        pointers.extend(now.iter().flat_map(|step| step.write(&mut flow, area)));
        rest = later;
    }
    Ok(with_pointers(flow, pointers))
}

/// The pages, each with its places for the numbers of other pages.
fn with_pointers(flow: Flow, pointers: Vec<(usize, Pointer)>) -> Vec<Content> {
    let mut contents = contents_of(flow, "Fit-up order");
    for (page, pointer) in pointers {
        contents[page].pointers.push(pointer);
    }
    contents
}

/// What the numbers of the steps of a pack of what changed are.
fn about_numbers(since: &Since, furniture: Furniture) -> String {
    let (names, revision) = (StepNames::of(furniture), &since.revision);
    let example =
        names.name(since.changes.order.iter().find(|place| !place.same).and_then(|place| place.new).unwrap_or(1));
    let numbers = match (since.changes.renumbers_steps(), names.are_own()) {
        (true, false) => {
            "This is the whole order, and takes the place of all pages of the one before: its steps have other numbers."
                .to_owned()
        }
        (true, true) => format!(
            "This is the whole order, and takes the place of all pages of the one before. Its steps have numbers such as {example}, so that none is taken for one of that."
        ),
        (false, false) => {
            "Only the steps that changed are here. Their numbers are those of the whole order of this revision."
                .to_owned()
        }
        (false, true) => format!(
            "Only the steps that changed are here. Their numbers, such as {example}, are of these pages alone: a number without a letter is one of the order that is kept."
        ),
    };
    format!(
        "{numbers} In brackets stands which step of revision {revision} each takes the place of, whether it changed, and of a new one when it is done."
    )
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
    name: String,
    /// Where its words begin, from the left edge.
    indent: f64,
    kind: StepKind,
    member: &'a str,
    /// False for a part that is trimmed before it is put in place.
    stands: bool,
    title: Vec<String>,
    /// Its lines, each with what is found on the page whose number stands at its end.
    lines: Vec<(String, Vec<String>)>,
}

impl<'a> Step<'a> {
    fn of(sheets: &Sheets, step: &'a FitUpStep, area: Area, furniture: Furniture) -> Self {
        let name = StepNames::of(furniture).name(step.number);
        let indent = INDENT.max(NAME + furniture.letters.width(&name, Lettering::Heading, Face::Bold) + 3.0);
        let is_trim = step.kind == StepKind::Trim;
        let line = |end: &FitUpEnd| {
            if is_trim { trim_line(end, furniture.figures()) } else { end_line(end, step.number, furniture) }
        };
        let wrap = |end: &FitUpEnd| furniture.wrap_name(&step.member, end.end);
        let found = |end: &FitUpEnd| if is_trim { vec![wrap(end)] } else { Vec::new() };
        let barred = barred::of_step(step, furniture).into_iter().map(|words| (words, Vec::new()));
        let ends = step.ends.iter().map(|end| (line(end), found(end)));
        let mut told: Vec<(String, Vec<String>)> = barred.chain(ends).collect();
        let mut words: Vec<String> = Vec::new();
        let stands = sheets.fit_up.placed_at(&step.member).is_none_or(|placed| placed <= step.number);
        words.extend((step.kind == StepKind::Trim).then(|| {
            let place = if stands { "Where it stands" } else { "On the bench" };
            format!("{place}: lay each wrap by its set-out, mark the line, check the length, then cut.")
        }));
        words.extend(
            (step.kind == StepKind::Tube).then(|| way_round(sheets, &step.member, furniture.figures())).flatten(),
        );
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
        words.extend(step.gauges.iter().map(|gauge| measured(gauge, furniture)));
        told.extend(words.into_iter().map(|words| (words, Vec::new())));
        if !step.checks.is_empty() {
            let found = step.checks.iter().map(|name| checks::held(name)).collect();
            told.push((format!("Check now: {}", step.checks.join(", ")), found));
        }
        let width = area.width - indent;
        let broken = |text: &str, lettering, face, width| break_lines(furniture.letters, text, lettering, face, width);
        let lines = told.into_iter().flat_map(|(words, found)| {
            let room = if found.is_empty() { width } else { width - POINTER };
            let mut found = Some(found);
            let lines = broken(&words, Lettering::Body, Face::Regular, room).into_iter();
            lines.map(|line| (line, found.take().unwrap_or_default())).collect::<Vec<_>>()
        });
        Self {
            name,
            indent,
            kind: step.kind,
            member: &step.member,
            stands,
            title: broken(&title_of(sheets, step, furniture), Lettering::Heading, Face::Bold, width),
            lines: lines.collect(),
        }
    }

    #[allow(clippy::cast_precision_loss)]
    fn height(&self) -> f64 {
        self.title.len() as f64 * Lettering::Heading.leading()
            + self.lines.len() as f64 * Lettering::Body.leading()
            + 3.6
    }

    /// Writes it; returns the places for the numbers of other pages, each with its own page from 0.
    fn write(&self, flow: &mut Flow, area: Area) -> Vec<(usize, Pointer)> {
        let mut pointers = Vec::new();
        flow.need(self.height().min(area.height / 2.0));
        flow.skip(1.8);
        let top = flow.top();
        flow.page().path(Path::rectangle(Area { x: area.x, y: top - 5.2, width: 4.4, height: 4.4 }, Pen::Edge));
        let name = Text::new(self.name.as_str(), [area.x + NAME, baseline(top, Lettering::Heading)]);
        flow.page().text(name.lettered(Lettering::Heading).bold());
        for line in &self.title {
            flow.line(line, area.x + self.indent, Lettering::Heading, Face::Bold);
        }
        for (line, found) in &self.lines {
            flow.need(Lettering::Body.leading());
            if !found.is_empty() {
                let at = [area.right(), baseline(flow.top(), Lettering::Body)];
                pointers.push((flow.page_index(), Pointer { at, to: found.clone() }));
            }
            flow.line(line, area.x + self.indent, Lettering::Body, Face::Regular);
        }
        flow.skip(1.8);
        flow.rule(Pen::Rule);
        pointers
    }
}

/// At which height over the base plane a part is held.
fn held(height: &Height, figures: Figures) -> String {
    let over = figures.short_length(height.over);
    let feet: Vec<&str> = height.feet.iter().map(|end| figures.end(*end)).collect();
    match feet.as_slice() {
        _ if height.is_on_base() => "lies on the base plane".to_owned(),
        [] => format!("level, its underside {over} over the base plane: on packers of {over}"),
        [one] => format!("its {one} end stands {over} over the base plane: on a packer of {over}"),
        _ => format!("both ends stand {over} over the base plane: on packers of {over}"),
    }
}

/// Which way round a tube goes, and what is not to be taken for it.
fn way_round(sheets: &Sheets, member: &str, figures: Figures) -> Option<String> {
    let faces = sheets.wraps.iter().find(|wrap| wrap.member == member).map(|wrap| wrap.zero_faces)?;
    let hand = mirror_image(sheets, member)
        .map_or_else(String::new, |(opposite, number)| format!("; handed: {opposite}, {number}, does not go here"));
    let faces = figures.facing(faces);
    Some(format!("index line 0 deg faces {faces}{hand}"))
}

fn title_of(sheets: &Sheets, step: &FitUpStep, furniture: Furniture) -> String {
    let (number, figures) = (part_number(sheets, &step.member), furniture.figures());
    let size = || step.size.map_or_else(String::new, |size| figures.part_size(size));
    let title = match step.kind {
        StepKind::Work => format!("After {}", step.member),
        StepKind::Trim if number.is_empty() => format!("Trim {}", step.member),
        StepKind::Trim => format!("Trim {}   {number}", step.member),
        _ if number.is_empty() => format!("{}   {}", step.member, size()),
        _ => format!("{}   {number}   {}", step.member, size()),
    };
    match StepNames::of(furniture).before(step) {
        Some(before) => format!("{title}   ({before})"),
        None => title,
    }
}

/// What is cut off an end at this step.
fn trim_line(end: &FitUpEnd, figures: Figures) -> String {
    let meets = figures.cut_and_fits(end.cut, &end.fits);
    format!(
        "{} end: cut off what is left long, {}, by its wrap: {meets}",
        figures.end(end.end),
        figures.short_length(end.left_long)
    )
}

/// A gauge, and what to do with what is read.
fn measured(gauge: &FitUpGauge, furniture: Furniture) -> String {
    let figures = furniture.figures();
    let nominal = figures.short(gauge.nominal);
    if let Some(is) = gauge.measured {
        return format!(
            "Measured, {}: {} ({nominal} as designed{}). This pack is fitted to that: measure it again only to see that nothing moved",
            gauge.name,
            figures.short_length(is),
            furniture.told_on(&gauge.name)
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

fn end_line(end: &FitUpEnd, step: usize, furniture: Furniture) -> String {
    let (figures, names) = (furniture.figures(), StepNames::of(furniture));
    let meets = figures.cut_and_fits(end.cut, &end.fits);
    let [x, y, z] = end.at.map(|mm| figures.bare(mm));
    let deep = match end.depth {
        Some(depth) if end.cut == CutKind::Plug => format!(", {} deep", figures.short_length(depth)),
        Some(depth) => format!(", {} over it", figures.short_length(depth)),
        None => String::new(),
    };
    let mut line = format!("{} end: {meets}{deep}; at x {x}, y {y}, z {z}", figures.end(end.end));
    match end.trimmed_at {
        Some(trimmed) if trimmed < step => line.push_str(&format!("; trimmed at step {}", names.name(trimmed))),
        Some(trimmed) => {
            let long = figures.short_length(end.left_long);
            line.push_str(&format!("; still {long} longer, trimmed at step {}", names.name(trimmed)));
        }
        None => {}
    }
    line
}
