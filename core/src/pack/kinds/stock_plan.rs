//! The stock plan: the bars of each section, one a line and drawn to scale along the bar, with what is sawn from them.
use super::changes::Scope;
use super::cover::contents_of;
use crate::drawing::{Anchor, Area, Lettering, Path, Pen, Text, Weight};
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::render::Letters;
use crate::sheets::{End, Sheets, StockSection};
use crate::stock::{EndName, Plan, PlanPattern, Request, SawCut, SawnEnd, paper_plan};
use crate::words::groups::stock_plan::StockPlan;

/// Height of a drawn bar, mm.
const BAR: f64 = 7.0;
/// Height of the line over it, and of the space under it, mm.
const OVER: f64 = 4.6;
const UNDER: f64 = 2.4;
/// Free on both sides of a label within its part, mm.
const BESIDE: f64 = 0.6;

fn columns(say: &StockPlan) -> [Column; 3] {
    [
        Column::marks(say.head_bar(), 0.08),
        Column::words(say.head_order(), 0.78),
        Column::figures(say.head_parts(), 0.14),
    ]
}

/// The pages of the stock plan; none when the document names no stock.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let asked: Vec<(&StockSection, Request)> =
        sheets.stock.iter().filter_map(|section| Some((section, section.request()?))).collect();
    if asked.is_empty() {
        return Ok(Vec::new());
    }
    let (say, title) = (&furniture.words.stock_plan, furniture.words.kinds.stock_plan());
    let mut flow = Flow::new(furniture, furniture.content_area(), title);
    let trims = furniture.issue.since.iter().flat_map(|since| &since.changes.parts).flat_map(|part| &part.trims);
    let bars = if !Scope::of(furniture.issue).is_part() {
        say.for_frame()
    } else if trims.into_iter().any(|trim| trim.while_long) {
        say.for_changes_but_scrap()
    } else {
        say.for_changes()
    };
    flow.paragraph(&[bars, say.how_to_read()].join(" "));
    flow.paragraph(say.check_your_kerf());
    for (section, request) in &asked {
        let planned = paper_plan(request);
        flow.need(OVER + BAR + UNDER + 24.0);
        match planned {
            Ok(plan) => {
                let barred = barred_parts(sheets, section, furniture);
                write_section(&mut flow, section, request, &plan, &barred, furniture);
            }
            Err(error) => {
                flow.heading(&[section.section.clone(), furniture.figures().size(section.size)].join(", "));
                flow.paragraph(&say.no_plan(error.to_string()));
            }
        }
    }
    Ok(contents_of(flow, OnPage::of_frame(SheetKind::StockPlan, title)))
}

/// What notices say of the parts of a section, by their numbers.
fn barred_parts(sheets: &Sheets, section: &StockSection, furniture: Furniture) -> Vec<String> {
    let said = section.parts.iter().flat_map(|part| {
        let row = sheets.parts.iter().find(|row| row.number == part.number);
        let marks: Vec<&str> = row.into_iter().flat_map(|row| &row.members).map(String::as_str).collect();
        let words = barred::of_parts(&marks, furniture).into_iter();
        words.map(|words| furniture.words.stock_plan.of_number(&part.number, words)).collect::<Vec<_>>()
    });
    said.collect()
}

