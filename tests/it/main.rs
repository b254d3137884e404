//! Whole-system tests and checks against published values.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    reason = "the steps that tests share fail the test, as the tests themselves do"
)]

mod access;
mod audit;
mod backups;
mod browser;
mod bucket;
mod cable;
mod changes_found;
mod choices;
mod command_line;
mod conditions;
mod configuration;
mod contact;
mod customers;
mod deliveries;
mod demo;
mod design_file;
mod drawings;
mod examples;
mod faults;
mod figures;
mod fixtures;
mod handbook;
mod hardening;
mod holds;
mod immutability;
mod issuing;
mod joints;
mod keys;
mod kits;
mod late_news;
mod life_cycle;
mod lists;
mod notices;
mod one_kit;
mod operation;
mod outages;
mod pack_jobs;
mod pages;
mod place;
mod problems;
mod proxied;
mod redrawing;
mod repeats;
mod replicas;
mod requests;
mod restores;
mod review;
mod saves;
mod seals;
mod server;
mod shown_once;
mod sign_in;
mod sinks;
mod solids;
mod standing;
mod states;
mod status;
mod stock_plans;
mod strangers;
mod support;
mod sweep;
mod upgrades;
mod web;
