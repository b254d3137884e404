//! The service and its command line.

mod api;
mod asking;
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
mod turns;
mod whence;

use mimalloc::MiMalloc;
use std::process::ExitCode;

/// A frame is many small allocations made on all processors at once.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    cli::run()
}
