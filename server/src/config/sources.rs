//! Where each setting's value comes from: flags, else the environment, else the file, else the defaults.

use super::settings::{FILE, Kind, PREFIX, SETTINGS, Setting, names, nearest, variable_of};
use super::{ConfigError, Secret};
use clap::{Arg, ArgMatches, Args, Command, FromArgMatches, value_parser};
use std::collections::BTreeMap;
use std::fmt;
use std::path::{Path, PathBuf};
use toml::Value;

/// The name of the flag for the file, which is no setting of the file.
const CONFIG: &str = "config";

/// The file in the data directory that is read when none is named.
const DEFAULT_FILE: &str = "matchmark.toml";

/// What stood on the command line.
#[derive(Debug, Clone, Default)]
pub struct Given {
    flags: BTreeMap<String, String>,
    file: Option<PathBuf>,
}

impl FromArgMatches for Given {
    fn from_arg_matches(matches: &ArgMatches) -> Result<Self, clap::Error> {
        let mut given = Self::default();
        given.update_from_arg_matches(matches)?;
        Ok(given)
    }

    fn update_from_arg_matches(&mut self, matches: &ArgMatches) -> Result<(), clap::Error> {
        self.file = matches.get_one::<PathBuf>(CONFIG).cloned();
        for (name, setting) in names() {
            if has_flag(&name, setting)
                && let Some(value) = matches.get_one::<String>(&name)
            {
                self.flags.insert(name, value.clone());
            }
        }
        Ok(())
    }
}

impl Args for Given {
    fn augment_args(command: Command) -> Command {
        let file = Arg::new(CONFIG).long(CONFIG).value_name("FILE").value_parser(value_parser!(PathBuf)).help(format!(
            "File with settings in TOML; {DEFAULT_FILE} in the data directory when it is there [env: {}]",
            variable_of(CONFIG)
        ));
        names().filter(|(name, setting)| has_flag(name, setting)).fold(command.arg(file), |command, (name, setting)| {
            let by_file = name != setting.name;
            let about = if by_file {
                format!("File that holds the value of {}", setting.name)
            } else {
                setting.about.to_owned()
            };
            let default = setting.default.filter(|default| !default.is_empty() && !by_file);
            let default = default.map_or_else(String::new, |default| format!(" [default: {default}]"));
            let help = format!("{about} [env: {}]{default}", variable_of(&name));
            let value = if by_file { "FILE" } else { setting.value };
            command.arg(Arg::new(name.clone()).long(name).value_name(value).help(help))
        })
    }

    fn augment_args_for_update(command: Command) -> Command {
        Self::augment_args(command)
    }
}

fn has_flag(name: &str, setting: &Setting) -> bool {
    setting.kind != Kind::NoFlag || name != setting.name
}

/// Where a value comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Origin {
    Flag,
    Environment,
    File(PathBuf),
    Default,
}

impl fmt::Display for Origin {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Flag => formatter.write_str("flag"),
            Self::Environment => formatter.write_str("environment"),
            Self::File(path) => write!(formatter, "{}", path.display()),
            Self::Default => formatter.write_str("default"),
        }
    }
}

/// A value and where it comes from.
#[derive(Debug, Clone)]
pub struct Found {
    pub value: Secret,
    pub origin: Origin,
    /// The file that held the value, for a secret given by one.
    pub held_by: Option<PathBuf>,
}

