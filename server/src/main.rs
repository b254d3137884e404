//! The service and its command line.
fn main() {}
