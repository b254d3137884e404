//! Pages as they stand in their file: numbered, with what leads from one to another.

use super::content::Content;
use super::furniture::Furniture;
use crate::drawing::{Anchor, Point, Text};
use crate::render::{Bookmark, Link, Page};
use std::collections::BTreeSet;

/// A place at which the numbers of the pages are written on which something is found.
pub(in crate::pack) struct Pointer {
    /// Right end of the words, on their base line.
    pub(in crate::pack) at: Point,
    /// Entries of the outline, or what pages hold; what is in no page of the pack has no number.
    pub(in crate::pack) to: Vec<String>,
}

/// Pages with frame, title strip, number and links, and the outline that leads to them; `title` is that of pages before the first
/// that is in the outline.
pub(in crate::pack) fn numbered(
    contents: Vec<Content>,
    title: &str,
    furniture: Furniture,
) -> (Vec<Page>, Vec<Bookmark>) {
    let count = contents.len();
    let outline: Vec<Bookmark> = contents
        .iter()
        .enumerate()
        .flat_map(|(page, content)| content.bookmarks.iter().map(move |title| Bookmark { title: title.clone(), page }))
        .collect();
    let page_of = |title: &str| outline.iter().find(|bookmark| bookmark.title == title).map(|bookmark| bookmark.page);
    let held: Vec<(usize, String)> = contents
        .iter()
        .enumerate()
        .flat_map(|(page, content)| content.holds.iter().map(move |name| (page, name.clone())))
        .collect();
    let found_on =
        |name: &String| page_of(name).or_else(|| held.iter().find(|(_, known)| known == name).map(|(page, _)| *page));
    let mut title = title.to_owned();
    let mut pages = Vec::with_capacity(count);
    for (index, content) in contents.into_iter().enumerate() {
        let names = [content.carried, content.bookmarks].concat();
        if !names.is_empty() {
            title = names.join("; ");
        }
        let links = content.links.iter();
        let mut drawing = content.drawing;
        for pointer in &content.pointers {
            let pages: BTreeSet<usize> = pointer.to.iter().filter_map(&found_on).map(|page| page + 1).collect();
            let numbers: Vec<String> = pages.iter().map(usize::to_string).collect();
            let words = match numbers.as_slice() {
                [] => continue,
                [one] => furniture.words.page.on_page(one),
                several => furniture.words.page.on_pages(several.join(", ")),
            };
            drawing.text(Text::new(words, pointer.at).anchored(Anchor::End));
        }
        pages.push(Page {
            title: title.clone(),
            drawing: furniture.furnish(&title, drawing, index + 1, count),
            links: links.filter_map(|(area, to)| Some(Link { area: *area, page: page_of(to)? })).collect(),
        });
    }
    (pages, outline)
}
