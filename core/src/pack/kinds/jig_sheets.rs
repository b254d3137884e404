//! Jig sheets: where a bent member must stand before anything is tacked to it, one a page.

mod view;
use super::about;
use super::cover::contents_from;
use crate::drawing::{Area, Drawing};
use crate::pack::layout::barred;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::layout::trimmed::both_ends;
use crate::pack::{Content, RenderError};
use crate::sheets::{JigSheet, Sheets};

fn columns() -> [Column; 6] {
    [
        Column::words("no.", 0.08),
        Column::words("place on the centreline", 0.36),
        Column::figures("x forward, mm", 0.14),
        Column::figures("y left, mm", 0.14),
        Column::figures("z up, mm", 0.14),
        Column::figures("over the base plane, mm", 0.14),
    ]
}

/// Height of the head and of a row of the table of places, mm.
const HEAD: f64 = 8.0;
const ROW: f64 = 6.6;

/// A page for each bent member.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let pages = sheets.jigs.iter().flat_map(|sheet| {
        let title = format!("Jig sheet {}", sheet.member);
        contents_from(sheet_pages(sheets, sheet, &title, furniture), &title)
    });
    Ok(pages.collect())
}

/// A numbered place of a jig sheet: what it is, where, and how high over the base plane.
struct Place {
    what: String,
    at: [f64; 3],
    height: f64,
}

/// Both feet, the bends between them, and the crown.
fn places(sheet: &JigSheet, figures: Figures) -> Vec<Place> {
    let [from, to] = [0, 1].map(|foot| sheet.feet[foot]);
    let base = from[2] - sheet.feet_height[0];
    let mut places = vec![Place { what: "from end".to_owned(), at: from, height: sheet.feet_height[0] }];
    places.extend(sheet.stations.iter().map(|place| Place {
        what: figures.jig_place(place.what),
        at: place.at,
        height: place.height,
    }));
    places.push(Place { what: "to end".to_owned(), at: to, height: sheet.feet_height[1] });
    places.push(Place { what: "crown, the highest place".to_owned(), at: sheet.crown, height: sheet.crown[2] - base });
    places
}

fn sheet_pages(sheets: &Sheets, sheet: &JigSheet, title: &str, furniture: Furniture) -> Vec<Drawing> {
    let area = furniture.content_area();
    let mut flow = Flow::new(furniture, area, title);
    let figures = furniture.figures();
    for barred in barred::of_place(&sheet.member, furniture) {
        flow.fact("notice", &barred);
    }
    flow.fact("section", &figures.size(sheet.size));
    flow.fact("between the ends", &format!("{}, straight, centre to centre", figures.length(sheet.spread)));
    flow.fact("height", &format!("{} from the base plane to the top of the tube", figures.length(sheet.height)));
    flow.fact("crown", &crown(sheet, figures));
    flow.paragraph(&how_to_set_up(sheets, sheet, furniture));
    flow.paragraph(&format!("Places from zero, heights over the base plane: {}.", about::WHERE));
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
    flow.start_table(&columns());
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
    let mut words = "Set the member up as bent, before anything is tacked to it. Hold both ends and the crown; check spread, height and lean, then each place of the list. Where the bent tube is off, share the error left and right.".to_owned();
    let row = sheets.cut_sheet.rows.iter().find(|row| row.member == sheet.member);
    let Some(long) = row.and_then(|row| both_ends(sheets, &sheet.member, row.leave_long, furniture)) else {
        return words;
    };
    words.push_str(&format!(
        " All figures are for the ends as finished, at their trim lines. The tube is left long by {long}. {}",
        if sheets.stands(&sheet.member) {
            "It was measured, and these figures are those as measured."
        } else {
            "Measure it while it is long, and tell the supplier before you trim if it is off."
        }
    ));
    if sheet.below_base > 0.5 {
        words.push_str(&format!(
            " Left long it reaches {} below the base plane: until it is trimmed lay it flat, or set it up on blocks and take their height off every height.",
            furniture.figures().length(sheet.below_base)
        ));
    }
    words
}

/// Where the crown stands over the middle between the ends.
fn crown(sheet: &JigSheet, figures: Figures) -> String {
    let off = |by: f64, plus: &str, minus: &str| match by {
        by if by >= 0.05 => Some(format!("{} {plus}", figures.length(by))),
        by if by <= -0.05 => Some(format!("{} {minus}", figures.length(-by))),
        _ => None,
    };
    let offsets: Vec<String> =
        [off(sheet.fore_and_aft, "in front of", "behind"), off(sheet.sideways, "to the left of", "to the right of")]
            .into_iter()
            .flatten()
            .collect();
    let middle = "the middle between the ends";
    if offsets.is_empty() {
        return format!("upright over {middle}");
    }
    let lean = match sheet.lean_deg {
        lean if lean >= 0.05 => format!("; leans {} forward", figures.angle(lean)),
        lean if lean <= -0.05 => format!("; leans {} back", figures.angle(-lean)),
        _ => String::new(),
    };
    format!("{} {middle}{lean}", offsets.join(" and "))
}
