//! `matchmark verify --status`: the signed status of a design, checked without a network.

use super::{Failure, print};
use matchmark_core::seal::PublicKey;
use matchmark_core::seal::{DesignStatus, MOST_STATUS_BYTES, SignedStatus, StatusError};
use matchmark_service::STATUS_LASTS;
use matchmark_store::clock::{Clock, SystemClock};
use serde::{Deserialize, Serialize};
use std::fs::File;
use std::io::{self, Read, Write};
use std::path::Path;
use std::process::ExitCode;
use time::format_description::well_known::Rfc3339;
use time::{Duration, OffsetDateTime};

/// So much may the clocks of supplier and reader differ.
const CLOCKS_DIFFER: Duration = Duration::minutes(5);

/// What was seen before, as it is kept from one check to the next.
#[derive(Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct SeenStatus {
    design: String,
    version: u32,
    said_sha256: String,
}

/// Why a status is refused.
#[derive(Debug, thiserror::Error)]
enum Refused {
    #[error(transparent)]
    Status(#[from] StatusError),
    #[error("it is about design {found}, not {wanted}")]
    OtherDesign { found: String, wanted: String },
    #[error(
        "it is about design {found}, and the file named with --seen is about {seen}: keep one such file for each design"
    )]
    SeenOfAnother { found: String, seen: String },
    #[error("{0} cannot be read as a time")]
    NoTime(String),
    #[error("it ended on {0}; fetch a new one")]
    Expired(String),
    #[error(
        "it claims to be valid until {0}, longer than a status can be; check the clock of this machine, then ask the supplier"
    )]
    LastsTooLong(String),
    #[error(
        "this is version {found}, but version {seen} was seen before: somebody is serving an old one. Ask the supplier"
    )]
    Older { found: u32, seen: u32 },
    #[error("it differs from the version {0} that was seen before. Ask the supplier")]
    Contradicts(u32),
}

impl Refused {
    fn code(&self) -> &'static str {
        match self {
            Self::Status(error) => error.code(),
            Self::OtherDesign { .. } | Self::SeenOfAnother { .. } => "status-of-another-design",
            Self::NoTime(_) => "status-not-readable",
            Self::Expired(_) => "status-expired",
            Self::LastsTooLong(_) => "status-lasts-too-long",
            Self::Older { .. } => "status-older-than-seen",
            Self::Contradicts(_) => "status-contradicts-seen",
        }
    }
}

/// Checks a file and says what it says. What was seen is kept only after every check has passed.
pub fn run(file: &Path, key: &PublicKey, design: Option<&str>, seen: Option<&Path>) -> Result<ExitCode, Failure> {
    let bytes = read_bounded(file).map_err(|source| Failure::Unreadable { path: file.to_owned(), source })?;
    let before = seen.map(read_seen).transpose()?.flatten();
    let status = check(&bytes, key, design, before.as_ref(), SystemClock.now())
        .map_err(|refused| Failure::Other(format!("{}: {refused}", refused.code())))?;
    if let Some(path) = seen {
        keep_seen(path, &status).map_err(|source| Failure::Unwritable { path: path.to_owned(), source })?;
    }
    print(&words(&status))?;
    Ok(ExitCode::SUCCESS)
}

/// One byte more than a status may have at most, however much there is.
fn read_bounded(file: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    File::open(file)?.take(MOST_STATUS_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}

fn check(
    bytes: &[u8],
    key: &PublicKey,
    design: Option<&str>,
    seen: Option<&SeenStatus>,
    now: OffsetDateTime,
) -> Result<DesignStatus, Refused> {
    let status = SignedStatus::read(bytes, key)?;
    if let Some(wanted) = design.filter(|wanted| *wanted != status.design) {
        return Err(Refused::OtherDesign { found: status.design, wanted: wanted.to_owned() });
    }
    if let Some(seen) = seen.filter(|seen| seen.design != status.design) {
        return Err(Refused::SeenOfAnother { found: status.design, seen: seen.design.clone() });
    }
    let expires = OffsetDateTime::parse(&status.expires, &Rfc3339);
    let expires = expires.map_err(|_| Refused::NoTime(status.expires.clone()))?;
    if expires <= now {
        return Err(Refused::Expired(status.expires));
    }
    if expires > now + STATUS_LASTS + CLOCKS_DIFFER {
        return Err(Refused::LastsTooLong(status.expires));
    }
    if let Some(seen) = seen {
        if status.version < seen.version {
            return Err(Refused::Older { found: status.version, seen: seen.version });
        }
        if status.version == seen.version && status.said_sha256() != seen.said_sha256 {
            return Err(Refused::Contradicts(seen.version));
        }
    }
    Ok(status)
}

fn read_seen(path: &Path) -> Result<Option<SeenStatus>, Failure> {
    let text = match std::fs::read_to_string(path) {
        Ok(text) => text,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(source) => return Err(Failure::Unreadable { path: path.to_owned(), source }),
    };
    let seen = serde_json::from_str(&text);
    seen.map(Some).map_err(|error| {
        Failure::Other(format!("{}: {error}; it is not the file that an earlier check wrote", path.display()))
    })
}

/// Whole under another name first, so that a crash leaves the one before.
fn keep_seen(path: &Path, status: &DesignStatus) -> io::Result<()> {
    let seen = SeenStatus { design: status.design.clone(), version: status.version, said_sha256: status.said_sha256() };
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    serde_json::to_writer(&mut file, &seen)?;
    file.write_all(b"\n")?;
    file.as_file().sync_all()?;
    file.persist(path)?;
    File::open(folder)?.sync_all()
}

fn words(status: &DesignStatus) -> String {
    let list = |letters: &[String]| if letters.is_empty() { "none".to_owned() } else { letters.join(", ") };
    let current = status.current.as_ref();
    format!(
        "design {}, version {}: revision {} is current{}\nwithdrawn: {}\nrecalled: {}\nsaid {}, holds until {}\n",
        status.design,
        status.version,
        current.map_or("none", |current| &current.letter),
        current.map(|current| format!(", document {}", current.document_sha256)).unwrap_or_default(),
        list(&status.withdrawn),
        list(&status.recalled),
        status.issued,
        status.expires,
    )
}
