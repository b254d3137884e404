//! The list of all pages by part, so that a wrap is found without leafing.

use super::flow::Flow;
use super::furniture::Furniture;
use super::lines::fit_line;
use crate::drawing::{Anchor, Area, Lettering, Pen, Text, Weight};
use crate::pack::{Content, OnPage, SheetKind};

const COLUMNS: u8 = 3;
const GAP: f64 = 5.0;
const ROW: f64 = 5.2;

/// Pages that list each entry with its page number, in columns that read downwards.
pub(in crate::pack) fn pages(entries: &[(&OnPage, usize)], furniture: Furniture) -> Vec<Content> {
    let area = furniture.content_area();
    let width = (area.width - GAP * f64::from(COLUMNS - 1)) / f64::from(COLUMNS);
    let mut contents = Vec::new();
    let mut rest = entries;
    while !rest.is_empty() {
        let mut flow = Flow::new(furniture, area, furniture.words.page.where_to_find());
        let top = flow.top();
        let mut links = Vec::new();
        for column in 0..COLUMNS {
            let x = area.x + f64::from(column) * (width + GAP);
            let mut y = top;
            while let Some(((on, page), after)) = rest.split_first() {
                if y - ROW < area.y {
                    break;
                }
                let cell = Area { x, y: y - ROW, width, height: ROW };
                write_entry(&mut flow, cell, &on.title, *page, furniture);
                links.push((cell, (*on).clone()));
                y -= ROW;
                rest = after;
            }
        }
        let list = OnPage::of_frame(SheetKind::ListOfPages, furniture.words.page.where_to_find());
        let begins = if contents.is_empty() { vec![list] } else { Vec::new() };
        contents.extend(
            flow.finish()
                .into_iter()
                .map(|drawing| Content { links: links.clone(), ..Content::new(begins.clone(), drawing) }),
        );
    }
    contents
}

fn write_entry(flow: &mut Flow, cell: Area, title: &str, page: usize, furniture: Furniture) {
    let number = page.to_string();
    let room = cell.width - 7.5;
    let choices = [Lettering::Body, Lettering::Small];
    let (line, lettering) = fit_line(furniture.letters, title, Weight::Regular, room, &choices);
    let y = cell.y + 1.4;
    let drawing = flow.page();
    drawing.text(Text::new(line, [cell.x, y]).lettered(lettering));
    drawing.text(Text::new(number, [cell.right(), y]).anchored(Anchor::End));
    drawing.line([cell.x, cell.y], [cell.right(), cell.y], Pen::Rule);
}
