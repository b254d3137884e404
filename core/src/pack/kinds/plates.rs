//! Plates at true scale: outline, holes, sizes.

mod view;
use super::changes::Scope;
use crate::pack::layout::figures::{Figures, members};
use crate::pack::layout::furniture::{CutOut, Furniture};
use crate::pack::layout::templates::Templates;
use crate::pack::layout::{barred, tiles};
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::sheets::{PlateSheet, Sheets};
use crate::words::groups::plates::Plates;
use std::cmp::Ordering;

/// Reductions of ISO 5455 for a plate too large for the paper.
const REDUCTIONS: [f64; 6] = [2.0, 5.0, 10.0, 20.0, 50.0, 100.0];

/// The pages of the plates; none when there are none.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let (scope, hands) = (Scope::of(furniture.issue), furniture.issue.print.hands);
    let groups = groups(sheets, |mark| hands.shows(mark) && scope.makes(mark));
    if groups.is_empty() {
        return Ok(Vec::new());
    }
    let mut templates = Templates::new(furniture, furniture.words.kinds.plates());
    for same in groups {
        write(&mut templates, &same, furniture);
    }
    Ok(templates.finish())
}

/// The plates that are shown, those together that share a template.
fn groups(sheets: &Sheets, is_shown: impl Fn(&str) -> bool) -> Vec<Vec<&PlateSheet>> {
    let mut rest: Vec<&PlateSheet> = sheets.plates.iter().filter(|plate| is_shown(&plate.plate)).collect();
    let mut groups = Vec::new();
    while let Some(first) = rest.first().copied() {
        let (same, others) = rest.into_iter().partition(|plate| is_same_template(first, plate));
        groups.push(same);
        rest = others;
    }
    groups
}

/// What the template of some plates is called in the list of pages.
fn title(plates: &[&PlateSheet], say: &Plates) -> String {
    let names: Vec<String> = plates.iter().map(|plate| plate.plate.clone()).collect();
    say.title(names.len(), members(&names))
}

/// On which page a plate's template is found.
fn where_drawn(sheets: &Sheets, mark: &str, furniture: Furniture) -> Option<String> {
    let (scope, hands) = (Scope::of(furniture.issue), furniture.issue.print.hands);
    let (hand, is_here) = (if hands.shows(mark) { hands } else { hands.other() }, scope.makes(mark));
    let groups = groups(sheets, |other| hand.shows(other) && (!is_here || scope.makes(other)));
    let group = groups.iter().find(|group| group.iter().any(|plate| plate.plate == mark))?;
    let say = &furniture.words.plates;
    let title = title(group, say);
    Some(match (is_here, hand == hands) {
        (false, _) => say.template_before(title),
        (true, false) => say.template_of_other_hand(title),
        (true, true) => say.template_here(title),
    })
}

/// Where a plate goes and where its template is, for whoever puts it there; `None` for what is no plate.
pub(in crate::pack) fn place(sheets: &Sheets, mark: &str, furniture: Furniture) -> Option<String> {
    let plate = sheets.plates.iter().find(|plate| plate.plate == mark)?;
    let (figures, say) = (furniture.figures(), &furniture.words.plates);
    let [up, right] = plate.faces.map(|way| figures.facing(way));
    let at = match (&plate.on, on_member(plate, figures)) {
        (Some(member), Some((along, clock))) => say.put_on_at(member, along, clock),
        (Some(member), None) => say.put_on(member),
        (None, _) => {
            let [x, y, z] = plate.at.map(|mm| figures.bare(mm));
            say.put_at(x, y, z)
        }
    };
    let facts = [Some(at), Some(say.template_looks(up, right)), where_drawn(sheets, mark, furniture)];
    Some(facts.into_iter().flatten().collect::<Vec<_>>().join("; "))
}

/// Plates of one number share a template where theirs are the same as they lie, whatever corner their outline starts at.
fn is_same_template(first: &PlateSheet, plate: &PlateSheet) -> bool {
    if first.plate == plate.plate {
        return true;
    }
    let corners =
        |plate: &PlateSheet| sorted(plate.outline.iter().skip(1).map(|at| [at[0], at[1], 0.0, 0.0]).collect());
    let holes = |plate: &PlateSheet| {
        let rows = plate.holes.iter();
        sorted(rows.map(|hole| [hole.at[0], hole.at[1], hole.diameter, hole.countersink.unwrap_or(0.0)]).collect())
    };
    !first.part_number.is_empty()
        && first.part_number == plate.part_number
        && is_near(&corners(first), &corners(plate))
        && is_near(&holes(first), &holes(plate))
}

fn sorted(mut rows: Vec<[f64; 4]>) -> Vec<[f64; 4]> {
    rows.sort_by(|a, b| a.iter().zip(b).map(|(a, b)| a.total_cmp(b)).find(|by| by.is_ne()).unwrap_or(Ordering::Equal));
    rows
}

fn is_near(a: &[[f64; 4]], b: &[[f64; 4]]) -> bool {
    a.len() == b.len() && a.iter().flatten().zip(b.iter().flatten()).all(|(a, b)| (a - b).abs() < 1e-3)
}

