//! Pages of several files in one.

use super::PageKind;
use super::PageStatement;
use super::sealed::CheckedPage;
use crate::words::findings::mixed_pages::{FileKind, FileName, FileOwner, FilePages, MixedPages};

/// How the pages of a file belong together.
#[derive(Debug, PartialEq)]
pub(super) enum Together {
    /// They were made together.
    One,
    /// Each is as signed, of one of several files that were issued.
    Files(MixedPages),
    /// Seals of the first form, which cannot tell, are among others.
    Apart,
}

impl Together {
    /// Of all pages of a file in their order; a page that is not as signed is `None`, and nothing is to be said but of that.
    pub(super) fn of(pages: &[Option<&CheckedPage>]) -> Self {
        let mut files: Vec<(&CheckedPage, Vec<usize>)> = Vec::new();
        for (place, page) in (1..).zip(pages) {
            let Some(page) = page else { continue };
            match files.iter_mut().find(|(first, _)| are_one(first, page)) {
                Some((_, places)) => places.push(place),
                None => files.push((page, vec![place])),
            }
        }
        if files.len() < 2 {
            return Self::One;
        }
        if files.iter().any(|(first, _)| first.account.is_none()) {
            return Self::Apart;
        }
        Self::Files(mixed(&files))
    }
}

/// Whether two pages were made together.
pub(super) fn are_one(one: &CheckedPage, other: &CheckedPage) -> bool {
    other.statement.goes_with(&one.statement) && document(other) == document(one)
}

/// What the file of a page said as a whole; `None` with a seal of the first form.
fn document(page: &CheckedPage) -> Option<&str> {
    page.account.as_ref().map(|account| account.document.as_str())
}

/// Files whose pages are named; of more, the rest is counted.
const MOST: usize = 20;

fn mixed(files: &[(&CheckedPage, Vec<usize>)]) -> MixedPages {
    let mut named: Vec<FilePages> = Vec::new();
    for (page, places) in files.iter().take(MOST) {
        let of = of_what(&page.statement);
        let is_again = named.iter().any(|known| known.of == of);
        named.push(FilePages { places: places.clone(), of, is_again });
    }
    MixedPages { files: named, more: files.len().saturating_sub(MOST) }
}

/// What a page belongs to.
fn of_what(said: &PageStatement) -> FileName {
    let what = match said.kind {
        PageKind::Pack if said.pack.is_empty() => FileKind::Drawing,
        PageKind::Pack => FileKind::Pack(said.pack.clone()),
        PageKind::StopSheet => FileKind::StopSheet,
        PageKind::Notice => match said.beside.zip(said.told) {
            Some((beside, told)) => FileKind::NoticeSet { notice: said.notice.clone(), beside, told },
            None => FileKind::Notice(said.notice.clone()),
        },
    };
    let whose =
        if said.kit.is_empty() { FileOwner::Design(said.design.clone()) } else { FileOwner::Kit(said.kit.clone()) };
    FileName { what, whose }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seal::sealed::Account;

    fn page(kind: PageKind, kit: &str, number: &str, document: &str) -> CheckedPage {
        let statement = PageStatement { kit: kit.to_owned(), ..PageStatement::new(kind, number.to_owned()) };
        CheckedPage { statement, account: Some(Account::of(document.to_owned())) }
    }

    fn said(pages: &[CheckedPage]) -> String {
        match Together::of(&pages.iter().map(Some).collect::<Vec<_>>()) {
            Together::Files(pages) => pages.to_string(),
            other => format!("{other:?}"),
        }
    }

    #[test]
    fn which_pages_are_of_which_file_is_said_in_words() {
        let pack = |number: &str| page(PageKind::Pack, "K-1", number, number);
        let words = said(&["10", "9", "9", "9", "10", "11", "9"].map(pack));
        let of_packs = "pages that were not issued together are in this file, so that it cannot be vouched for as a whole: pages 1 and \
                        5 are of pack 10 of kit K-1, pages 2 to 4 and 7 are of pack 9 of kit K-1, page 6 is of pack 11 of kit K-1. \
                        Check those of each in a file of their own";
        assert_eq!(words, of_packs);
        let stop = || page(PageKind::StopSheet, "K-1", "", "s");
        for (pages, wanted) in [
            (
                vec![stop(), pack("1"), pack("1"), pack("1")],
                "page 1 is the stop sheet of kit K-1, pages 2 to 4 are of pack 1 of kit K-1.",
            ),
            (
                vec![page(PageKind::Notice, "K-1", "3", "n"), pack("1")],
                "page 1 is of notice 3 of kit K-1, page 2 is of pack 1 of kit K-1.",
            ),
            (
                vec![pack("1"), page(PageKind::Pack, "K-2", "1", "k")],
                "page 1 is of pack 1 of kit K-1, page 2 is of pack 1 of kit K-2.",
            ),
            (
                vec![pack("1"), page(PageKind::Pack, "K-1", "1", "k")],
                "page 1 is of pack 1 of kit K-1, page 2 is of pack 1 of kit K-1, drawn another time.",
            ),
            (
                vec![stop(), page(PageKind::Pack, "", "", "d")],
                "page 1 is the stop sheet of kit K-1, page 2 is of a drawing without a number of design .",
            ),
        ] {
            assert!(said(&pages).contains(wanted), "{}", said(&pages));
        }
        let many: Vec<CheckedPage> = (0..30).map(|number| pack(&number.to_string())).collect();
        assert!(said(&many).contains("page 20 is of pack 19 of kit K-1, the others are of 10 more. Check"));
    }

    #[test]
    fn pages_of_one_file_are_one_and_an_old_seal_among_others_is_apart() {
        let [one, two] = ["a", "b"].map(|document| page(PageKind::Pack, "K-1", "1", document));
        let old = CheckedPage { account: None, statement: one.statement.clone() };
        assert_eq!(Together::of(&[]), Together::One);
        assert_eq!(Together::of(&[Some(&one), Some(&one), None]), Together::One);
        assert_eq!(Together::of(&[Some(&old), Some(&old)]), Together::One);
        assert_eq!(Together::of(&[Some(&two), Some(&old)]), Together::Apart);
    }
}
