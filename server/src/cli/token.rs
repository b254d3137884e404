//! `matchmark token`

use super::{Failure, print};
use crate::config::{Config, Given, Secret, Sources};
use clap::Args;
use matchmark_service::{NewToken, Service, ServiceError, SupplierRole};
use matchmark_store::Store;
use matchmark_store::clock::SystemClock;
use std::process::ExitCode;
use std::sync::Arc;
use tokio::runtime::Runtime;

/// For whom.
#[derive(Args)]
pub struct Options {
    /// Name of the person, as those see it who read who wrote, froze or published.
    #[arg(long)]
    name: String,

    /// What it is good for: publisher or support.
    #[arg(long, value_parser = ["publisher", "support"], default_value = "publisher")]
    role: String,

    /// After how many days it ends; never when absent.
    #[arg(long, value_name = "DAYS")]
    expires_in_days: Option<i64>,

    /// It reads what its role reads, has things computed, and changes nothing but itself, by rotation.
    #[arg(long)]
    read_only: bool,

    #[command(flatten)]
    given: Given,
}

/// Prints a new token; the service may go on working.
pub fn run(options: &Options) -> Result<ExitCode, Failure> {
    let config = Config::from_sources(&Sources::gather(&options.given)?)?;
    let role = if options.role == "support" { SupplierRole::Support } else { SupplierRole::Publisher };
    let new = NewToken {
        name: options.name.clone(),
        expires_in_days: options.expires_in_days,
        read_only: options.read_only,
        ..NewToken::new(role)
    };
    Runtime::new()?.block_on(async {
        let kept = &config.kept;
        let store = Store::beside(&kept.data, kept.database.as_ref().map(Secret::reveal), &kept.blobs).await?;
        let service = Service::new(store, Arc::new(SystemClock), config.supplier, config.callers.computing);
        let made = service.token_on_the_machine(&new).await;
        service.close().await;
        match made {
            Ok(made) => print(&format!("{}\n", made.token)),
            Err(ServiceError::Invalid(errors)) => {
                let said: Vec<String> =
                    errors.into_iter().map(|error| format!("{} {}", error.pointer, error.detail)).collect();
                Err(Failure::Usage(said.join("; ")))
            }
            Err(error) => Err(error.into()),
        }
    })?;
    Ok(ExitCode::SUCCESS)
}
