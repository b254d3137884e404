//! Builders sign in with the serial and the access code of their kit. Whoever guesses is limited, by the address that it comes from,
//! and never the kit: its code has 80 bits, so that nobody guesses it, and nobody can lock its builder out.

use crate::people::access_code::access_hash;
use crate::people::tokens::Terms;
use crate::rules::caller_address::CallerAddress;
use crate::rules::valid::Checks;
use crate::{Role, Service, ServiceError, TokenView};
use matchmark_store::audit::{self, Act};
use matchmark_store::clock::Stamp;
use matchmark_store::{Conn, kits, sign_in};
use serde::{Deserialize, Serialize};
use std::net::IpAddr;
use time::Duration;
use utoipa::ToSchema;

/// Failures count for this long after the first.
const WINDOW: Duration = Duration::minutes(15);

/// Most failures from an address, or a /64 of IPv6, within that time.
const MOST_OF_ADDRESS: i64 = 20;

/// How long a token got by signing in lasts.
const LASTS: Duration = Duration::hours(12);

/// What is on the card of a kit.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"serial": "QF-0101", "access_code": "7K3M-0QXA-9ZWD-R2TB"}))]
pub struct SignIn {
    /// Serial of the kit.
    pub serial: String,
    /// The access code; small letters, spaces and missing hyphens do not matter.
    pub access_code: String,
}

impl Service {
    /// A token of some hours for the builder who has the card of a kit. A kit that is not there and a wrong code look the same.
    pub async fn sign_in(&self, card: &SignIn, address: Option<IpAddr>) -> Result<TokenView, ServiceError> {
        let stamp = self.clock.stamp();
        let mut checks = Checks::default();
        // As people type it.
        let typed = card.serial.trim().to_uppercase();
        checks.serial("/serial", &typed);
        let serial = checks.done().is_ok().then_some(typed.as_str());
        let subject = match address {
            Some(address) => format!("address {}", CallerAddress::from(address)),
            None => "address unknown".to_owned(),
        };

        let mut write = self.store.write().await?;
        sign_in::forget(&mut write, self.clock.stamp_in(-WINDOW).at()).await?;
        must_wait(&mut write, &subject, &stamp).await?;
        let kept = match serial {
            Some(serial) => kits::access(&mut write, serial).await?,
            None => None,
        };
        let given = access_hash(&typed, &card.access_code);
        let (Some(serial), true) = (serial, kept.as_ref() == Some(&given)) else {
            sign_in::add(&mut write, &subject, stamp.at()).await?;
            let subject = format!("kits/{}", serial.unwrap_or_default());
            let act = Act { at: stamp.at(), actor: "nobody", action: "refuse-sign-in", subject: &subject };
            audit::append(&mut write, act).await?;
            write.commit().await?;
            return Err(ServiceError::WrongCode);
        };
        let terms = Terms { via_code: true, lasts: Some(LASTS), ..Terms::default() };
        let role = Role::Builder { kit: serial.to_owned() };
        let view = self.mint(&mut write, &format!("card of {serial}"), role, &terms).await?;
        write.commit().await?;
        Ok(view)
    }
}

/// Refuses another attempt while too many failures count.
async fn must_wait(conn: &mut Conn, subject: &str, now: &Stamp) -> Result<(), ServiceError> {
    match sign_in::failures(conn, subject).await? {
        Some(failures) if failures.count >= MOST_OF_ADDRESS => {
            let left = WINDOW - now.since(&failures.since);
            Err(ServiceError::TooManyAttempts { seconds: left.whole_seconds().max(0) + 1 })
        }
        _ => Ok(()),
    }
}
