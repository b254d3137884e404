//! Checks the seals of a written file: that each page shows what was signed, that all pages belong together, and that nothing else
//! is in the file that a viewer shows or does.

use super::file_seal;
use super::mixed::{Together, are_one};
use super::sealed::{Canonical, CheckedPage, KeptOfWhole, Leaf, PageFault, Tree, Usual};
use super::sealed::{check_page, kept, links, must_be_signed, outline};
use super::strict::{self, Read, Unclear};
use crate::seal::{PageKind, PageStatement, PublicKey};
pub use crate::words::findings::code::NotAPdf;
use crate::words::findings::seal::SealFault;
use lopdf::{Document, ObjectId};
use serde::Serialize;
use sha2::{Digest, Sha256};
use std::collections::{BTreeSet, HashMap, HashSet};

/// What a file is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Answer {
    /// The file that was issued, byte for byte.
    Issued,
    /// All pages as they were issued, in another file.
    SamePages,
    /// Pages as they were issued, but not the whole file: some are missing, or how it is printed is not said any more.
    SomePages,
    /// Pages of the first form: their drawings are as signed, fonts, sizes and whatever else a viewer shows are not checked.
    OldSeal,
    /// Pages as they were issued, but not of the file that it was held against.
    OtherFile,
    /// It cannot be vouched for, though nothing in it was found to be other than signed: there is more than one way to read it, its
    /// pages carry no code, as when another program drew them anew, or they were not issued together.
    Unclear,
    /// It shows or does something that was not signed.
    Forged,
}

impl Answer {
    /// Whether nothing of the file may be used.
    #[must_use]
    pub fn is_refusal(self) -> bool {
        matches!(self, Self::Unclear | Self::Forged)
    }
}

/// What a check of a whole file found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SealReport {
    /// What it is.
    pub answer: Answer,
    /// SHA-256 of the file, by which the service knows what it issued.
    pub sha256: String,
    /// One line a page.
    pub pages: Vec<PageSeal>,
    /// What is wrong with the file as a whole; empty when nothing is.
    pub faults: Vec<String>,
    /// What is to be known of a file with which nothing is wrong.
    pub remarks: Vec<String>,
}

/// What a check of one page found.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PageSeal {
    /// Its place in the file, from 1.
    pub place: usize,
    /// What was signed; `None` when there is no signed code.
    pub statement: Option<PageStatement>,
    /// What is wrong with it; `None` when it is as signed.
    pub fault: Option<String>,
}

impl SealReport {
    /// Takes into account that the file is known by its hash to be one that was issued: a seal of the first form cannot tell.
    #[must_use]
    pub fn known(self) -> Self {
        match self.answer {
            answer if answer.is_refusal() => self,
            _ => Self { answer: Answer::Issued, remarks: Vec::new(), ..self },
        }
    }

    /// Takes into account that the file is none of the pack that it was held against.
    #[must_use]
    pub fn of_another(self) -> Self {
        match self.answer {
            answer if answer.is_refusal() => self,
            _ => Self { answer: Answer::OtherFile, remarks: Vec::new(), ..self },
        }
    }

    /// Whether nothing is amiss but that its pages were not issued together.
    #[must_use]
    pub fn is_mixed(&self) -> bool {
        self.answer == Answer::Unclear && self.pages.iter().any(|page| page.statement.is_some())
    }

    /// Whether its pages are of a pack, of which the service keeps the file; others are drawn anew whenever they are asked for.
    #[must_use]
    pub fn is_of_a_pack(&self) -> bool {
        let statements = self.pages.iter().flat_map(|page| &page.statement);
        statements.into_iter().any(|said| said.kind == PageKind::Pack && !said.pack.is_empty())
    }
}

