//! `matchmark revoke-key`

use super::{Failure, print};
use crate::config::{Config, Given, Secret, Sources};
use clap::Args;
use matchmark_core::seal::PublicKey;
use matchmark_service::{Revoked, revoke_key};
use matchmark_store::Store;
use matchmark_store::clock::SystemClock;
use std::process::ExitCode;
use tokio::runtime::Runtime;

/// Which key, and why.
#[derive(Args)]
pub struct Options {
    /// The public key, 64 hexadecimal digits, as `/v1/public-key` lists it.
    public_key: String,

    /// Why it is revoked, for the record.
    #[arg(long, value_name = "TEXT")]
    because: String,

    #[command(flatten)]
    given: Given,
}

/// Revokes a key that may be in strange hands, while the service goes on.
pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let kept = Config::from_sources(&Sources::gather(&options.given)?)?.kept;
    let key = PublicKey::from_hex(&options.public_key).map_err(|error| Failure::Other(error.to_string()))?.hex();
    let found = Runtime::new()?.block_on(async {
        let store = Store::beside(&kept.data, kept.database.as_ref().map(Secret::reveal), &kept.blobs).await?;
        let found = revoke_key(&store, &SystemClock, &key, &options.because).await?;
        store.close().await;
        Ok::<_, Failure>(found)
    })?;
    let then = match found {
        Revoked::InForce => {
            "It was in force: nothing is signed from now on. Make a new key with `matchmark key`, stop every process, put it in \
             force with `matchmark adopt-key`, and start them with it."
        }
        Revoked::Former => "It was no longer in force. Signing goes on with the key in force.",
        Revoked::Before => "It was already revoked; nothing changed.",
        Revoked::Unknown => {
            return Err(Failure::Other(format!(
                "this service has never signed with {key}: GET /v1/public-key lists its keys"
            )));
        }
    };
    print(&format!(
        "revoked {key}\n{then}\nPages that it signed are told by the record of their pack alone. Whoever checks packs without the \
         service must be told not to use this key any more.\n"
    ))?;
    Ok(ExitCode::SUCCESS)
}
