//! The command line: one file a command.

mod adopt_key;
mod backup;
mod check;
mod config;
mod demo;
mod excerpt;
mod export;
mod figures;
mod healthcheck;
mod import;
mod joint;
mod key;
mod log;
mod pack;
mod restore;
mod revoke_key;
mod serve;
mod status;
mod stock_plan;
mod sweep;
mod token;
mod verify;

use crate::config::{ConfigError, Given};
use clap::{Parser, Subcommand};
use matchmark_service::ServiceError;
use matchmark_store::StoreError;
use std::fs::File;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Versioned tube-frame designs and revision-matched build packs.
#[derive(Parser)]
#[command(name = "matchmark", version, about)]
struct CommandLine {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Serve the API from a data directory.
    Serve(Given),
    /// Show the settings and where they come from.
    #[command(subcommand)]
    Config(config::Options),
    /// Ask the service on this machine that has these settings whether it is ready: exit 0 when it is.
    Healthcheck(Given),
    /// Serve a fresh copy of the demo and print what to try.
    Demo(demo::Options),
    /// Check a design document: exit 0 when clean, 1 on errors, 2 when it cannot be read.
    Check(check::Options),
    /// Draw the pack of a design document as PDF.
    Pack(pack::Options),
    /// Write the files of design documents for machines and other programs: tables, flat patterns, solids, a model, labels.
    Export(export::Options),
    /// Compute the end of one tube, or several, from JSON to JSON.
    Joint(joint::Options),
    /// Read a frame from DXF, STEP, CSV or XLSX files into a design document: exit 0 when read, 1 when a file was refused or a question must
    /// be answered, 2 when a file cannot be opened.
    Import(import::Options),
    /// Plan which bars to cut and how, from JSON to JSON.
    StockPlan(stock_plan::Options),
    /// Make the key that signs packs, and print its public half.
    Key(key::Options),
    /// Sign with the keys that these settings name from now on, in place of those that the service signed with so far. A
    /// process that was started with another key signs nothing from then on, until it is started again.
    AdoptKey(Given),
    /// Mark a key that may be in strange hands: nothing is signed with it any more, and what it signed is told by the record alone.
    RevokeKey(revoke_key::Options),
    /// Make a token for one of the supplier's own people, who counts as a second person; also the way back in when the last was lost.
    Token(token::Options),
    /// Take a backup while the service goes on.
    Backup(backup::Options),
    /// List where this version computes other figures for published revisions than were recorded, before or after an upgrade; exit 1 when
    /// there are any.
    Figures(Given),
    /// Remove blobs older than a day that no pack speaks of, as a crash can leave them; the service does it by itself once a day.
    Sweep(Given),
    /// Restore a backup into an empty place.
    Restore(restore::Options),
    /// Check a pack, a page's code or the status of a design against the supplier's public key, a backup, or all that is kept: exit 0
    /// when all is well.
    Verify(verify::Options),
}

/// Why a command failed.
#[derive(Debug, thiserror::Error)]
enum Failure {
    #[error("{path} cannot be read: {source}")]
    Unreadable { path: PathBuf, source: io::Error },
    #[error("{path} cannot be written: {source}")]
    Unwritable { path: PathBuf, source: io::Error },
    #[error("cannot listen on {address}: {source}")]
    Listen { address: std::net::SocketAddr, source: io::Error },
    #[error("{0}")]
    Usage(String),
    #[error("{0}")]
    Other(String),
    #[error(transparent)]
    Config(#[from] ConfigError),
    #[error(transparent)]
    Io(#[from] io::Error),
    #[error(transparent)]
    Store(#[from] StoreError),
    #[error(transparent)]
    Service(#[from] ServiceError),
}

impl Failure {
    fn exit_code(&self) -> ExitCode {
        match self {
            Self::Unreadable { .. } | Self::Usage(_) | Self::Config(_) => ExitCode::from(2),
            Self::Store(StoreError::NewerSchema(_)) => ExitCode::from(3),
            _ => ExitCode::FAILURE,
        }
    }
}

/// Reads the command line and does what it says.
pub fn run() -> ExitCode {
    let done = match CommandLine::parse().command {
        Command::Serve(given) => serve::run(&given),
        Command::Config(options) => config::run(&options),
        Command::Healthcheck(given) => healthcheck::run(&given),
        Command::Demo(options) => demo::run(&options),
        Command::Check(options) => check::run(&options),
        Command::Pack(options) => pack::run(&options),
        Command::Export(options) => export::run(&options),
        Command::Joint(options) => joint::run(&options),
        Command::Import(options) => import::run(&options),
        Command::StockPlan(options) => stock_plan::run(&options),
        Command::Key(options) => key::run(&options),
        Command::AdoptKey(given) => adopt_key::run(&given),
        Command::RevokeKey(options) => revoke_key::run(&options),
        Command::Token(options) => token::run(&options),
        Command::Backup(options) => backup::run(&options),
        Command::Figures(given) => figures::run(&given),
        Command::Sweep(given) => sweep::run(&given),
        Command::Restore(options) => restore::run(&options),
        Command::Verify(options) => verify::run(&options),
    };
    done.unwrap_or_else(|failure| {
        eprintln!("matchmark: {failure}");
        failure.exit_code()
    })
}

/// Writes to standard output. A reader that has seen enough and went away is no failure.
fn print(text: &str) -> Result<(), Failure> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != io::ErrorKind::BrokenPipe => Err(error.into()),
        _ => Ok(()),
    }
}

/// Writes a file that only its owner reads and that must not exist yet. It is there whole or not at all.
fn write_secret(path: &Path, text: &str) -> Result<(), Failure> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    let write = || {
        let mut file = tempfile::Builder::new().prefix("new-").tempfile_in(folder)?;
        file.write_all(text.as_bytes())?;
        file.as_file().sync_all()?;
        file.persist_noclobber(path).map_err(|refused| refused.error)?;
        File::open(folder)?.sync_all()
    };
    write().map_err(|source| Failure::Unwritable { path: path.to_owned(), source })
}

/// Refuses to write over a file that is read, or one file twice.
fn must_be_apart(written: &[&Path], read: &[&Path]) -> Result<(), Failure> {
    let place = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    for (at, path) in written.iter().enumerate() {
        let others = written.iter().take(at).chain(read);
        if others.into_iter().any(|other| place(other) == place(path)) {
            return Err(Failure::Usage(format!(
                "{} is named twice, and would be written over: name another file",
                path.display()
            )));
        }
    }
    Ok(())
}

fn read(path: &Path) -> Result<String, Failure> {
    let read = if path == Path::new("-") { io::read_to_string(io::stdin()) } else { std::fs::read_to_string(path) };
    read.map_err(|source| Failure::Unreadable { path: path.to_owned(), source })
}