/// Checks every page of a PDF against a public key.
///
/// # Errors
/// [`NotAPdf`].
pub fn check_seals(bytes: &[u8], key: &PublicKey) -> Result<SealReport, NotAPdf> {
    if !bytes.starts_with(b"%PDF-") {
        return Err(NotAPdf);
    }
    let sha256 = data_encoding::HEXLOWER.encode(&Sha256::digest(bytes));
    let is_issued = file_seal::is_signed(bytes, key);
    let read = strict::read(bytes).or_else(|why| as_written(bytes).filter(|_| is_issued).ok_or(why));
    let report = match read.and_then(|read| check_file(&read, key)) {
        Ok(report) if is_issued => report.known(),
        Ok(report) => report,
        Err(why) => SealReport::of(Answer::Unclear, Vec::new(), &[SealFault::NotAsIssued { why: Box::new(why.0) }]),
    };
    Ok(SealReport { sha256, ..report })
}

/// A file of which each byte is known to be as it was written: names that read like a part of a file were once written in plain.
fn as_written(bytes: &[u8]) -> Option<Read> {
    let file = Document::load_mem(bytes).ok()?;
    Some(Read { file, pages: None, left: Vec::new() })
}

impl SealReport {
    fn of(answer: Answer, pages: Vec<PageSeal>, faults: &[SealFault]) -> Self {
        let faults = faults.iter().map(ToString::to_string).collect();
        Self { answer, sha256: String::new(), pages, faults, remarks: Vec::new() }
    }
}

fn check_file(Read { file, pages, left }: &Read, key: &PublicKey) -> Result<SealReport, Unclear> {
    let Tree { leaves, dropped } = Tree::of(file)?;
    let in_order = || leaves.iter().map(|leaf| leaf.id);
    if pages.as_ref().is_some_and(|pages| !in_order().eq(pages.iter().copied())) {
        return Err(Unclear(SealFault::WebLeadsElsewhere));
    }
    // Some readers go by that and look at nothing above a page.
    if pages.is_some() && leaves.iter().any(|leaf| leaf.inherits(file)) {
        return Err(Unclear(SealFault::WebInherits));
    }
    let mut canonical = Canonical::new(file);
    let dropped: Vec<(&Leaf, Result<CheckedPage, PageFault>)> =
        dropped.iter().map(|leaf| (leaf, check_page(&mut canonical, file, leaf, key))).collect();
    let mut checked: Vec<Result<CheckedPage, PageFault>> =
        leaves.iter().map(|leaf| check_page(&mut canonical, file, leaf, key)).collect();
    let good: HashMap<ObjectId, &CheckedPage> =
        leaves.iter().zip(&checked).filter_map(|(leaf, page)| Some((leaf.id, page.as_ref().ok()?))).collect();
    let strange: Vec<Option<SealFault>> =
        leaves.iter().map(|leaf| strange_links(file, leaf, good.get(&leaf.id)?, &good).err()).collect();
    for (page, fault) in checked.iter_mut().zip(strange) {
        if let (Some(fault), Ok(said)) = (fault, &page) {
            let fault = SealFault::DoNotCut { fault: Box::new(fault) };
            *page = Err(PageFault::of(Some(&said.statement), fault));
        }
    }
    name_differences(&mut canonical, file, &leaves, &mut checked);
    let together = Together::of(&checked.iter().map(|page| page.as_ref().ok()).collect::<Vec<_>>());
    let mut faults: Vec<SealFault> =
        (together == Together::Apart).then_some(SealFault::MixedWithOld).into_iter().collect();
    let outside: HashMap<ObjectId, &CheckedPage> =
        dropped.iter().filter_map(|(leaf, page)| Some((leaf.id, page.as_ref().ok()?))).collect();
    if !are_of_the_same(file, &dropped, &checked, &outside) {
        faults.push(SealFault::StrangePage);
    }
    let sealed: Vec<&CheckedPage> = checked.iter().flatten().collect();
    let documents = documents(&sealed);
    let mut all = KeptOfWhole { settings: true, titles: None };
    if let Some(kept) = kept_of_any(&mut canonical, file, &documents) {
        match kept {
            Ok(kept) => all = kept,
            Err(fault) => faults.push(fault),
        }
        let by_id: HashMap<ObjectId, &CheckedPage> =
            leaves.iter().zip(&checked).filter_map(|(leaf, page)| Some((leaf.id, page.as_ref().ok()?))).collect();
        // What is wrong with the outline is found with the titles, too.
        let bad: HashSet<ObjectId> = leaves.iter().map(|leaf| leaf.id).filter(|id| !by_id.contains_key(id)).collect();
        let strange = strange_bookmarks(file, &by_id, &outside, &bad, all.titles)?;
        faults.extend(strange.filter(|fault| !faults.contains(fault)));
    }
    let is_without_codes = checked.iter().all(|page| page.as_ref().is_err_and(|fault| !fault.has_code));
    let is_old = sealed.iter().any(|page| page.account.is_none());
    let statements: Vec<PageStatement> = sealed.iter().map(|page| page.statement.clone()).collect();
    let pages: Vec<PageSeal> = (1..).zip(checked).map(|(place, page)| page_seal(place, page)).collect();
    let signed_pages = outside.keys().copied().collect();
    if is_without_codes {
        return Ok(SealReport::of(Answer::Unclear, pages, &[SealFault::DrawnAnew]));
    }
    if !faults.is_empty() || pages.iter().any(|page| page.fault.is_some()) {
        return Ok(SealReport::of(Answer::Forged, pages, &faults));
    }
    must_be_signed(file, left, &signed_pages, &documents)?;
    if let Together::Files(which) = together {
        return Ok(SealReport::of(Answer::Unclear, pages, &[SealFault::Mixed(which)]));
    }
    let mut remarks = missing(&statements);
    if !all.settings {
        remarks.push(SealFault::SettingsGone);
    }
    let answer = match (is_old, remarks.is_empty()) {
        (true, _) => Answer::OldSeal,
        (false, true) => Answer::SamePages,
        (false, false) => Answer::SomePages,
    };
    let remarks = remarks.iter().map(ToString::to_string).collect();
    Ok(SealReport { remarks, ..SealReport::of(answer, pages, &[]) })
}

