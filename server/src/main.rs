//! The service and its command line.

mod api;
mod cli;
mod config;
mod http;
mod listen;
mod pages;
mod router;
mod words;

use mimalloc::MiMalloc;
use std::process::ExitCode;

/// A frame is many small allocations made on all processors at once.
#[global_allocator]
static ALLOCATOR: MiMalloc = MiMalloc;

fn main() -> ExitCode {
    cli::run()
}
