//! Pages of several packs in one file.

use super::PageKind;
use super::sealed::CheckedPage;
use std::collections::{BTreeMap, BTreeSet};

/// How the pages of a file belong together.
#[derive(Debug, PartialEq)]
pub(super) enum Together {
    /// They were made together.
    One,
    /// Each is as signed, of one of several packs of one kit: what is to be said of that.
    Packs(String),
    /// They have nothing to do with each other.
    Apart,
}

impl Together {
    /// Of all pages of a file in their order; a page that is not as signed is `None`, and then those of several packs are apart.
    pub(super) fn of(pages: &[Option<&CheckedPage>]) -> Self {
        let sealed: Vec<&CheckedPage> = pages.iter().flatten().copied().collect();
        if are_one(&sealed) {
            return Self::One;
        }
        let mut packs: BTreeMap<(usize, &str), Vec<(usize, &CheckedPage)>> = BTreeMap::new();
        for (place, page) in (1..).zip(pages) {
            match page {
                Some(page) if is_of_a_kits_pack(page) => {
                    let number = page.statement.pack.as_str();
                    packs.entry((number.len(), number)).or_default().push((place, page));
                }
                _ => return Self::Apart,
            }
        }
        let of_whom = |page: &CheckedPage| (page.statement.design.clone(), page.statement.kit.clone());
        let whose: BTreeSet<_> = sealed.iter().map(|page| of_whom(page)).collect();
        let is_whole =
            |pages: &Vec<(usize, &CheckedPage)>| are_one(&pages.iter().map(|(_, page)| *page).collect::<Vec<_>>());
        if whose.len() == 1 && packs.len() > 1 && packs.values().all(is_whole) {
            Self::Packs(words(&packs))
        } else {
            Self::Apart
        }
    }
}

fn are_one(pages: &[&CheckedPage]) -> bool {
    let Some(first) = pages.first() else { return true };
    pages.iter().all(|page| page.statement.goes_with(&first.statement) && document(page) == document(first))
}

/// What the file of a page said as a whole; `None` with a seal of the first form.
fn document(page: &CheckedPage) -> Option<&str> {
    page.account.as_ref().map(|account| account.document.as_str())
}

fn is_of_a_kits_pack(page: &CheckedPage) -> bool {
    let said = &page.statement;
    page.account.is_some() && said.kind == PageKind::Pack && !said.pack.is_empty() && !said.kit.is_empty()
}

fn words(packs: &BTreeMap<(usize, &str), Vec<(usize, &CheckedPage)>>) -> String {
    let numbers: Vec<String> = packs.keys().map(|(_, number)| (*number).to_owned()).collect();
    let each = packs.iter().enumerate().map(|(index, ((_, number), pages))| {
        let places: Vec<usize> = pages.iter().map(|(place, _)| *place).collect();
        let (noun, verb) = if places.len() == 1 { ("page", " is") } else { ("pages", " are") };
        let verb = if index == 0 { verb } else { "" };
        format!("{noun} {}{verb} of pack {number}", listed(&runs(&places)))
    });
    format!(
        "pages of packs {} are in this file, so that it cannot be vouched for as a whole: {}. Check those of each pack in a file of \
         their own",
        listed(&numbers),
        each.collect::<Vec<_>>().join(", ")
    )
}

/// Places in words: those that follow each other, three and more, by the first and the last.
fn runs(places: &[usize]) -> Vec<String> {
    let follows = |before: &usize, place: &usize| *place == before + 1;
    let runs = places.chunk_by(follows);
    runs.flat_map(|run| match run {
        [first, _, .., last] => vec![format!("{first} to {last}")],
        few => few.iter().map(usize::to_string).collect(),
    })
    .collect()
}

fn listed(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seal::PageStatement;
    use crate::seal::sealed::Account;

    fn page(kit: &str, pack: &str, document: &str) -> CheckedPage {
        let statement = PageStatement { kit: kit.to_owned(), ..PageStatement::new(PageKind::Pack, pack.to_owned()) };
        CheckedPage { statement, account: Some(Account::of(document.to_owned())) }
    }

    fn together(pages: &[CheckedPage]) -> Together {
        Together::of(&pages.iter().map(Some).collect::<Vec<_>>())
    }

    #[test]
    fn which_pages_are_of_which_pack_is_said_in_words() {
        let of = |packs: &[&str]| packs.iter().map(|pack| page("K-1", pack, pack)).collect::<Vec<_>>();
        let Together::Packs(words) = together(&of(&["10", "9", "9", "9", "10", "11", "9"])) else { panic!() };
        let said = "pages of packs 9, 10 and 11 are in this file, so that it cannot be vouched for as a whole: pages 2 to 4 and 7 are of \
                    pack 9, pages 1 and 5 of pack 10, page 6 of pack 11. Check those of each pack in a file of their own";
        assert_eq!(words, said);
        assert_eq!(together(&of(&["1", "1"])), Together::One);
        assert_eq!(together(&[]), Together::One);
    }

    #[test]
    fn pages_of_two_kits_of_two_files_of_one_pack_and_of_an_old_seal_are_apart() {
        let other = || page("K-1", "2", "b");
        let mut old = page("K-1", "1", "a");
        old.account = None;
        for (what, first) in [
            ("another kit", page("K-2", "1", "a")),
            ("no kit", page("", "1", "a")),
            ("no pack", page("K-1", "", "a")),
            ("another file of the pack", page("K-1", "2", "a")),
            ("an old seal", old),
        ] {
            assert_eq!(together(&[first, other()]), Together::Apart, "{what}");
        }
        let (one, two) = (page("K-1", "1", "a"), other());
        assert_eq!(Together::of(&[Some(&one), Some(&two), None]), Together::Apart);
        assert_eq!(Together::of(&[Some(&one), None]), Together::One);
    }
}