fn page_seal(place: usize, page: Result<CheckedPage, PageFault>) -> PageSeal {
    match page {
        Ok(page) => PageSeal { place, statement: Some(page.statement), fault: None },
        Err(PageFault { statement, fault, .. }) => {
            PageSeal { place, statement: statement.map(|said| *said), fault: Some(fault.to_string()) }
        }
    }
}

/// Says of each page whose code is genuine what it shows otherwise.
fn name_differences<'a>(
    canonical: &mut Canonical<'a>,
    file: &'a Document,
    leaves: &[Leaf<'a>],
    checked: &mut [Result<CheckedPage, PageFault>],
) {
    if !checked.iter().any(|page| page.as_ref().is_err_and(|fault| fault.differs)) {
        return;
    }
    let sound = leaves.iter().zip(&*checked).filter(|(_, page)| page.is_ok()).map(|(leaf, _)| leaf);
    let usual = Usual::of(canonical, file, sound);
    for (leaf, page) in leaves.iter().zip(checked) {
        if let Err(PageFault { statement: Some(said), fault, differs: true, .. }) = page {
            *fault = usual.differences(canonical, file, leaf, said);
        }
    }
}

/// Links on a page that it did not sign, and whatever else is laid over it.
fn strange_links(
    file: &Document,
    leaf: &Leaf,
    page: &CheckedPage,
    good: &HashMap<ObjectId, &CheckedPage>,
) -> Result<(), SealFault> {
    let Some(account) = &page.account else { return Ok(()) };
    for spot in links(file, leaf)? {
        let to = spot.target.and_then(|target| good.get(&target));
        let leads_out = to.is_some_and(|to| !are_one(to, page));
        if leads_out || !account.has_link(&spot, to.map(|to| to.statement.page)) {
            return Err(SealFault::LinkNotSigned);
        }
    }
    Ok(())
}

