//! How the connections to the database are used.

/// Connections to the database for one purpose.
#[derive(Debug, Clone, Copy)]
pub struct Pool {
    /// `read` or `write`.
    pub purpose: &'static str,
    /// How many are open.
    pub open: u64,
    /// How many of these wait for work.
    pub idle: u64,
}
