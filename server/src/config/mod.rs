//! What a running service is told, by flags, the environment or a file, and what it goes by where it is told nothing.

mod callers;
mod log;
mod origins;
mod proxies;
mod settings;
mod sources;

pub use callers::Callers;
pub use matchmark_store::Secret;
pub use proxies::TrustedProxies;
pub use settings::{Kind, SETTINGS};
pub use sources::{Given, Origin, Sources};

use axum::http::HeaderValue;
use matchmark_core::seal::SealKey;
use matchmark_service::send::{Channels, SendSettings, SettingsError};
use matchmark_service::{EventType, contact_fault};
use matchmark_store::{BlobsAt, Bucket};
use std::collections::BTreeSet;
use std::fmt::Display;
use std::io;
use std::net::SocketAddr;
use std::path::PathBuf;
use std::str::FromStr;

/// Settings that cannot be used.
#[derive(Debug, thiserror::Error)]
pub enum ConfigError {
    /// A line of the file that is no setting.
    #[error("{path}: there is no setting {key}; {}", hint(.nearest.as_deref()))]
    UnknownKey { path: PathBuf, key: String, nearest: Option<String> },
    /// A variable of the environment that is almost a setting.
    #[error("there is no setting {variable}; did you mean {nearest}?")]
    UnknownVariable { variable: String, nearest: String },
    /// A file that cannot be read.
    #[error("{path} cannot be read: {source}")]
    Unreadable { path: PathBuf, source: io::Error },
    /// A file that is not TOML.
    #[error("{path} is not TOML: {message}")]
    NotToml { path: PathBuf, message: String },
    /// A value of the file that is no text, number, truth or list of texts.
    #[error("{path}: {key} must be text, a number, true or false, or a list of texts")]
    Shape { path: PathBuf, key: String },
    /// A secret given both ways.
    #[error("give one of {name} and {by_file}, not both ({origin})")]
    Twice { name: &'static str, by_file: String, origin: Origin },
    /// A file in the data directory that names the data directory.
    #[error(
        "{0} is in the data directory and cannot name another; give data by flag, by environment, or in a file named by --config"
    )]
    DataInItself(PathBuf),
    /// A value that will not do.
    #[error("{name} ({origin}): {reason}")]
    Value { name: &'static str, origin: Origin, reason: String },
    /// A setting that another one needs.
    #[error("{name} is missing: {why}")]
    Missing { name: &'static str, why: &'static str },
    /// Ways out that cannot be used.
    #[error(transparent)]
    Sending(#[from] SettingsError),
}

fn hint(nearest: Option<&str>) -> String {
    match nearest {
        Some(nearest) => format!("did you mean {nearest}?"),
        None => "`matchmark serve --help` lists all settings".to_owned(),
    }
}

/// How to serve.
#[derive(Debug)]
pub struct Config {
    /// Address and port to listen on.
    pub listen: SocketAddr,
    /// Address under which builders reach the service, without a slash at its end.
    pub public_address: Option<String>,
    /// Whose word about the caller's address is taken.
    pub trusted_proxies: TrustedProxies,
    /// How much callers may take.
    pub callers: Callers,
    /// Other sites that may call the API from a browser.
    pub cors_origins: Vec<HeaderValue>,
    /// Name of the supplier.
    pub supplier: String,
    /// Whom holders of kits are to ask, for a database that does not know yet.
    pub contact: Option<String>,
    /// Whether a second person must look at a draft before it is published.
    pub second_approver: bool,
    /// How many packs of their kit a builder may have drawn in 24 hours.
    pub builder_packs: usize,
    /// Bytes of disk that must be left for the service to be ready.
    pub min_free_disk: u64,
    /// Where things are kept.
    pub kept: StorageSettings,
    /// Where holders of kits are told of notices and recalls.
    pub channels: Channels,
    /// Where metrics are read.
    pub metrics_listen: Option<SocketAddr>,
    /// How much is logged.
    pub log: String,
    /// In what form.
    pub log_format: LogFormat,
}

/// Where things are kept.
#[derive(Debug)]
pub struct StorageSettings {
    /// The data directory.
    pub data: PathBuf,
    /// Address of a database of PostgreSQL, if any.
    pub database: Option<Secret>,
    /// The key that signs pages, if it does not lie in the data directory.
    pub signing_key: Option<Secret>,
    /// The key that signs what is said of designs, if it is another.
    pub status_key: Option<Secret>,
    /// Where the bytes of packs are.
    pub blobs: BlobsAt,
}

/// Bytes in what disks are sold by.
const MEGABYTE: u64 = 1_000_000;

/// The form of the log.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LogFormat {
    Text,
    Json,
}

