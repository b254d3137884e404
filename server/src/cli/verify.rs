//! `matchmark verify`

use super::backup::kept;
use super::{Failure, print, read, status};
use crate::config::{Config, Given, Sources};
use clap::Args;
use matchmark_core::seal::{Answer, SealReport, check_seals};
use matchmark_core::seal::{PageKind, PageStatement, PublicKey};
use matchmark_service::{Inspection, inspect};
use matchmark_store::{Blobs, backup, snapshot};
use serde::Deserialize;
use std::fmt::Write;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use tokio::runtime::Runtime;

/// What to check.
#[derive(Args)]
pub struct Options {
    /// PDF file of a pack, the text of one page's code, or the folder of a backup. When absent, all that the service with these
    /// settings keeps: every blob, the chains of revisions and acts, every row that is on record, and that each pack is whole. The service may go on working.
    what: Option<String>,

    /// File with the signed status of a design, as `/v1/designs/{design}/status` gives it; it is checked without a network.
    #[arg(long, value_name = "FILE", conflicts_with = "what")]
    status: Option<PathBuf>,

    /// File in which the newest status that was seen is kept: an older one is refused. Made when missing.
    #[arg(long, value_name = "FILE", requires = "status")]
    seen: Option<PathBuf>,

    /// Id of the design that the status must be about.
    #[arg(long, value_name = "ID", requires = "status")]
    design: Option<String>,

    /// The supplier's public key, 64 hexadecimal digits; a pack, a code and a status are checked against it.
    #[arg(long, env = "MATCHMARK_PUBLIC_KEY")]
    public_key: Option<String>,

    /// Account of the pack, as the service gives it beside the file: a file with the hash that stands there is the issued one. A seal
    /// of the first form cannot tell by itself.
    #[arg(long, value_name = "FILE", requires = "what")]
    manifest: Option<PathBuf>,

    /// Print the findings about a pack or a code as JSON.
    #[arg(long)]
    json: bool,

    #[command(flatten)]
    given: Given,
}

/// Exit code when the signature or the content does not fit, or cannot be held against each other.
const NOT_GENUINE: u8 = 1;

/// A code holds a signature at least: 64 bytes, five bits a character.
const SHORTEST_CODE: usize = 103;

/// Exit code when what is there is as signed, but not all of the file, or not all that a viewer shows.
const IN_PART: u8 = 4;

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    if let Some(file) = &options.status {
        return status::run(file, &key_of(options)?, options.design.as_deref(), options.seen.as_deref());
    }
    let Some(what) = &options.what else {
        return all_kept(&options.given);
    };
    let path = Path::new(what);
    if path.is_dir() {
        return report_backup(&backup::check(path)?);
    }
    if let (Err(source), false) = (path.metadata(), is_like_a_code(what)) {
        return Err(Failure::Unreadable { path: path.to_owned(), source });
    }
    let key = key_of(options)?;
    if path.is_file() {
        return file(path, &key, options);
    }
    match key.verify(what) {
        Ok(statement) => {
            print(&said(&statement, options.json)?)?;
            Ok(ExitCode::SUCCESS)
        }
        Err(error) => Err(Failure::Other(format!("{}: {error}", error.code()))),
    }
}

/// Whether somebody who gave this meant a code and no file: letters and digits without end, behind an address or alone.
fn is_like_a_code(text: &str) -> bool {
    let code = text.rsplit('/').next().unwrap_or_default();
    code.len() >= SHORTEST_CODE && code.bytes().all(|byte| byte.is_ascii_alphanumeric())
}

fn key_of(options: &Options) -> Result<PublicKey, Failure> {
    let public_key = options.public_key.as_ref();
    let public_key = public_key.ok_or_else(|| Failure::Usage("give the supplier's --public-key".to_owned()))?;
    PublicKey::from_hex(public_key).map_err(|error| Failure::Usage(format!("public-key: {error}")))
}

fn all_kept(given: &Given) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(given)?)?;
    let place = kept(&config.kept);
    let found = Runtime::new()?.block_on(async {
        let mut conn = snapshot::open(place.directory, place.address).await?;
        let blobs = Blobs::at(place.blobs, place.directory)?;
        Ok::<_, Failure>(inspect(&mut conn, &blobs).await?)
    })?;
    report(&found)
}