/// Whether pages that were dropped from the tree are as signed, and belong to some that were not.
fn are_of_the_same(
    file: &Document,
    dropped: &[(&Leaf, Result<CheckedPage, PageFault>)],
    checked: &[Result<CheckedPage, PageFault>],
    outside: &HashMap<ObjectId, &CheckedPage>,
) -> bool {
    dropped.iter().all(|(leaf, page)| {
        page.as_ref().is_ok_and(|page| {
            checked.iter().flatten().any(|other| are_one(other, page))
                && strange_links(file, leaf, page, outside).is_ok()
        })
    })
}

/// What the outline says that the page to which it leads did not sign. Pages that were taken out of the file may still be led to, or an
/// entry leads nowhere any more, which is well where the `titles` are all there as signed. A page that is `bad` has a fault of its own, and
/// cannot tell.
fn strange_bookmarks(
    file: &Document,
    by_id: &HashMap<ObjectId, &CheckedPage>,
    outside: &HashMap<ObjectId, &CheckedPage>,
    bad: &HashSet<ObjectId>,
    titles: Option<bool>,
) -> Result<Option<SealFault>, Unclear> {
    let root = file.catalog().ok().and_then(|catalog| catalog.get(b"Outlines").ok()).filter(|root| !root.is_null());
    let Some(root) = root else { return Ok(None) };
    let bookmarks = match outline(file, root) {
        Ok(bookmarks) => bookmarks,
        Err(fault) => return Ok(Some(fault)),
    };
    for bookmark in bookmarks {
        if bookmark.target.is_some_and(|target| bad.contains(&target)) {
            continue;
        }
        let page = bookmark.target.and_then(|target| by_id.get(&target).or_else(|| outside.get(&target)));
        let account = page.and_then(|page| page.account.as_ref());
        match (bookmark.target, titles) {
            (None, Some(true)) => {}
            (None, None) => {
                return Err(Unclear(SealFault::OutlineNowhere { title: bookmark.title }));
            }
            _ if account.is_some_and(|account| account.has_bookmark(&bookmark)) => {}
            _ => return Ok(Some(SealFault::OutlineSays { title: bookmark.title })),
        }
    }
    Ok(None)
}

/// What the files of pages said as a whole, each once.
fn documents(sealed: &[&CheckedPage]) -> Vec<String> {
    let mut documents: Vec<String> =
        sealed.iter().flat_map(|page| &page.account).map(|account| account.document.clone()).collect();
    let mut known = HashSet::new();
    documents.retain(|document| known.insert(document.clone()));
    documents
}

/// What a file kept of one of these, best of that whose outline it has; `None` when there are none.
fn kept_of_any<'a>(
    canonical: &mut Canonical<'a>,
    file: &'a Document,
    documents: &[String],
) -> Option<Result<KeptOfWhole, SealFault>> {
    let rank = |kept: &Result<KeptOfWhole, SealFault>| match kept {
        Ok(kept) if kept.titles == Some(true) => 0,
        Ok(_) => 1,
        Err(_) => 2,
    };
    documents.iter().map(|document| kept(canonical, file, document)).min_by_key(rank)
}

/// How pages that belong together are less than what was issued, or stand in another order.
fn missing(said: &[PageStatement]) -> Vec<SealFault> {
    let mut remarks = Vec::new();
    let numbers: Vec<u16> = said.iter().map(|page| page.page).collect();
    let each: BTreeSet<u16> = numbers.iter().copied().collect();
    let whole = said.first().map_or(0, |page| page.pages);
    if each.len() < usize::from(whole) {
        remarks.push(SealFault::PagesMissing { here: each.len(), whole });
    }
    if each.len() < numbers.len() {
        remarks.push(SealFault::PageAgain);
    }
    if numbers.windows(2).any(|pair| pair[0] > pair[1]) {
        remarks.push(SealFault::PagesOutOfOrder);
    }
    remarks
}