impl FromStr for LogFormat {
    type Err = &'static str;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        match text {
            "text" => Ok(Self::Text),
            "json" => Ok(Self::Json),
            _ => Err("write text or json"),
        }
    }
}

impl Config {
    /// The configuration that the sources make. Whatever a service would refuse at its start is refused here.
    pub fn from_sources(sources: &Sources) -> Result<Self, ConfigError> {
        Ok(Self {
            listen: required(sources, "listen")?,
            public_address: public_address(sources)?,
            trusted_proxies: value(sources, "trusted-proxies", |list| {
                TrustedProxies::parse(list).map_err(|entry| format!("{entry} is neither an address nor a network"))
            })?
            .unwrap_or_default(),
            callers: Callers::from_sources(sources)?,
            cors_origins: value(sources, "cors-origins", |list| {
                origins::parse(list).map_err(|entry| format!("{entry:?} is not an origin such as https://shop.example"))
            })?
            .unwrap_or_default(),
            supplier: required(sources, "supplier")?,
            contact: value(sources, "contact", |text| match contact_fault(text) {
                Some(fault) => Err(fault),
                None => Ok(text.to_owned()),
            })?,
            second_approver: required(sources, "second-approver")?,
            builder_packs: callers::count(sources, "builder-packs")?,
            min_free_disk: number(sources, "min-free-disk", 0, u64::MAX / MEGABYTE)? * MEGABYTE,
            kept: StorageSettings {
                data: required(sources, "data")?,
                database: address(sources, "database")?,
                signing_key: key(sources, "signing-key")?,
                status_key: key(sources, "status-key")?,
                blobs: blobs(sources)?,
            },
            channels: SendSettings {
                webhook: address(sources, "webhook")?,
                webhook_secret: sources.get("webhook-secret").map(|found| found.value.clone()),
                events: value(sources, "webhook-events", event_types)?.unwrap_or_default(),
                smtp: address(sources, "smtp")?,
                mail_from: text(sources, "mail-from"),
            }
            .channels()?,
            metrics_listen: value(sources, "metrics-listen", |text| match text {
                "off" => Ok(None),
                address => parse(address).map(Some),
            })?
            .flatten(),
            log: value(sources, "log", log::checked)?.unwrap_or_default(),
            log_format: required(sources, "log-format")?,
        })
    }
}

fn value<T>(
    sources: &Sources,
    name: &'static str,
    read: impl FnOnce(&str) -> Result<T, String>,
) -> Result<Option<T>, ConfigError> {
    let Some(found) = sources.get(name) else { return Ok(None) };
    read(found.value.reveal()).map(Some).map_err(|reason| ConfigError::Value {
        name,
        origin: found.origin.clone(),
        reason,
    })
}

fn event_types(list: &str) -> Result<BTreeSet<EventType>, String> {
    let names = list.split(',').map(str::trim).filter(|name| !name.is_empty());
    let all = || EventType::ALL.map(EventType::name).join(", ");
    names.map(|name| EventType::named(name).ok_or_else(|| format!("{name} is none of {}", all()))).collect()
}

fn parse<T: FromStr>(text: &str) -> Result<T, String>
where
    T::Err: Display,
{
    text.parse().map_err(|error| format!("{text:?} cannot be used: {error}"))
}

