//! `matchmark key`

use super::{Failure, print, read, write_secret};
use crate::config::StorageSettings;
use clap::Args;
use matchmark_core::seal::SealKey;
use matchmark_service::PublicKeys;
use matchmark_store::secret;
use std::io;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// File in the data directory with the key that signs packs.
pub const FILE: &str = "signing.key";

/// Where the new key goes.
#[derive(Args)]
pub struct Options {
    /// File to write the secret key to; it must not exist yet. Keep it where nobody else can read it.
    file: PathBuf,
}

pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let key = make(&options.file)?;
    print(&format!("{}\n", key.public().hex()))?;
    Ok(ExitCode::SUCCESS)
}

/// The key that is given, else the one in the data directory; where there is none yet a new one, if one may be made.
pub fn of(kept: &StorageSettings, may_make: bool) -> Result<SealKey, Failure> {
    let file = kept.data.join(FILE);
    if kept.signing_key.is_none() && !file.exists() {
        if !may_make {
            return Err(Failure::Other(format!(
                "there is no {FILE} in {}, but this service already signs with a key: put that key there, or name it with signing-key",
                kept.data.display()
            )));
        }
        match make(&file) {
            // Another process that starts on the same directory was first.
            Err(Failure::Unwritable { source, .. }) if source.kind() == io::ErrorKind::AlreadyExists => {}
            made => return made,
        }
    }
    let place = kept.signing_key.as_ref().map_or_else(|| file.display().to_string(), |_| "signing-key".to_owned());
    SealKey::from_hex(&text_of(kept)?).map_err(|error| Failure::Other(format!("{place}: {error}")))
}

/// The key that signs what is said of designs: the one that is given, else that of pages.
pub fn of_status(kept: &StorageSettings, may_make: bool) -> Result<SealKey, Failure> {
    match &kept.status_key {
        Some(key) => SealKey::from_hex(key.reveal()).map_err(|error| Failure::Other(format!("status-key: {error}"))),
        None => of(kept, may_make),
    }
}

/// The public halves of both.
pub fn public(kept: &StorageSettings, may_make: bool) -> Result<PublicKeys, Failure> {
    let (pages, status) = (of(kept, may_make)?, of_status(kept, may_make)?);
    Ok(PublicKeys { pages: pages.public().hex(), status: status.public().hex() })
}

/// The text of the key that is given, else of the one in the data directory.
pub fn text_of(kept: &StorageSettings) -> Result<String, Failure> {
    match &kept.signing_key {
        Some(key) => Ok(key.reveal().to_owned()),
        None => {
            must_be_there(kept)?;
            read(&kept.data.join(FILE))
        }
    }
}

/// Refuses a data directory that is not there, where the key is to be read from it: more than the key is missing then.
pub fn must_be_there(kept: &StorageSettings) -> Result<(), Failure> {
    if kept.signing_key.is_some() || kept.data.is_dir() {
        return Ok(());
    }
    Err(Failure::Other(format!(
        "there is no data directory {}: name the service's own with --data",
        kept.data.display()
    )))
}

fn make(file: &Path) -> Result<SealKey, Failure> {
    let key = SealKey::new(secret::key());
    write_secret(file, &format!("{}\n", key.secret_hex()))?;
    Ok(key)
}

#[cfg(test)]
mod tests {
    use super::*;
    use matchmark_store::BlobsAt;
    use std::collections::BTreeSet;
    use std::sync::Barrier;
    use std::thread;

    #[test]
    fn starts_that_race_on_one_directory_all_get_the_one_key() {
        for _ in 0..50 {
            let directory = tempfile::tempdir().unwrap();
            let data = directory.path().to_owned();
            let kept = StorageSettings {
                data,
                database: None,
                signing_key: None,
                status_key: None,
                blobs: BlobsAt::Directory,
            };
            let together = Barrier::new(8);
            let start = || {
                together.wait();
                of(&kept, true).map(|key| key.public().hex()).map_err(|failure| failure.to_string())
            };
            let keys: BTreeSet<Result<String, String>> = thread::scope(|scope| {
                let starts = [(); 8].map(|()| scope.spawn(start));
                starts.into_iter().map(|start| start.join().unwrap()).collect()
            });
            assert!(keys.len() == 1 && keys.iter().all(Result::is_ok), "{keys:?}");
            let left: Vec<_> = std::fs::read_dir(&kept.data).unwrap().map(|entry| entry.unwrap().file_name()).collect();
            assert_eq!(left, [FILE]);
        }
    }
}
