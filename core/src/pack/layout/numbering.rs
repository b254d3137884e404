//! Pages as they stand in their file: numbered, with what leads from one to another.

use super::content::Content;
use super::furniture::Furniture;
use crate::drawing::{Anchor, Point, Text};
use crate::pack::OnPage;
use crate::render::{Bookmark, Link, Page};
use std::collections::BTreeSet;

/// A place at which the numbers of the pages are written on which something is found.
pub(in crate::pack) struct Pointer {
    /// Right end of the words, on their base line.
    pub(in crate::pack) at: Point,
    /// What is in no page of the pack has no number.
    pub(in crate::pack) to: Vec<Sought>,
}

/// What a page is looked up by.
#[derive(Debug, Clone)]
pub(in crate::pack) enum Sought {
    /// What begins on it.
    Sheet(OnPage),
    /// A check dimension on it, by its name.
    Check(String),
}

/// Pages with frame, title strip, number and links.
pub(in crate::pack) struct Numbered {
    pub(in crate::pack) pages: Vec<Page>,
    /// What leads to them.
    pub(in crate::pack) outline: Vec<Bookmark>,
    /// A page each.
    pub(in crate::pack) facts: Vec<PageFacts>,
}

/// What the account of a pack says of a page and its drawing does not.
pub(in crate::pack) struct PageFacts {
    pub(in crate::pack) holds: Vec<OnPage>,
    /// Whether it is laid on metal.
    pub(in crate::pack) is_template: bool,
}

/// Numbers pages. One on which nothing begins or goes on holds what the page before it holds.
pub(in crate::pack) fn numbered(contents: Vec<Content>, furniture: Furniture) -> Numbered {
    let count = contents.len();
    let begun: Vec<(OnPage, usize)> = contents
        .iter()
        .enumerate()
        .flat_map(|(page, content)| content.begins.iter().map(move |on| (on.clone(), page)))
        .collect();
    let checks: Vec<(String, usize)> = contents
        .iter()
        .enumerate()
        .flat_map(|(page, content)| content.checks.iter().map(move |name| (name.clone(), page)))
        .collect();
    let page_of = |sought: &OnPage| begun.iter().find(|(on, _)| on == sought).map(|(_, page)| *page);
    let found_on = |sought: &Sought| match sought {
        Sought::Sheet(on) => page_of(on),
        Sought::Check(name) => checks.iter().find(|(known, _)| known == name).map(|(_, page)| *page),
    };
    let mut holds: Vec<OnPage> = Vec::new();
    let (mut pages, mut facts) = (Vec::with_capacity(count), Vec::with_capacity(count));
    for (index, content) in contents.into_iter().enumerate() {
        let here = [content.carried, content.begins].concat();
        if !here.is_empty() {
            holds = here;
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
        let titles: Vec<&str> = holds.iter().map(|on| on.title.as_str()).collect();
        pages.push(Page {
            title: titles.join("; "),
            drawing: furniture.furnish(&titles, drawing, index + 1, count),
            links: links.filter_map(|(area, to)| Some(Link { area: *area, page: page_of(to)? })).collect(),
        });
        facts.push(PageFacts { holds: holds.clone(), is_template: content.is_template });
    }
    let outline = begun.into_iter().map(|(on, page)| Bookmark { title: on.title, page }).collect();
    Numbered { pages, outline, facts }
}