/// One template for plates that share it.
fn write(templates: &mut Templates, plates: &[&PlateSheet], furniture: Furniture) {
    let Some(plate) = plates.first() else {
        return;
    };
    let names: Vec<String> = plates.iter().map(|plate| plate.plate.clone()).collect();
    let heading = match plate.part_number.as_str() {
        "" => members(&names),
        number => format!("{}   {number}", members(&names)),
    };
    let figures = furniture.figures();
    let marks: Vec<&str> = names.iter().map(String::as_str).collect();
    let mut facts = [barred::of_parts(&marks, furniture), facts(plates, figures)].concat();
    facts.extend(hole_places(plate, figures));
    let [width, height] = templates.room(&heading, &facts);
    let [width_words, height_words] = plate.size.map(|mm| figures.bare(mm));
    let size = format!("{width_words} x {height_words}");
    let piece = CutOut { number: &plate.part_number, size: (format!("{size} {}", figures.unit()), size) };
    let drawn = |scale: f64| view::draw(plate, &members(&names), &piece, scale, furniture);
    let full = drawn(1.0);
    let title = title(plates, &furniture.words.plates);
    let on = || OnPage::of_parts(SheetKind::Plate, names.clone(), title.as_str());
    if full.width <= width && full.height <= height {
        templates.begin(on(), &heading, &facts, full.height);
        templates.place(full.drawing, full.height);
        return;
    }
    if full.height <= width && full.width <= height {
        templates.begin(on(), &heading, &facts, full.width);
        templates.place_turned(full.drawing, full.height, full.width);
        return;
    }
    let size = [full.width, full.height];
    let whose = furniture.whose();
    let whole = tiles::Whole { drawing: &full.drawing, size, name: &title, whose: &whose, keep_whole: &full.holes };
    let room = templates.room(&heading, &[]);
    let tiles = whole.cut(room, furniture.letters, &furniture.words.tiles).filter(|tiles| tiles.len() <= tiles::MOST);
    if let Some(tiles) = tiles {
        facts.push(furniture.words.tiles.how().to_owned());
        templates.begin(on(), &heading, &facts, 0.0);
        tiles::place(tiles, templates, &furniture.words.tiles);
        return;
    }
    let scale = REDUCTIONS
        .into_iter()
        .find(|scale| plate.size[0] / scale + 20.0 <= width && plate.size[1] / scale + 20.0 <= 0.6 * height)
        .unwrap_or_else(|| (plate.size[0] / (width - 20.0)).max(plate.size[1] / (0.6 * height - 20.0)));
    facts.push(furniture.words.plates.not_true_scale(tiles::MOST, figures.short_tenths(scale)));
    let reduced = drawn(scale);
    templates.begin(on(), &heading, &facts, reduced.height);
    templates.place(reduced.drawing, reduced.height);
}

fn facts(plates: &[&PlateSheet], figures: Figures) -> Vec<String> {
    let Some(plate) = plates.first() else {
        return Vec::new();
    };
    let say = &figures.words.plates;
    let (count, thickness) = (plates.len(), figures.short_length(plate.thickness));
    let mut line = say.made_of(count, count, thickness, &plate.material, figures.mass(plate.mass_kg));
    let holes = kinds_of_holes(plate, figures);
    if !holes.is_empty() {
        line = [line, say.holes(holes)].join("; ");
    }
    let mut facts = vec![line];
    for plate in plates {
        let name = &plate.plate;
        let place = match (&plate.on, on_member(plate, figures)) {
            (Some(member), Some((along, clock))) => say.lies_on_at(name, member, along, clock),
            (Some(member), None) => say.lies_on(name, member),
            (None, _) => {
                let [x, y, z] = plate.at.map(|mm| figures.bare(mm));
                say.lies_at(name, x, y, z, figures.words.kinds.about())
            }
        };
        let [up, right] = plate.faces.map(|way| figures.facing(way));
        let place = [place, say.looks(up, right)].join("; ");
        let note = if plate.note.is_empty() {
            String::new()
        } else {
            format!(". {}", plate.note.replace(['\n', '\r', '\t'], " "))
        };
        facts.push(format!("{place}{note}"));
    }
    facts
}

/// How far along its tube a plate's zero point lies, and on which side.
fn on_member(plate: &PlateSheet, figures: Figures) -> Option<(String, String)> {
    plate.along_member.zip(plate.clock_deg).map(|(mm, degrees)| (figures.length(mm), figures.clock(degrees)))
}

/// How a hole is called: its diameter, and that of its countersink.
fn hole_words(diameter: f64, countersink: Option<f64>, figures: Figures) -> String {
    let (say, diameter) = (&figures.words.plates, figures.fine(diameter));
    match countersink {
        Some(wide) => say.countersunk(diameter, figures.fine(wide)),
        None => say.hole(diameter),
    }
}

/// Holes of each kind with their count, in the order of the plate.
fn kinds_of_holes(plate: &PlateSheet, figures: Figures) -> String {
    let say = &figures.words.plates;
    let mut kinds: Vec<(String, usize)> = Vec::new();
    for hole in &plate.holes {
        let words = hole_words(hole.diameter, hole.countersink, figures);
        match kinds.iter_mut().find(|(known, _)| *known == words) {
            Some((_, count)) => *count += 1,
            None => kinds.push((words, 1)),
        }
    }
    let kinds: Vec<String> = kinds.into_iter().map(|(words, count)| say.of_kind(count, count, words)).collect();
    kinds.join("; ")
}

/// Where the centre of each hole lies from the left and lower edge of the box round the plate: what a template is checked by, and a plate
/// that is not at true scale is made by.
fn hole_places(plate: &PlateSheet, figures: Figures) -> Option<String> {
    let say = &figures.words.plates;
    let [left, low] = view::corner(plate);
    let holes: Vec<String> = plate
        .holes
        .iter()
        .map(|hole| {
            let words = hole_words(hole.diameter, hole.countersink, figures);
            say.hole_at(words, figures.length(hole.at[0] - left), figures.length(hole.at[1] - low))
        })
        .collect();
    (!holes.is_empty()).then(|| say.centres(holes.join("; ")))
}