fn write_section(
    flow: &mut Flow,
    section: &StockSection,
    request: &Request,
    plan: &Plan,
    barred: &[String],
    furniture: Furniture,
) {
    let (figures, area, letters) = (furniture.figures(), furniture.content_area(), furniture.letters);
    let say = &furniture.words.stock_plan;
    let (name, size) = (&section.section, figures.size(section.size));
    flow.heading(&say.section(plan.bars as usize, name, size, &section.material, plan.bars));
    for words in barred {
        flow.paragraph(words);
    }
    let kept = plan.totals.as_ref().map_or(0, |totals| totals.remnants_kept);
    let cost = figures.short_length(plan.cost);
    let proof = if plan.optimal { say.least(cost) } else { say.not_proven(cost, figures.short_length(plan.bound)) };
    let (kerf, trim) = (figures.fine_length(section.kerf), figures.short_length(section.trim));
    let kerf = match holds_for(section.kerf, plan) {
        Some(most) => say.kerf_and_trim(kerf, figures.fine_length(most), trim),
        None => say.kerf_at_most_and_trim(kerf, trim),
    };
    let least = plan.patterns.iter().map(|pattern| pattern.remnant).fold(f64::INFINITY, f64::min);
    let remnants = say.remnants(figures.length(least), figures.short_length(section.min_remnant), kept);
    flow.paragraph(&[proof, kerf, remnants].join(" "));
    flow.skip(1.0);
    let longest = plan.patterns.iter().map(|pattern| pattern.stock_length).fold(1.0, f64::max);
    let scale = area.width / longest;
    let mut listed = Vec::new();
    for (index, pattern) in plan.patterns.iter().enumerate() {
        flow.need(OVER + BAR + UNDER);
        let top = flow.top();
        write_over(flow, index + 1, pattern, Area { y: top - OVER, height: OVER, ..area });
        let bar = Area { y: top - OVER - BAR, height: BAR, width: pattern.stock_length * scale, ..area };
        let all_labelled = draw_bar(flow, request, pattern, bar, scale, letters);
        let notes = sloped_cuts(pattern, figures);
        if !all_labelled || !notes.is_empty() {
            listed.push((index + 1, pattern, notes));
        }
        flow.skip(OVER + BAR + UNDER);
        flow.settle();
    }
    if listed.is_empty() {
        return;
    }
    flow.start_table(&columns(say));
    for (number, pattern, notes) in listed {
        let parts: u32 = pattern.cuts.iter().map(|cut| cut.count).sum();
        flow.row(&[number.to_string(), in_order(request, pattern, figures), parts.to_string()], &notes);
    }
    flow.end_table();
}

/// The widest kerf with which every bar still holds: what it keeps, shared among its cuts. `None` where the saw's own figure is all.
fn holds_for(kerf: f64, plan: &Plan) -> Option<f64> {
    let room = plan.patterns.iter().filter_map(|pattern| {
        // A sloped cut takes as much more of the bar's length as its width says.
        let cuts: f64 = pattern.sawing.as_ref()?.saw.iter().map(|cut| (cut.width / kerf).max(1.0)).sum();
        (cuts > 0.0).then(|| pattern.remnant / cuts)
    });
    let widest = (kerf + room.fold(f64::INFINITY, f64::min)) * 10.0;
    let most = widest.floor() / 10.0;
    (most.is_finite() && most > kerf).then(|| most.min(MOST_KERF))
}

/// A kerf wider than this is no saw's, mm.
const MOST_KERF: f64 = 5.0;

/// The line over a bar: its number, how often it is cut, and what is left.
fn write_over(flow: &mut Flow, number: usize, pattern: &PlanPattern, line: Area) {
    let keep = pattern.sawing.as_ref().is_some_and(|sawing| sawing.keep_remnant);
    let figures = flow.figures();
    let say = &figures.words.stock_plan;
    let left = match pattern.remnant {
        0.0 => say.nothing_left().to_owned(),
        remnant if keep => say.remnant(figures.length(remnant)),
        remnant => say.offcut(figures.length(remnant)),
    };
    let y = line.y + 1.3;
    let page = flow.page();
    let length = figures.short_length(pattern.stock_length);
    let times = say.bar(pattern.count as usize, number, pattern.count, length);
    page.text(Text::new(times, [line.x, y]).bold());
    page.text(Text::new(left, [line.right(), y]).anchored(Anchor::End));
}

/// A part on the bar: its name and where its faces cross the upper and the lower edge of the drawn bar, mm from the bar's first end.
struct Drawn<'a> {
    id: &'a str,
    first: [f64; 2],
    last: [f64; 2],
}

/// Where a face crosses the upper and the lower edge; the drawn side is the one that lies at the far side at the first sloped cut.
fn face(cut: &SawCut, turned: f64, at: f64) -> [f64; 2] {
    let lean = if libm::cos(turned.to_radians()) < -1e-6 { -0.5 } else { 0.5 };
    [at + lean * cut.depth, at - lean * cut.depth]
}

fn drawn_parts<'a>(pattern: &'a PlanPattern, cuts: &'a [SawCut]) -> Vec<Drawn<'a>> {
    let mut parts: Vec<Drawn> = Vec::new();
    let mut begun = [0.0; 2];
    let mut turned = 0.0;
    for cut in cuts {
        turned += cut.turn_deg;
        if let Some(ends) = &cut.ends {
            parts.push(Drawn { id: &ends.id, first: begun, last: face(cut, turned, cut.at) });
        }
        if cut.begins.is_some() {
            begun = face(cut, turned, cut.at + cut.width);
        }
    }
    let count: u32 = pattern.cuts.iter().map(|cut| cut.count).sum();
    if let Some(flush) = pattern.cuts.last().filter(|_| parts.len() < count as usize) {
        parts.push(Drawn { id: &flush.id, first: begun, last: [pattern.stock_length; 2] });
    }
    parts
}

