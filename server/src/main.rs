//! The service and its command line.

mod api;
mod cli;
mod clock;
mod config;
mod engine;
mod hash;
mod listen;
mod metrics;
mod pages;
mod secret;
mod send;
mod service;
mod store;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run()
}
