//! Jig sheets: where a bent member must stand before anything is tacked to it, one a page.

mod view;
use super::cover::contents_from;
use crate::drawing::{Area, Drawing};
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::trimmed::both_ends;
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::sheets::{JigSheet, Sheets};

fn columns(figures: Figures) -> [Column; 6] {
    let (say, unit) = (&figures.words.jig_sheets, figures.unit());
    [
        Column::words(say.head_number(), 0.08),
        Column::words(say.head_place(), 0.36),
        Column::figures(say.head_x(unit), 0.14),
        Column::figures(say.head_y(unit), 0.14),
        Column::figures(say.head_z(unit), 0.14),
        Column::figures(say.head_height(unit), 0.14),
    ]
}

/// Height of the head and of a row of the table of places, mm.
const HEAD: f64 = 8.0;
const ROW: f64 = 6.6;

/// A page for each bent member.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let pages = sheets.jigs.iter().flat_map(|sheet| {
        let title = furniture.words.jig_sheets.title(&sheet.member);
        let pages = sheet_pages(sheets, sheet, &title, furniture);
        contents_from(pages, &OnPage::of_parts(SheetKind::JigSheet, vec![sheet.member.clone()], title))
    });
    Ok(pages.collect())
}

/// A numbered place of a jig sheet: what it is, where, and how high over the base plane.
struct NumberedPlace {
    what: String,
    at: [f64; 3],
    height: f64,
}

/// Both feet, the bends between them, and the crown.
fn places(sheet: &JigSheet, figures: Figures) -> Vec<NumberedPlace> {
    let say = &figures.words.jig_sheets;
    let [from, to] = [0, 1].map(|foot| sheet.feet[foot]);
    let base = from[2] - sheet.feet_height[0];
    let mut places = vec![NumberedPlace { what: say.from_end().to_owned(), at: from, height: sheet.feet_height[0] }];
    places.extend(sheet.stations.iter().map(|place| NumberedPlace {
        what: figures.jig_place(place.what),
        at: place.at,
        height: place.height,
    }));
    places.push(NumberedPlace { what: say.to_end().to_owned(), at: to, height: sheet.feet_height[1] });
    places.push(NumberedPlace { what: say.crown().to_owned(), at: sheet.crown, height: sheet.crown[2] - base });
    places
}

fn sheet_pages(sheets: &Sheets, sheet: &JigSheet, title: &str, furniture: Furniture) -> Vec<Drawing> {
    let (area, say) = (furniture.content_area(), &furniture.words.jig_sheets);
    let mut flow = Flow::new(furniture, area, title);
    let figures = furniture.figures();
    for barred in barred::of_place(&sheet.member, furniture) {
        flow.fact(say.caption_notice(), &barred);
    }
    flow.fact(say.caption_section(), &figures.size(sheet.size));
    flow.fact(say.caption_between(), &say.between(figures.length(sheet.spread)));
    flow.fact(say.caption_height(), &say.height(figures.length(sheet.height)));
    flow.fact(say.caption_crown(), &crown(sheet, figures));
    flow.paragraph(&how_to_set_up(sheets, sheet, furniture));
    flow.paragraph(&say.how_places_count(furniture.words.kinds.about()));
    let places = places(sheet, figures);
    #[allow(clippy::cast_precision_loss)]
    let table = HEAD + places.len() as f64 * ROW;
    let room = flow.top() - 2.0 - area.y - table;
    let (free, height) = if room >= view::LEAST {
        (room, room)
    } else {
        // A member of very many bends: the views fill what is left, and the list runs on over the pages after.
        (flow.top() - 2.0 - area.y, flow.top() - 2.0 - area.y)
    };
    let space = Area { y: flow.top() - 2.0 - height, height: free, ..area };
    let drawn = view::draw(sheet, &places, space, furniture);
    flow.page().append(drawn.drawing);
    flow.skip(2.0 + drawn.height);
    flow.start_table(&columns(figures));
    for (index, place) in places.iter().enumerate() {
        let [x, y, z] = place.at.map(|mm| figures.bare(mm));
        let number = (index + 1).to_string();
        flow.row(&[number, place.what.clone(), x, y, z, figures.bare(place.height)], "");
    }
    flow.end_table();
    flow.finish()
}

/// How the member is held and measured, and where its ends are while they are left long.
fn how_to_set_up(sheets: &Sheets, sheet: &JigSheet, furniture: Furniture) -> String {
    let (figures, say) = (furniture.figures(), &furniture.words.jig_sheets);
    let mut words = vec![say.set_up().to_owned()];
    let row = sheets.cut_sheet.rows.iter().find(|row| row.member == sheet.member);
    if let Some(long) = row.and_then(|row| both_ends(sheets, &sheet.member, row.leave_long, furniture)) {
        let measured = if sheets.stands(&sheet.member) { say.measured_already() } else { say.measure_while_long() };
        words.extend([say.left_long(long), measured.to_owned()]);
        if sheet.below_base > 0.5 {
            words.push(say.below_base(figures.length(sheet.below_base)));
        }
    }
    words.join(" ")
}

/// Where the crown stands over the middle between the ends.
fn crown(sheet: &JigSheet, figures: Figures) -> String {
    const LEAST: f64 = 0.05;
    let say = &figures.words.jig_sheets;
    let (along, aside) = (figures.length(sheet.fore_and_aft.abs()), figures.length(sheet.sideways.abs()));
    let is_off = |by: f64| (by.abs() >= LEAST).then_some(by > 0.0);
    let place = match (is_off(sheet.fore_and_aft), is_off(sheet.sideways)) {
        (None, None) => return say.upright().to_owned(),
        (Some(true), None) => say.in_front(along),
        (Some(false), None) => say.behind(along),
        (None, Some(true)) => say.to_the_left(aside),
        (None, Some(false)) => say.to_the_right(aside),
        (Some(true), Some(true)) => say.in_front_and_left(along, aside),
        (Some(true), Some(false)) => say.in_front_and_right(along, aside),
        (Some(false), Some(true)) => say.behind_and_left(along, aside),
        (Some(false), Some(false)) => say.behind_and_right(along, aside),
    };
    let lean = is_off(sheet.lean_deg).map(|forward| {
        let angle = figures.angle(sheet.lean_deg.abs());
        if forward { say.leans_forward(angle) } else { say.leans_back(angle) }
    });
    [Some(place), lean].into_iter().flatten().collect::<Vec<_>>().join("; ")
}
