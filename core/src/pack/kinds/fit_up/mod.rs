//! The fit-up order, with boxes to tick, and a view for every few steps: what they add dark, what is already in place light.

mod view;
use super::cover::contents_of;
use super::drawings::Standing;
use super::drawings::plot::part_number;
use super::pairs::mirror_image;
use super::plates;
use crate::document::other_hand;
use crate::drawing::{Area, Lettering, Path, Pen, Text, Weight};
use crate::frame::CutKind;
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::lines::{baseline, break_lines};
use crate::pack::layout::numbering::{Pointer, Sought};
use crate::pack::layout::step_names::StepNames;
use crate::pack::{Content, OnPage, RenderError, SheetKind, Since};
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
    let (title, say) = (furniture.words.kinds.fit_up(), &furniture.words.fit_up);
    let mut flow = Flow::new(furniture, area, title);
    flow.paragraph(&say.how_to_tack(furniture.figures().unit_name(), furniture.words.kinds.about()));
    if let Some(since) = furniture.issue.since.as_ref().filter(|since| since.only) {
        flow.paragraph(&about_numbers(since, furniture));
    }
    let steps: Vec<Step> = sheets.fit_up.steps.iter().map(|step| Step::of(sheets, step, area, furniture)).collect();
    let Some(standing) = standing else {
        let pointers = steps.iter().flat_map(|step| step.write(&mut flow, area)).collect();
        return Ok(with_pointers(flow, title, pointers));
    };
    flow.paragraph(say.views());
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
    Ok(with_pointers(flow, title, pointers))
}

/// The pages, each with its places for the numbers of other pages.
fn with_pointers(flow: Flow, title: &str, pointers: Vec<(usize, Pointer)>) -> Vec<Content> {
    let mut contents = contents_of(flow, OnPage::of_frame(SheetKind::FitUp, title));
    for (page, pointer) in pointers {
        contents[page].pointers.push(pointer);
    }
    contents
}

/// What the numbers of the steps of a pack of what changed are.
fn about_numbers(since: &Since, furniture: Furniture) -> String {
    let (names, say) = (StepNames::of(furniture), &furniture.words.fit_up);
    let example =
        names.name(since.changes.order.iter().find(|place| !place.same).and_then(|place| place.new).unwrap_or(1));
    let numbers = match (since.changes.renumbers_steps(), names.are_own()) {
        (true, false) => say.whole_order().to_owned(),
        (true, true) => say.whole_order_of_notice(example),
        (false, false) => say.some_steps().to_owned(),
        (false, true) => say.some_steps_of_notice(example),
    };
    format!("{numbers} {}", say.in_brackets(&since.revision))
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
    lines: Vec<(String, Vec<Sought>)>,
}

impl<'a> Step<'a> {
    fn of(sheets: &Sheets, step: &'a FitUpStep, area: Area, furniture: Furniture) -> Self {
        let (name, say) = (StepNames::of(furniture).name(step.number), &furniture.words.fit_up);
        let indent = INDENT.max(NAME + furniture.letters.width(&name, Lettering::Heading, Weight::Bold) + 3.0);
        let is_trim = step.kind == StepKind::Trim;
        let line = |end: &FitUpEnd| {
            if is_trim { trim_line(end, furniture.figures()) } else { end_line(end, step.number, furniture) }
        };
        let wrap = |end: &FitUpEnd| Sought::Sheet(furniture.wrap_on_page(&step.member, end.end));
        let found = |end: &FitUpEnd| if is_trim { vec![wrap(end)] } else { Vec::new() };
        let barred = barred::of_step(step, furniture).into_iter().map(|words| (words, Vec::new()));
        let ends = step.ends.iter().map(|end| (line(end), found(end)));
        let mut told: Vec<(String, Vec<Sought>)> = barred.chain(ends).collect();
        let mut words: Vec<String> = Vec::new();
        let stands = sheets.fit_up.placed_at(&step.member).is_none_or(|placed| placed <= step.number);
        words.extend(
            (step.kind == StepKind::Trim)
                .then(|| (if stands { say.trim_where_it_stands() } else { say.trim_on_the_bench() }).to_owned()),
        );
        words.extend(
            (step.kind == StepKind::Tube).then(|| way_round(sheets, &step.member, furniture.figures())).flatten(),
        );
        words.extend((step.kind == StepKind::Plate).then(|| plates::place(sheets, &step.member, furniture)).flatten());
        words.extend(step.height.as_ref().map(|height| held(height, furniture.figures())));
        if step.gap > 0.0 {
            words.push(say.root_gap(furniture.figures().short_length(step.gap)));
        }
        let note = step.note.replace(['\n', '\r', '\t'], " ");
        match step.kind {
            StepKind::Work => words.push(note),
            _ if note.is_empty() => {}
            _ => words.push(say.note(note)),
        }
        words.extend(step.gauges.iter().map(|gauge| measured(gauge, furniture)));
        told.extend(words.into_iter().map(|words| (words, Vec::new())));
        if !step.checks.is_empty() {
            let found = step.checks.iter().cloned().map(Sought::Check).collect();
            told.push((say.check_now(step.checks.join(", ")), found));
            told.extend(barred::of_checks(&step.checks, furniture).into_iter().map(|words| (words, Vec::new())));
        }
        let width = area.width - indent;
        let broken = |text: &str, lettering, face, width| break_lines(furniture.letters, text, lettering, face, width);
        let lines = told.into_iter().flat_map(|(words, found)| {
            let room = if found.is_empty() { width } else { width - POINTER };
            let mut found = Some(found);
            let lines = broken(&words, Lettering::Body, Weight::Regular, room).into_iter();
            lines.map(|line| (line, found.take().unwrap_or_default())).collect::<Vec<_>>()
        });
        Self {
            name,
            indent,
            kind: step.kind,
            member: &step.member,
            stands,
            title: broken(&title_of(sheets, step, furniture), Lettering::Heading, Weight::Bold, width),
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
            flow.line(line, area.x + self.indent, Lettering::Heading, Weight::Bold);
        }
        for (line, found) in &self.lines {
            flow.need(Lettering::Body.leading());
            if !found.is_empty() {
                let at = [area.right(), baseline(flow.top(), Lettering::Body)];
                pointers.push((flow.page_index(), Pointer { at, to: found.clone() }));
            }
            flow.line(line, area.x + self.indent, Lettering::Body, Weight::Regular);
        }
        flow.skip(1.8);
        flow.rule(Pen::Rule);
        pointers
    }
}

