//! Mirrored pairs: which of them are handed, how to tell them apart, and which are one part.

mod view;

use super::changes::Scope;
use super::cover::contents_of;
use crate::drawing::{Area, Drawing, Pen, Placement, Turn};
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::{Column, Flow};
use crate::pack::layout::furniture::Furniture;
use crate::pack::{Content, OnPage, RenderError, SheetKind};
use crate::part::compare::Side;
use crate::sheets::{Pair, Sheets};
use crate::words::groups::pairs as words;

fn handed_columns(figures: Figures) -> [Column; 5] {
    let say = &figures.words.pairs;
    [
        Column::marks(say.head_left(), 0.28),
        Column::numbers(say.head_left_number(), 0.16),
        Column::marks(say.head_right(), 0.28),
        Column::numbers(say.head_right_number(), 0.16),
        Column::figures(say.head_differ(figures.unit()), 0.12),
    ]
}

fn equal_columns(say: &words::Pairs) -> [Column; 4] {
    [
        Column::marks(say.head_both(), 0.34),
        Column::numbers(say.head_number(), 0.16),
        Column::marks(say.head_both(), 0.34),
        Column::numbers(say.head_number(), 0.16),
    ]
}

/// About what a row takes, mm, so that it stays with its drawing.
const ROW: f64 = 26.0;

/// The pages of the pairs; none when there are no pairs.
pub(in crate::pack) fn pages(sheets: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let scope = Scope::of(furniture.issue);
    let shown = sheets.pairs.iter().filter(|pair| scope.makes(&pair.left) || scope.makes(&pair.right));
    let (handed, equal): (Vec<&Pair>, Vec<&Pair>) = shown.partition(|pair| pair.handed);
    if handed.is_empty() && equal.is_empty() {
        return Ok(Vec::new());
    }
    let (title, say) = (furniture.words.kinds.pairs(), &furniture.words.pairs);
    let mut flow = Flow::new(furniture, furniture.content_area(), title);
    flow.heading(say.heading_handed());
    if handed.is_empty() {
        flow.paragraph(say.none_handed());
    } else {
        flow.paragraph(say.how_to_tell());
        flow.paragraph(say.legend());
        flow.start_table(&handed_columns(furniture.figures()));
        let area = furniture.content_area();
        for pair in handed {
            let cells = [&pair.left, &pair.left_number, &pair.right, &pair.right_number].map(Clone::clone);
            let by = pair.deviation.map_or_else(String::new, |mm| furniture.figures().bare(mm));
            flow.need(view::HEIGHT + ROW);
            flow.row(&[cells.as_slice(), &[by]].concat(), &tells(pair, furniture.figures()));
            let both = view::draw(sheets, &pair.left, furniture).zip(view::draw(sheets, &pair.right, furniture));
            if let Some((left, right)) = both {
                side_by_side(&mut flow, [left, right], area);
            }
        }
        flow.end_table();
    }
    if !equal.is_empty() {
        flow.heading(say.heading_equal());
        flow.paragraph(say.goes_in_either());
        flow.start_table(&equal_columns(say));
        for two in equal.chunks(2) {
            let cells: Vec<String> = two.iter().flat_map(|pair| [both(pair, say), pair.left_number.clone()]).collect();
            flow.row(&cells, "");
        }
        flow.end_table();
    }
    Ok(contents_of(flow, OnPage::of_frame(SheetKind::Pairs, title)))
}

/// The mirror image of a handed part, and its part number; `None` for a part that is its own, or has none.
pub(in crate::pack) fn mirror_image<'a>(sheets: &'a Sheets, mark: &str) -> Option<(&'a str, &'a str)> {
    let pair = sheets.pairs.iter().find(|pair| pair.handed && (pair.left == mark || pair.right == mark))?;
    let (other, number) =
        if pair.left == mark { (&pair.right, &pair.right_number) } else { (&pair.left, &pair.left_number) };
    Some((other, number))
}

/// Both parts of a pair beside each other under what tells them apart.
fn side_by_side(flow: &mut Flow, parts: [Drawing; 2], area: Area) {
    flow.need(view::HEIGHT + 2.0);
    let foot = flow.top() - view::HEIGHT;
    let gap = (area.width - 2.0 * view::WIDTH) / 3.0;
    for (drawing, x) in parts.into_iter().zip([gap, 2.0 * gap + view::WIDTH]) {
        flow.page().place(drawing, Placement { at: [area.x + x, foot], turn: Turn::None });
    }
    flow.skip(view::HEIGHT + 1.0);
    flow.rule(Pen::Rule);
}

fn tells(pair: &Pair, figures: Figures) -> String {
    let say = &figures.words.pairs;
    let tell = |hand| pair.tell.map_or_else(String::new, |tell| figures.hand(&tell, hand));
    let [left, right] = [Side::Left, Side::Right].map(tell);
    [say.tell_left(left), say.tell_right(right)].join("\n")
}

/// Both marks in one.
fn both(pair: &Pair, say: &words::Pairs) -> String {
    match pair.left.strip_suffix(".L") {
        Some(stem) if pair.right == format!("{stem}.R") => say.left_and_right(stem),
        _ => say.two(&pair.left, &pair.right),
    }
}
