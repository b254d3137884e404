//! The access code of a kit: on a card that comes with it, for its builder to sign in with.

use crate::rules::lookup::readable_kit;
use crate::rules::shown_once::Made;
use crate::{IdempotentCall, Principal, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::hash::sha256_hex;
use matchmark_store::{kits, secret, tokens};
use serde::Serialize;
use std::iter;
use utoipa::ToSchema;

/// A card to print and send with the kit. The code is in this answer and never shown again.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct AccessCard {
    /// The supplier.
    pub supplier: String,
    /// Serial of the kit.
    pub kit: String,
    /// The code: 80 random bits, in groups of four letters and digits without I, L, O and U.
    #[schema(example = "7K3M-0QXA-9ZWD-R2TB")]
    pub access_code: String,
    /// What else to print, a line each.
    pub lines: Vec<String>,
}

impl Service {
    /// Gives a kit a new access code. The one before ends, and with it what was signed in with it. A repeat shows the same card for as
    /// long as it is the one of the kit.
    pub async fn new_access_code(
        &self,
        who: &Principal,
        serial: &str,
        once: &IdempotentCall,
    ) -> Result<AccessCard, ServiceError> {
        who.may_support()?;
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let kit = readable_kit(&mut write, who, serial).await?;
        let before: Option<Made> = once.answered(&mut write).await?;
        let is_new = before.is_none();
        let made = before.unwrap_or_else(|| Made::now(kit.serial.clone()));
        let code = secret::access_code_of(&self.made_secret(once, &made));
        let hash = access_hash(serial, &code);
        if is_new {
            kits::set_access(&mut write, serial, &hash).await?;
            tokens::revoke_signed_in(&mut write, serial, stamp.at()).await?;
            let subject = format!("kits/{serial}/access-code");
            let act = Act { at: stamp.at(), actor: &who.token, action: "new-access-code", subject: &subject };
            audit::append(&mut write, act).await?;
            once.record(&mut write, &made, stamp.at()).await?;
            write.commit().await?;
        } else if kits::access(&mut write, serial).await?.as_ref() != Some(&hash) {
            return Err(ServiceError::CardNotShownAgain(serial.to_owned()));
        }
        let says = &self.words.card;
        let lines = [says.sign_in(), says.keep(), says.newest()].map(str::to_owned);
        let lines = iter::once(says.kit(serial, &kit.revision)).chain(lines).collect();
        Ok(AccessCard { supplier: self.supplier.clone(), kit: kit.serial, access_code: code, lines })
    }
}

/// What is kept of a code, as people may type it: small letters, spaces and missing hyphens do not matter, nor O for 0 and I or
/// L for 1. Eighty random bits need no slow hash.
pub(crate) fn access_hash(serial: &str, code: &str) -> String {
    let plain: String = code
        .chars()
        .filter(|c| c.is_ascii_alphanumeric())
        .map(|c| match c.to_ascii_uppercase() {
            'O' => '0',
            'I' | 'L' => '1',
            other => other,
        })
        .collect();
    sha256_hex(format!("matchmark-access/1\n{serial}\n{plain}\n"))
}

#[cfg(test)]
mod tests {
    use super::access_hash;

    #[test]
    fn a_code_may_be_typed_as_people_read_it() {
        let kept = access_hash("K-1", "7K3M-0QXA-1ZWD-R2TB");
        for typed in ["7k3m 0qxa 1zwd r2tb", "7K3MOQXAIZWDR2TB", " 7k3m-oqxa-lzwd-r2tb\n"] {
            assert_eq!(access_hash("K-1", typed), kept, "{typed}");
        }
        assert_ne!(access_hash("K-1", "7K3M-0QXA-1ZWD-R2TC"), kept);
        assert_ne!(access_hash("K-2", "7K3M-0QXA-1ZWD-R2TB"), kept);
    }
}