/// Draws a bar with its parts. Says whether all labels found room.
fn draw_bar(
    flow: &mut Flow,
    request: &Request,
    pattern: &PlanPattern,
    bar: Area,
    scale: f64,
    letters: &Letters,
) -> bool {
    let cuts = pattern.sawing.as_ref().map_or(&[][..], |sawing| &sawing.saw);
    let figures = flow.figures();
    let page = flow.page();
    page.path(Path::rectangle(bar, Pen::Rule));
    let mut all = true;
    for part in drawn_parts(pattern, cuts) {
        let x = |at: f64| bar.x + (at * scale).clamp(0.0, bar.width);
        let [top, bottom] = [bar.top(), bar.y];
        let corners = [
            [x(part.first[0]), top],
            [x(part.last[0]), top],
            [x(part.last[1]), bottom],
            [x(part.first[1]), bottom],
            [x(part.first[0]), top],
        ];
        page.path(Path::polyline(&corners, Pen::Edge));
        let from = corners[0][0].max(corners[3][0]) + BESIDE;
        let to = corners[1][0].min(corners[2][0]) - BESIDE;
        let length = request.parts.iter().find(|known| known.id == part.id).map_or(0.0, |known| known.length);
        let middle = (from + to) / 2.0;
        let small = Lettering::Small;
        for (label, face, up) in [(part.id.to_owned(), Weight::Bold, 4.3), (figures.bare(length), Weight::Regular, 1.2)]
        {
            if letters.width(&label, small, face) > to - from {
                all = false;
                continue;
            }
            let mut text = Text::new(label, [middle, bottom + up]).lettered(small).anchored(Anchor::Middle);
            text.face = face;
            page.text(text);
        }
    }
    all
}

/// What the saw is set to for the cuts of a bar, a line each; nothing where all of them are square.
fn sloped_cuts(pattern: &PlanPattern, figures: Figures) -> String {
    let cuts = pattern.sawing.as_ref().map_or(&[][..], |sawing| &sawing.saw);
    if cuts.iter().all(|cut| cut.angle_deg == 0.0) {
        return String::new();
    }
    let say = &figures.words.stock_plan;
    let end = |sawn: &SawnEnd| {
        figures.end(match sawn.end {
            EndName::From => End::From,
            EndName::To => End::To,
        })
    };
    let line = |(index, cut): (usize, &SawCut)| {
        let (number, place) = (index + 1, figures.length(cut.at));
        let [turn, angle] = [cut.turn_deg.abs(), cut.angle_deg].map(|degrees| figures.angle(degrees));
        let set = match (cut.turn_deg, cut.angle_deg == 0.0) {
            (0.0, true) => say.saw_square(number, place),
            (0.0, false) => say.saw(number, place, angle),
            (back, true) if back < 0.0 => say.back_and_saw_square(number, place, turn),
            (back, false) if back < 0.0 => say.back_and_saw(number, place, turn, angle),
            (_, true) => say.turn_and_saw_square(number, place, turn),
            (_, false) => say.turn_and_saw(number, place, turn, angle),
        };
        let ends = cut.ends.as_ref().map(|sawn| say.comes_off(&sawn.id, end(sawn)));
        let begins = cut.begins.as_ref().map(|sawn| say.begins(&sawn.id, end(sawn)));
        let what: Vec<String> = [ends, begins].into_iter().flatten().collect();
        [set, what.join(", ")].join("; ")
    };
    cuts.iter().enumerate().map(line).collect::<Vec<_>>().join("\n")
}

fn in_order(request: &Request, pattern: &PlanPattern, figures: Figures) -> String {
    let entries = pattern.cuts.iter().map(|cut| {
        let length = request.parts.iter().find(|part| part.id == cut.id).map_or(0.0, |part| part.length);
        let (say, length) = (&figures.words.stock_plan, figures.bare(length));
        if cut.count == 1 { say.one_of(&cut.id, length) } else { say.several_of(cut.count, &cut.id, length) }
    });
    entries.collect::<Vec<_>>().join(", ")
}