/// Says what an inspection found.
pub fn report(found: &Inspection) -> Result<ExitCode, Failure> {
    let Inspection { revisions, packs, acts, chains, checkpoints, last_checkpoint, notes, faults } = found;
    let mut text: String = faults.iter().chain(notes).map(|said| format!("{said}\n")).collect();
    let _ = writeln!(text, "{revisions} revisions, {packs} packs and {acts} acts in {chains} chains");
    let _ = writeln!(text, "checkpoint {checkpoints} is {last_checkpoint}");
    let _ = writeln!(
        text,
        "{}",
        if faults.is_empty() { "nothing has changed since it was recorded" } else { "CHANGED since it was recorded" }
    );
    print(&text)?;
    Ok(if faults.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// Says what is wrong with a backup.
pub fn report_backup(faults: &[String]) -> Result<ExitCode, Failure> {
    let text: String = faults.iter().map(|fault| format!("{fault}\n")).collect();
    let end = if faults.is_empty() { "the backup is complete" } else { "the backup is NOT complete" };
    print(&format!("{text}{end}\n"))?;
    Ok(if faults.is_empty() { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn said(statement: &PageStatement, json: bool) -> Result<String, Failure> {
    if json {
        return serde_json::to_string(statement)
            .map(|text| text + "\n")
            .map_err(|error| Failure::Other(error.to_string()));
    }
    Ok(format!("signed: {}\n{WARNING}\n", words(statement)))
}

/// A signature says where a page comes from, not whether it is still right.
const WARNING: &str = "A signature does not expire: ask the supplier's service whether this revision is still current.";

fn words(page: &PageStatement) -> String {
    let or_none = |text: &str| if text.is_empty() { "none".to_owned() } else { text.to_owned() };
    let belongs = match page.kind {
        PageKind::Pack => format!("pack {}", or_none(&page.pack)),
        PageKind::StopSheet => "stop sheet".to_owned(),
        PageKind::Notice => match page.beside.zip(page.told) {
            Some((beside, told)) => format!("pages of notice {} (set N{0}/P{beside}/{told})", page.notice),
            None => format!("pages of notice {}", page.notice),
        },
    };
    format!(
        "design {}, revision {}, kit {}, {belongs}, page {} of {}, {}",
        page.design,
        if page.revision.is_empty() { "draft" } else { &page.revision },
        or_none(&page.kit),
        page.page,
        page.pages,
        page.date
    )
}

/// Of files that are drawn whenever somebody asks for them.
const NO_RECORD: &str = "its pages are of no pack: a service draws such files anew each time and keeps no record of them, and `matchmark pack` \
    draws them without any service. If it is from a service, ask that for the code of each page, under /v1/pages/ or by scanning it";

/// What an account says of its file.
#[derive(Deserialize)]
struct Account {
    file_sha256: String,
    #[serde(default)]
    pages: Vec<AccountPage>,
}

/// What it says of a page.
#[derive(Deserialize)]
struct AccountPage {
    signed_sha256: Option<String>,
}

impl Account {
    /// Whether all pages of a file are of the one that the account is of.
    fn has_pages_of(&self, report: &SealReport) -> bool {
        let signed = |statement: &PageStatement| {
            self.pages.iter().flat_map(|page| &page.signed_sha256).any(|hash| hash.starts_with(&statement.content))
        };
        report.pages.iter().all(|page| page.statement.as_ref().is_some_and(signed))
    }

    /// What a file is that is held against the account.
    fn against(&self, report: SealReport) -> SealReport {
        if self.file_sha256 == report.sha256 {
            report.known()
        } else if self.has_pages_of(&report) {
            report
        } else {
            report.of_another()
        }
    }
}

fn file(path: &Path, key: &PublicKey, options: &Options) -> Result<ExitCode, Failure> {
    let bytes = std::fs::read(path).map_err(|source| Failure::Unreadable { path: path.to_owned(), source })?;
    let mut report = check_seals(&bytes, key).map_err(|error| Failure::Other(error.to_string()))?;
    if let Some(manifest) = &options.manifest {
        let account: Account = serde_json::from_str(&read(manifest)?).map_err(|error| {
            Failure::Usage(format!("{} is not the manifest of a pack: {error}", manifest.display()))
        })?;
        report = account.against(report);
    }
    if !report.is_of_a_pack() && !report.answer.is_refusal() {
        report.remarks.push(NO_RECORD.to_owned());
    }
    if options.json {
        let text = serde_json::to_string(&report).map_err(|error| Failure::Other(error.to_string()))?;
        print(&format!("{text}\n"))?;
    } else {
        print(&lines(&report))?;
    }
    Ok(match report.answer {
        Answer::Issued | Answer::SamePages => ExitCode::SUCCESS,
        Answer::SomePages | Answer::OldSeal => ExitCode::from(IN_PART),
        Answer::OtherFile | Answer::Unclear | Answer::Forged => ExitCode::from(NOT_GENUINE),
    })
}

fn lines(report: &SealReport) -> String {
    let mut text = String::new();
    for page in &report.pages {
        if let Some(fault) = &page.fault {
            let _ = writeln!(text, "page {} of the file: {fault}", page.place);
        }
    }
    for line in report.faults.iter().chain(&report.remarks) {
        let _ = writeln!(text, "{line}");
    }
    let count = match report.pages.len() {
        1 => "1 page".to_owned(),
        count => format!("{count} pages"),
    };
    let answer = match report.answer {
        Answer::Issued if report.is_of_a_pack() => {
            format!("the file that was issued, byte for byte, {count} as signed")
        }
        Answer::Issued => format!("the file that was drawn and signed, byte for byte, {count} as signed"),
        Answer::SamePages => {
            format!("{count} as signed, all of the file that was issued; it was saved again, so its bytes differ")
        }
        Answer::SomePages => format!("{count} as signed, but NOT THE WHOLE FILE that was issued: pages, their order, bookmarks or settings differ from it"),
        Answer::OldSeal => {
            "OLD SEAL, page drawing only: fonts, sizes and annotations were not signed. Ask the service about the file's hash, or give its --manifest"
                .to_owned()
        }
        Answer::OtherFile => format!("NOT THE FILE of this manifest: {count} as signed, but of another pack"),
        Answer::Unclear if report.is_mixed() => {
            "UNCLEAR AS A WHOLE: do not cut from this file, use those that were issued".to_owned()
        }
        Answer::Unclear => "UNCLEAR: do not cut from this file, use the one that was issued. Nothing in it was found to be \
            other than signed, and nothing can be said to be as signed"
            .to_owned(),
        Answer::Forged => "NOT GENUINE: do not cut from this file".to_owned(),
    };
    let _ = writeln!(text, "{answer}");
    if let Some(first) = report.pages.first().and_then(|page| page.statement.as_ref())
        && !report.answer.is_refusal()
    {
        let _ = writeln!(text, "first page: {}\n{WARNING}", words(first));
    }
    let asked = if report.is_of_a_pack() || report.answer.is_refusal() {
        format!("; the service says under /v1/files/{} whether it issued it", report.sha256)
    } else {
        String::new()
    };
    let _ = writeln!(text, "SHA-256 of the file: {}{asked}", report.sha256);
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use matchmark_core::seal::PageSeal;

    #[test]
    fn one_page_is_one_and_two_are_pages() {
        let page = |place| PageSeal {
            place,
            statement: Some(PageStatement::new(PageKind::Pack, "1".to_owned())),
            fault: None,
        };
        for answer in [Answer::Issued, Answer::SamePages, Answer::SomePages, Answer::OtherFile] {
            for (count, words) in [(1, "1 page as signed"), (2, "2 pages as signed")] {
                let report = SealReport {
                    answer,
                    sha256: String::new(),
                    pages: (1..=count).map(page).collect(),
                    faults: Vec::new(),
                    remarks: Vec::new(),
                };
                assert!(lines(&report).contains(words), "{answer:?}: {}", lines(&report));
            }
        }
    }

    #[test]
    fn pages_of_several_packs_are_not_called_forged_and_not_the_file_nor_as_signed() {
        let page = |place, pack: &str| PageSeal {
            place,
            statement: Some(PageStatement::new(PageKind::Pack, pack.to_owned())),
            fault: None,
        };
        let which = "page 1 is of pack 1, page 2 of pack 2";
        let report = SealReport {
            answer: Answer::Unclear,
            sha256: String::new(),
            pages: vec![page(1, "1"), page(2, "2")],
            faults: vec![which.to_owned()],
            remarks: Vec::new(),
        };
        let said = lines(&report);
        assert!(said.contains(which) && said.contains("UNCLEAR AS A WHOLE"), "{said}");
        for never in ["NOT GENUINE", "as signed", "the file that was issued", "first page"] {
            assert!(!said.contains(never), "{never}: {said}");
        }
    }
}