/// A setting that always has a value, because it has a default.
fn required<T: FromStr>(sources: &Sources, name: &'static str) -> Result<T, ConfigError>
where
    T::Err: Display,
{
    value(sources, name, parse)?.ok_or(ConfigError::Missing { name, why: "it has no default" })
}

/// A whole number.
fn number(sources: &Sources, name: &'static str, least: u64, most: u64) -> Result<u64, ConfigError> {
    let read = |text: &str| {
        let number = text.parse().ok().filter(|number| (least..=most).contains(number));
        number.ok_or_else(|| format!("{text:?} cannot be used: write a whole number from {least} to {most}"))
    };
    value(sources, name, read)?.ok_or(ConfigError::Missing { name, why: "it has no default" })
}

/// A key that signs.
fn key(sources: &Sources, name: &'static str) -> Result<Option<Secret>, ConfigError> {
    value(sources, name, |text| match SealKey::from_hex(text) {
        Ok(_) => Ok(Secret::from(text)),
        Err(error) => Err(error.to_string()),
    })
}

fn text(sources: &Sources, name: &str) -> Option<String> {
    sources.get(name).map(|found| found.value.reveal().to_owned())
}

/// An address that may have a password in it, which is refused in a flag.
fn address(sources: &Sources, name: &'static str) -> Result<Option<Secret>, ConfigError> {
    let Some(found) = sources.get(name) else { return Ok(None) };
    if found.origin == Origin::Flag && found.held_by.is_none() && has_password(found.value.reveal()) {
        let reason = format!("every user of this machine can read a flag; give a password with --{name}-file");
        return Err(ConfigError::Value { name, origin: found.origin.clone(), reason });
    }
    Ok(Some(found.value.clone()))
}

fn has_password(address: &str) -> bool {
    let rest = address.split_once("://").map_or("", |(_, rest)| rest);
    let user = rest.split(['/', '?']).next().and_then(|authority| authority.rsplit_once('@'));
    let query = rest.split_once('?').map_or("", |(_, query)| query);
    user.is_some_and(|(user, _)| user.contains(':')) || query.split('&').any(|pair| pair.starts_with("password="))
}

fn public_address(sources: &Sources) -> Result<Option<String>, ConfigError> {
    value(sources, "public-address", |address| {
        let host = address.strip_prefix("https://").or_else(|| address.strip_prefix("http://"));
        let plain = |host: &str| !host.is_empty() && !host.starts_with('/') && !host.contains(['?', '#', '@', ' ']);
        match host {
            Some(host) if plain(host) => Ok(address.trim_end_matches('/').to_owned()),
            _ => Err(format!("{address:?} is not an address such as https://packs.example")),
        }
    })
}

fn blobs(sources: &Sources) -> Result<BlobsAt, ConfigError> {
    let Some(name) = text(sources, "s3-bucket") else { return Ok(BlobsAt::Directory) };
    let why = "a bucket needs it";
    let missing = |name| ConfigError::Missing { name, why };
    let endpoint = value(sources, "s3-endpoint", |address| match address.split_once("://") {
        Some((_, rest)) if rest.contains('@') => {
            Err("it is not kept secret, so it must hold no password; give s3-key-id and s3-secret".to_owned())
        }
        Some(("https", _)) => Ok(address.to_owned()),
        Some(("http", rest)) if is_here(rest) => Ok(address.to_owned()),
        Some(("http", _)) => Err("http is for a store on this machine only; write https".to_owned()),
        _ => Err(format!("{address:?} is not an address such as https://storage.example")),
    })?;
    Ok(BlobsAt::Bucket(Bucket {
        name,
        endpoint: endpoint.ok_or_else(|| missing("s3-endpoint"))?,
        region: text(sources, "s3-region").unwrap_or_default(),
        key_id: text(sources, "s3-key-id").ok_or_else(|| missing("s3-key-id"))?,
        secret: sources.get("s3-secret").map(|found| found.value.clone()).ok_or_else(|| missing("s3-secret"))?,
    }))
}

/// Whether an address without its scheme is of this machine.
fn is_here(rest: &str) -> bool {
    let authority = rest.split('/').next().unwrap_or_default();
    let ip = |address: SocketAddr| address.ip().is_loopback();
    authority.parse().is_ok_and(ip)
        || authority.parse::<std::net::IpAddr>().is_ok_and(|address| address.is_loopback())
        || authority.split(':').next() == Some("localhost")
}