/// The value of every setting that has one.
#[derive(Debug)]
pub struct Sources(BTreeMap<&'static str, Found>);

impl Sources {
    /// Puts together what is given.
    pub fn gather(given: &Given) -> Result<Self, ConfigError> {
        let environment = environment()?;
        let named = given.file.clone().or_else(|| from_environment(CONFIG).map(PathBuf::from));
        let layers = |file: Option<(Origin, BTreeMap<String, String>)>| {
            let mut layers = vec![(Origin::Flag, given.flags.clone()), (Origin::Environment, environment.clone())];
            layers.extend(file);
            layers
        };
        let file = match named {
            Some(path) => Some(read(&path)?),
            None => {
                let before = Self::settle(&layers(None))?;
                let directory = before.0.get("data").map_or("", |found| found.value.reveal());
                let path = Path::new(directory).join(DEFAULT_FILE);
                if path.exists() { Some(without_data(read(&path)?)?) } else { None }
            }
        };
        Self::settle(&layers(file))
    }

    /// Nothing but the defaults.
    pub fn defaults() -> Result<Self, ConfigError> {
        Self::settle(&[])
    }

    /// A setting's value.
    pub fn get(&self, name: &str) -> Option<&Found> {
        self.0.get(name)
    }

    fn settle(layers: &[(Origin, BTreeMap<String, String>)]) -> Result<Self, ConfigError> {
        let mut all = BTreeMap::new();
        for setting in SETTINGS {
            for (origin, values) in layers {
                if let Some(found) = one(setting, origin, values)? {
                    all.insert(setting.name, found);
                    break;
                }
            }
            if let (false, Some(default)) = (all.contains_key(setting.name), setting.default) {
                let found = Found { value: Secret::from(default), origin: Origin::Default, held_by: None };
                all.insert(setting.name, found);
            }
        }
        Ok(Self(all))
    }
}

/// A setting's value in one layer.
fn one(setting: &Setting, origin: &Origin, values: &BTreeMap<String, String>) -> Result<Option<Found>, ConfigError> {
    let by_file = format!("{}{FILE}", setting.name);
    let found = |value: &str, held_by| Found { value: Secret::from(value), origin: origin.clone(), held_by };
    match (values.get(setting.name), values.get(&by_file)) {
        (Some(_), Some(_)) => Err(ConfigError::Twice { name: setting.name, by_file, origin: origin.clone() }),
        (Some(value), None) => Ok(Some(found(value, None))),
        (None, Some(path)) => {
            let path = PathBuf::from(path);
            let text = std::fs::read_to_string(&path)
                .map_err(|source| ConfigError::Unreadable { path: path.clone(), source })?;
            Ok(Some(found(text.trim_end(), Some(path))))
        }
        (None, None) => Ok(None),
    }
}

/// What the environment says; an empty variable says nothing. Others may have variables that begin like ours, so that only one
/// much like a setting is refused.
fn environment() -> Result<BTreeMap<String, String>, ConfigError> {
    for (variable, _) in std::env::vars_os() {
        let Some(name) = variable.to_str().and_then(|variable| variable.strip_prefix(PREFIX)) else { continue };
        let name = name.to_ascii_lowercase().replace('_', "-");
        let known = name == CONFIG || names().any(|(known, _)| known == name);
        if let Some(nearest) = nearest(&name, 0.8).filter(|_| !known) {
            let nearest = variable_of(&nearest);
            return Err(ConfigError::UnknownVariable { variable: variable.to_string_lossy().into_owned(), nearest });
        }
    }
    Ok(names().filter_map(|(name, _)| from_environment(&name).map(|value| (name, value))).collect())
}

fn from_environment(name: &str) -> Option<String> {
    std::env::var(variable_of(name)).ok().filter(|value| !value.is_empty())
}

/// What a file says.
fn read(path: &Path) -> Result<(Origin, BTreeMap<String, String>), ConfigError> {
    let text =
        std::fs::read_to_string(path).map_err(|source| ConfigError::Unreadable { path: path.to_owned(), source })?;
    let table: toml::Table = toml::from_str(&text)
        .map_err(|error| ConfigError::NotToml { path: path.to_owned(), message: error.to_string() })?;
    let mut values = BTreeMap::new();
    for (key, value) in table {
        if !names().any(|(name, _)| name == key) {
            return Err(ConfigError::UnknownKey { path: path.to_owned(), nearest: nearest(&key, 0.5), key });
        }
        let text = plain(&value).ok_or_else(|| ConfigError::Shape { path: path.to_owned(), key: key.clone() })?;
        values.insert(key, text);
    }
    Ok((Origin::File(path.to_owned()), values))
}

/// A value as a flag would say it: text, a number, true or false, or a list of texts.
fn plain(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.clone()),
        Value::Integer(number) => Some(number.to_string()),
        Value::Boolean(truth) => Some(truth.to_string()),
        Value::Array(items) => items.iter().map(Value::as_str).collect::<Option<Vec<_>>>().map(|items| items.join(",")),
        _ => None,
    }
}

/// A file that was found through the data directory cannot name another.
fn without_data(file: (Origin, BTreeMap<String, String>)) -> Result<(Origin, BTreeMap<String, String>), ConfigError> {
    match (&file.0, file.1.contains_key("data")) {
        (Origin::File(path), true) => Err(ConfigError::DataInItself(path.clone())),
        _ => Ok(file),
    }
}