/// At which height over the base plane a part is held.
fn held(height: &Height, figures: Figures) -> String {
    let (over, say) = (figures.short_length(height.over), &figures.words.fit_up);
    match height.feet.as_slice() {
        _ if height.is_on_base() => say.lies_on_base().to_owned(),
        [] => say.held_level(over),
        [one] => say.held_at_end(figures.end(*one), over),
        _ => say.held_at_both(over),
    }
}

/// Which way round a tube goes, and what is not to be taken for it.
fn way_round(sheets: &Sheets, member: &str, figures: Figures) -> Option<String> {
    let say = &figures.words.fit_up;
    let faces = sheets.wraps.iter().find(|wrap| wrap.member == member).map(|wrap| figures.facing(wrap.zero_faces))?;
    Some(match mirror_image(sheets, member) {
        Some((opposite, number)) => say.way_round_handed(faces, opposite, number),
        None => say.way_round(faces),
    })
}

fn title_of(sheets: &Sheets, step: &FitUpStep, furniture: Furniture) -> String {
    let (number, figures, say) = (part_number(sheets, &step.member), furniture.figures(), &furniture.words.fit_up);
    let size = || step.size.map_or_else(String::new, |size| figures.part_size(size));
    let what = match step.kind {
        StepKind::Work => say.work_after(&step.member),
        StepKind::Trim => say.trim(&step.member),
        StepKind::Tube | StepKind::Plate => step.member.clone(),
    };
    let title = match step.kind {
        StepKind::Work => what,
        StepKind::Trim if number.is_empty() => what,
        StepKind::Trim => format!("{what}   {number}"),
        _ if number.is_empty() => format!("{what}   {}", size()),
        _ => format!("{what}   {number}   {}", size()),
    };
    match StepNames::of(furniture).before(step) {
        Some(before) => format!("{title}   ({before})"),
        None => title,
    }
}

/// What is cut off an end at this step.
fn trim_line(end: &FitUpEnd, figures: Figures) -> String {
    let meets = figures.cut_and_fits(end.cut, &end.fits);
    figures.words.fit_up.trim_end(figures.end(end.end), figures.short_length(end.left_long), meets)
}

/// A gauge, and what to do with what is read.
fn measured(gauge: &FitUpGauge, furniture: Furniture) -> String {
    let (figures, say) = (furniture.figures(), &furniture.words.fit_up);
    let (name, nominal) = (&gauge.name, figures.short(gauge.nominal));
    if let Some(is) = gauge.measured {
        let is = figures.short_length(is);
        return match furniture.issue.measured_on.get(name) {
            Some(day) => say.measured_on(name, is, nominal, day),
            None => say.measured(name, is, nominal),
        };
    }
    let [least, most] = [figures.at_least(gauge.least), figures.at_most(gauge.most)];
    say.measure(name, &gauge.what, nominal, least, most, figures.unit())
}

fn end_line(end: &FitUpEnd, step: usize, furniture: Furniture) -> String {
    let (figures, names, say) = (furniture.figures(), StepNames::of(furniture), &furniture.words.fit_up);
    let (name, meets) = (figures.end(end.end), figures.cut_and_fits(end.cut, &end.fits));
    let [x, y, z] = end.at.map(|mm| figures.bare(mm));
    let depth = end.depth.map(|depth| figures.short_length(depth));
    let stands = match depth {
        Some(depth) if end.cut == CutKind::Plug => say.end_in(name, meets, depth, x, y, z),
        Some(depth) => say.end_over(name, meets, depth, x, y, z),
        None => say.end(name, meets, x, y, z),
    };
    let trimmed = end.trimmed_at.map(|trimmed| match names.name(trimmed) {
        at if trimmed < step => say.trimmed_before(at),
        at => say.still_longer(figures.short_length(end.left_long), at),
    });
    [Some(stands), trimmed].into_iter().flatten().collect::<Vec<_>>().join("; ")
}
