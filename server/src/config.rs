//! What a running service is told: by flags, else by the environment, else the defaults.

use clap::Args;
use std::net::SocketAddr;
use std::path::PathBuf;

/// How to serve.
#[derive(Debug, Clone, Args)]
pub struct ServeConfig {
    /// Address and port to listen on; port 0 takes a free one.
    #[arg(long, env = "MATCHMARK_LISTEN", default_value = "127.0.0.1:8427")]
    pub listen: SocketAddr,

    /// Directory for the database and the issued packs; created when missing.
    #[arg(long, env = "MATCHMARK_DATA", default_value = "data")]
    pub data: PathBuf,

    /// Name of the supplier, printed on every page.
    #[arg(long, env = "MATCHMARK_SUPPLIER", default_value = "The supplier of this kit")]
    pub supplier: String,
}
