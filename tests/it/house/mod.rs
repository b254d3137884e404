//! The service itself and its records.

mod audit;
mod backups;
mod command_line;
mod configuration;
mod contact;
mod demo;
mod events;
mod hardening;
mod keys;
mod operation;
mod outages;
mod replicas;
mod restores;
mod sweep;
mod upgrades;
